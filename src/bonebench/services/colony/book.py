"""The colonies of the room by its own log: what was seen of each, and what the model makes of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from bonebench.records.book import Reading
from bonebench.said import Said, said
from bonebench.science.colony import calibrate
from bonebench.science.colony.forecast import forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import HOURS_A_DAY, Conditions, Housing, conditions
from bonebench.science.colony.observed import GRADES, Seen, grade, pupae_in_blocks, scoop
from bonebench.services.cards import Flag
from bonebench.services.colony.asked import BEFORE_SEEN, FLOOR, HUMIDITY, LIVED_C, SEED, SITES, WARM_C, Asked, Told, air_of
from bonebench.services.colony.cards import NumbersCard
from bonebench.services.colony.news import box_news, boxes_of
from bonebench.services.colony.night import BoxTonight, box_tonight
from bonebench.services.colony.numbers import misfits, numbers_of
from bonebench.services.colony.typed import MOST_BEETLES
from bonebench.services.gather import everything_in_work, known_of
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.problem import Subject
from bonebench.shop.cautions import Cautioned, for_colony
from bonebench.shop.colony import ColonyLog, SeenAt, counts_none, fold_colony, tells_size
from bonebench.shop.colony_telling import tell_look
from bonebench.shop.fold import Story
from bonebench.shop.room import Place
from bonebench.shop.rounds import fold_place, place_subject

HANDFUL = 0.01  # an empty scoop of which nobody wrote the share
MOST_FED_KG = 1000.0
AHEAD_DAYS = 30
RECORD_DAYS = 42  # older looks tell little of today: a generation lies between
SHOWN = 12
FRESH_DRY, DRIED_DRY = 0.26, 0.80


@dataclass(frozen=True)
class LookCard:
    """One look as it was written."""

    at: datetime
    entry: str
    what: Said


@dataclass(frozen=True)
class BoxColonyCard:
    """The colony of one box: its last looks, and its numbers today where a look says how many there are."""

    place: str
    name: str
    looks: tuple[LookCard, ...]
    numbers: NumbersCard | None
    why_not: Said | None
    tonight: BoxTonight | None
    flags: tuple[Flag, ...]


@dataclass(frozen=True, kw_only=True)
class ColoniesCard(Cautioned):
    """The colonies of the room."""

    boxes: tuple[BoxColonyCard, ...]
    schema: str = "colony/1"


def colonies(tx: Reading, now: datetime) -> ColoniesCard:
    """Return what the log says of every beetle box, with the numbers of today worked out from it."""
    known = known_of(tx)
    boxes = boxes_of(known)
    subjects = everything_in_work(tx, known)
    return ColoniesCard(
        boxes=tuple(_box(known, place, story_of(tx, place_subject(place.key))[0], subjects, now) for place in boxes),
        cautions=for_colony(known.caution_rows),
    )


def _box(known: Known, place: Place, story: Story, subjects: Sequence[Subject], now: datetime) -> BoxColonyCard:
    log = fold_colony(story)
    warned = tuple(one.flag for one in box_news(known, place, fold_place(place.key, story), subjects, now))
    looks = _in_use(log, now)
    colony = _told(looks, log.sites, now)
    numbers = _numbers(known, looks, colony, now) if colony is not None else None
    tonight = _tonight(place, looks, colony, subjects, now)
    shown = tuple(LookCard(one.at, one.entry, tell_look(one.what)) for one in reversed(log.seen[-SHOWN:]))
    return BoxColonyCard(place.key, place.name, shown, numbers, None if numbers else _why_not(log), tonight, (*warned, *log.flags))


def _why_not(log: ColonyLog) -> Said:
    if log.last_count is None:
        return said("colony.uncounted", "nobody has counted here yet: a scoop and its share of the bedding is enough")
    day = log.last_count.at.date()
    return said("colony.old_count", "the last count is of {day:day}; count a scoop, it holds for two weeks", day=day)


def _told(looks: tuple[SeenAt, ...], sites: float | None, now: datetime) -> Told | None:
    """Hold the looks against the model, if one of them says how many there are."""
    return _Record(looks, now).told(sites) if any(tells_size(one.what) for one in looks) else None


def _numbers(known: Known, looks: tuple[SeenAt, ...], colony: Told, now: datetime) -> NumbersCard:
    record = _Record(looks, now)
    dead = counts_none(next(one.what for one in reversed(looks) if tells_size(one.what)))
    odd = (*(misfits(colony) if not dead else ()), record.fed_flag())
    return numbers_of(known, record.asked(), colony, dead=dead, odd=odd)


def _tonight(
    place: Place, looks: tuple[SeenAt, ...], colony: Told | None, subjects: Sequence[Subject], now: datetime
) -> BoxTonight | None:  # fmt: skip
    """Say what may go in tonight, by the looks, else by the appetite that the room set itself; None where neither is there."""
    if colony is not None:
        asked = _Record(looks, now).asked()
        air = air_of(asked, AHEAD_DAYS)
        run = forecast(colony.draws, colony.housing, air.fed(None, colony.housing.food_dry_share))
        cautious = [float(value) for value in run.band("appetite_kg")[1]]
        return box_tonight(place, subjects, cautious, float(np.asarray(air.temperature_c)[0]), now)
    if place.appetite_kg_per_day is None:
        return None
    return box_tonight(place, subjects, [place.appetite_kg_per_day], WARM_C, now)


def _in_use(log: ColonyLog, now: datetime) -> tuple[SeenAt, ...]:
    """Return the looks that still tell of today: of the last weeks, and none from before a count that found nothing alive."""
    looks = [one for one in log.seen if now - timedelta(days=RECORD_DAYS) <= one.at <= now]
    last_none = max((n for n, one in enumerate(looks) if counts_none(one.what)), default=0)
    return tuple(looks[last_none:])


class _Record:
    """The days from the first of these looks to today, as the model takes them."""

    def __init__(self, looks: Sequence[SeenAt], now: datetime) -> None:
        self.looks, self.start = looks, looks[0].at
        self.days = self._day(now) + 1
        warm = [(one.at, one.what.temperature_c) for one in looks if _holds(one.what.temperature_c, -60.0, 80.0)]
        damp = [(one.at, one.what.humidity) for one in looks if _holds(one.what.humidity, 0.0, 1.0)]
        self.warm, self.damp = self._hourly(warm, WARM_C), self._hourly(damp, HUMIDITY)
        self.read_warm, self.read_damp = bool(warm), bool(damp)

    def _day(self, at: datetime) -> int:
        return int((at - self.start) / timedelta(days=1))

    def _hourly(self, read: Sequence[tuple[datetime, float | None]], usual: float) -> FloatArray:
        """Draw straight lines between readings; before the first and after the last it stays as read."""
        hours = np.arange(self.days * HOURS_A_DAY, dtype=np.float64)
        if not read:
            return np.full(len(hours), usual)
        at = [(when - self.start) / timedelta(hours=1) for when, _ in read]
        return np.asarray(np.interp(hours, at, [float(value) for _, value in read if value is not None]))

    def _fed(self) -> FloatArray | None:
        """Food by the day as fresh, where feedings were written down once a week at least; else nobody knows what they got."""
        fed = [(self._day(one.at), one.what) for one in self.looks if _holds(one.what.fed_kg, 0.0, MOST_FED_KG)]
        if len(fed) < max(1.0, self.days / 7.0):
            return None
        food = np.zeros(self.days)
        for day, what in fed:
            food[day] += (what.fed_kg or 0.0) * (DRIED_DRY / FRESH_DRY if what.dried else 1.0)
        return food

    def seen(self) -> Iterator[Seen]:
        """Return what was counted, as the model is held against it."""
        for one in self.looks:
            day, what = self._day(one.at), one.what
            if _holds(what.counted, 0.0, MOST_BEETLES) and (what.counted == 0 or _holds(what.part, 1e-6, 1.0)):
                yield scoop(day, what.counted or 0.0, what.part if _holds(what.part, 1e-6, 1.0) and what.part else HANDFUL)
            if what.grade in GRADES:
                yield grade(day, what.grade)
            part = 1.0 if what.pupae_part is None else what.pupae_part
            if _holds(what.pupae, 0.0, MOST_BEETLES) and _holds(part, 1e-6, 1.0) and not counts_none(what):
                yield pupae_in_blocks(day, what.pupae or 0.0, part)

    def told(self, sites: float | None) -> Told:
        """Hold the record against the model."""
        rng = np.random.default_rng(SEED)
        held = sites if _holds(sites, 0.0, MOST_BEETLES) and sites is not None else None
        housing = Housing(FLOOR.value, SITES.value if held is None else held)
        given: Conditions = conditions(self.days, self.warm, self.damp, food_kg_per_day=self._fed())
        first = min(max(float(self.warm[0]), LIVED_C[0]), LIVED_C[1])
        guess = calibrate.Guess(BEFORE_SEEN.active, BEFORE_SEEN.within, first, float(self.damp[0]))
        seen = tuple(self.seen())
        fit = calibrate.fit(rng, seen, housing, given, guess)
        taken = (("colony.floor", FLOOR), *((("colony.sites", SITES),) if held is None else ()))
        return Told(fit.draws.evenly(rng), housing, taken, fit, seen)

    def asked(self) -> Asked:
        """Return the box as it is now, for what is asked of it today; only what was read is warned of."""
        last = next((one.what.beetles for one in reversed(self.looks) if one.what.beetles), None)
        return Asked(
            temperature=f"{self.warm[-1]:.2f} C" if self.read_warm else None,
            humidity=f"{100 * self.damp[-1]:.2f} %" if self.read_damp else None,
            beetles=last,
        )

    def fed_flag(self) -> Flag:
        """Say which food was reckoned with."""
        if self._fed() is None:
            return Flag(
                said("colony.fed.unknown", "feedings were not written down each week, so they were taken to have had enough"),
                said("colony.fed.unknown.next", "write down what goes in: hungry weeks then count"),
            )
        return Flag(
            said("colony.fed.written", "only the food that was written down was reckoned with"),
            said("colony.fed.written.next", "if more went in, write that too, about when it was"),
        )


def _holds(value: float | None, low: float, high: float) -> bool:
    return value is not None and low <= value <= high
