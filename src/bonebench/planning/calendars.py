"""Time inside a plan: whole seconds from now, local days and their lengths, and the hours in which hands can work."""

from bisect import bisect_right
from datetime import UTC, date, datetime, time, timedelta
from math import ceil

from bonebench.planning.problem import Hands, Problem

DAY = 86400
NEVER = 1 << 60
Span = tuple[int, int]


class Calendar:
    """The days of one problem, worked out as they are needed and shared by every plan made for it."""

    def __init__(self, problem: Problem) -> None:
        self.now = problem.now.astimezone(UTC)
        self.zone = problem.zone
        self.people = problem.people
        self.closed = problem.closed
        self.horizon = problem.horizon_days * DAY
        self.last_day = problem.horizon_days + 1
        self.today: date = problem.now.astimezone(problem.zone).date()
        self._starts: list[int] = [self._midnight(0)]
        self._windows: list[list[tuple[Span, ...]]] = [[] for _ in problem.people]

    def seconds(self, instant: datetime) -> int:
        """Return an instant in whole seconds from now, rounded up."""
        return ceil((instant - self.now).total_seconds())

    def instant(self, seconds: int) -> datetime:
        """Return the UTC instant so many seconds from now."""
        return self.now + timedelta(seconds=seconds)

    def date_of(self, day: int) -> date:
        """Return the local date of a day counted from today."""
        return self.today + timedelta(days=day)

    def local_date(self, seconds: int) -> date:
        """Return the local date so many seconds from now."""
        return self.instant(seconds).astimezone(self.zone).date()

    def _midnight(self, day: int) -> int:
        return self._wall(day, time(0))

    def _wall(self, day: int, at: time) -> int:
        # Counted in UTC: subtracting two wall times of one zone would miss the hour of a clock change.
        return self.seconds(datetime.combine(self.today + timedelta(days=day), at, self.zone).astimezone(UTC))

    def start_of(self, day: int) -> int:
        """Return when a local day begins; 0 is today, which has begun already."""
        starts = self._starts
        while len(starts) <= day:
            starts.append(self._midnight(len(starts)))
        return starts[day]

    def day_of(self, seconds: int) -> int:
        """Return which local day from today an instant at or after now falls on."""
        while self._starts[-1] <= seconds:
            self.start_of(len(self._starts))
        return max(0, bisect_right(self._starts, seconds) - 1)

    def windows(self, person: int, day: int) -> tuple[Span, ...]:
        """Return when a person works on a local day, closed days and the past taken out."""
        known = self._windows[person]
        while len(known) <= day:
            known.append(self._windows_of(self.people[person], len(known)))
        return known[day]

    def _windows_of(self, person: Hands, day: int) -> tuple[Span, ...]:
        if self.date_of(day) in self.closed:
            return ()
        merged: list[Span] = []
        for begins, ends in sorted(person.hours.get(self.date_of(day).weekday(), ())):
            # Hours that end at 0:00 last until midnight.
            span = (max(0, self._wall(day, begins)), self._wall(day + 1, ends) if ends == time(0) else self._wall(day, ends))
            if merged and span[0] <= merged[-1][1]:
                merged[-1] = (merged[-1][0], max(merged[-1][1], span[1]))
            elif span[1] > span[0]:
                merged.append(span)
        return tuple(merged)

    def first_closed(self, people: tuple[int, ...], start: int, end: int) -> date | None:
        """Return the first closed day from start to before end on which one of these people would have worked."""
        if not self.closed:
            return None
        for day in range(self.day_of(start), self.day_of(end)):
            at = self.date_of(day)
            if at in self.closed and any(self.people[person].hours.get(at.weekday()) for person in people):
                return at
        return None


def longest_hours(person: Hands) -> int:
    """Return the longest stretch one person ever works in one go, in seconds of wall time."""
    longest = 0
    for hours in person.hours.values():
        end = -1
        begin = 0
        for first, last in sorted(hours):
            until = DAY if last == time(0) else _of_day(last)
            begin, end = (begin, max(end, until)) if _of_day(first) <= end else (_of_day(first), until)
            longest = max(longest, end - begin)
    return longest


