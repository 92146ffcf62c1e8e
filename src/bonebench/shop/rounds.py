"""Rounds: work that belongs to a place or to the room, when it is due again, and what was found.

Rows are data (`reference/rounds.toml`); everything here is a pure function of plain values.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from typing import Literal

from bonebench.figures import Standing
from bonebench.said import Plain, Said, said
from bonebench.shop import entries as log
from bonebench.shop.cautions import DEFER, Caution, Level, Rows
from bonebench.shop.colony import SeenAt, at_hand, fold_colony
from bonebench.shop.counts import CountMark, mark_of_count
from bonebench.shop.entries import Entry
from bonebench.shop.flags import Flag
from bonebench.shop.fold import Story
from bonebench.shop.identity import task_id
from bonebench.shop.part_entries import Counted
from bonebench.shop.room import Place
from bonebench.shop.steps import PlaceKind
from bonebench.shop.thirst import Fed, last_drink, why_wet

Hemisphere = Literal["north", "south"]
RoundAt = tuple[str, str]  # the key of a round, and of its place

ROOM_PLACE = "room"
# What a room may have: a round that needs one of these is asked for only where it is.
FEATURES: tuple[str, ...] = (
    "gas heater", "electric fence", "spare colony", "smoke alarm", "co alarm", "plumbed eyewash", "taped vents",
)  # fmt: skip
DONE_TAP = "Done"
WRONG_TAP = "Something is wrong"

SEASON_GRACE = timedelta(days=14)  # how long a season change may wait
SEASON_EARLY = timedelta(days=45)  # done so long before its day, it counts for that day
SEASON_LAPSES = timedelta(days=120)  # then the other change is near, and doing this one would be wrong


def place_subject(key: str) -> str:
    """Name a place as a subject; the room itself is the place "room"."""
    return f"place:{key}"


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing that can be wrong: its button, and what to do about it. ``danger`` says: before anything else."""

    key: str
    tap: str
    next: str
    danger: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One round as data: every ``days`` (earliest, latest) or on a ``turn`` of the year, by hemisphere (month, day).

    With ``thirst``, food that went in moist counts as done, and air that is damp already puts it off.
    """

    key: str
    name: str
    about: PlaceKind | None
    days: tuple[int, int] | None
    turn: Mapping[Hemisphere, tuple[int, int]] | None
    first_days: int
    minutes: float
    work: str
    do: str
    look: str
    why: str
    wrongs: tuple[Wrong, ...]
    needs: str | None
    in_use: bool
    cautions: tuple[str, ...]
    source: str
    standing: Standing
    thirst: bool = False
    values: Mapping[str, Plain] = field(default_factory=dict)

    def say(self, part: str, template: str, place: str) -> Said:
        """Fill one of the round's sentences."""
        return said(f"round.{self.key}.{part}", template, **{**self.values, "place": place})

    def wrong(self, key: str) -> Wrong | None:
        """Return one thing that can be wrong, by its key."""
        return next((wrong for wrong in self.wrongs if wrong.key == key), None)


@dataclass(frozen=True, slots=True)
class History:
    """What is known beside the days of the rounds; each may be left empty.

    ``since``: the day each place was set up (`set_up_on`), so that a first round keeps its day and its task's id. ``in_use``:
    the day since when a place holds something; None takes every place as in use. ``wrong``: rounds whose last answer was that
    something is wrong. ``fed``: what last went into each box.
    """

    since: Mapping[str, date] = field(default_factory=dict)
    in_use: Mapping[str, date] | None = None
    wrong: Collection[RoundAt] = ()
    fed: Mapping[str, Fed] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class DueRound:
    """A round that may be done today; late days count from the last day of its rhythm."""

    round: Round
    place: str
    task: str
    due_from: date
    due_by: date
    late_days: int
    never_done: bool
    wrong: bool
    do: Said
    look: Said
    why: Said


def due(
    rounds: Mapping[str, Round],
    *,
    places: tuple[Place, ...],
    features: Collection[str],
    done: Mapping[RoundAt, date],
    today: date,
    hemisphere: Hemisphere = "north",
    history: History | None = None,
) -> tuple[DueRound, ...]:
    """Return the rounds to do today: by due day, then along the wall, the room last.

    A round never done is due ``first_days`` after its place was set up: what keeps people and beetles alive on the first day,
    the rest spread over the first weeks, so that a new room is not greeted with everything at once.
    """
    known = history or History()
    found = []
    for round_, place, name in _where(rounds, places, features, known):
        last, fed = done.get((round_.key, place)), known.fed.get(place, Fed()) if round_.thirst else None
        if fed is not None and fed.damp:
            continue
        last = last if fed is None else last_drink(last, fed, today)
        window = _window(round_, place, last, known=known, today=today, hemisphere=hemisphere)
        if window is not None and window[0] <= today:
            one = _due(round_, place, name, window=window, last=last, today=today, wrong=(round_.key, place) in known.wrong)
            found.append(one if fed is None else replace(one, why=why_wet(one.why, fed, last)))
    return tuple(sorted(found, key=lambda one: one.due_by))


