"""What a plan costs from now on: what it uses, and the room's prices put on that."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from bonebench.figures import Figure, Standing, basis
from bonebench.money import digits_of, in_coins, read_currency, read_price, write_coins, write_price
from bonebench.planning.problem import Plan, Problem
from bonebench.planning.usage import Usage, attended_hours, usage
from bonebench.said import Said, number, said
from bonebench.services.costs.cards import CostCard, CostLineCard
from bonebench.services.costs.power import pot_kwh, warm_in
from bonebench.services.known import Known
from bonebench.shop.prices import PAID_FOR, Prices
from bonebench.shop.steps import PlaceKind

MINUTES = "hands-on minutes of each step, as the methods say: common practice, no source; time your own"
COARSE = 100
A_HAIR = 0.05  # an hour, a day or a piece: less is rounding
COUNTED = "counted from the plan"
UNITS = {"h": "{amount} h", "days": "{amount} days", "kWh": "{amount} kWh", "pieces": "{amount} pieces", "sum": "once"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Costed:
    """What is to be costed: a plan of some problem for some of its pieces.

    ``helpers`` are people paid for the hours they are there; ``more_boxes`` run only because of this change; ``buys`` is what it
    costs to have the change at all, as it was written.
    """

    problem: Problem
    plan: Plan
    pieces: frozenset[str]
    helpers: tuple[str, ...] = ()
    more_boxes: int = 0
    buys: str | None = None


@dataclass(frozen=True, slots=True)
class _Line:
    key: str
    name: str
    used: Figure
    each: Decimal | None


def cost_card(what: Costed, known: Known, today: date, before: CostCard | None = None) -> CostCard:
    """Return what a plan uses and costs; ``before`` is the room as it is, to lay it beside."""
    prices = known.room.prices
    lines = [line for line in _lines(what, known, today) if line.used.high > 0]
    buys, currency = _buys(what.buys, prices)
    cards = [_line(line, currency) for line in lines] + ([buys] if buys is not None else [])
    card = _summed(cards, currency)
    rests = tuple(basis(line.name, line.used) for line in lines if line.key in ("hour", "kwh"))
    return replace(card, basis=rests, compared=_compared(before, card) if before is not None else None)


def _lines(what: Costed, known: Known, today: date) -> Iterable[_Line]:
    prices = known.room.prices
    used = usage(what.problem, what.plan, what.pieces)
    own = sum(minutes for person, minutes in used.minutes.items() if person not in what.helpers) / 60
    yield _Line("hour", "our own hands", _exact(own, "h", Standing.PRACTICE, MINUTES), prices.on("hour", today))
    there = sum(attended_hours(what.problem, helper, used.until) for helper in what.helpers)
    yield _Line("helper-hour", "the helper", _exact(there, "h", Standing.DERIVED, COUNTED), prices.on("helper-hour", today))
    yield from _pots(what.problem, used, known, today)
    ahead = (used.until - what.problem.now).total_seconds() / 86400 if used.until is not None else 0.0
    boxes = _exact(what.more_boxes * max(0.0, ahead), "days", Standing.DERIVED, COUNTED)
    yield _Line("box-day", "running one more box", boxes, prices.on("box-day", today))
    for paid in PAID_FOR.values():
        if paid.step is not None:
            count = _exact(float(used.begun.get(paid.step, 0)), "pieces", Standing.DERIVED, COUNTED)
            yield _Line(paid.key, f"materials for {paid.name.split(',')[0]}", count, prices.on(paid.key, today))


def _pots(problem: Problem, used: Usage, known: Known, today: date) -> Iterable[_Line]:
    """Pots by the day where that has a price; else their power, as far as size and warmth are known."""
    prices = known.room.prices
    kinds = {room.key: room.kind for room in problem.places}
    pots = {key: use for key, use in used.places.items() if kinds.get(key) == PlaceKind.POT.value}
    days = sum(use.days for use in pots.values())
    by_day = prices.on("pot-day", today)
    volumes = {room.key: room.volume_l for room in problem.places}
    power = [pot_kwh(volumes[key], warm_in(key, known), use.days, use.starts) for key, use in pots.items()]
    known_power = [one for one in power if one is not None]
    if by_day is not None or not known_power or len(known_power) < len(pots):
        yield _Line("pot-day", "pots in use", _exact(days, "days", Standing.DERIVED, COUNTED), by_day)
        return
    total = Figure(
        sum(one.value for one in known_power), sum(one.low for one in known_power), sum(one.high for one in known_power), "kWh",
        Standing.ESTIMATE, known_power[0].source,
    )  # fmt: skip
    yield _Line("kwh", "power for the pots", total, prices.on("kwh", today))


def _exact(value: float, unit: str, standing: Standing, source: str) -> Figure:
    return Figure(value, value, value, unit, standing, source)


def _buys(written: str | None, prices: Prices) -> tuple[CostLineCard | None, str | None]:
    """What the change costs at once; where the room has no currency, the one beside the sum counts, and without one it has none."""
    if written is None or not written.strip():
        return None, prices.currency
    text, name = written.strip(), "having it at all"
    currency = prices.currency or (read_currency(text[-3:]) if text[-3:].isalpha() else None)
    if currency is None:
        words = said("cost.buys.bare", "{name}: {sum}, in no currency the room has said", name=name, sum=text)
        return CostLineCard("buys", words, 1.0, 1.0, 1.0, "sum", None, None, None), None
    coins = in_coins(read_price(text, currency), currency)
    words = said("cost.buys", "{name}: {money}", name=name, money=write_coins(coins, currency))
    return CostLineCard("buys", words, 1.0, 1.0, 1.0, "sum", coins, coins, coins), currency


def _line(line: _Line, currency: str | None) -> CostLineCard:
    used = line.used
    costs: list[int | None] = [None, None, None]
    if line.each is not None and currency is not None:
        costs = [in_coins(Decimal(str(amount)) * line.each, currency) for amount in (used.value, used.low, used.high)]
    amount = number(used.value) if used.low == used.high else f"{number(used.low, 2)} to {number(used.high, 2)}"
    told = "{name}: " + UNITS[used.unit]
    if line.each is None or currency is None:
        words = said("cost.used", told, name=line.name, amount=amount)
    else:
        words = said(
            "cost.line", told + " at {each}, {money}",
            name=line.name, amount=amount, each=write_price(line.each, currency), money=_span(costs, currency),
        )  # fmt: skip
    return CostLineCard(line.key, words, used.value, used.low, used.high, used.unit, costs[0], costs[1], costs[2])


def _span(costs: Sequence[int | None], currency: str | None) -> str:
    """Write a cost: one sum, or the range it lies in."""
    value, low, high = (cost or 0 for cost in costs)
    if currency is None:
        return ""
    if low == high:
        return write_coins(value, currency)
    whole = 10 ** digits_of(currency)
    if high >= COARSE * whole:
        # A range of hundreds is not known to the cent: its ends go outwards to whole units.
        return f"{low // whole} to {-(-high // whole)} {currency}"
    return f"{write_coins(low, currency).split()[0]} to {write_coins(high, currency)}"


def _summed(lines: Sequence[CostLineCard], currency: str | None) -> CostCard:
    priced = [line for line in lines if line.cost_minor is not None]
    sums: list[int | None] = [None, None, None]
    if priced and currency is not None:
        sums = [sum(cost or 0 for cost in each) for each in zip(*(_costs(line) for line in priced), strict=True)]
        words = said("cost.total", "{money}", money=_span(sums, currency))
    else:
        words = said("cost.no_prices", "no prices set")
    names = tuple(_named(line) for line in lines if line.cost_minor is None)
    return CostCard(currency, tuple(lines), sums[0], sums[1], sums[2], words, None, names, ())


def _costs(line: CostLineCard) -> tuple[int | None, int | None, int | None]:
    return line.cost_minor, line.cost_low_minor, line.cost_high_minor


def _named(line: CostLineCard) -> str:
    return str(line.words.values["name"])


def _compared(before: CostCard, after: CostCard) -> Said:
    """Lay a cost beside that of the room as it is: in money where there are prices, else in what differs most plainly, hands."""
    if after.total_minor is not None and after.currency is not None:
        sums = ((after.total_minor, before.total_minor), (after.total_low_minor, before.total_low_minor),
                (after.total_high_minor, before.total_high_minor))  # fmt: skip
        said_ = _money_between([(new or 0) - (old or 0) for new, old in sums], after.currency)
        return _without(said_, _unpriced(before, after))
    hours = _hours(after) - _hours(before)
    if abs(hours) < 0.05:
        return said("cost.same_hands", "it takes as many hours of hands")
    more = "more" if hours > 0 else "fewer"
    return said("cost.hands", "it takes {hours} hours of hands {more}", hours=number(abs(hours), 2), more=more)


def _unpriced(before: CostCard, after: CostCard) -> list[str]:
    """Return what is used otherwise than in the room as it is and has no price: a sum must not be read as if it were in it."""
    was, then = ({line.key: line for line in card.lines if line.cost_minor is None} for card in (before, after))
    differ = [
        key for key in {**was, **then} if key not in was or key not in then or abs(was[key].amount - then[key].amount) > A_HAIR
    ]
    return [_named(then.get(key) or was[key]) for key in differ]


def _without(words: Said, names: Sequence[str]) -> Said:
    if not names:
        return words
    template = words.template + ", without {names}: no price is known"
    return said(f"{words.key}.without", template, **words.values, names=" and ".join(names))


def _money_between(ends: Sequence[int], currency: str) -> Said:
    value, low, high = ends[0], min(ends), max(ends)
    if low == high == 0:
        return said("cost.same", "it costs the same")
    if low >= 0 or high <= 0:
        more = "more" if high > 0 else "less"
        money = _span((abs(value), *sorted((abs(low), abs(high)))), currency)
        return said("cost.more" if high > 0 else "cost.less", "it costs {money} {more}", money=money, more=more)
    return said(
        "cost.either", "it costs between {less} less and {more} more",
        less=write_coins(-low, currency), more=write_coins(high, currency),
    )  # fmt: skip


def _hours(card: CostCard) -> float:
    return sum(line.amount for line in card.lines if line.unit == "h")