def _of_day(at: time) -> int:
    return at.hour * 3600 + at.minute * 60 + at.second


class Diary:
    """The free time of one person in one plan; time once booked is never given back.

    ``begins`` and ``until`` are the bounds of the stretch that comes first, as far as they are known.
    """

    def __init__(self, calendar: Calendar, person: int) -> None:
        self._calendar = calendar
        self._person = person
        self._day = 0
        self._last_day = calendar.last_day if calendar.people[person].hours else -1
        self._free: list[Span] = []
        self._head = 0
        self.begins = self.until = 0

    def forget(self, now: int) -> None:
        """Drop free time that has passed: nothing is asked before now again."""
        free = self._free
        while self._head < len(free) and free[self._head][1] <= now:
            self._head += 1
        self.begins, self.until = free[self._head] if self._head < len(free) else (0, 0)

    def _extend(self) -> bool:
        while self._day <= self._last_day:
            windows = self._calendar.windows(self._person, self._day)
            self._day += 1
            if windows:
                self._free.extend(windows)
                return True
        return False

    def earliest(self, start: int, length: int, before: int = NEVER) -> int:
        """Return the first instant from start at which so many seconds are free in one go, or NEVER if that is not before."""
        free, at = self._free, self._head
        while True:
            while at < len(free):
                begins, ends = free[at]
                begins = start if begins < start else begins  # max() would cost a call in the busiest loop there is
                if begins >= before:
                    return NEVER
                if ends - begins >= length:
                    return begins
                at += 1
            if not self._extend():
                return NEVER

    def spread(self, start: int, length: int) -> tuple[Span, ...]:
        """Return all free time from start until so many seconds are filled, or nothing when there is not enough."""
        spans: list[Span] = []
        at = self._head
        while True:
            while at < len(self._free):
                begins, ends = max(self._free[at][0], start), self._free[at][1]
                at += 1
                if ends <= begins:
                    continue
                spans.append((begins, min(ends, begins + length)))
                length -= spans[-1][1] - begins
                if length <= 0:
                    return tuple(spans)
            if not self._extend():
                return ()

    def book(self, span: Span) -> None:
        """Take one span out of one free stretch."""
        at = self._head
        while self._free[at][1] < span[1]:
            at += 1
        begins, ends = self._free[at]
        self.begins = self.until = 0
        rest = [part for part in ((begins, span[0]), (span[1], ends)) if part[1] > part[0]]
        self._free[at : at + 1] = rest


class Crew:
    """Everyone's diary in one plan. People are named by their place in the problem's list."""

    def __init__(self, calendar: Calendar) -> None:
        self._diaries = [Diary(calendar, person) for person in range(len(calendar.people))]

    def forget(self, now: int) -> None:
        """Drop everyone's time that has passed."""
        for diary in self._diaries:
            if diary.until <= now:
                diary.forget(now)

    def earliest(self, people: tuple[int, ...], start: int, length: int, *, split: bool) -> tuple[int, int]:
        """Return the first instant from start one of these people can begin, and who: the first in the list on a tie."""
        best, who = NEVER, -1
        # Work too long for any one day's hours begins at the first free minute and goes on in the next hours.
        length = min(length, 60) if split else length
        for person in people:
            diary = self._diaries[person]
            if diary.begins >= best:
                continue
            at = diary.earliest(start, length, best)
            if at < best:
                best, who = at, person
                if at <= start:
                    break
        return best, who

    def spans(self, person: int, start: int, length: int, *, split: bool) -> tuple[Span, ...]:
        """Return when the work would be done by this person, begun at start."""
        return self._diaries[person].spread(start, length) if split else ((start, start + length),)

    def book(self, person: int, spans: tuple[Span, ...]) -> None:
        """Take this time of one person."""
        for span in spans:
            self._diaries[person].book(span)