def _where(
    rounds: Mapping[str, Round], places: tuple[Place, ...], features: Collection[str], known: History
) -> Iterator[tuple[Round, str, str]]:
    """Return every round with the places it is about, along the wall, and their names."""
    asked = [round_ for round_ in rounds.values() if round_.needs is None or round_.needs in features]
    for place in sorted(places, key=lambda place: (place.order, place.key)):
        for round_ in asked:
            idle = round_.in_use and known.in_use is not None and place.key not in known.in_use
            if round_.about is place.kind and place.open and not idle:
                yield round_, place.key, place.name
    yield from ((round_, ROOM_PLACE, "the room") for round_ in asked if round_.about is None)


def _start(round_: Round, place: str, known: History) -> date | None:
    """Return the day from which this round counts in this place, if anybody knows."""
    days = [known.since.get(place), known.in_use.get(place) if round_.in_use and known.in_use is not None else None]
    return max((day for day in days if day is not None), default=None)


def _counts(last: date | None, start: date | None, today: date) -> bool:
    """Whether a day of doing it stands: not before the place was set up or filled again, and not ahead (a wrong clock)."""
    return last is not None and last <= today and (start is None or last >= start)


def _window(
    round_: Round, place: str, last: date | None, *, known: History, today: date, hemisphere: Hemisphere
) -> tuple[date, date] | None:
    start = _start(round_, place, known)
    done = last if last is not None and _counts(last, start, today) else None
    turn = None if round_.turn is None else round_.turn[hemisphere]
    if done is not None and (round_.key, place) in known.wrong:
        again = done + timedelta(days=1)
        # A season change that was put off is not asked for when its season is over.
        return (again, again) if turn is None or _turn(turn, start, None, today) is not None else None
    if turn is not None:
        return _turn(turn, start, last, today)
    if done is None:
        first = (start or today) + timedelta(days=round_.first_days if start else 0)
        return first, first
    least, most = round_.days or (1, 1)
    return done + timedelta(days=least), done + timedelta(days=most)


def _turn(on: tuple[int, int], start: date | None, last: date | None, today: date) -> tuple[date, date] | None:
    """Return the window of the latest turn of the year, unless it was done, lies before the set-up, or has lapsed."""
    turns = (date(year, *on) for year in (today.year, today.year - 1))
    turn = next(day for day in turns if day <= today)
    was_done = last is not None and turn - SEASON_EARLY <= last <= today
    if was_done or (start is not None and start > turn) or today - turn > SEASON_LAPSES:
        return None
    return turn, turn + SEASON_GRACE


def _due(
    round_: Round, place: str, name: str, *, window: tuple[date, date], last: date | None, today: date, wrong: bool
) -> DueRound:
    due_from, due_by = window
    return DueRound(
        round=round_,
        place=place,
        task=task_id(f"round:{round_.key}@{place}", due_by.isoformat(), 1),
        due_from=due_from,
        due_by=due_by,
        late_days=max(0, (today - due_by).days),
        never_done=last is None,
        wrong=wrong,
        do=round_.say("do", round_.do, name),
        look=round_.say("look", round_.look, name),
        why=round_.say("why", round_.why, name),
    )


def round_cautions(round_: Round, rows: Rows) -> tuple[Caution, ...]:
    """Return the cautions of a round, the loudest first, the one that defers last."""
    loudness = (Level.STOP, Level.STRONG, Level.READ)
    cautions = sorted((rows[key].filled() for key in round_.cautions), key=lambda caution: loudness.index(caution.level))
    return (*cautions, rows[DEFER].filled())


def set_up_on(story: Story, day_of: Callable[[datetime], date]) -> dict[str, date]:
    """Return, from the story of the room's settings, the day each place was set up or opened again; "room" is the first of all."""
    since: dict[str, date] = {}
    standing: dict[str, log.PlaceSet] = {}
    for entry in story.entries:
        day = day_of(entry.when.latest)
        since.setdefault(ROOM_PLACE, day)
        if isinstance(entry.what, log.PlaceSet):
            before = standing.get(entry.what.key)
            if before is None or before.kind is not entry.what.kind or not before.open:
                since[entry.what.key] = day
            standing[entry.what.key] = entry.what
    return since


