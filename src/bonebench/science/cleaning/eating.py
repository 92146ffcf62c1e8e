"""How many days a piece takes in the beetle box, alone or beside others that share the colony's appetite."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.science.cleaning.surface import FLUX

# The mass of a head falls nearly in line to 85-90 %; what sits in nose, ear and sinus is eaten slowly.
TAIL = Figure(0.12, 0.10, 0.15, "kg/kg", Standing.PRACTICE, "the last tenth or so, in nose, ear and sinus, goes slowly")
TAIL_SHARE = TAIL.value
TAIL_SLOWNESS = 3.0


@dataclass(frozen=True, slots=True)
class InBox:
    """One piece in the box: the tissue it went in with, the most that can be eaten from it a day, and what is left of it now."""

    tissue_kg: float
    rate_kg_per_day: float
    left_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time in which every piece is eaten evenly. Days count from the moment the sharing begins."""

    begin_day: float
    end_day: float
    rates_kg_per_day: tuple[float, ...]


def _not_below_zero(what: str, mass_kg: float) -> None:
    if not 0 <= mass_kg < math.inf:
        raise OutsideRange(
            "cleaning.amount", "{what} is {mass:mass}; it must be 0 or more: check what was typed", what=what, mass=mass_kg
        )


def _nothing_eats() -> Impossible:
    return Impossible(
        "cleaning.nothing_eats",
        "tissue is left but nothing eats it: give the colony's appetite and a surface to eat from, both above 0",
    )


def share_appetite(appetite_kg: float, demands_kg: Sequence[float]) -> tuple[float, ...]:
    """Give what a colony eats to the pieces in its box, first come first served.

    Parameters
    ----------
    appetite_kg : float
        What the colony eats, zero or more. [kg]
    demands_kg : sequence of float, shape (n,)
        The most that can be eaten from each piece in the same time, in order of entry, zero or more. [kg]

    Returns
    -------
    tuple of float, shape (n,)
        What is eaten from each; the sum is the smaller of appetite and demands. [kg]

    Raises
    ------
    OutsideRange
        If the appetite or a demand is negative.
    """
    _not_below_zero("the colony's appetite", appetite_kg)
    left = appetite_kg
    shares = []
    for demand in demands_kg:
        _not_below_zero("what a piece can give", demand)
        share = min(demand, left)
        shares.append(share)
        left -= share
    return tuple(shares)


class _Plate:
    """A piece while it is eaten: first the open tissue, then the tail."""

    def __init__(self, piece: InBox) -> None:
        left = piece.tissue_kg if piece.left_kg is None else piece.left_kg
        for what, mass in (("tissue on a piece", piece.tissue_kg), ("what a piece can give a day", piece.rate_kg_per_day)):
            _not_below_zero(what, mass)
        _not_below_zero("what is left on a piece", left)
        tail = min(left, TAIL_SHARE * piece.tissue_kg)
        # (what is left of this part, how fast it can go), in the order it is eaten
        self.parts = [(left - tail, piece.rate_kg_per_day), (tail, piece.rate_kg_per_day / TAIL_SLOWNESS)]
        self._drop_eaten()

    def _drop_eaten(self) -> None:
        while self.parts and self.parts[0][0] <= 0:
            self.parts.pop(0)

    def demand(self) -> float:
        return self.parts[0][1] if self.parts else 0.0

    def days(self, rate: float) -> float:
        """Days until this part of it is gone at that rate."""
        return self.parts[0][0] / rate if self.parts and rate > 0 else math.inf

    def eat(self, rate: float, days: float, *, ends: bool) -> None:
        if self.parts:
            left, most = self.parts[0]
            self.parts[0] = (0.0 if ends else left - rate * days, most)
            self._drop_eaten()


def course(pieces: Sequence[InBox], appetite_kg_per_day: float | Sequence[float]) -> Iterator[Stretch]:
    """Tell how pieces that share one colony are eaten, stretch by stretch, until nothing is left.

    Parameters
    ----------
    pieces : sequence of InBox, shape (n,)
        The pieces in order of entry.
    appetite_kg_per_day : float or sequence of float, shape (m,)
        What the colony eats a day: one number, or one for each day from the first on, the last of which holds from then on.
        [kg/day]

    Yields
    ------
    Stretch
        From one event (a piece reaches its tail, is clean, a day ends) to the next.

    Raises
    ------
    OutsideRange
        If a mass or rate is negative.
    Impossible
        If tissue is left and nothing eats it.

    Notes
    -----
    Each piece takes up to its own rate, and the rest wait. Growth of the colony, drying of the tissue and the slow first day
    are left out; the last part of each piece (`TAIL_SHARE`) goes `TAIL_SLOWNESS` times slower.
    """
    appetites = [appetite_kg_per_day] if isinstance(appetite_kg_per_day, int | float) else list(appetite_kg_per_day)
    if not appetites:
        raise _nothing_eats()
    plates = [_Plate(piece) for piece in pieces]
    now = 0.0
    while any(plate.parts for plate in plates):
        day = math.floor(now)
        rates = share_appetite(appetites[min(day, len(appetites) - 1)], [plate.demand() for plate in plates])
        until_change = day + 1 - now if day < len(appetites) - 1 else math.inf
        ends = [plate.days(rate) for plate, rate in zip(plates, rates, strict=True)]
        step = min(until_change, *ends)
        if step == math.inf:
            raise _nothing_eats()
        # At the end of a day the clock is set to it exactly, or a rounding crumb would start the same day again.
        then = float(day + 1) if step == until_change else now + step
        yield Stretch(now, then, rates)
        for plate, rate, end in zip(plates, rates, ends, strict=True):
            plate.eat(rate, step, ends=end <= step)
        now = then


