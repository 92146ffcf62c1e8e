"""The route of one specimen through the steps, by the room's methods, and where on it the specimen stands."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from bonebench.figures import Standing as KnownHow
from bonebench.shop.methods import OWN_FROM, Method, Size, Span
from bonebench.shop.room import Room
from bonebench.shop.specimen import Part, Specimen
from bonebench.shop.steps import LOOK_BACKS, STEP_KINDS, STEP_ORDER, PlaceKind, Step, StepKind


@dataclass(frozen=True, slots=True)
class Facts:
    """What the route needs to know of a specimen beyond its entries."""

    size: Size
    grease: int
    toothless: bool
    species: str = ""
    thaw: Span | None = None


@dataclass(frozen=True, slots=True)
class Leg:
    """One step of one specimen's route: which visit, by which method, how long and how many hands-on minutes."""

    step: Step
    visit: int
    method: Method
    span: Span
    minutes: float
    longest_days: float | None
    pieces: int = 0

    @property
    def known(self) -> KnownHow:
        """How well its days are known: by this room once enough of its own pieces are behind them."""
        return KnownHow.ROOM if self.pieces >= OWN_FROM else self.method.standing

    @property
    def kind(self) -> StepKind:
        """Whether it is a stay or an act, and where."""
        return STEP_KINDS[self.step]

    @property
    def place_kind(self) -> PlaceKind | None:
        """The kind of place it happens in: the method's own, or the step's."""
        return self.method.place or self.kind.place


def method_for(step: Step, room: Room, methods: Mapping[str, Method]) -> Method:
    """Return the room's method for a step: the one it chose, else the first that is shipped for it."""
    chosen = methods.get(room.methods.get(step, ""))
    if chosen is not None and chosen.step is step and chosen.fits(room.profile):
        return chosen
    ways = [method for method in methods.values() if method.step is step]
    return next((method for method in ways if method.fits(room.profile)), ways[0])


def _kill_method(room: Room, methods: Mapping[str, Method], degrease: Method) -> Method:
    """Heat in a later step kills what is left only where that step is hot enough at the core; else the cold has to."""
    chosen = method_for(Step.KILL, room, methods)
    if chosen.leaves_out and not degrease.kills_insects:
        return next(method for method in methods.values() if method.step is Step.KILL and not method.leaves_out)
    return chosen


def _left_out(specimen: Specimen, facts: Facts, degrease: Method, whiten: Method) -> set[Step]:
    out: set[Step] = set()
    if degrease.leaves_out:
        out |= {Step.DEGREASE, Step.DRY}
    if whiten.leaves_out or specimen.finish == "natural":
        out |= {Step.WHITEN, Step.RINSE, Step.DRY_AGAIN}
    if facts.toothless:
        out |= {Step.TEETH, Step.CURE}
    if not specimen.measure:
        out.add(Step.MEASURE)
    return out


def route_of(specimen: Specimen, facts: Facts, room: Room, methods: Mapping[str, Method]) -> tuple[Leg, ...]:
    """Return every step this specimen goes through, in order, with the method of each."""
    degrease = method_for(Step.DEGREASE, room, methods)
    whiten = method_for(Step.WHITEN, room, methods)
    out = _left_out(specimen, facts, degrease, whiten)
    legs = []
    for step in STEP_ORDER:
        if step in out and _begun_method(specimen, step, methods) is None:
            continue
        method = _kill_method(room, methods, degrease) if step is Step.KILL else method_for(step, room, methods)
        method = _begun_method(specimen, step, methods) or method
        if not method.leaves_out:
            legs.append(_leg(specimen, facts, step, method))
    return tuple(legs)


def _begun_method(specimen: Specimen, step: Step, methods: Mapping[str, Method]) -> Method | None:
    """What was begun one way goes on that way, whatever the room chose since."""
    begun = specimen.beginning(step)
    method = methods.get(begun.method or "") if begun is not None else None
    return method if method is not None and method.step is step else None


