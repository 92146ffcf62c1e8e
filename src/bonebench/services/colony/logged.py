"""A log of the box as the air of a colony: which days it covers, and what stands in for the days after it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

import numpy as np

from bonebench.errors import Impossible
from bonebench.files.airlog import AirLog
from bonebench.said import said
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import HOURS_A_DAY
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.asked import Asked, humidity_of, moist_of
from bonebench.services.facts import fact

MEAN_DAYS = 7


@dataclass(frozen=True, slots=True)
class LoggedAir:
    """The air of some days: the first ``read_hours`` of them as logged, the rest the mean of the log's last ``mean_days`` days."""

    air: Air
    begin: date
    read_hours: int
    mean_days: int
    log: AirLog

    def read(self) -> Air | None:
        """Return the hours that were logged, None if there are none: only what was read is warned of."""
        if not self.read_hours:
            return None
        warm, damp = (np.asarray(series)[: self.read_hours] for series in (self.air.temperature_c, self.air.humidity))
        return Air(self.air.days, warm, damp, self.air.moist)

    def facts(self) -> Iterator[Fact]:
        """Yield what was made of the log."""
        found, zone = self.log.found
        yield Fact(said("colony.log.found", "The log"), found)
        yield Fact(said("colony.log.zone", "Its clock"), zone)
        read = self.read()
        if read is not None:
            warm = np.asarray(read.temperature_c)
            yield fact(
                "colony.log.warm", "Warmth by the log", "{mean:temperature} on the mean of the hours, {low:temperature} to "
                "{high:temperature}",
                mean=float(warm.mean()), low=float(warm.min()), high=float(warm.max()),
            )  # fmt: skip

    def flags(self) -> Iterator[Flag]:
        """Yield what to know of it: where it ends, what was filled and what could not be read."""
        whole = self.air.days * HOURS_A_DAY
        if self.read_hours < whole:
            yield Flag(
                said(
                    "colony.log.ends", "the log drives {read:days} of {all:days}; after it the mean day of its last {mean:days} "
                    "comes again and again",
                    read=self.read_hours / HOURS_A_DAY, all=float(self.air.days), mean=float(self.mean_days),
                ),
                said("colony.log.ends.next", "bring a newer log in a week or two, and look whether the box still runs like that"),
            )  # fmt: skip
        if self.log.humidity is None:
            yield Flag(
                said("colony.log.no_damp", "the log tells no humidity; it was taken as typed, or as 55 %"),
                said("colony.log.no_damp.next", "log the humidity too: damp air brings mites, dry air slows larvae"),
            )
        yield from noted(self.log)


def noted(log: AirLog) -> Iterator[Flag]:
    """Yield what was filled in a log, what is odd about its clock and what could not be read."""
    for one in log.notes:
        yield Flag(one, said("colony.log.note.next", "look at these rows if something odd happened then"))
    for one in log.faults:
        yield Flag(one, said("colony.log.fault.next", "mend that row, or leave its cell empty; the other rows were used"))


def first_day(log: AirLog) -> date:
    """Return the first day that the log covers from its midnight on."""
    local = log.begin.astimezone(log.zone)
    return local.date() if local.time() == time() else local.date() + timedelta(days=1)


def air_of_log(asked: Asked, log: AirLog, days: int, begin: date | None = None) -> LoggedAir:
    """Return the air of so many days from a day's midnight on; refuses a day before the log."""
    earliest = first_day(log)
    day = begin or earliest
    if day < earliest:
        raise Impossible(
            "colony.log.early", "{name} begins on {at} and has no air for {day:day}; begin on {earliest:day}, or bring an older "
            "log",
            name=log.name, at=f"{log.begin.astimezone(log.zone):%Y-%m-%d %H:%M}", day=day.isoformat(),
            earliest=earliest.isoformat(),
        )  # fmt: skip
    offset = round((datetime.combine(day, time(), log.zone) - log.begin) / timedelta(hours=1))
    count, mean_days = days * HOURS_A_DAY, min(MEAN_DAYS, log.hours // HOURS_A_DAY)
    damp = humidity_of(asked, count) if log.humidity is None else _from(log.humidity, offset, count, mean_days)
    air = Air(days, _from(log.temperature_c, offset, count, mean_days), damp, moist_of(asked))
    air.fed(0.0, 0.26)  # says at once what is wrong with it
    return LoggedAir(air, day, min(max(log.hours - offset, 0), count), mean_days, log)


def _from(series: FloatArray, offset: int, count: int, mean_days: int) -> FloatArray:
    """Cut hours out of a log; past its end the mean day of its last days goes on at the hour at which it broke off."""
    tail = series[-mean_days * HOURS_A_DAY :].reshape(mean_days, HOURS_A_DAY).mean(axis=0)
    hours = np.arange(offset, offset + count)
    beyond = tail[(hours - len(series)) % HOURS_A_DAY]
    return np.where(hours < len(series), series[np.minimum(hours, len(series) - 1)], beyond)
