"""Who eats how much in one beetle box: each day's appetite goes to the pieces in order of entry, each up to its own rate."""

from bisect import insort
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from math import ceil

from bonebench.planning.calendars import DAY, NEVER, Calendar

CRUMB_KG = 1e-9
Takes = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Food:
    """What one piece offers: tissue left, the last part of it that goes slowly, and its rate before and in that part."""

    tissue_kg: float
    tail_kg: float
    rate: float
    tail_rate: float

    def days_for(self, left_kg: float, kg: float) -> float:
        """Return how long this piece alone would take for the next kg, when so much is left."""
        quick = min(kg, max(0.0, left_kg - self.tail_kg))
        return quick / self.rate + (kg - quick) / self.tail_rate

    def most_in(self, left_kg: float, days: float) -> float:
        """Return the most that can go in so many days, when so much is left."""
        quick = max(0.0, left_kg - self.tail_kg)
        if quick >= self.rate * days:
            return self.rate * days
        return min(left_kg, quick + (days - quick / self.rate) * self.tail_rate)


@dataclass(slots=True, eq=False)
class Eater:
    """One piece in the box or promised to it. ``fixed`` when later steps are already settled on its end."""

    start: int
    rank: int
    food: Food
    end: int = NEVER
    takes: Takes = ()
    fixed: bool = False
    owner: int = -1

    def __lt__(self, other: "Eater") -> bool:
        return (self.start, self.rank) < (other.start, other.rank)


@dataclass(slots=True)
class Offer:
    """What would happen if one more piece went in: when it is eaten, and how those that enter after it are put off.

    ``end`` of NEVER: not within the horizon. ``until``: someone settled to enter later would be put off; not before then.
    """

    eater: Eater
    until: int = 0
    moved: list[tuple[Eater, int, Takes]] = field(default_factory=list)


class Box:
    """The appetite of one box through one plan."""

    def __init__(self, calendar: Calendar, by_day: Mapping[date, float], otherwise: float) -> None:
        self._calendar = calendar
        self._by_day = by_day
        self._otherwise = otherwise
        self._appetite: list[float] = []
        self._used: list[float] = []
        self._eaters: list[Eater] = []

    def _day(self, day: int) -> tuple[float, float]:
        """Return a day's whole appetite and what of it nobody has taken; of today only what is still ahead counts."""
        while len(self._appetite) <= day:
            new = len(self._appetite)
            whole = self._by_day.get(self._calendar.date_of(new), self._otherwise)
            self._appetite.append(whole)
            self._used.append(whole * (1 - self._share(0, self._calendar.start_of(1), 0)) if new == 0 else 0.0)
        return self._appetite[day], max(0.0, self._appetite[day] - self._used[day])

    def _share(self, start: int, end: int, day: int) -> float:
        first, last = self._calendar.start_of(day), self._calendar.start_of(day + 1)
        return (end - start) / (last - first)

    def _eat(self, start: int, food: Food) -> tuple[int, Takes]:
        """Let one piece eat what is free from start on; return its end and what it took each day."""
        left, at, takes = food.tissue_kg, max(0, start), []
        if left <= CRUMB_KG:
            return at, ()
        if food.rate <= 0:
            return NEVER, ()
        day = self._calendar.day_of(at)
        while at <= self._calendar.horizon:
            midnight = self._calendar.start_of(day + 1)
            days = (midnight - at) / DAY
            whole, free = self._day(day)
            # Beetles do not save up: who comes late in the day finds only the rest of the day's appetite.
            free = min(free, whole * self._share(at, midnight, day))
            own = food.most_in(left, days)
            taken = min(own, free)
            if taken > 0:
                takes.append((day, taken))
            if left - taken <= CRUMB_KG:
                spent = max(food.days_for(left, left), days * left / free)
                return at + min(ceil(spent * DAY - 1e-6), midnight - at), tuple(takes)
            left, at, day = left - taken, midnight, day + 1
        # What sits in the box past the horizon eats all the same, and those behind it go short.
        return NEVER, tuple(takes)

    def _apply(self, takes: Takes, sign: int) -> None:
        for day, kg in takes:
            self._day(day)
            self._used[day] += sign * kg

    def offer(self, start: int, rank: int, food: Food) -> Offer:
        """Work out what would happen if a piece entered then; nothing is changed yet."""
        eater = Eater(start, rank, food)
        behind = [other for other in self._eaters if eater < other]
        if not behind:
            eater.end, eater.takes = self._eat(start, food)
            return Offer(eater)
        before = self._used[:]
        for other in behind:
            self._apply(other.takes, -1)
        eater.end, eater.takes = self._eat(start, food)
        offer = Offer(eater)
        self._apply(eater.takes, 1)
        for other in behind:
            self._put_off(offer, other)
        # Taken back as it was, not by subtraction: rounding must not creep in with every question asked.
        self._used[: len(before)] = before
        self._used[len(before) :] = [0.0] * (len(self._used) - len(before))
        return offer

    def _put_off(self, offer: Offer, other: Eater) -> None:
        end, takes = self._eat(other.start, other.food)
        self._apply(takes, 1)
        if other.fixed and abs(end - other.end) <= 1:
            end = other.end
        offer.moved.append((other, end, takes))
        if end == NEVER or (other.fixed and end != other.end):
            offer.until = max(offer.until, other.start + 1)

    def accept(self, offer: Offer, *, fixed: bool, owner: int) -> list[Eater]:
        """Let the piece in as offered; return those whose end has moved by it."""
        offer.eater.fixed, offer.eater.owner = fixed, owner
        moved = []
        for other, end, takes in offer.moved:
            self._apply(other.takes, -1)
            self._apply(takes, 1)
            if end != other.end:
                moved.append(other)
            other.end, other.takes = end, takes
        self._apply(offer.eater.takes, 1)
        insort(self._eaters, offer.eater)
        return moved
