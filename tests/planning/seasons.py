"""A made season played out: who comes is promised a day by a quote, joins the order as in a room, and then what happens happens.

The truth is drawn here, by other code than the replays: each step's days from its stated spread, the colony's appetite as one
factor for the season, newcomers at the stated rate from the stated kinds. Dispatch does not look ahead, so the true course is one
dispatch of everybody with true durations: what it says of the days before an instant no later arrival can change.
"""

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, time, timedelta
from math import exp, log

import numpy as np

from bonebench.planning.appetite import Box, Food
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Hands, Load, Piece, Problem, Room, Running, Spread, Stage
from bonebench.planning.promise import Arrivals, Uncertain, promise, quote
from bonebench.planning.quick import QuickRoom
from bonebench.planning.search import completed
from bonebench.science.scheduling.tables import DAY, END, HELD, LENGTH, NEVER, PLACE, RATE, START, TAIL_RATE, UNSET
from tests.planning.rooms import CHICAGO, act, stay

BEGIN = datetime(2026, 9, 7, 12, tzinfo=UTC)  # seven in the morning: who comes, comes before the first hands do
Z90 = 1.2815515655446004
MONTH = 30.44
GREASE = (2.0, 4.0, 7.0, 14.0)  # days in the pot, 6.75 on average
EATING = (0.8, 1.3)  # one in ten eaten so much quicker and slower
APPETITE = (0.7, 1.3)
STEPS = {"degrease": (0.6, 1.8), "dry": (0.7, 1.5), "whiten": (0.6, 1.6), "dry again": (0.7, 1.5)}
NEWEST = 24  # kinds that are drawn from, as for a book


@dataclass(frozen=True)
class Season:
    """How a season is made: the pots are asked for ``load`` of what they can do; ``undated`` of those who come get no day."""

    seed: int
    load: float
    pots: int = 2
    undated: float = 0.2
    warm_days: int = 45
    counted_days: int = 60
    asked_days: tuple[int, ...] = (60, 90)  # when promises are worked out for everyone in the room
    replays: int = 200
    ahead_days: int = 270  # others are reckoned with for so long
    quoted: float = 1.0  # so many of those with a day are promised what a quote says; the rest, by custom, one of these days ahead
    custom: tuple[int, int] = (40, 80)

    @property
    def a_day(self):
        return self.pots * self.load / (sum(GREASE) / len(GREASE))


@dataclass(frozen=True)
class Turned:
    """How one promise turned out: of a *quote*, or of a piece in the room that is *dated* or *undated*.

    ``rank`` is the share of the replays that were through before it was: evenly spread where promises are right.
    """

    what: str
    held: tuple[bool, bool, bool]
    rank: float
    days: float


def fresh(rng, key, came):
    """Return a piece as it comes in."""
    grease, tissue = rng.choice(GREASE), rng.uniform(0.1, 0.5)
    eats = Stage("beetles", 1, "beetle box", stay=True, minutes=4, work="beetles", eats=True)
    stages = (
        act("thaw and trim", "trim bench", float(rng.choice((15, 30, 45))), work="trim", most_wait_days=1),
        eats,
        _spread(stay("degrease", "pot", float(grease), minutes=6, work="baths")),
        _spread(stay("dry", "rack", 3.0, minutes=3)),
        act("teeth in", "glue bench", 25.0, work="glue"),
        _spread(stay("whiten", "tub", 2.0, minutes=10, work="baths", most_wait_days=0.5)),
        stay("rinse", "rinse water", 1.0, minutes=5, work="baths", most_wait_days=2),
        _spread(stay("dry again", "rack", 4.0, minutes=3)),
    )
    rate = tissue / rng.uniform(3, 8)
    return _with_eating(Piece(key, stages, came, came, Load(), tissue_kg=tissue, eating_kg_per_day=rate, whole_tissue_kg=tissue))


def _spread(stage):
    low, high = STEPS[stage.step]
    return replace(stage, spread=Spread(stage.days * low, stage.days * high, shared=stage.step))


def _with_eating(piece):
    """Return a piece whose eating may be off as the season says, by the days its tissue takes from now on."""
    tail = 0.12 * piece.whole_tissue_kg
    days = Food(0, tail, piece.eating_kg_per_day, piece.eating_kg_per_day / 3).days_for(piece.tissue_kg, piece.tissue_kg)
    spread = Spread(days * EATING[0], days * EATING[1], shared="beetles")
    return replace(piece, stages=tuple(replace(s, spread=spread) if s.eats else s for s in piece.stages))