def _leg(specimen: Specimen, facts: Facts, step: Step, method: Method) -> Leg:
    name = method.class_of(grease=facts.grease, size=facts.size)
    own = method.own_days.get(facts.species)
    span = own if own is not None else method.days[name]
    if step is Step.THAW and facts.thaw is not None:
        span = facts.thaw
    pieces = method.pieces.get(facts.species if own is not None else name, 0)
    minutes = method.minutes.get(name, method.minutes.get(str(facts.size), method.minutes.get("all", 0.0)))
    longest = None if method.longest_days is None else method.longest_days.get(name)
    if longest is not None and own is not None:
        # A species known to take longer is not over its time before its own days are.
        longest = max(longest, own.p90)
    return Leg(step, specimen.visit(step), method, span, minutes, longest, pieces)


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a specimen is on its route.

    ``at`` is the index of the leg it is in the middle of (``since`` says from when) or has ended last; ``running`` tells which.
    ``ahead`` are the legs still to come, the running one not among them. ``unrecorded`` were passed without a word.
    """

    at: int
    running: bool
    since: datetime | None
    ahead: tuple[Leg, ...]
    unrecorded: tuple[Leg, ...]
    route: tuple[Leg, ...]

    @property
    def leg(self) -> Leg | None:
        """The leg that is running."""
        return self.route[self.at] if self.running and self.at >= 0 else None

    @property
    def next(self) -> Leg | None:
        """The leg to begin next."""
        return self.ahead[0] if self.ahead else None


@dataclass(frozen=True, slots=True)
class _At:
    index: int
    since: datetime | None
    running: bool


def stand(specimen: Specimen, route: tuple[Leg, ...], room: Room) -> Standing:
    """Work out where a specimen stands: the furthest leg that began or ended, or a bare move that began the next stay."""
    at = _begun_by_move(specimen, route, room, _begun_by_itself(specimen, route, _furthest(specimen, route)))
    unrecorded = tuple(
        leg
        for leg in route[: max(at.index, 0)]
        if leg.step is not Step.RECEIVE
        and not leg.kind.begins_itself
        and specimen.ending(leg.step) is None
        and specimen.beginning(leg.step) is None
    )
    return Standing(at.index, at.running, at.since, route[at.index + 1 :], unrecorded, route)


def _went_on(specimen: Specimen, step: Step) -> datetime | None:
    """When a later step was last begun or ended, on whatever visit: a piece that was sent back is not in its old stay any more."""
    later = [mark.at for mark in (*specimen.begun, *specimen.ended) if mark.step.position > step.position]
    return max(later, default=None)


def _furthest(specimen: Specimen, route: tuple[Leg, ...]) -> _At:
    at = _At(-1, specimen.received, False)
    for index, leg in enumerate(route):
        ended, begun = specimen.ending(leg.step), specimen.beginning(leg.step)
        if ended is not None:
            at = _At(index, ended.about, False)
        elif begun is not None:
            after = _went_on(specimen, leg.step)
            at = _At(index, begun.about, True) if after is None or after < begun.at else _At(index, after, False)
        elif leg.step is Step.RECEIVE and specimen.received is not None:
            at = _At(index, specimen.received, False)
    return at


def _begun_by_itself(specimen: Specimen, route: tuple[Leg, ...], at: _At) -> _At:
    following = at.index + 1
    if at.running or at.index < 0 or following >= len(route) or not route[following].kind.begins_itself:
        return at
    after = _went_on(specimen, route[following].step)
    over = after is not None and at.since is not None and after >= at.since
    return _At(following, after, False) if over else _At(following, at.since, True)


def _begun_by_move(specimen: Specimen, route: tuple[Leg, ...], room: Room, at: _At) -> _At:
    """A move that named no step began the next stay, when it went to the kind of place that stay is in.

    Acts in between count as done on the way: who finds a head in the box did trim it. Only the very next stay is taken for begun;
    a jump further ahead is left for a person to say.
    """
    part = main_part(specimen)
    place = room.place(part.place) if part is not None else None
    if (
        part is None
        or place is None
        or part.since is None
        or part.step is not None
        or (at.since is not None and part.since < at.since)
    ):
        return at
    if at.running and route[at.index].place_kind is place.kind:
        return at
    if at.index >= 0 and any(
        mark.at == part.since and mark.step.position > route[at.index].step.position for mark in specimen.begun
    ):
        # The move began a visit that was sent back since: the next visit begins when somebody says so.
        return at
    following = next((index for index in range(at.index + 1, len(route)) if route[index].kind.stay), None)
    if following is None or route[following].kind.begins_itself or route[following].place_kind is not place.kind:
        return at
    return _At(following, part.since, True)


def main_part(specimen: Specimen) -> Part | None:
    """Return the part that goes the whole route: the skull, or the first part where there is none."""
    return next((part for part in specimen.parts if part.name == "skull"), specimen.parts[0] if specimen.parts else None)


def days_in_step(standing: Standing, now: datetime) -> float:
    """Return for how many days the running stay has run, or how long it has waited since the last step."""
    return 0.0 if standing.since is None else max(0.0, (now - standing.since).total_seconds() / 86400)


def is_look_back(step: Step) -> bool:
    """Whether the step is one of the looks after it was handed over."""
    return step in LOOK_BACKS
