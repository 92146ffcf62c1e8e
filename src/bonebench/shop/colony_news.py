"""What the looks into a box say today: warnings, each with what to do. Plain rules on what was written; no model is run."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bonebench.said import Plain, said
from bonebench.shop.colony import STARVED, SeenAt, counts_none, tells_size
from bonebench.shop.flags import Flag
from bonebench.shop.pests import ROUND, Pests, find_pest, pest_flag
from bonebench.shop.rounds import PlaceLog

# How long a reading or a look speaks for today: estimates, no source. A count of none and a pest stand until somebody looks again.
AIR_DAYS, WARM_DAYS, SMELL_DAYS, STARVED_DAYS, WET_PAD_DAYS = 14, 3, 7, 14, 2
STRONG, FOUL = 2, 3
Words = dict[str, Plain | date]


@dataclass(frozen=True, slots=True)
class Bounds:
    """Where warmth [degC], damp [1] and its hours begin to matter; the colony's own figures, from science."""

    flight_c: float
    suffer_c: float
    deadly_c: float
    damp: float
    damp_hours: float
    wet: float
    wet_hours: float


@dataclass(frozen=True, slots=True)
class News:
    """One warning; ``act``: before anything else."""

    key: str
    act: bool
    flag: Flag


@dataclass(frozen=True, slots=True)
class Asked:
    """What the news are told with: the clock, the days of the room, the bounds of the air, the list of pests."""

    now: datetime
    day_of: Callable[[datetime], date]
    bounds: Bounds
    pests: Pests

    def recent(self, looks: Sequence[SeenAt], days: float) -> tuple[SeenAt, ...]:
        """The looks of the last days, none from ahead of the clock."""
        return tuple(one for one in looks if self.now - timedelta(days=days) <= one.at <= self.now)


def news(log: PlaceLog, place: str, asked: Asked, moist: datetime | None = None) -> tuple[News, ...]:
    """Return what the looks into this box say, the loudest first; ``moist`` is when food last went in that no look tells of."""
    found = [
        *_none(log, place, asked), *_starved(log, place, asked, moist), *_pests(log, place, asked), *_smell(log, place, asked),
        *_damp(log, place, asked), *_warm(log, place, asked),
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda one: not one.act))


def _none(log: PlaceLog, place: str, asked: Asked) -> Iterator[News]:
    last = next((one for one in reversed(log.looks) if tells_size(one.what)), None)
    if last is None or not counts_none(last.what):
        return
    words: Words = {"place": place, "day": asked.day_of(last.at), "entry": last.entry}
    yield News("none", True, Flag(
        said("flag.colony.none", "nothing alive was counted in {place} on {day:day}", **words),
        said(
            "flag.colony.none.next",
            "look under the pad, in the blocks and at the warmest spot; read the thermometer; ask what went in last; "
            "count again, and put nothing more in until something moves",
            **words,
        ),
    ))  # fmt: skip


def _starved(log: PlaceLog, place: str, asked: Asked, moist: datetime | None) -> Iterator[News]:
    last = next((one for one in reversed(asked.recent(log.looks, STARVED_DAYS)) if one.what.hunger is not None), None)
    if last is None or last.what.hunger != STARVED:
        return
    if any((one.what.fed_kg or 0) > 0 and one.at > last.at for one in log.looks) or (moist is not None and moist > last.at):
        return
    words: Words = {"place": place, "day": asked.day_of(last.at), "entry": last.entry}
    yield News("starved", True, Flag(
        said("flag.colony.starved", "those in {place} looked starved on {day:day}, and nobody wrote down food since", **words),
        said(
            "flag.colony.starved.next",
            "a small thawed piece today, no more than they clear in two days; starved, they eat their pupae, so count after that",
            **words,
        ),
    ))  # fmt: skip


def _pests(log: PlaceLog, place: str, asked: Asked) -> Iterator[News]:
    """A pest stands until its round finds none; where the round says the same already, it is not said twice."""
    mark = log.rounds.get(ROUND)
    told: dict[str, SeenAt] = {}
    for one in log.looks:
        told |= dict.fromkeys(one.what.pests, one)
    for written, one in told.items():
        found = find_pest(written, asked.pests)
        if mark is not None and mark.at > one.at and (mark.wrong is None or (found.pest and mark.wrong == found.pest.answer)):
            continue
        act = found.pest is None or found.pest.act
        yield News("pest", act, pest_flag(found, place, asked.day_of(one.at), entry=one.entry))


