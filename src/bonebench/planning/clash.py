"""Why no plan fits: which wishes and rules cannot all be kept, in words."""

from collections.abc import Sequence
from datetime import date

from bonebench.planning import solver
from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Problem
from bonebench.planning.rules import work_days
from bonebench.said import Said, said

# Deterministic time for each question to the solver.
EFFORT = 2.0
# In a room of more pieces than this only those that must be on their days are asked about, and of these so many, soonest first.
# What clashes without the others clashes with them; what does not may still.
WHOLE_ROOM = 60
MOST_ASKED = 25


def why_nothing_fits(problem: Problem, keys: Sequence[str] | None = None, *, effort: float = EFFORT) -> tuple[Said, ...]:
    """Return what clashes when these pieces (all with a due day unless told) must be through on their due days.

    First what needs no solver: a piece whose own steps take longer than the time there is. Then the fewest rules that clash, each
    in words; empty when nothing is known to clash, which is no promise that a plan will be found.
    """
    prepared = Prepared(problem)
    due = [key for key in keys or prepared.pieces if prepared.pieces[key].piece.due is not None]
    alone = tuple(one for one in (_alone(prepared, key) for key in due) if one is not None)
    if alone:
        return alone
    held = {key for key, one in prepared.pieces.items() if one.piece.held is not None}
    plan = planned(prepared, tuple(prepared.pieces))
    off = {one.piece: one.why for one in plan.unplaced if one.piece not in held}
    if any(key in off for key in due):
        return tuple(
            said("plan.clash.unplaced", "{piece}: " + off[key].template, **{**off[key].values, "piece": key})
            for key in due
            if key in off
        )
    if not due or not solver.available():
        return ()
    due = sorted((key for key in due if key not in held), key=lambda key: prepared.pieces[key].piece.due or date.max)
    whole = len(prepared.pieces) <= WHOLE_ROOM
    due = due if whole else due[:MOST_ASKED]
    there = [key for key in prepared.pieces if key not in held and key not in off] if whole else due
    model = solver.RoomModel(prepared, there, solver.Busy(), asked=True)
    model.every_rule()
    model.due_days_are_kept(due)
    found = model.clash(effort=effort)
    return tuple(_words(prepared, words) for words in found or ())


def _alone(prepared: Prepared, key: str) -> Said | None:
    """Say it of a piece whose own steps are too long, whatever else is in the room."""
    ready = prepared.pieces[key]
    due, first = ready.piece.due, prepared.calendar.local_date(ready.release)
    assert due is not None
    days = work_days(ready)
    if first <= due and days <= (due - first).days + 1:
        return None
    return said(
        "plan.clash.alone",
        "{piece} must be through on {due:day}, but it can begin on {first:day} and its steps need at least {days:days}",
        piece=key,
        due=due,
        first=first,
        days=min(days, 9999.0),
    )


def _words(prepared: Prepared, words: Sequence[str]) -> Said:
    if words[0] == "due":
        due: date | None = prepared.pieces[words[1]].piece.due
        assert due is not None
        return said("plan.clash.due", "{piece} must be through on {due:day}", piece=words[1], due=due)
    if words[0] == "room":
        rooms = [room for room in prepared.problem.places if room.kind == words[1] and room.open]
        names = ", ".join(room.key for room in rooms) or "none"
        return said("plan.clash.room", "there is only so much room in {kind}: {rooms}", kind=words[1], rooms=names)
    if words[0] == "hands":
        return said("plan.clash.hands", "there are only so many hours of hands for {work}", work=words[1] or "this work")
    return said("plan.clash.wait", "{step} must follow {before} of {piece} closely", before=words[1], step=words[2], piece=words[3])
