"""Finding the earliest time for a stage, and for a chain of stages that are tied to one another by a longest wait."""

from dataclasses import dataclass, field
from typing import NamedTuple

from bonebench.planning.appetite import Offer
from bonebench.planning.calendars import NEVER, Span
from bonebench.planning.floor import Block, Course, Floor
from bonebench.planning.places import Claims
from bonebench.planning.prepared import Leg

Where = tuple[Claims | None, Claims | None]
# A chain whose ties push each other on is given up after so many turns; it is tried again when room is given up.
MOST_TURNS = 400


@dataclass(slots=True)
class Fit:
    """One stage with the time, place and hands found for it. ``bench`` when the place is taken for the minutes only."""

    leg: Leg
    start: int
    end: int
    place: Claims | None
    bench: bool
    person: int
    spans: tuple[Span, ...]
    block: Block | None
    offer: Offer | None
    after: Where


class Refusal(NamedTuple):
    """No fit now: why, until when at least, and whether ``final``, so that trying again is of no use."""

    block: Block
    until: int = NEVER
    final: bool = False


@dataclass(slots=True)
class _Turn:
    """The search for one stage: from when, how, and which boxes have been ruled out for good or until later."""

    course: Course
    leg: Leg
    start: int
    place: Claims | None
    spots: list[Claims] | None
    hungry: bool
    block: Block | None = None
    person: int = -1
    spans: tuple[Span, ...] = ()
    put_off: dict[str, int] = field(default_factory=dict)


def where_after(leg: Leg, place: Claims | None, bench: bool, where: Where) -> Where:
    """Return where a piece sits and which room is kept for it once a stage has begun."""
    at, home = where
    if leg.kind is None:
        return at, home
    if place is at and not bench:
        return at, home if leg.keeps else None
    kept = (home or at) if leg.keeps else None
    if bench:
        return None, kept
    return place, None if kept is place else kept


def fit_leg(floor: Floor, course: Course, leg: Leg, start: int, where: Where, *, fed: bool) -> Fit | Refusal:
    """Return the earliest time from start at which a stage has its place, its hands and its appetite."""
    place, spots = _spots(floor, course, leg, where)
    if spots is not None and not spots:
        return Refusal(_no_place(floor, leg), final=True)
    if leg.hands and not leg.people:
        return Refusal(Block("hands", leg.stage.work, "untrained"), final=True)
    turn = _Turn(course, leg, start, place, spots, leg.eats and not fed and course.ready.food.tissue_kg > 0)
    while turn.start <= floor.horizon:
        refusal = _find_place(turn) or _find_hands(floor, turn)
        if refusal is not None:
            return refusal
        if turn.spots is not None and turn.place is None:
            continue
        found = _settle(floor, turn, where)
        if found is not None:
            return found
    return _beyond(turn)


def _spots(floor: Floor, course: Course, leg: Leg, where: Where) -> tuple[Claims | None, list[Claims] | None]:
    """Return where the piece stays, or the places of the kind it could go to."""
    at, home = where
    if leg.kind is None:
        return at, None
    for own in (at, home):
        if own is not None and own.kind.name == leg.kind and own.open:
            return own, None
    return None, [place for place in floor.kind(leg.kind).places if place.open and place.could_hold(course.ready.load)]


def _no_place(floor: Floor, leg: Leg) -> Block:
    places = floor.kind(leg.kind or "").places
    code = "none" if not places else "too big" if any(place.open for place in places) else "not open"
    return Block("place", leg.kind, code)


def _find_place(turn: _Turn) -> Refusal | None:
    """Move the start on until some place has room."""
    if turn.spots is None:
        return None
    course, leg = turn.course, turn.leg
    # A stay has no known end for its place: it is blocked until the next stage somewhere else begins.
    length = NEVER if leg.stay or leg.split else leg.hands
    soonest, turn.place = NEVER, None
    for spot in turn.spots:
        at = spot.earliest(course.ready.load, turn.start, length, here_already=spot is course.at or spot is course.home)
        at = max(at, turn.put_off.get(spot.key, 0))
        if at < soonest:
            soonest, turn.place = at, spot
    if turn.place is None:
        return Refusal(Block("place", leg.kind, "full"))
    if soonest > turn.start:
        held_back = turn.place.key in turn.put_off and turn.put_off[turn.place.key] == soonest
        turn.start = soonest
        turn.block = Block("appetite", turn.place.key, "not eaten") if held_back else Block("place", leg.kind, "full")
    return None


def _find_hands(floor: Floor, turn: _Turn) -> Refusal | None:
    """Move the start on until someone trained has the time; the place is then looked for again."""
    leg = turn.leg
    if not leg.hands:
        return None
    at, turn.person = floor.crew.earliest(leg.people, turn.start, leg.hands, split=leg.split)
    turn.spans = () if turn.person < 0 else floor.crew.spans(turn.person, at, leg.hands, split=leg.split)
    if not turn.spans:
        return Refusal(Block("hands", leg.stage.work, "no time"), final=not _waits_for_room(turn))
    if at > turn.start:
        turn.start, turn.block = at, Block("hands", leg.stage.work, "no time")
        if turn.spots is not None:
            turn.place = None
    return None


