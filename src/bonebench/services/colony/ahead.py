"""The season ahead: what they can eat and do eat, day by day, and whether the queue in the freezer fits."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bonebench.errors import NotAQuantity
from bonebench.figures import Figure
from bonebench.files.airlog import AirLog
from bonebench.said import Said, said
from bonebench.science.colony import advice
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.forecast import Forecast, forecast
from bonebench.science.colony.model import HOURS_A_DAY
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.asked import Asked, Told, air_of, told
from bonebench.services.colony.bands import bands_by_day
from bonebench.services.colony.cards import Band, DayAhead, ForecastCard
from bonebench.services.colony.heads import tissue_of
from bonebench.services.colony.logged import air_of_log
from bonebench.services.colony.outputs import days_basis, days_facts, in_all
from bonebench.services.colony.typed import read_ration, read_span
from bonebench.services.colony.warned import beyond, flags_of, rests_on
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony

USUAL_DAYS = 90
EVERY = 28


def read_first_day(text: str | None) -> date | None:
    """Read the first day as it is written on every form: 2026-05-04."""
    if not text:
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise NotAQuantity("colony.day", "'{text}' is no day; write it like 2026-05-04", text=text) from None


def later(first: date | None, days: int) -> date | None:
    """Return the day so many days on, where the first is known and the calendar reaches so far."""
    if first is None:
        return None
    try:
        return first + timedelta(days=days)
    except OverflowError:
        return None


def ahead(
    known: Known, asked: Asked, *, days: str | None = None, ration: str | None = None, waiting: str | None = None,
    first_day: str | None = None, log: AirLog | None = None, today: str | None = None,
) -> ForecastCard:  # fmt: skip
    """Tell the days ahead; no ration is all they can eat. ``waiting`` is the queue: a mass, or heads such as 3 raccoon.

    The size is that of the first day: ``first_day``, else the first whole day of a log, else ``today``.
    """
    span, begin = read_span(days, USUAL_DAYS, what="a forecast"), read_first_day(first_day)
    if log is None:
        given = Days(air_of(asked, span), begin or read_first_day(today))
    else:
        logged = air_of_log(asked, log, span, begin)
        given = Days(
            logged.air, logged.begin, tuple(logged.facts()), tuple(logged.flags()), logged.read(), logged.read_hours,
            told(asked, air=first_day_of(logged.air)),
        )  # fmt: skip
    return ahead_in(known, asked, given, ration=ration, waiting=waiting)


@dataclass(frozen=True, slots=True)
class Days:
    """The days to tell: their air, the day they begin on, and what is to be said of that air.

    ``warned`` is the part of the air that somebody read or worked out, and that is warned of; None where it was typed or taken for
    granted. ``colony`` is one that is told already.
    """

    air: Air
    begin: date | None
    facts: tuple[Fact, ...] = ()
    flags: tuple[Flag, ...] = ()
    warned: Air | None = None
    read_hours: int | None = None
    colony: Told | None = None


def ahead_in(
    known: Known, asked: Asked, given: Days, *, ration: str | None = None, waiting: str | None = None
) -> ForecastCard:  # fmt: skip
    """Tell days whose air is known."""
    air, span, feed = given.air, given.air.days, read_ration(ration)
    colony = given.colony or told(asked)
    dry_share = colony.housing.food_dry_share
    run = forecast(colony.draws, colony.housing, air.fed(feed, dry_share))
    queue = tissue_of(known, waiting) if waiting else None
    full = run if feed is None else forecast(colony.draws, colony.housing, air.fed(None, dry_share))
    done, chance = advice.queue(full, queue.value) if queue else (None, None)
    table = tuple(_days(run, given.begin))
    return ForecastCard(
        title=_title(table, feed),
        facts=(*_facts(table), *days_facts(run, feed), *_queue_facts(queue, done, chance, span), *given.facts),
        flags=(
            *_hungry(run, feed),
            *_queue_flags(queue, done, chance),
            *beyond(_kg(table[-1].appetite_g), colony.housing.floor_m2),
            *given.flags,
            *flags_of(asked, given.warned or air, read=given.warned is not None),
        ),
        steps=_steps(feed),
        cautions=for_colony(known.caution_rows),
        basis=rests_on(colony, days_basis(run), *([("colony.queue", queue)] if queue else [])),
        days=table,
        queue_kg=queue.value if queue else None,
        queue_days_low=done.low if done else None,
        queue_days=done.value if done else None,
        queue_days_high=done.high if done else None,
        queue_chance=chance,
        ration_kg_per_day=feed,
        read_hours=given.read_hours,
        seed=asked.seed,
    )


def first_day_of(air: Air) -> Air:
    """Return the first day of an air, by which it is told where they lived before."""
    warm, damp = (
        np.broadcast_to(np.asarray(one, dtype=np.float64), (HOURS_A_DAY * air.days,))[:HOURS_A_DAY]
        for one in (air.temperature_c, air.humidity)
    )
    return Air(1, warm, damp, air.moist)


def _days(run: Forecast, first: date | None) -> Iterator[DayAhead]:
    numbers = [bands_by_day(run, name) for name in ("eggs", "larvae", "pupae", "adults")]
    grams = [bands_by_day(run, name, 1000.0) for name in ("appetite_kg", "eaten_kg")]
    more = [in_all(run, "eaten_kg"), bands_by_day(run, "hunger"), bands_by_day(run, "frass_kg", 1000.0)]
    heat, water = bands_by_day(run, "heat_w"), bands_by_day(run, "water_kg", 1000.0)
    for at, bands in enumerate(zip(*numbers, *grams, *more, heat, water, strict=True)):
        yield DayAhead(at + 1, later(first, at), *bands)


def _title(table: tuple[DayAhead, ...], ration_kg: float | None) -> Said:
    first, last = table[0].appetite_g, table[-1].appetite_g
    how = "fed all they eat" if ration_kg is None else f"fed {ration_kg * 1000:.3g} g a day"
    return said(
        "colony.ahead",
        "{how}: plan with {now:feeding} now and {then:feeding} in {days} days",
        how=how,
        now=first.plan / 1000,
        then=last.plan / 1000,
        days=len(table),
    )


def _facts(table: tuple[DayAhead, ...]) -> Iterator[Fact]:
    marks = sorted({0, *range(EVERY - 1, len(table), EVERY), len(table) - 1})
    for at in marks:
        day, band = table[at], _kg(table[at].appetite_g)
        on = (
            said("colony.ahead.on", "On {day:day}", day=day.date) if day.date else said("colony.ahead.nth", "On day {n}", n=day.day)
        )
        eats = said(
            f"colony.ahead.{day.day}", "they can eat {low:feeding} to {high:feeding}; plan with {plan:feeding}",
            low=band.low, high=band.high, plan=band.plan,
        )  # fmt: skip
        yield Fact(on, eats)


def _kg(band: Band) -> Band:
    return Band(*(value / 1000 for value in (band.low, band.plan, band.value, band.high)))


def _queue_facts(queue: Figure | None, done: Figure | None, chance: float | None, days: int) -> Iterator[Fact]:
    if queue is None or chance is None:
        return
    yield fact(
        "colony.queue.size", "The queue", "{low:mass} to {high:mass} of tissue, taken as {value:mass}",
        low=queue.low, high=queue.high, value=queue.value,
    )  # fmt: skip
    if done is None:
        yield fact(
            "colony.queue.never", "It fits", "no: {chance:percent} of such colonies are through it within {days} days",
            chance=chance, days=days,
        )  # fmt: skip
        return
    yield fact(
        "colony.queue.days", "It is eaten within", "{low:days} to {high:days}, most likely {value:days}, by appetite alone",
        low=done.low, high=done.high, value=done.value,
    )  # fmt: skip
    yield fact("colony.queue.chance", "Colonies that get through it in time", "{chance:percent}", chance=chance)


def _queue_flags(queue: Figure | None, done: Figure | None, chance: float | None) -> Iterator[Flag]:
    if queue is None or chance is None:
        return
    if done is None or chance < 0.7:
        yield Flag(
            said("colony.queue.late", "the queue is more than this colony can be trusted to eat in these days"),
            said(
                "colony.queue.late.next",
                "feed up earlier, promise later days, macerate some; or count, and split off a quarter at most",
            ),
        )
    else:
        yield Flag(
            said("colony.queue.fed", "that holds if they get all they can eat from today on, and are not short of blocks"),
            said("colony.queue.fed.next", "floor and heater may let in fewer at a time: ask what may go in tonight"),
        )


def _hungry(run: Forecast, ration_kg: float | None) -> Iterator[Flag]:
    if ration_kg is None:
        return
    told_now = advice.feed(run, 0)
    if told_now.do == "hold back":
        yield Flag(
            said("colony.feed.hold", "with that ration food is left lying: it spoils and brings flies and mites"),
            said("colony.feed.hold.next", "put in less, and take out what is wet and smells"),
        )
        return
    short = told_now.numbers["short_by"]
    if short.value > 0:
        yield Flag(
            said(
                "colony.feed.short", "today they could eat {low:feeding} to {high:feeding} more than that ration",
                low=max(short.low, 0.0), high=short.high,
            ),
            said(
                "colony.feed.short.next",
                "a short ration holds them small, and lies on the safe side; very short, they eat their pupae",
            ),
        )  # fmt: skip


def _steps(ration_kg: float | None) -> tuple[Said, ...]:
    if ration_kg is not None:
        return ()
    return (
        said("colony.ahead.step", "Feed them when the last piece is bare; never more than they clear before it smells"),
        said("colony.ahead.step.blocks", "Add blocks as they grow: a larva that finds no hole puts off pupation or is eaten"),
    )
