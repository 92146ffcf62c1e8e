"""A problem made ready for dispatch: checked once, in whole seconds, so that many orders can be tried on it."""

from dataclasses import dataclass, replace
from math import ceil

from bonebench.planning.appetite import Food
from bonebench.planning.calendars import DAY, Calendar, longest_hours
from bonebench.planning.checks import check_problem, route_comes_back
from bonebench.planning.places import Amount, amount
from bonebench.planning.problem import Piece, Problem, Stage


@dataclass(slots=True, eq=False)
class Leg:
    """One stage in whole seconds, shared by every piece that has the same stage.

    ``people`` are those trained for its work, by their place in the list; ``split`` when no one ever works long enough in one go.
    """

    stage: Stage
    kind: str | None
    stay: bool
    length: int
    hands: int
    people: tuple[int, ...]
    split: bool
    eats: bool
    least: int
    most: int | None
    keeps: bool
    hands_key: tuple[str, int]


@dataclass(frozen=True, slots=True)
class Ready:
    """One piece in whole seconds from now.

    ``food`` is what the beetles find on it; ``elapsed`` is how long its first stage has run.
    """

    piece: Piece
    legs: tuple[Leg, ...]
    release: int
    load: Amount
    food: Food
    elapsed: int


class Prepared:
    """A problem ready for dispatch, with the days and hours every order of it shares."""

    def __init__(self, problem: Problem) -> None:
        check_problem(problem)
        self.problem = problem
        self.calendar = Calendar(problem)
        self._people: dict[str, tuple[int, ...]] = {}
        self._legs: dict[Stage, Leg] = {}
        self._longest = [longest_hours(person) for person in problem.people]
        self.pieces = {piece.key: self._ready(piece) for piece in problem.pieces}
        self.lateness_bound = self._lateness_bound()

    def trained_for(self, work: str) -> tuple[int, ...]:
        """Return who may do a kind of work: anyone when it needs no training."""
        if work not in self._people:
            people = enumerate(self.problem.people)
            self._people[work] = tuple(at for at, person in people if not work or work in person.trained)
        return self._people[work]

    def _leg(self, stage: Stage) -> Leg:
        leg = self._legs.get(stage)
        if leg is None:
            leg = self._legs[stage] = self._new_leg(stage)
        return leg

    def _new_leg(self, stage: Stage) -> Leg:
        hands = ceil(stage.minutes * 60)
        people = self.trained_for(stage.work)
        return Leg(
            stage=stage,
            kind=stage.place_kind,
            stay=stage.stay,
            length=round(stage.days * DAY) if stage.stay else 0,
            hands=hands,
            people=people,
            split=hands > max((self._longest[person] for person in people), default=0),
            eats=stage.eats,
            least=ceil(stage.least_wait_days * DAY),
            most=None if stage.most_wait_days is None else max(ceil(stage.least_wait_days * DAY), int(stage.most_wait_days * DAY)),
            keeps=stage.keeps_place,
            hands_key=(stage.work, hands),
        )

    def _ready(self, piece: Piece) -> Ready:
        if piece.held is None:
            # A route without an end is nobody's hold, but it cannot be planned either; the rest is.
            piece = replace(piece, held=route_comes_back(piece))
        return Ready(
            piece=piece,
            legs=tuple(self._leg(stage) for stage in piece.stages),
            release=max(0, self.calendar.seconds(piece.release)),
            load=amount(piece.load),
            food=food_of(piece, self.problem),
            elapsed=0 if piece.running is None else max(0, -self.calendar.seconds(piece.running.since)),
        )

    def _lateness_bound(self) -> float:
        """Return more weighted late days than any plan of this problem can have."""
        last = self.calendar.date_of(self.problem.horizon_days + 1)
        return 1.0 + sum(piece.weight * max(0, (last - piece.due).days) for piece in self.problem.pieces if piece.due is not None)


def food_of(piece: Piece, problem: Problem) -> Food:
    """Return what the beetles find on a piece."""
    whole = piece.tissue_kg if piece.whole_tissue_kg is None else max(piece.whole_tissue_kg, piece.tissue_kg)
    rate = piece.eating_kg_per_day
    return Food(piece.tissue_kg, problem.tail_share * whole, rate, rate / problem.tail_slowness)