def _off(low, high, z):
    """How many times its middle something is: one in ten below the low factor, one in ten above the high one."""
    return exp((log(high) if z > 0 else -log(low)) * z / Z90)


@dataclass
class Played:
    """A season under way."""

    season: Season
    rng: np.random.Generator = field(init=False)
    order: tuple[str, ...] = ()
    due: dict = field(default_factory=dict)
    past: list = field(default_factory=list)  # who came, with the days ahead they were promised

    def __post_init__(self):
        season = self.season
        rng = self.rng = np.random.default_rng([season.seed, round(100 * season.load)])
        days = season.warm_days + season.counted_days + season.ahead_days
        came = np.repeat(np.arange(days), rng.poisson(season.a_day, days))
        self.coming = [fresh(rng, f"P{at}", BEGIN + timedelta(days=int(day))) for at, day in enumerate(came)]
        # Before the season there were others like these, promised by custom.
        self.past = [(fresh(rng, "before", BEGIN), int(rng.uniform(*season.custom))) for _ in range(NEWEST)]
        self.past = [(piece, ahead if rng.random() >= season.undated else None) for piece, ahead in self.past]
        self.quick = QuickRoom(Prepared(self.room(tuple(self.coming), BEGIN, horizon_days=days + 300)))
        self.tables = self._truth()
        self.seen = []

    def room(self, pieces, now, horizon_days=300):
        season, hours = self.season, ((time(8), time(12)), (time(13), time(16, 30)))
        everything = frozenset({"trim", "beetles", "baths", "glue"})
        people = (Hands("first", {0: hours, 2: hours, 4: hours}, everything), Hands("second", {1: hours, 3: hours}, everything))
        places = (
            Room("bench", "trim bench", 1), Room("glue", "glue bench", 1), Room("rack", "rack", 40), Room("box", "beetle box", 12),
            Room("pot", "pot", season.pots), Room("tub", "tub", season.pots), Room("rinse", "rinse water", season.pots),
        )  # fmt: skip
        # The beetles are asked for four fifths of what the pots are.
        appetite = {"box": 0.3 * season.a_day / (0.8 * season.load)}
        return Problem(now, CHICAGO, pieces, places, people, {}, appetite, horizon_days=horizon_days)

    def _truth(self):
        """Draw what will be: each step's days, each piece's pace of being eaten, the appetite."""
        rng, base = self.rng, self.quick.tables
        shared = {name: rng.standard_normal() for name in [*STEPS, "beetles"]}
        leg, food = base.leg.copy(), base.food.copy()
        for at, piece in enumerate(self.coming):
            for row, stage in enumerate(piece.stages, int(base.first[at])):
                if stage.spread is None:
                    continue
                z = (shared[stage.step] + rng.standard_normal()) / 2**0.5  # half of the variance is shared
                factor = _off(*(EATING if stage.eats else STEPS[stage.step]), z)
                if stage.eats:
                    food[at, [RATE, TAIL_RATE]] /= factor
                else:
                    leg[row, LENGTH] = round(leg[row, LENGTH] * factor)
        self.appetite = _off(*APPETITE, rng.standard_normal())
        return base._replace(leg=leg, food=food, appetite=base.appetite * self.appetite)

    def course(self, known):
        """Return the true times of those who have come, in the order there is."""
        piece = self.tables.piece.copy()
        piece[known:, HELD] = 1
        rest = [one.key for one in self.coming[known:]]
        return self.quick.times(self.quick.order_of([*self.order, *rest]), self.tables._replace(piece=piece)).time

    def at(self, day, known):
        """Return the room as it is on the morning of a day: those in work, each with what is left of its route."""
        time_, now = self.course(known), day * DAY
        eaten = self._eaten(time_, known, now)
        pieces = []
        for at, whole in enumerate(self.coming[:known]):
            rows = time_[self.quick.tables.first[at] : self.quick.tables.first[at + 1]]
            done = int(((rows[:, START] != UNSET) & (rows[:, END] <= now)).sum())
            self.seen.append((at, done, rows[:done, END].copy()))
            if done == len(rows):
                continue
            runs = rows[done, START] != UNSET and rows[done, START] < now
            where = (
                self._place(rows[done]) if runs else self._place(rows[done - 1]) if done and whole.stages[done - 1].stay else None
            )
            left = whole.tissue_kg - eaten[at] if done <= 1 else 0.0
            piece = replace(
                whole, stages=whole.stages[done:], due=self.due.get(whole.key), place=where, tissue_kg=left,
                running=Running(where, BEGIN + timedelta(seconds=int(rows[done, START]))) if runs else None,
            )  # fmt: skip
            pieces.append(_with_eating(piece) if done <= 1 else piece)
        return self.room(tuple(pieces), BEGIN + timedelta(seconds=now))

    def _place(self, row):
        return self.quick.boxes[row[PLACE]] if row[PLACE] >= 0 else None

    def _eaten(self, time_, known, now):
        """Return what is eaten of each piece by now: those in the box eat in the order they went in."""
        calendar, foods = self.quick.prepared.calendar, self.tables.food
        box, eaten = Box(calendar, {}, float(self.tables.appetite[self.quick.boxes.index("box"), 0])), [0.0] * known
        legs = [int(self.quick.tables.first[at]) + 1 for at in range(known)]
        rank = {key: at for at, key in enumerate(self.order)}
        inside = [at for at in range(known) if UNSET != time_[legs[at], START] < now]
        for at in sorted(inside, key=lambda at: (time_[legs[at], START], rank[self.coming[at].key])):
            offer = box.offer(int(time_[legs[at], START]), rank[self.coming[at].key], Food(*foods[at].tolist()))
            box.accept(offer, fixed=False, owner=at)
            begin, end = offer.eater.start, offer.eater.end
            for day, kg in offer.eater.takes:
                first, last = max(begin, calendar.start_of(day)), min(end, calendar.start_of(day + 1))
                eaten[at] += kg * min(1.0, max(0.0, (now - first) / max(1, last - first)))
        return eaten

    def arrivals(self):
        """Return who may come as a book would have it: the newest kinds, and the days they were promised."""
        newest = self.past[-NEWEST:]
        rates = dict.fromkeys(range(1, 13), self.season.a_day * MONTH)
        return Arrivals(tuple(piece for piece, _ in newest), rates, self.season.ahead_days, tuple(ahead for _, ahead in newest))

    def uncertain(self, number):
        return Uncertain(*APPETITE, arrivals=self.arrivals(), seed=number)

    def come_in(self, known, room, due):
        """Let a newcomer join the order of those in work; those who are through keep their places."""
        new = self.coming[known]
        here = {piece.key for piece in room.pieces}
        fuller = replace(room, pieces=(*room.pieces, replace(new, due=due)))
        joined = completed([key for key in self.order if key in here], Prepared(fuller))
        behind = joined[joined.index(new.key) + 1 :]
        at = self.order.index(behind[0]) if behind else len(self.order)
        self.order = (*self.order[:at], new.key, *self.order[at:])
        self.due[new.key] = due
        self.past.append((new, None if due is None else (due - new.received.astimezone(CHICAGO).date()).days))


