"""What a plan cannot be made from: contradictions and typing errors, never things that merely happened."""

from collections.abc import Iterable, Sequence
from datetime import datetime, time
from math import inf

from bonebench.errors import Impossible, OutsideRange, UnknownName
from bonebench.planning.problem import Piece, Problem, Stage
from bonebench.said import Said, said


def check_problem(problem: Problem) -> None:
    """Refuse a problem no plan can be made from."""
    _aware(problem.now, "now", "the plan")
    _not_negative(problem.horizon_days, "the horizon in days", "the plan")
    _not_negative(problem.tail_share, "the share of slow tissue", "the plan")
    if problem.tail_share > 1 or not 1 <= problem.tail_slowness < inf:
        raise OutsideRange(
            "plan.tail",
            "a tail of {share:percent} that goes {slowness} times slower cannot be: give a share up to 100 %, and 1 or more times",
            share=problem.tail_share,
            slowness=problem.tail_slowness,
        )
    _once((piece.key for piece in problem.pieces), "piece")
    _once((place.key for place in problem.places), "place")
    _once((person.key for person in problem.people), "person")
    for person in problem.people:
        _check_hours(person.key, [span for spans in person.hours.values() for span in spans])
    for place in problem.places:
        for limit in (place.count, place.volume_l, place.mass_kg):
            _not_negative(limit or 0, "what it holds", place.key)
    for box, by_day in problem.appetite_kg_per_day.items():
        for kg in by_day.values():
            _not_negative(kg, "the appetite in kg a day", box)
    for box, kg in problem.appetite_otherwise.items():
        _not_negative(kg, "the appetite in kg a day", box)
    for piece in problem.pieces:
        _check_piece(piece)


def check_order(problem: Problem, order: Sequence[str]) -> None:
    """Refuse an order that does not name every piece exactly once."""
    known = {piece.key for piece in problem.pieces}
    for key in order:
        if key not in known:
            raise UnknownName(
                "plan.order_unknown",
                "the order names {piece}, which is not among the pieces to plan: leave it out or add the piece",
                could_be=tuple(sorted(known))[:5],
                piece=key,
            )
    if len(set(order)) < len(order):
        twice = next(key for at, key in enumerate(order) if key in order[:at])
        raise Impossible("plan.order_twice", "the order names {piece} twice: name each piece once", piece=twice)
    if len(order) < len(known):
        missing = next(piece.key for piece in problem.pieces if piece.key not in set(order))
        raise Impossible("plan.order_lacks", "the order leaves out {piece}: name every piece once", piece=missing)


def _once(keys: Iterable[str], what: str) -> None:
    seen: set[str] = set()
    for key in keys:
        if key in seen:
            raise Impossible(
                "plan.twice", "{what} {key} stands twice in the plan's input: give each its own name", what=what, key=key
            )
        seen.add(key)


def _aware(instant: datetime, what: str, whose: str) -> None:
    if instant.utcoffset() is None:
        raise Impossible(
            "plan.naive",
            "{what} of {whose} is {clock} without a time zone: say which zone it was read in",
            what=what,
            whose=whose,
            clock=f"{instant:%Y-%m-%d %H:%M}",
        )


def _not_negative(value: float, what: str, whose: str) -> None:
    if not 0 <= value < inf:
        raise OutsideRange("plan.number", "{what} of {whose} is {value}; it must be 0 or more", what=what, whose=whose, value=value)


def _check_hours(person: str, spans: list[tuple[time, time]]) -> None:
    for begins, ends in spans:
        if ends != time(0) and ends <= begins:
            raise Impossible(
                "plan.hours",
                "the hours of {person} run from {begins} to {ends}: they must end later the same day (0:00 is midnight)",
                person=person,
                begins=f"{begins:%H:%M}",
                ends=f"{ends:%H:%M}",
            )


def _check_piece(piece: Piece) -> None:
    _aware(piece.release, "the release", piece.key)
    _aware(piece.received, "the day of receiving", piece.key)
    if piece.running is not None:
        _aware(piece.running.since, "the start of its step", piece.key)
    numbers = (
        (piece.load.count, "the count"),
        (piece.load.volume_l, "the volume in litres"),
        (piece.load.mass_kg, "the mass in kg"),
        (piece.weight, "the weight of a late day"),
        (piece.tissue_kg, "the tissue in kg"),
        (piece.whole_tissue_kg or 0, "the tissue in kg"),
        (piece.eating_kg_per_day, "the eating in kg a day"),
    )
    for value, what in numbers:
        _not_negative(value, what, piece.key)
    for stage in piece.stages:
        _check_stage(piece.key, stage)


def _check_stage(key: str, stage: Stage) -> None:
    whose = f"{stage.step} of {key}"
    _not_negative(stage.days, "the length in days", whose)
    _not_negative(stage.minutes, "the work in minutes", whose)
    _not_negative(stage.least_wait_days, "the least wait in days", whose)
    if stage.most_wait_days is None:
        return
    _not_negative(stage.most_wait_days, "the longest wait in days", whose)
    if stage.most_wait_days < stage.least_wait_days:
        raise Impossible(
            "plan.waits",
            "{step} of {piece} must wait at least {least:days} and at most {most:days}: mend one of them",
            step=stage.step,
            piece=key,
            least=stage.least_wait_days,
            most=stage.most_wait_days,
        )


def route_comes_back(piece: Piece) -> Said | None:
    """Say it when a route comes back to the same visit of a step: such a route has no end."""
    seen = set()
    for stage in piece.stages:
        if (stage.step, stage.visit) in seen:
            return said(
                "plan.why.cycle",
                "its route comes back to {step} (visit {visit}) and has no end: mend the route; it is left out of the plan",
                step=stage.step,
                visit=stage.visit,
            )
        seen.add((stage.step, stage.visit))
    return None