def _smell(log: PlaceLog, place: str, asked: Asked) -> Iterator[News]:
    last = next((one for one in reversed(asked.recent(log.looks, SMELL_DAYS)) if one.what.smell is not None), None)
    if last is None or last.what.smell is None or last.what.smell < STRONG:
        return
    foul = last.what.smell >= FOUL
    words: Words = {"place": place, "day": asked.day_of(last.at), "entry": last.entry, "how": "foul" if foul else "strong"}
    yield News("smell", foul, Flag(
        said("flag.colony.foul" if foul else "flag.colony.strong", "{place} smelled {how} on {day:day}", **words),
        said(
            "flag.colony.foul.next",
            "mask on; take out what is wet, cut muscle away, refreeze; ask the rot clock of each piece, and put less in at once",
            **words,
        ),
    ))  # fmt: skip


def _readings(looks: Sequence[SeenAt]) -> list[tuple[SeenAt, float]]:
    return [(one, one.what.humidity) for one in looks if one.what.humidity is not None and 0 <= one.what.humidity <= 1]


def _over(readings: Sequence[tuple[SeenAt, float]], bound: float) -> tuple[float, SeenAt | None]:
    """Return for how many hours the last readings were all above a bound, and the first of them; nobody read in between."""
    first = None
    for one, humidity in reversed(readings):
        if humidity <= bound:
            break
        first = one
    return (0.0, None) if first is None else ((readings[-1][0].at - first.at) / timedelta(hours=1), first)


def _damp(log: PlaceLog, place: str, asked: Asked) -> Iterator[News]:
    readings, bounds = _readings(asked.recent(log.looks, AIR_DAYS)), asked.bounds
    hours, first = _over(readings, bounds.damp)
    if first is None:
        return
    last, humidity = readings[-1]
    wet_hours, wet_first = _over(readings, bounds.wet)
    wet = wet_first is not None and wet_hours >= bounds.wet_hours
    words: Words = {
        "place": place, "day": asked.day_of(last.at), "first": asked.day_of((wet_first if wet and wet_first else first).at),
        "damp": humidity, "bound": bounds.wet if wet else bounds.damp, "entry": last.entry,
    }  # fmt: skip
    if hours < bounds.damp_hours:
        yield News("damp", False, Flag(
            said("flag.colony.damp_once", "{damp:percent} humidity was read in {place} on {day:day}", **words),
            said(
                "flag.colony.damp_once.next",
                "read it again today: above {bound:percent} for a day brings mites and mould; no wet pad until it is lower",
                **words,
            ),
        ))  # fmt: skip
        return
    yield News("damp", wet, Flag(
        said(
            "flag.colony.damp", "{place} stayed above {bound:percent} humidity at every look from {first:day} to {day:day}", **words
        ),
        said(
            "flag.colony.damp.next",
            "more air through the box, no wet pad, fewer wet heads; look for mould and mites: short wet spells keep mites alive",
            **words,
        ),
    ))  # fmt: skip


def too_damp_to_wet(looks: Sequence[SeenAt], asked: Asked) -> bool:
    """Whether the air was read as damp just now, so that a wet pad would make it worse."""
    readings = _readings(asked.recent(looks, WET_PAD_DAYS))
    return bool(readings) and readings[-1][1] > asked.bounds.damp


def _warm(log: PlaceLog, place: str, asked: Asked) -> Iterator[News]:
    last = next((one for one in reversed(asked.recent(log.looks, WARM_DAYS)) if one.what.temperature_c is not None), None)
    if last is None or last.what.temperature_c is None or last.what.temperature_c < asked.bounds.flight_c:
        return
    warm = last.what.temperature_c
    words: Words = {
        "place": place, "day": asked.day_of(last.at), "warm": warm, "fly": asked.bounds.flight_c, "suffer": asked.bounds.suffer_c,
        "deadly": asked.bounds.deadly_c, "entry": last.entry,
    }  # fmt: skip
    if warm > asked.bounds.deadly_c:
        key, act, what, then = (
            "hot", True, "{place} read {warm:temperature} on {day:day}; above about {deadly:temperature} they die",
            "heater off at the plug and lid open a hand's width with the screen on, now; read again within the hour",
        )  # fmt: skip
    elif warm > asked.bounds.suffer_c:
        key, act, what, then = (
            "warm", False, "{place} read {warm:temperature} on {day:day}; above about {suffer:temperature} they suffer",
            "lower the set point and read it again today; they work no faster",
        )  # fmt: skip
    else:
        key, act, what, then = (
            "flight", False, "{place} read {warm:temperature} on {day:day}; a keeper saw them fly from {fly:temperature} on",
            "lid shut and every hole screened before you turn your back; no cause to cool them for it",
        )  # fmt: skip
    yield News(key, act, Flag(said(f"flag.colony.{key}", what, **words), said(f"flag.colony.{key}.next", then, **words)))
