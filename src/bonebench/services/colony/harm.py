"""What a cold snap, heat or a dead heater did to a colony."""

import numpy as np

from bonebench.errors import OutsideRange
from bonebench.figures import Figure
from bonebench.said import Said, said
from bonebench.science.colony import feeding
from bonebench.science.colony.feeding import Air
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.asked import Asked, air_of, told
from bonebench.services.colony.cards import HarmCard
from bonebench.services.colony.typed import read_span, read_time, read_warmth
from bonebench.services.colony.warned import flags_of, rests_on
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony

USUAL_AFTER = 14
HEAVY = 0.3


def harm(known: Known, asked: Asked, *, fell_to: str, lasted: str, days: str | None = None) -> HarmCard:
    """Hold the colony some days after it lay cold or hot against the same colony without that."""
    at_c, hours = read_warmth(fell_to), read_time(lasted, "time it lasted") * 24
    if not hours > 0:
        raise OutsideRange("colony.harm.hours", "it lasted {text}; write how long the box stood so", text=lasted)
    after = read_span(days, USUAL_AFTER)
    span = read_span(f"{hours / 24 + after}d", after, what="the event with the days after it")
    usual = air_of(asked, span)
    warm = np.array(usual.temperature_c, dtype=float)
    warm[: max(1, round(hours))] = at_c
    colony = told(asked)
    lost = feeding.loss_by(colony.draws, colony.housing, Air(span, warm, usual.humidity, usual.moist), usual)
    return HarmCard(
        title=_title(lost.appetite, after),
        facts=(
            _lost("colony.harm.larvae", "Larvae fewer", lost.larvae),
            _lost("colony.harm.adults", "Adults fewer", lost.adults),
            _lost("colony.harm.appetite", "Appetite less", lost.appetite),
        ),
        steps=(
            said("colony.harm.step.warm", "Bring it back to its usual warmth; mend heater and cut-out before anything else"),
            said(
                "colony.harm.step.food",
                "Take out what thawed and is wet: nobody ate it meanwhile. Ask the rot clock for each piece",
            ),
            said("colony.harm.step.count", "After two days count a scoop: what moves then is what you have. Feed by that"),
        ),
        flags=(*_flags(lost.appetite), *flags_of(asked, Air(span, warm, usual.humidity, usual.moist))),
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
