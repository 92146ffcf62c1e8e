"""What is odd about a problem and can still be planned: said in words beside the plan, never in its way."""

from collections.abc import Iterator

from bonebench.planning.calendars import DAY
from bonebench.planning.checks import route_comes_back
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Piece, Problem, Room
from bonebench.said import Said, said


def notes(problem: Problem) -> tuple[Said, ...]:
    """Return what somebody should look at: odd dates, places that hold nothing, holds without an end, a short horizon."""
    prepared = Prepared(problem)
    return (
        *_of_places(problem),
        *(one for piece in problem.pieces for one in _of_dates(problem, piece)),
        *_of_horizon(prepared),
    )


def _of_places(problem: Problem) -> Iterator[Said]:
    for room in problem.places:
        if room.open and _holds_nothing(room):
            yield said(
                "plan.note.no_capacity",
                "{place} holds nothing: say how much goes in, or close it; nothing is planned into it",
                place=room.key,
            )
    wanted = {stage.place_kind for piece in problem.pieces for stage in piece.stages if stage.place_kind is not None}
    for kind in sorted(wanted - {room.kind for room in problem.places}):
        yield said("plan.note.no_place", "there is no {kind} in this room: what needs one finds no time", kind=kind)


def _holds_nothing(room: Room) -> bool:
    return any(limit == 0 for limit in (room.count, room.volume_l, room.mass_kg))


def _of_dates(problem: Problem, piece: Piece) -> Iterator[Said]:
    comes = max(piece.release, piece.received).astimezone(problem.zone).date()
    if piece.due is not None and piece.due < comes:
        yield said(
            "plan.note.due_before_arrival",
            "{piece} is promised for {due:day}, before it comes in on {comes:day}: mend one of the two; it is planned, and late",
            piece=piece.key,
            due=piece.due,
            comes=comes,
        )
    if piece.held is not None:
        yield said(
            "plan.note.hold",
            "{piece} is on hold with no day named ({why}): it is left out of the plan until the hold is lifted",
            piece=piece.key,
            why=str(piece.held).removeprefix("it is on hold: "),
        )
    again = route_comes_back(piece)
    if again is not None:
        yield said("plan.note.cycle", "{piece}: {why}", piece=piece.key, why=str(again))


def _of_horizon(prepared: Prepared) -> Iterator[Said]:
    days = prepared.problem.horizon_days
    longest = 0.0
    whose, step = "", ""
    for key, ready in prepared.pieces.items():
        for leg in ready.legs:
            if leg.length / DAY > longest:
                longest, whose, step = leg.length / DAY, key, leg.stage.step
    if longest > days:
        yield said(
            "plan.note.horizon",
            "the plan looks {days:days} ahead, but {step} of {piece} takes {longest:days}: look further ahead",
            days=days,
            step=step,
            piece=whose,
            longest=longest,
        )
