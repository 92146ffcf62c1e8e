"""What a cold snap, heat or a dead heater did to a colony."""

from dataclasses import dataclass, replace

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure
from bonebench.files.airlog import AirLog
from bonebench.said import Said, said
from bonebench.science.colony import feeding
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.model import HOURS_A_DAY
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.ahead import first_day_of
from bonebench.services.colony.asked import LIVED_C, Asked, air_of, means, told
from bonebench.services.colony.cards import HarmCard
from bonebench.services.colony.logged import noted
from bonebench.services.colony.typed import read_span, read_time, read_warmth
from bonebench.services.colony.warned import flags_of, rests_on
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony

USUAL_AFTER = 14
HEAVY = 0.3
COLD_C, HOT_C = 15.0, 35.0


@dataclass(frozen=True, slots=True)
class _Event:
    """What happened to the air, and the same days without it."""

    air: Air
    usual: Air
    after: int
    facts: tuple[Fact, ...] = ()
    flags: tuple[Flag, ...] = ()


def harm(
    known: Known, asked: Asked, *, fell_to: str | None = None, lasted: str | None = None, days: str | None = None,
    log: AirLog | None = None,
) -> HarmCard:  # fmt: skip
    """Hold the colony some days after it lay cold or hot, as was told or as a log shows, against the same colony without that."""
    after = read_span(days, USUAL_AFTER)
    event = _logged(asked, log, fell_to or lasted, after) if log is not None else _told(asked, fell_to, lasted, after)
    colony = told(asked, air=first_day_of(event.usual) if log is not None else None)
    lost = feeding.loss_by(colony.draws, colony.housing, event.air, event.usual)
    return HarmCard(
        title=_title(lost.appetite, after),
        facts=(
            _lost("colony.harm.larvae", "Larvae fewer", lost.larvae),
            _lost("colony.harm.adults", "Adults fewer", lost.adults),
            _lost("colony.harm.appetite", "Appetite less", lost.appetite),
            *event.facts,
        ),
        steps=(
            said("colony.harm.step.warm", "Bring it back to its usual warmth; mend heater and cut-out before anything else"),
            said(
                "colony.harm.step.food",
                "Take out what thawed and is wet: nobody ate it meanwhile. Ask the rot clock for each piece",
            ),
            said("colony.harm.step.count", "After two days count a scoop: what moves then is what you have. Feed by that"),
        ),
        flags=(*_flags(lost.appetite), *event.flags, *flags_of(asked, event.air, read=log is not None)),
        cautions=for_colony(known.caution_rows),
        basis=rests_on(colony),
        larvae_low=lost.larvae.low,
        larvae=lost.larvae.value,
        larvae_high=lost.larvae.high,
        adults_low=lost.adults.low,
        adults=lost.adults.value,
        adults_high=lost.adults.high,
        appetite_low=lost.appetite.low,
        appetite=lost.appetite.value,
        appetite_high=lost.appetite.high,
        seed=asked.seed,
    )


def _told(asked: Asked, fell_to: str | None, lasted: str | None, after: int) -> _Event:
    """Return the event as it was told: one temperature for some hours, then the usual one."""
    if not (fell_to and lasted):
        raise Impossible("colony.harm.what", "say how cold or hot it was and how long it lasted, or bring a log that shows it")
    at_c, hours = read_warmth(fell_to), read_time(lasted, "time it lasted") * 24
    if not hours > 0:
        raise OutsideRange("colony.harm.hours", "it lasted {text}; write how long the box stood so", text=lasted)
    span = read_span(f"{hours / 24 + after}d", after, what="the event with the days after it")
    usual = air_of(asked, span)
    warm = np.array(usual.temperature_c, dtype=float)
    warm[: max(1, round(hours))] = at_c
    return _Event(Air(span, warm, usual.humidity, usual.moist), usual, after)


def _logged(asked: Asked, log: AirLog, both: str | None, after: int) -> _Event:
    """Return the event as a log shows it, against the warmth that was typed, else the log's middle one if they can live in it."""
    if both:
        raise Impossible("colony.harm.both", "tell it by the log or by how cold and how long; not both")
    read_days = -(-log.hours // HOURS_A_DAY)
    span = read_span(f"{read_days + after}d", after, what="the log with the days after it")
    middle = float(np.median(log.temperature_c))
    lived = LIVED_C[0] <= middle <= LIVED_C[1]
    usual = air_of(replace(asked, temperature=asked.temperature or (f"{middle:.2f} C" if lived else None)), span)
    warm, damp = np.array(usual.temperature_c, dtype=float), np.array(usual.humidity, dtype=float)
    if log.humidity is not None:
        damp = np.full(len(damp), float(np.median(log.humidity)))
        damp[: log.hours] = log.humidity
    warm[: log.hours] = log.temperature_c
    cold, hot = (log.temperature_c < COLD_C), (log.temperature_c > HOT_C)
    facts = (
        Fact(said("colony.log.found", "The log"), log.found[0]),
        Fact(said("colony.log.zone", "Its clock"), log.found[1]),
        fact(
            "colony.harm.log", "In the log", "{low:temperature} to {high:temperature} by the hour; {cold} h below 15 °C, {hot} h "
            "above 35 °C",
            low=float(log.temperature_c.min()), high=float(log.temperature_c.max()), cold=int(cold.sum()), hot=int(hot.sum()),
        ),
        fact("colony.harm.usual", "Held against", "{usual:temperature} all the time", usual=means(usual)[0]),
    )  # fmt: skip
    # The damp is the same on both sides, so that what is told is what warmth alone did.
    return _Event(
        Air(span, warm, damp, usual.moist), Air(span, usual.temperature_c, damp, usual.moist), after, facts, tuple(noted(log))
    )


def _title(appetite: Figure, after: int) -> Said:
    if appetite.high <= 0.02:
        return said("colony.harm.none", "{days} days later nothing of it shows in what they eat", days=after)
    return said(
        "colony.harm", "{days} days later they eat {low:percent} to {high:percent} less than without it",
        days=after, low=max(appetite.low, 0.0), high=appetite.high,
    )  # fmt: skip


def _lost(key: str, label: str, share: Figure) -> Fact:
    return fact(
        key, label, "by {low:percent} to {high:percent}, most likely {value:percent}",
        low=max(share.low, 0.0), high=max(share.high, 0.0), value=max(share.value, 0.0),
    )  # fmt: skip


def _flags(appetite: Figure) -> list[Flag]:
    flags = [
        Flag(
            said("colony.harm.middle", "nothing published tells what 0 to 10 °C or 36 to 50 °C does to these beetles"),
            said("colony.harm.middle.next", "believe a count after two days more than this"),
        )
    ]
    if appetite.high > HEAVY:
        flags.append(
            Flag(
                said("colony.harm.heavy", "that may have cost a third of their appetite or more"),
                said("colony.harm.heavy.next", "hold new heads back in the freezer until a count says what is left"),
            )
        )
    return flags
