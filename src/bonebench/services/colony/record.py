"""One box's record held against the model: its looks, its readings, what it ate, and where it lives."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np

from bonebench.figures import Figure
from bonebench.reference.beetles import beetle_named
from bonebench.said import said
from bonebench.science.colony import calibrate
from bonebench.science.colony.forecast import Forecast, forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import HOURS_A_DAY, Conditions, Housing, conditions
from bonebench.science.colony.observed import GRADES, Seen, grade, pupae_in_blocks, scoop
from bonebench.services.cards import Flag
from bonebench.services.colony.appetite import beetles_of
from bonebench.services.colony.asked import BEFORE_SEEN, LIVED_C, SEED, Asked, Told, air_of
from bonebench.services.colony.typed import MOST_BEETLES
from bonebench.services.colony.usual import FLOOR, HUMIDITY, SITES, WARM_C
from bonebench.services.colony.weighed import Eaten
from bonebench.services.colony.widen import widened
from bonebench.shop.box_entries import BoxSet
from bonebench.shop.colony import SeenAt, counts_none

HANDFUL = 0.01  # an empty scoop of which nobody wrote the share
MOST_FED_KG = 1000.0
FRESH_DRY, DRIED_DRY = 0.26, 0.80
FED_DAYS = 28  # over how many days the usual ration is taken


Held = tuple["Record", Told]


@lru_cache(maxsize=32)
def held(
    looks: tuple[SeenAt, ...], box: BoxSet | None, eaten: tuple[Eaten, ...], at: datetime, members: int | None = None
) -> Held:  # fmt: skip
    """Hold looks against the model as of a time; the same looks are held once, whoever asks."""
    record = Record(looks, at, box, eaten)
    return record, record.told(members or calibrate.MEMBERS)


def run_ahead(record: "Record", told: Told, days: int) -> Forecast:
    """Run a colony on in the air it was last read in, fed all it eats."""
    return forecast(told.draws, told.housing, air_of(record.asked(), days).fed(None, told.housing.food_dry_share))


class Record:
    """The days from the first of these looks to today, as the model takes them."""

    def __init__(
        self, looks: Sequence[SeenAt], now: datetime, box: BoxSet | None = None, eaten: Sequence[Eaten] = ()
    ) -> None:  # fmt: skip
        self.looks, self.box, self.eaten = looks, box, tuple(eaten)
        self.start = min(looks[0].at, *(one.since for one in self.eaten)) if self.eaten else looks[0].at
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

    def fed_kg_per_day(self) -> float | None:
        """Return what they got a day as fresh in the last weeks, None where that was not written down."""
        food = self._fed()
        return None if food is None else float(food[-FED_DAYS:].mean())

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
        for span in self.eaten:
            yield from self._spans(span)

    def _spans(self, one: Eaten) -> Iterator[Seen]:
        """Return what was eaten in whole days of the record: as much a day as it was in the time between the weighings."""
        first, last = self._day(one.since), min(self._day(one.until), self.days - 1)
        last = max(last, first + 1)
        days = (one.until - one.since) / timedelta(days=1)
        if last <= self.days and days > 0:
            yield Seen(first, "eaten_kg", one.mass_kg * (last - first) / days, one.spread, until=last)

    @property
    def housing(self) -> tuple[Housing, tuple[tuple[str, Figure], ...]]:
        """Where they live, by the room's setting and the last look, and what was taken for granted of it."""
        floor = None if self.box is None else self.box.floor_m2
        said = next((one.what.sites for one in reversed(self.looks) if one.what.sites is not None), None)
        held = said if said is not None else (None if self.box is None else self.box.sites)
        sites = held if _holds(held, 0.0, MOST_BEETLES) else None
        taken = (*((("colony.floor", FLOOR),) if floor is None else ()), *((("colony.sites", SITES),) if sites is None else ()))
        return Housing(FLOOR.value if floor is None else floor, SITES.value if sites is None else sites), taken

    def told(self, members: int = calibrate.MEMBERS) -> Told:
        """Hold the record against the model."""
        rng = np.random.default_rng(SEED)
        housing, taken = self.housing
        given: Conditions = conditions(self.days, self.warm, self.damp, food_kg_per_day=self._fed())
        first = min(max(float(self.warm[0]), LIVED_C[0]), LIVED_C[1])
        guess = calibrate.Guess(BEFORE_SEEN.active, BEFORE_SEEN.within, first, float(self.damp[0]))
        seen = tuple(self.seen())
        fit = calibrate.fit(rng, seen, housing, given, guess, members=members)
        draws = widened(fit.draws.evenly(rng), beetle_named(beetles_of(self.box, self.looks)), rng)
        return Told(draws, housing, taken, fit, seen)

    def asked(self) -> Asked:
        """Return the box as it is now, for what is asked of it today; only what was read is warned of."""
        return Asked(
            temperature=f"{self.warm[-1]:.2f} C" if self.read_warm else None,
            humidity=f"{100 * self.damp[-1]:.2f} %" if self.read_damp else None,
            beetles=beetles_of(self.box, self.looks),
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