def _settle(floor: Floor, turn: _Turn, where: Where) -> Fit | Refusal | None:
    """Work out the end; None when the box has to be thought over again."""
    leg, start = turn.leg, turn.start
    end = max(start + leg.length, turn.spans[-1][1] if turn.spans else start)
    offer = None
    if turn.hungry:
        offer = _offer(floor, turn)
        if offer is None:
            return Refusal(Block("appetite", leg.kind, "not eaten"), final=not _waits_for_room(turn))
        if offer.until > start or offer.eater.end >= NEVER:
            return None
        end = max(offer.eater.end, turn.spans[-1][1] if turn.spans else start)
    elif leg.eats:
        end = turn.spans[-1][1] if turn.spans else start
    if end > floor.horizon:
        return _beyond(turn)
    bench = not leg.stay and turn.spots is not None
    after = where_after(leg, turn.place, bench, where)
    return Fit(leg, start, end, turn.place, bench, turn.person, turn.spans, turn.block, offer, after)


def _offer(floor: Floor, turn: _Turn) -> Offer | None:
    """Ask the box; rule it out, or put it off, when it cannot take the piece at this time."""
    if turn.place is None:
        return None
    offer = floor.box(turn.place.key).offer(turn.start, turn.course.rank, turn.course.ready.food)
    if offer.eater.end >= NEVER:
        if turn.spots is None:
            return None
        turn.spots = [spot for spot in turn.spots if spot is not turn.place]
        return offer if turn.spots else None
    if offer.until > turn.start:
        turn.put_off[turn.place.key] = offer.until
        if turn.spots is None:
            turn.start, turn.block = offer.until, Block("appetite", turn.place.key, "not eaten")
    return offer


def _waits_for_room(turn: _Turn) -> bool:
    return turn.block is not None and turn.block.limit != "hands"


def _beyond(turn: _Turn) -> Refusal:
    return Refusal(turn.block or Block("wait", None, "horizon"), final=not _waits_for_room(turn))


@dataclass(slots=True)
class _Chain:
    """The search along one chain: what has been found, the earliest start of each stage, and what last pushed it on."""

    fits: list[Fit] = field(default_factory=list)
    earliest: list[int] = field(default_factory=list)
    pushed: list[Block | None] = field(default_factory=list)
    waits_for_room: bool = False


def fit_chain(floor: Floor, course: Course, start: int, *, exact: bool) -> list[Fit] | Refusal:
    """Return times for the next stage and every stage tied behind it; with ``exact`` it begins at start or not at all."""
    chain = _Chain(earliest=[start], pushed=[None])
    legs = course.ready.legs
    for _ in range(MOST_TURNS):
        number = len(chain.fits)
        leg = legs[course.next + number]
        where = chain.fits[-1].after if chain.fits else (course.at, course.home)
        fed = course.fed or any(fit.leg.eats for fit in chain.fits)
        found = fit_leg(floor, course, leg, chain.earliest[number], where, fed=fed)
        if isinstance(found, Refusal):
            pushed = chain.pushed[number] if found.block.code == "horizon" else None
            return Refusal(_ahead(pushed or found.block, number), found.until, found.final and not chain.waits_for_room)
        found.block = found.block or chain.pushed[number]
        chain.waits_for_room |= found.block is not None and found.block.limit != "hands"
        if chain.fits and _too_late(chain, found):
            _push_back(chain, found)
        else:
            chain.fits.append(found)
        if exact and chain.fits and chain.fits[0].start > start:
            return Refusal(chain.fits[0].block or Block("wait"), chain.fits[0].start)
        if exact and chain.earliest[0] > start:
            return Refusal(chain.pushed[0] or Block("wait"), chain.earliest[0])
        if len(chain.fits) <= number:
            continue
        if leg.most is None or course.next + number + 1 >= len(legs):
            return chain.fits
        del chain.earliest[number + 1 :], chain.pushed[number + 1 :]
        chain.earliest.append(found.end + leg.least)
        chain.pushed.append(None)
    return Refusal(Block("wait", None, "tied"))


def _too_late(chain: _Chain, found: Fit) -> bool:
    before = chain.fits[-1]
    return before.leg.most is not None and found.start > before.end + before.leg.most


def _push_back(chain: _Chain, found: Fit) -> None:
    """Begin the stage before so much later that the one behind it comes in time."""
    before = chain.fits.pop()
    number = len(chain.fits)
    chain.earliest[number] = before.start + found.start - before.end - (before.leg.most or 0)
    chain.pushed[number] = _ahead(found.block or Block("wait"), 1)


def _ahead(block: Block, number: int) -> Block:
    return block if not number else Block(block.limit, block.name, block.code, block.ahead + number)