@dataclass(frozen=True, slots=True)
class RoundMark:
    """The standing answer of one round: when, by which entry and writer, for which due day, and what was wrong."""

    at: datetime
    entry: str
    writer: str
    due: date | None = None
    wrong: str | None = None


@dataclass(frozen=True, slots=True)
class LeftMark:
    """The last time the room was left, and what was ticked."""

    at: datetime
    entry: str
    ticks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlaceLog:
    """What the entries about a place come to; ``looks`` are those into its colony that may still be news."""

    key: str
    rounds: dict[str, RoundMark] = field(default_factory=dict)
    seen: datetime | None = None
    left: LeftMark | None = None
    count: CountMark | None = None
    flags: tuple[Flag, ...] = ()
    looks: tuple[SeenAt, ...] = ()

    def done(self, day_of: Callable[[datetime], date]) -> dict[RoundAt, date]:
        """Return the day each round was last done, as `due` takes it."""
        return {(key, self.key): day_of(mark.at) for key, mark in self.rounds.items()}

    def wrong(self) -> frozenset[RoundAt]:
        """Return the rounds that found something wrong, as `History` takes them."""
        return frozenset((key, self.key) for key, mark in self.rounds.items() if mark.wrong is not None)


def fold_place(key: str, story: Story) -> PlaceLog:
    """Tell a place from its story; never raises, odd entries become flags."""
    told = PlaceLog(key)
    flags = list(story.flags)
    for entry in story.entries:
        at, what = entry.when.latest, entry.what
        if isinstance(what, log.RoundDone):
            mark = _answer(told.rounds.get(what.round), entry, what, flags)
            told = replace(told, rounds={**told.rounds, what.round: mark})
        elif isinstance(what, log.Seen):
            told = replace(told, seen=at)
        elif isinstance(what, Counted):
            told = replace(told, seen=at, count=mark_of_count(entry, what))
        elif isinstance(what, log.Left):
            told = replace(told, left=LeftMark(at, entry.id, what.ticks))
    return replace(told, flags=tuple(flags), looks=at_hand(fold_colony(story).seen))


def _answer(before: RoundMark | None, entry: Entry, what: log.RoundDone, flags: list[Flag]) -> RoundMark:
    """The later answer stands, but "done" does not undo what somebody else found wrong on the same due day."""
    mark = RoundMark(entry.when.latest, entry.id, entry.writer, what.due, what.wrong)
    if before is None or before.wrong is None or what.wrong is not None:
        return mark
    if what.due is None or what.due != before.due or entry.writer == before.writer:
        return mark
    words: dict[str, Plain | date] = {"wrong": before.wrong, "day": before.due, "round": what.round, "entry": entry.id}
    flags.append(
        Flag(
            said("flag.round_clash", "{round}, {day:day}: one answer says {wrong}, another says done", **words),
            said("flag.round_clash.next", "look again; tap Done the next time it is due if all is well", **words),
        )
    )
    return replace(mark, wrong=before.wrong, writer=before.writer)


@dataclass(frozen=True, slots=True)
class OpenWrong:
    """Something a round found that nobody has put right yet."""

    round: str
    place: str
    flag: Flag
    danger: bool


def open_wrongs(told: PlaceLog, rounds: Mapping[str, Round], place_name: str) -> tuple[OpenWrong, ...]:
    """Return what is wrong in a place, in the words of its rounds; dangers first."""
    found = []
    for key, mark in told.rounds.items():
        if mark.wrong is None:
            continue
        round_ = rounds.get(key)
        wrong = round_.wrong(mark.wrong) if round_ is not None else None
        words: dict[str, Plain | date] = {
            "round": round_.name if round_ is not None else key,
            "place": place_name,
            "entry": mark.entry,
        }
        what = said("flag.round", "{round}, {place}: {tap}", tap=wrong.tap if wrong is not None else mark.wrong, **words)
        unread = said("flag.round.next", "this version has no such round or answer; look at the place and put it right")
        then = round_.say(f"{mark.wrong}.next", wrong.next, place_name) if round_ is not None and wrong is not None else unread
        found.append(OpenWrong(key, told.key, Flag(what, then), danger=wrong is not None and wrong.danger))
    return tuple(sorted(found, key=lambda one: not one.danger))
