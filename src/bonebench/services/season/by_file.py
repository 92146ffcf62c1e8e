"""A forecast from a colony's file: the air as it was typed, by a log, or of the box that the file names."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from bonebench.figures import Basis
from bonebench.files.airlog import AirLog
from bonebench.files.colony_toml import ColonyFile, Looked
from bonebench.said import said
from bonebench.science.building import Building
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.observed import Seen, grade, pupae_in_blocks, scoop
from bonebench.science.enclosure import Box
from bonebench.services.cards import Flag
from bonebench.services.colony.ahead import USUAL_DAYS, Days, ahead_in, first_day_of, read_first_day
from bonebench.services.colony.asked import SEED, Asked, Told, air_of, told
from bonebench.services.colony.cards import ForecastCard
from bonebench.services.colony.logged import air_of_log, first_day
from bonebench.services.colony.typed import read_ration, read_span
from bonebench.services.enclosure.around import Surroundings
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.services.season.boxed import DOES, changes, of_box, rests_on_both
from bonebench.services.season.led import Boxed, in_box


@dataclass(frozen=True, slots=True)
class InBox:
    """The box that a colony's file names, read, and its building if the box's file tells of one."""

    box: Box
    room: Building | None = None


def by_file(
    known: Known, file: ColonyFile, *, log: AirLog | None = None, box: InBox | None = None, today: str | None = None
) -> ForecastCard:  # fmt: skip
    """Tell the days ahead of a colony that was written down; ``log`` and ``box`` are those the file names."""
    about: dict[str, Any] = dict(file.about)
    asked = Asked(**about, seed=SEED if file.seed is None else file.seed)
    span, begin = read_span(file.days, USUAL_DAYS, what="a forecast"), read_first_day(file.first_day)
    more: tuple[Basis, ...] = ()
    if box is not None and file.box is not None:
        given, more = _boxed(asked, file, box, span, begin or read_first_day(today))
    elif log is not None:
        given = _logged(asked, file.looks, log, span, begin)
    else:
        given = Days(air_of(asked, span), begin or read_first_day(today), colony=_seen(asked, file.looks))
    card = ahead_in(known, asked, given, ration=file.ration, waiting=file.waiting)
    return replace(card, basis=(*card.basis, *(line for line in more if line not in card.basis)))


def _logged(asked: Asked, looks: Sequence[Looked], log: AirLog, span: int, begin: date | None) -> Days:
    """Return the days as logged; looks from before them are held against the log too, where it goes so far back."""
    logged = air_of_log(asked, log, span, begin)
    before = _days_of(looks)
    start = logged.begin - timedelta(days=before - 1)
    past = air_of_log(asked, log, before, start).air if looks and start >= first_day(log) else None
    colony = _seen(asked, looks, past) if looks else told(asked, air=first_day_of(logged.air))
    return Days(
        logged.air, logged.begin, tuple(logged.facts()), tuple(logged.flags()), logged.read(), logged.read_hours, colony
    )  # fmt: skip


def _boxed(asked: Asked, file: ColonyFile, named: InBox, span: int, begin: date | None) -> tuple[Days, tuple[Basis, ...]]:
    """Return the days in the box with the colony in it, and what the box rests on."""
    assert file.box is not None
    around = Surroundings(**file.box.around, room=named.room, days=f"{span}d", first_day=day_of_year(begin))
    colony = _seen(asked, file.looks)
    both = in_box(asked, box=named.box, given=around, ration_kg=read_ration(file.ration), colony=colony)
    pair = both.pair
    coupling = fact(
        "season.air", "Air in the box", "{mean:temperature} on the mean, {low:temperature} to {high:temperature}; "
        "humidity {rh:percent} "
        "on the mean, one hour in twenty above {p95:percent}",
        mean=pair.run.year.t_mean_c, low=pair.run.year.t_min_c, high=pair.run.year.t_max_c, rh=pair.run.year.rh_mean,
        p95=pair.run.year.rh_p95,
    )  # fmt: skip
    warms = changes(pair.run.year.t_mean_c - pair.alone.year.t_mean_c, pair.run.year.rh_mean - pair.alone.year.rh_mean, DOES)
    days = Days(pair.air, begin, (coupling, warms), (*_short(both, span), *of_box(both)), pair.air, None, colony)
    return days, rests_on_both(both)


def _short(both: Boxed, span: int) -> Iterator[Flag]:
    if both.pair.air.days < span:
        yield Flag(
            said(
                "season.short", "the weather ends after {days} of the {asked} days that were asked for",
                days=both.pair.air.days, asked=span,
            ),
            said("season.short.next", "bring weather of a whole year; it may then go round the year's end"),
        )  # fmt: skip


def day_of_year(day: date | None) -> int:
    """Return which day of a year without a leap day it is, counted from 0; 29 February is taken as the 28th."""
    if day is None:
        return 0
    plain = date(2001, day.month, 28 if (day.month, day.day) == (2, 29) else day.day)
    return (plain - date(2001, 1, 1)).days


def _seen(asked: Asked, looks: Sequence[Looked], past: Air | None = None) -> Told:
    """Return the colonies that may be this one on the first day, by its size and the looks before it."""
    days = _days_of(looks)
    return told(asked, tuple(_looked(looks, days)), days=days, air=past)


def _days_of(looks: Sequence[Looked]) -> int:
    return max((look.days_ago for look in looks), default=0) + 1


def _looked(looks: Sequence[Looked], days: int) -> Iterator[Seen]:
    for look in looks:
        day = days - 1 - look.days_ago
        if look.counted is not None and look.part is not None:
            yield scoop(day, look.counted, look.part)
        if look.grade is not None:
            yield grade(day, look.grade)
        if look.pupae is not None:
            yield pupae_in_blocks(day, look.pupae, look.pupae_part)
