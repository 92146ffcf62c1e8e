"""Gather what a what-if needs, and work it out: the second part needs no book and can be done in a process of its own."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from bonebench.errors import OutsideRange
from bonebench.files.whatif_toml import Otherwise
from bonebench.planning.problem import Problem
from bonebench.planning.search import OutOfTime
from bonebench.planning.season import expected_pieces
from bonebench.planning.what_if import Side, side_by_side
from bonebench.records.book import Reading
from bonebench.services.gather import everything_in_work, names_of_people
from bonebench.services.promise.do import for_quote
from bonebench.services.promise.quote import Gathered
from bonebench.services.specimens.names import species_name
from bonebench.services.what_if.cards import WhatIfCard
from bonebench.services.what_if.changes import change_of
from bonebench.services.what_if.show import Named, what_if_card

MOVES = 300
MOST_MOVES = 20_000
# Who may come in is reckoned with for so long; later ones hardly move what is in the room now.
EXPECTED_DAYS = 180


@dataclass(frozen=True, slots=True)
class Asked:
    """The changes, and how many orders may be tried for each."""

    changes: tuple[Otherwise, ...]
    moves: int = MOVES


@dataclass(frozen=True, slots=True)
class Told:
    """The room, with the names that people know its pieces and workers by."""

    room: Gathered
    pieces: Mapping[str, Named]
    people: Mapping[str, str]


def for_what_if(tx: Reading, now: datetime) -> Told:
    """Return what a what-if is made from."""
    room, people = for_quote(tx, now), names_of_people(tx)
    pieces = {
        one.specimen.id: Named(one.specimen.tag, species_name(one.specimen.species, room.known).common)
        for one in everything_in_work(tx, room.known)
    }
    workers = {worker.person: people[worker.person] for worker in room.known.room.people if worker.person in people}
    return Told(room, pieces, workers)


def worked(asked: Asked, told: Told) -> WhatIfCard:
    """Plan the room as it is and once for each change."""
    return list(worked_one_by_one(asked, told))[-1]


def worked_one_by_one(asked: Asked, told: Told, out_of_time: OutOfTime = lambda: False) -> Iterator[WhatIfCard]:
    """Return the card after each change, with those that are planned so far; ``out_of_time`` is asked before each try."""
    check_moves(asked)
    problem, expected = with_expected(told.room)
    changes = {one.name: change_of(one, told.people) for one in asked.changes}
    sides: list[Side] = []
    for side in side_by_side(problem, changes, moves=asked.moves, start=told.room.order, out_of_time=out_of_time):
        sides.append(side)
        if len(sides) > 1 or not asked.changes:
            done = asked.changes[: len(sides) - 1]
            yield what_if_card(done, sides, told.room, told.pieces, expected=expected, moves=asked.moves)


def check_moves(asked: Asked) -> None:
    """Refuse an effort that cannot be."""
    if not 0 <= asked.moves <= MOST_MOVES:
        raise OutsideRange(
            "what_if.moves", "{moves} orders were asked for; it is 0 to {most} for each change", moves=asked.moves, most=MOST_MOVES
        )


def with_expected(room: Gathered) -> tuple[Problem, int]:
    """Return the room's problem with who may come in meanwhile, and how many these are."""
    more = expected_pieces(room.problem, room.uncertain.arrivals, EXPECTED_DAYS)
    return replace(room.problem, pieces=(*room.problem.pieces, *more)), len(more)