def days_together(pieces: Sequence[InBox], appetite_kg_per_day: float | Sequence[float]) -> tuple[float, ...]:
    """Days until each of several pieces that share one colony is clean.

    Parameters
    ----------
    pieces : sequence of InBox, shape (n,)
        The pieces in order of entry.
    appetite_kg_per_day : float or sequence of float, shape (m,)
        What the colony eats a day, as in `course`. [kg/day]

    Returns
    -------
    tuple of float, shape (n,)
        Days from now; 0 for a piece with nothing left. [days]

    Raises
    ------
    OutsideRange
        If a mass or rate is negative.
    Impossible
        If tissue is left and nothing eats it.
    """
    done = [0.0] * len(pieces)
    for stretch in course(pieces, appetite_kg_per_day):
        for place, rate in enumerate(stretch.rates_kg_per_day):
            if rate > 0:
                done[place] = stretch.end_day
    return tuple(done)


def days_in_box(tissue_kg: float, rate_kg_per_day: float, appetite_kg_per_day: float = math.inf) -> float:
    """Days until one piece alone in the box is clean.

    Parameters
    ----------
    tissue_kg : float
        Fresh tissue on it, zero or more. [kg]
    rate_kg_per_day : float
        The most that can be eaten from its surface, above 0. [kg/day]
    appetite_kg_per_day : float, optional
        What the colony eats a day, above 0; left out, there are always enough beetles. [kg/day]

    Returns
    -------
    float
        Days. [days]

    Raises
    ------
    OutsideRange
        If a mass or rate is negative.
    Impossible
        If there is tissue and nothing eats it.

    Notes
    -----
    ``(1 - s) T / min(r, a) + s T / min(r / k, a)`` with s `TAIL_SHARE` and k `TAIL_SLOWNESS`.
    """
    _not_below_zero("tissue on a piece", tissue_kg)
    _not_below_zero("what a piece can give a day", rate_kg_per_day)
    if tissue_kg == 0:
        return 0.0
    if not (rate_kg_per_day > 0 and appetite_kg_per_day > 0):
        raise _nothing_eats()
    open_days = (1 - TAIL_SHARE) * tissue_kg / min(rate_kg_per_day, appetite_kg_per_day)
    return open_days + TAIL_SHARE * tissue_kg / min(rate_kg_per_day / TAIL_SLOWNESS, appetite_kg_per_day)


def days_range(tissue: Figure, area: Figure, *, flux: Figure = FLUX, appetite_kg_per_day: float = math.inf) -> Figure:
    """Days until one piece alone in the box is clean, with the range its figures leave open.

    Parameters
    ----------
    tissue : Figure
        Fresh tissue on it. [kg]
    area : Figure
        Its exposed surface, above 0. [m2]
    flux : Figure, optional
        What beetles take from a surface, above 0; `FLUX` unless the room has weighed. [kg/(m2 day)]
    appetite_kg_per_day : float, optional
        What the colony eats a day; left out, there are always enough beetles. [kg/day]

    Returns
    -------
    Figure
        Days: from a small head eaten fast to a big head eaten slowly. [days]

    Raises
    ------
    OutsideRange
        If a mass or rate is negative.
    Impossible
        If there is tissue and nothing eats it.

    Notes
    -----
    A head with more tissue has more surface too, so the low ends go together and the high ends go together; taking them as
    independent would double the range for nothing.
    """
    ends = (
        days_in_box(tissue.value, area.value * flux.value, appetite_kg_per_day),
        days_in_box(tissue.low, area.low * flux.high, appetite_kg_per_day),
        days_in_box(tissue.high, area.high * flux.low, appetite_kg_per_day),
    )
    return Figure(
        ends[0],
        min(ends),
        max(ends),
        "days",
        weakest((tissue.standing, area.standing, flux.standing, TAIL.standing)),
        "; ".join(dict.fromkeys((tissue.source, area.source, flux.source))),
    )