def play(season):
    """Play a season and return how each promise turned out, and the season as it was."""
    played, given = Played(season), []
    counted_until = season.warm_days + season.counted_days
    asked = list(season.asked_days)
    for known, new in enumerate(played.coming):
        day = (new.received - BEGIN).days
        room = played.at(day, known)
        keys = {piece.key for piece in room.pieces}
        order = [key for key in played.order if key in keys]
        if asked and day >= asked[0]:
            asked.pop(0)
            told = promise(room, order, played.uncertain(known), replays=season.replays)
            given += [("undated" if played.due[key] is None else "dated", room.now, one) for key, one in told.items()]
        due = None
        with_day, by_quote = played.rng.random(2) >= (season.undated, 1 - season.quoted)
        if with_day and not by_quote:
            due = room.now.date() + timedelta(days=int(played.rng.uniform(*season.custom)))
        elif with_day:
            told = quote(room, order, new, played.uncertain(known), replays=season.replays)
            due = told.p80
            if season.warm_days <= day < counted_until:
                given.append(("quote", room.now, told))
        played.come_in(known, room, due)
        if day >= counted_until and not {one.piece for _, _, one in given} & keys:
            break
    return [_turned(played, *one) for one in given], played


def _turned(played, what, now, told):
    at = played.quick.number[told.piece]
    rows = played.course(len(played.order))[played.quick.tables.first[at] : played.quick.tables.first[at + 1]]
    end = int(rows[-1, END]) if rows[-1, START] != UNSET else NEVER
    day = (BEGIN + timedelta(seconds=min(end, 9999 * DAY))).astimezone(CHICAGO).date()
    held = tuple(promised is None or day <= promised for promised in (told.p50, told.p80, told.p95))
    days = (BEGIN + timedelta(seconds=min(end, 9999 * DAY)) - now).total_seconds() / DAY
    return Turned(what, held, 1 - sum(1 for lasted in told.lasting_days if lasted > days) / told.replays - told.unfinished, days)
