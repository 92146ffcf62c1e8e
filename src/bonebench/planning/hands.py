"""Hours of hands over some days: what is wanted of each kind of work against what the people trained for it have.

Who is trained for everything has one pair of hands. So kinds of work are laid against hours not only one by one: all of it can be
shared out exactly when no set of kinds wants more than those trained for any of the set have (Hall's condition; the least cut of
the flow from work to people). The tightest set is named. It is a bound: work that must be done in one go, or within a day of the
step before, may find no time although the hours suffice.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations
from math import inf

from bonebench.planning.calendars import Calendar
from bonebench.planning.problem import Piece

A_HAIR = 1e-9  # sets that are as tight as each other but for rounding: the smaller one is named


@dataclass(frozen=True, slots=True)
class WorkHours:
    """Minutes of some kinds of work that are wanted, and those that people trained for any of these kinds are there."""

    kinds: tuple[str, ...]
    wanted_minutes: float
    there_minutes: float

    @property
    def share(self) -> float:
        """What is wanted as a share of what there is; infinite where something is wanted of nobody."""
        if not self.wanted_minutes:
            return 0.0
        return self.wanted_minutes / self.there_minutes if self.there_minutes else inf


@dataclass(frozen=True, slots=True)
class Person:
    """The kinds of work somebody may do, and the minutes they are there."""

    trained: frozenset[str]
    minutes: float

    def may_do_any(self, kinds: Iterable[str]) -> bool:
        """Whether they may do any of these; what needs no training has no name, and anyone does it."""
        return any(not kind or kind in self.trained for kind in kinds)


@dataclass(frozen=True, slots=True)
class HandHours:
    """The kinds of work one by one, all of them together, and the set that is tightest (None where nothing is wanted)."""

    kinds: tuple[WorkHours, ...]
    together: WorkHours
    tightest: WorkHours | None


def hand_hours(wanted: Mapping[str, float], people: Sequence[Person]) -> HandHours:
    """Lay minutes wanted by kind of work against people's minutes.

    Every set of the kinds that are wanted is tried: the shop knows five kinds and what needs no training, so these are 63.
    """
    every = sorted({*wanted, *(kind for person in people for kind in person.trained)})
    asked = [kind for kind in every if wanted.get(kind)]
    tightest: WorkHours | None = None
    for kinds in (kinds for size in range(1, len(asked) + 1) for kinds in combinations(asked, size)):
        one = _hours(kinds, wanted, people)
        if tightest is None or one.share > tightest.share * (1 + A_HAIR):
            tightest = one
    return HandHours(tuple(_hours((kind,), wanted, people) for kind in every), _hours(tuple(every), wanted, people), tightest)


def _hours(kinds: tuple[str, ...], wanted: Mapping[str, float], people: Iterable[Person]) -> WorkHours:
    there = sum(person.minutes for person in people if person.may_do_any(kinds))
    return WorkHours(kinds, sum(wanted.get(kind, 0.0) for kind in kinds), there)


def minutes_wanted(counted: Iterable[tuple[Piece, float]]) -> dict[str, float]:
    """Return the minutes of each kind of work that pieces want, each so many times; what runs has had its hands already."""
    wanted: dict[str, float] = {}
    for piece, times in counted:
        for stage in piece.stages[1 if piece.running is not None else 0 :]:
            wanted[stage.work] = wanted.get(stage.work, 0.0) + times * stage.minutes
    return {kind: minutes for kind, minutes in wanted.items() if minutes}


def people_over(calendar: Calendar, first: date, days: int) -> tuple[Person, ...]:
    """Return the minutes everyone is there over days from one on; closed days and what of today has passed count for nothing."""
    begins = (first - calendar.today).days
    return tuple(
        Person(
            one.trained,
            sum(end - start for day in range(begins, begins + days) for start, end in calendar.windows(number, day)) / 60,
        )
        for number, one in enumerate(calendar.people)
    )


def hours_are_set(calendar: Calendar) -> bool:
    """Whether anybody's hours are known: a plan made without them does not wait for hands."""
    return any(person.hours for person in calendar.people)
