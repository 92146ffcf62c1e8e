"""What happened to a bath, as a list, and the walk along it: what was put in, what decayed, what was taken, what is left."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.decay import Load, known_load
from bonebench.science.baths.density import WARMEST_C, check_strength
from bonebench.science.baths.spread import Z90

MIX_OFF = Figure(
    0.05, 0.02, 0.10, "share", Standing.ESTIMATE, "label of the stock, jug and eye together; one mix in ten is further off each way"
)
TITRATION_OFF = Figure(
    0.03, 0.02, 0.05, "share", Standing.ESTIMATE, "permanganate by burette, standardised: 2-3 %; one in ten is further off each way"
)
# One drop, 0.05 mL, where 17.85 mL stand for 3.04 % w/v (the small-shop titration): it counts in weak baths.
TITRATION_DROP_W = Figure(0.0001, 0.00005, 0.0002, "w/w", Standing.DERIVED, "one drop of 0.05 mL of 0.02 M permanganate")
# Below this neither a strip nor a burette tells peroxide from none.
TRACE_W = 0.0005


@dataclass(frozen=True, slots=True)
class Poured:
    """Something poured together or in: the first one makes the bath, later ones are stock, bath or water (0) added to it.

    Attributes
    ----------
    mass_kg : float
        Mass poured, above 0. [kg]
    strength_w : float
        Its mass fraction of peroxide, 0 to 0.70. [kg/kg]
    off : float
        Share by which the strength is off, upward or downward, one time in ten each. [1]
    """

    mass_kg: float
    strength_w: float
    off: float = MIX_OFF.value

    def __post_init__(self) -> None:
        check_strength(self.strength_w, "strength of what was poured")
        _check_mass("what was poured", self.mass_kg)
        if not 0 <= self.off < 1:
            raise OutsideRange("bath.off", "a strength off by {off:percent} says nothing: give less than 100 %", off=self.off)


@dataclass(frozen=True, slots=True)
class Taken:
    """Bath scooped out; it takes its peroxide with it.

    Attributes
    ----------
    mass_kg : float
        Mass taken out, above 0. [kg]
    """

    mass_kg: float

    def __post_init__(self) -> None:
        _check_mass("what was taken out", self.mass_kg)


@dataclass(frozen=True, slots=True)
class Section:
    """A time in which the bath stood at one temperature with one load.

    Attributes
    ----------
    days : float
        How long, 0 or more. [days]
    temperature_c : float
        Temperature; outside 0..50 the nearer end is used and the history flagged. [degC]
    load : {"clean", "bone", "tissue"}
        What was in it.
    filling : int or None
        Sections with the same number are one filling (the same bones, at another temperature); None is one of its own.
    """

    days: float
    temperature_c: float
    load: Load
    filling: int | None = None

    def __post_init__(self) -> None:
        known_load(self.load)
        if not (0 <= self.days < math.inf and math.isfinite(self.temperature_c)):
            raise OutsideRange(
                "bath.section",
                "a bath that stood {days} days at {temperature} °C cannot be; the days must be 0 or more: check the times",
                days=self.days,
                temperature=self.temperature_c,
            )

    @property
    def usable_c(self) -> float:
        """Temperature to reckon with. [degC]"""
        return min(max(self.temperature_c, 0.0), WARMEST_C)


@dataclass(frozen=True, slots=True)
class Tested:
    """A measured strength.

    Attributes
    ----------
    strength_w, low_w, high_w : float
        Mass fraction measured, and what it lies below and above one time in ten; above 0. [kg/kg]
    how : {"titration", "strip"}
        By what.
    """

    strength_w: float
    low_w: float
    high_w: float
    how: Literal["titration", "strip"]

    def __post_init__(self) -> None:
        check_strength(self.high_w, "strength that was measured")
        if not 0 < self.low_w <= self.strength_w <= self.high_w:
            raise Impossible(
                "bath.tested",
                "a test of {strength:strength}, {low:strength} to {high:strength}, cannot be: it must lie between its ends",
                strength=self.strength_w,
                low=self.low_w,
                high=self.high_w,
            )

    @property
    def log_middle(self) -> float:
        """Logarithm of the mass fraction it says."""
        return math.log(self.strength_w)

    @property
    def log_spread(self) -> float:
        """Standard deviation of that."""
        return max(math.log(self.high_w / self.low_w) / (2 * Z90), 1e-3)


Event: TypeAlias = Poured | Taken | Section | Tested


def _check_mass(what: str, mass_kg: float) -> None:
    if not 0 < mass_kg < math.inf:
        raise OutsideRange("bath.mass", "{what} is {mass:mass}; it must be above 0: check the amount", what=what, mass=mass_kg)


def titrated(strength_w: float, off: float = TITRATION_OFF.value) -> Tested:
    """Return what a titration says, with its error.

    Parameters
    ----------
    strength_w : float
        Mass fraction found, 0 to 0.70. [kg/kg]
    off : float, optional
        Share by which it is off each way, one time in ten. [1]

    Returns
    -------
    Tested
        The strength with its ends; what is below a trace counts as "at most a trace".

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70.

    Notes
    -----
    Dissolved protein eats permanganate too, so a used bath reads too strong unless a boiled blank was taken off; left out here.
    """
    check_strength(strength_w, "strength that was titrated")
    if strength_w < TRACE_W:
        return strip(0.0, TRACE_W, how="titration")
    factor = math.exp(math.hypot(math.log1p(off), Z90 * TITRATION_DROP_W.value / strength_w))
    return Tested(strength_w, strength_w / factor, min(strength_w * factor, 0.70), "titration")


def strip(low_w: float, high_w: float, *, how: Literal["titration", "strip"] = "strip") -> Tested:
    """Return what a strip says: a range between two of its colours.

    Parameters
    ----------
    low_w, high_w : float
        Mass fractions of the colours on either side; 0 below for "under the first colour". [kg/kg]
    how : {"titration", "strip"}, optional
        By what.

    Returns
    -------
    Tested
        The middle by ratio with the range as its ends.

    Raises
    ------
    OutsideRange
        If the upper end lies outside 0..0.70.
    Impossible
        If the two do not rise, or both are 0.

    Notes
    -----
    "Under the first colour" is taken as a quarter of it to all of it: it never says that nothing is left.
    """
    low = low_w if low_w > 0 else high_w / 4
    return Tested(math.sqrt(max(low * high_w, 0.0)), low, high_w, how)


@dataclass(frozen=True, slots=True)
class Walked:
    """A bath at the end of its list.

    Attributes
    ----------
    strength_w : float
        Mass fraction. [kg/kg]
    mass_kg : float
        Mass of the bath. [kg]
    put_in_kg, decayed_kg, taken_kg, left_kg : float
        Peroxide put in, broken down, scooped out and left; the first is the sum of the others. [kg]
    at_tests_w : tuple of float
        Mass fraction at each test. [kg/kg]
    """

    strength_w: float
    mass_kg: float
    put_in_kg: float
    decayed_kg: float
    taken_kg: float
    left_kg: float
    at_tests_w: tuple[float, ...]


def check_events(events: Sequence[Event]) -> None:
    """Refuse a history that does not begin with a bath being made.

    Parameters
    ----------
    events : sequence of Event
        What happened, in order.

    Raises
    ------
    Impossible
        If it is empty, does not begin with something poured, or what is poured first has no strength.
    """
    first = events[0] if events else None
    if not isinstance(first, Poured) or first.strength_w == 0:
        raise Impossible("bath.not_made", "a bath's history begins with the day it was made: say how much of what strength")


def walk(events: Sequence[Event], lost: Callable[[int, Section], float], poured: Callable[[int, Poured], float]) -> Walked:
    """Follow a bath through its history.

    Parameters
    ----------
    events : sequence of Event
        What happened, in order; the first is what made it.
    lost : callable
        For the place in the list and a section: rate times days, 0 or more. [1]
    poured : callable
        For the place in the list and what was poured: its mass fraction. [kg/kg]

    Returns
    -------
    Walked
        The bath at the end.

    Raises
    ------
    Impossible
        If it does not begin with a bath being made, or more is taken out than there is.

    Notes
    -----
    Masses add up when things are poured together (volumes do not). Evaporation and the mass of the oxygen that leaves are left out.
    A test changes nothing here: it is looked at, not obeyed.
    """
    check_events(events)
    mass = left = put_in = decayed = taken = 0.0
    at_tests = []
    for place, event in enumerate(events):
        if isinstance(event, Poured):
            amount = event.mass_kg * poured(place, event)
            mass, left, put_in = mass + event.mass_kg, left + amount, put_in + amount
        elif isinstance(event, Section):
            # What stays is taken as such, not as what was less what went: a weak rest would drown in the rounding.
            stays = left * math.exp(-lost(place, event))
            left, decayed = stays, decayed + (left - stays)
        elif isinstance(event, Taken):
            if event.mass_kg >= mass:
                raise Impossible(
                    "bath.taken",
                    "{taken:mass} cannot be scooped out of a bath of {mass:mass}: check the amount, or begin a new bath",
                    taken=event.mass_kg,
                    mass=mass,
                )
            gone = left * event.mass_kg / mass
            mass, left, taken = mass - event.mass_kg, left - gone, taken + gone
        else:
            at_tests.append(left / mass)
    return Walked(left / mass, mass, put_in, decayed, taken, left, tuple(at_tests))
