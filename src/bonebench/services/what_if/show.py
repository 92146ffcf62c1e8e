"""The card of a what-if, from plans laid side by side."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bonebench.files.whatif_toml import Otherwise
from bonebench.planning.what_if import Side
from bonebench.said import Said, said
from bonebench.services.cards import Basis, Flag
from bonebench.services.costs.cards import CostCard
from bonebench.services.costs.plan import Costed, cost_card
from bonebench.services.plans.problem import box_appetite_known
from bonebench.services.promise.meanwhile import FEWEST
from bonebench.services.promise.quote import Gathered, appetite_basis
from bonebench.services.what_if.cards import MovedCard, SideCard, WhatIfCard
from bonebench.services.what_if.changes import HELPER, words_of
from bonebench.shop.steps import PlaceKind

MOST_MOVED = 6
DAY_S = 86400.0
LITTLE = 0.02  # of all late days: less is what another search would find


@dataclass(frozen=True, slots=True)
class Named:
    """What people call a piece."""

    tag: str
    species: str


@dataclass(frozen=True, slots=True)
class _Counted:
    """A side without those who are only expected."""

    late_days: float
    late_pieces: int
    no_time: int
    last_through: date | None
    mean_days: float | None
    ends: Mapping[str, date]


def what_if_card(
    changes: Sequence[Otherwise], sides: Sequence[Side], room: Gathered, pieces: Mapping[str, Named], *, expected: int, moves: int
) -> WhatIfCard:
    """Return the sides with names for keys; the first is the room as it is."""
    held = {piece.key for piece in room.problem.pieces if piece.held is not None}
    real = set(pieces) - held
    counted = [_counted(side, room, real) for side in sides]
    costs = _costs(changes, sides, room, frozenset(real))
    return WhatIfCard(
        made_at=room.now,
        pieces=len(real),
        expected=expected,
        moves=moves,
        sides=(_side("as it is", (), counted[0], None, (), cost=costs[0]),
               *(_side(one.name, words_of(one), each, counted[0], tuple(_moved(counted[0], each, pieces)), cost=cost)
                 for one, each, cost in zip(changes, counted[1:], costs[1:], strict=True))),
        basis=(*appetite_basis(room.known), *_cost_basis(costs)),
        flags=(*_flags(changes, room, expected, moves, len(held)), *_cost_flags(costs, counted)),
        cautions=(room.known.defer,),
    )  # fmt: skip


def _counted(side: Side, room: Gathered, real: set[str]) -> _Counted:
    ends = {key: end for key, end in side.ends.items() if key in real}
    off = {one.piece for one in side.plan.unplaced} & real
    last = {slot.piece: slot.end for slot in side.plan.slots if slot.piece in ends}
    days = [(end - room.problem.now).total_seconds() / DAY_S for end in last.values()]
    late = [one for one in side.plan.late if one.piece in real]
    return _Counted(
        late_days=float(sum(one.days for one in late)),
        late_pieces=len(late),
        no_time=len(off),
        last_through=max(ends.values(), default=None),
        mean_days=sum(days) / len(days) if days else None,
        ends=ends,
    )


def _costs(changes: Sequence[Otherwise], sides: Sequence[Side], room: Gathered, real: frozenset[str]) -> list[CostCard]:
    """Return what each side costs from now on, each but the first laid beside the first."""
    today = room.known.room.day(room.now)
    boxes = {place.key for place in room.problem.places}
    cards = [cost_card(Costed(problem=sides[0].problem, plan=sides[0].plan, pieces=real), room.known, today)]
    for one, side in zip(changes, sides[1:], strict=True):
        what = Costed(
            problem=side.problem, plan=side.plan, pieces=real, helpers=(HELPER,) if one.helper is not None else (),
            more_boxes=sum(p.kind == PlaceKind.ENCLOSURE.value and p.key not in boxes for p in side.problem.places), buys=one.buys,
        )  # fmt: skip
        cards.append(cost_card(what, room.known, today, cards[0]))
    return cards


def _cost_basis(costs: Sequence[CostCard]) -> Iterable[Basis]:
    """Return what the costs rest on: each figure once, as the first side that has it gives it."""
    first: dict[str, Basis] = {}
    for line in (line for card in costs for line in card.basis):
        first.setdefault(line.key, line)
    return first.values()


def _cost_flags(costs: Sequence[CostCard], counted: Sequence[_Counted]) -> Iterable[Flag]:
    missing = tuple(dict.fromkeys(name for card in costs for name in card.without))
    if missing:
        yield Flag(
            said("what_if.no_price", "without a price, so not in the cost: {what}", what=", ".join(missing)),
            said("what_if.no_price.next", "say on the page Prices what they cost; 0 where they cost nothing"),
        )
    if any(line.key == "hour" and line.cost_minor for card in costs for line in card.lines):
        yield Flag(
            said("what_if.cost_rests", "hands cost the methods' usual minutes; these were not checked in your room"),
            said("what_if.cost_rests.next", "time a few pieces at each step before you lean on the sums"),
        )
    if len({one.no_time for one in counted}) > 1:
        yield Flag(
            said("what_if.not_the_same", "the costs are not over the same pieces: what finds no time costs nothing yet"),
            said("what_if.not_the_same.next", "look at the dates first"),
        )


def _side(
    name: str, words: tuple[Said, ...], one: _Counted, before: _Counted | None, moved: tuple[MovedCard, ...], *, cost: CostCard
) -> SideCard:
    return SideCard(
        name=name,
        changes=words,
        late_days=one.late_days,
        late_pieces=one.late_pieces,
        no_time=one.no_time,
        last_through=one.last_through,
        mean_days=one.mean_days,
        verdict=_verdict(before, one) if before is not None else None,
        cost=cost,
        moved=moved[:MOST_MOVED],
        moved_pieces=len(moved),
    )


def _verdict(before: _Counted, after: _Counted) -> Said:
    """Say in one sentence what comes of it; what matters most to owners goes first."""
    values = {
        "late": after.late_pieces, "was": before.late_pieces, "days": after.late_days, "days_were": before.late_days,
        "no_time": after.no_time, "no_time_was": before.no_time,
    }  # fmt: skip
    if after.no_time != before.no_time:
        return said("what_if.no_time", "{no_time} find no time instead of {no_time_was}, {late} late instead of {was}", **values)
    if after.late_pieces != before.late_pieces or abs(after.late_days - before.late_days) > max(1.0, LITTLE * before.late_days):
        return said("what_if.late", "{late} late by {days} days together, instead of {was} by {days_were}", **values)
    if before.mean_days is None or after.mean_days is None:
        return said("what_if.nothing", "it changes nothing: there is nothing to plan")
    gain = before.mean_days - after.mean_days
    if abs(gain) < 0.5:
        return said("what_if.not_it", "on average it hardly changes a day: something else holds the room up")
    if gain > 0:
        return said("what_if.sooner", "no promise is helped, but a piece is through {gain:days} sooner on average", gain=gain)
    return said("what_if.later", "no promise is hurt, but a piece is through {gain:days} later on average", gain=-gain)


def _moved(before: _Counted, after: _Counted, pieces: Mapping[str, Named]) -> list[MovedCard]:
    """Return the pieces whose day moves, those that move most first; one that finds a time or loses it moves most of all."""
    cards = []
    for key, named in pieces.items():
        was, then = before.ends.get(key), after.ends.get(key)
        if was != then:
            days = (then - was).days if was is not None and then is not None else None
            cards.append(MovedCard(key, named.tag, named.species, was, then, days, _moved_words(named, was, then)))
    return sorted(cards, key=lambda card: (card.days is not None, -abs(card.days or 0), card.specimen))


def _moved_words(named: Named, was: date | None, then: date | None) -> Said:
    who = {"tag": named.tag, "species": named.species}
    if then is None:
        return said("what_if.moved.lost", "{tag}, {species}: finds no time any more", **who)
    if was is None:
        return said("what_if.moved.found", "{tag}, {species}: finds a time, through on {then:day}", then=then, **who)
    days = (then - was).days
    how = "sooner" if days < 0 else "later"
    return said(
        "what_if.moved", "{tag}, {species}: {days:days} {how}, through on {then:day} instead of {was:day}",
        days=abs(days), how=how, then=then, was=was, **who,
    )  # fmt: skip


def _flags(changes: Sequence[Otherwise], room: Gathered, expected: int, moves: int, held: int) -> Iterable[Flag]:
    if any(one.appetite is not None for one in changes) and not box_appetite_known(room.known):
        yield Flag(
            said("what_if.no_appetite", "no box says what its beetles eat, so a hungrier one changes nothing here"),
            said("what_if.no_appetite.next", "count the colony and set its appetite on the page The room"),
        )
    if any(one.no_new_before is not None for one in changes) and room.uncertain.arrivals is None:
        yield Flag(
            said("what_if.nobody_comes", "fewer than {few} pieces came in the last year, so nobody is expected to be refused",
                 few=FEWEST),
            said("what_if.nobody_comes.next", "before a busy season, look at the last date for a holiday instead"),
        )  # fmt: skip
    if any("beetle box" in one.more for one in changes):
        yield Flag(
            said("what_if.second_box", "a second box is reckoned as hungry as the first from today on"),
            said("what_if.second_box.next", "a new colony takes months to get there: see A second colony on its page"),
        )
    if any(one.without for one in changes):
        yield Flag(
            said("what_if.plain", "without whitening a skull stays the colour of bone"),
            said("what_if.plain.next", "ask each owner before you leave it out"),
        )
    if held:
        yield Flag(
            said("what_if.held", "{count} pieces on hold are left out, and will want room when they are released", count=held),
            said("what_if.held.next", "ask again when they are"),
        )
    yield Flag(
        said("what_if.effort", "each was planned with working durations and {moves} orders tried; a difference under a day says "
             "nothing", moves=moves),
        said("what_if.effort.next", "nothing in the book was changed"),
    )  # fmt: skip
