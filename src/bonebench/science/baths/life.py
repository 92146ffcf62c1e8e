"""How long a bath serves, what it costs for each skull, and what must be done before it goes anywhere."""

import math
from dataclasses import dataclass
from typing import Literal

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.said import Said, said
from bonebench.science.baths.decay import FLOOR_W, Load, days_to_floor, rate_per_day
from bonebench.science.baths.history import TRACE_W
from bonebench.science.baths.reaction import heat_rise_k, oxygen_l

# Salts, protein and fat stay in a bath however often it is topped up.
MOST_TOP_UPS = Figure(3.0, 2.0, 4.0, "times", Standing.PRACTICE, "then it is mixed anew: common practice, no source")
# Bench 1.7: nothing above it to a drain, whatever the rules say of the rest.
NO_DRAIN_ABOVE_W = Figure(
    0.08, 0.08, 0.08, "w/w", Standing.PRACTICE, "no drain above 8 %: common practice, no source; local rules win"
)


@dataclass(frozen=True, slots=True)
class Life:
    """A bath from the day it is mixed to its floor.

    Attributes
    ----------
    days : Figure
        Until its strength is down to the floor, with bone in it all the time. [days]
    skulls : Figure
        How many go through it one after the other in that time. [1]
    stock_kg_each : Figure
        Stock for each skull. [kg]
    """

    days: Figure
    skulls: Figure
    stock_kg_each: Figure


def life(
    *, strength_w: float, stock_kg: float, temperature_c: float, at_once: int, days_each: float, load: Load = "bone",
    floor_w: float = FLOOR_W.value,
) -> Life:  # fmt: skip
    """How long a bath serves and what each skull takes of the stock.

    Parameters
    ----------
    strength_w : float
        Mass fraction it is mixed to. [kg/kg]
    stock_kg : float
        Stock that went in, above 0. [kg]
    temperature_c : float
        Of the bath. [degC]
    at_once : int
        Skulls in it together, 1 or more.
    days_each : float
        Days each stays, above 0. [days]
    load : {"clean", "bone", "tissue"}, optional
        What is in it.
    floor_w : float, optional
        Mass fraction below which it is no use. [kg/kg]

    Returns
    -------
    Life
        Days, skulls and stock for each.

    Raises
    ------
    OutsideRange
        If an amount is not above 0, or a strength or temperature lies outside its range.

    Notes
    -----
    A bath that lasts less than one stay still serves one load, which then stays longer. Topping up and evaporation are left out.
    """
    if not (stock_kg > 0 and at_once >= 1 and days_each > 0):
        raise OutsideRange("bath.life", "stock, skulls at once and days each must be above 0: check them")
    days = days_to_floor(strength_w, rate_per_day(load, temperature_c), floor_w)
    loads = [max(1.0, end / days_each) for end in (days.value, days.low, days.high)]
    skulls = Figure(at_once * loads[0], at_once * loads[1], at_once * loads[2], "skulls", days.standing, days.source)
    value, low, high = (stock_kg / s for s in (skulls.value, skulls.high, skulls.low))
    return Life(days, skulls, Figure(value, low, high, "kg", days.standing, days.source))


def cost_minor(stock_kg: float, price_minor_per_kg: int) -> int:
    """What so much stock costs.

    Parameters
    ----------
    stock_kg : float
        Stock, 0 or more. [kg]
    price_minor_per_kg : int
        Price of a kilogram in the smallest coin, 0 or more.

    Returns
    -------
    int
        Cost in the smallest coin, rounded to the nearest.

    Raises
    ------
    OutsideRange
        If either is negative.
    """
    if stock_kg < 0 or price_minor_per_kg < 0:
        raise OutsideRange("bath.cost", "stock and price are 0 or more")
    return round(stock_kg * price_minor_per_kg)


def oxygen_still_l(strength_w: float, mass_kg: float) -> float:
    """Oxygen that a bath on its way out would still give off, at 20 degC and one atmosphere.

    Parameters
    ----------
    strength_w : float
        Mass fraction left. [kg/kg]
    mass_kg : float
        The bath. [kg]

    Returns
    -------
    float
        Oxygen: why it stands open until a strip shows none. [L]
    """
    return oxygen_l(strength_w, mass_kg)


def cost_each_minor(served: Life, price_minor_per_kg: int) -> tuple[int, int, int]:
    """What stock costs for each skull.

    Parameters
    ----------
    served : Life
        What the bath serves.
    price_minor_per_kg : int
        Price of a kilogram of stock in the smallest coin, 0 or more.

    Returns
    -------
    tuple of int, shape (3,)
        Cheap end, middle and dear end, in the smallest coin.

    Raises
    ------
    OutsideRange
        If the price is negative.
    """
    each = served.stock_kg_each
    low, value, high = (cost_minor(kg, price_minor_per_kg) for kg in (each.low, each.value, each.high))
    return low, value, high


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do with a bath: never that it may be poured away.

    Attributes
    ----------
    kind : {"go on", "test first", "top up", "mix anew"}
        What.
    said : Said
        In words.
    look_by_days : float
        Test it within so many days. [days]
    """

    kind: Literal["go on", "test first", "top up", "mix anew"]
    said: Said
    look_by_days: float


def advice(
    strength: Figure, *, tested: bool, look_by_days: float, top_ups: int = 0, floor_w: float = FLOOR_W.value
) -> Advice:  # fmt: skip
    """What to do with a bath of a believed strength.

    Parameters
    ----------
    strength : Figure
        Mass fraction with its ends, from `calibration.strength_now`. [w/w]
    tested : bool
        Whether it was tested within its look-by days; what rests on age alone is tested before anything is done with it.
    look_by_days : float
        Days within which it must be tested again. [days]
    top_ups : int, optional
        How often it was topped up.
    floor_w : float, optional
        Mass fraction below which it is no use. [kg/kg]

    Returns
    -------
    Advice
        Go on, test first, top up or mix anew.

    Notes
    -----
    Stock poured by a guess makes a bath of unknown strength, so nothing is topped up without a test; and a bath that may be below
    the floor, though its middle is not, is tested again.
    """
    if strength.low >= floor_w:
        words = said(
            "bath.go_on", "probably {low:strength} to {high:strength}: still some use; test by the day it says",
            low=strength.low, high=strength.high,
        )  # fmt: skip
        return Advice("go on", words, look_by_days)
    if not tested or strength.value >= floor_w:
        words = said(
            "bath.test_first", "anywhere from {low:strength} to {high:strength}; below {floor:strength} it does little: test first",
            low=strength.low, high=strength.high, floor=floor_w,
        )  # fmt: skip
        return Advice("test first", words, 0.0)
    if top_ups >= MOST_TOP_UPS.value:
        words = said(
            "bath.mix_anew", "below {floor:strength}, and topped up {times} times already: mix anew; before the old one goes "
            "anywhere, test it and ask the water authority",
            floor=floor_w, times=top_ups,
        )  # fmt: skip
        return Advice("mix anew", words, 0.0)
    words = said("bath.top_up", "below {floor:strength}: top it up, or mix anew if it is cloudy, greasy or smells", floor=floor_w)
    return Advice("top up", words, 0.0)


@dataclass(frozen=True, slots=True)
class WayOut:
    """A bath that is done with, until it may go anywhere.

    Attributes
    ----------
    oxygen_l : Figure
        Oxygen it may still give off: why no lid is closed on it. [L]
    open_days : Figure
        Days it would stand open until only a trace is left, by its rate; a strip decides, not this. [days]
    heat_rise_k : float
        How much it could warm at most if it all broke down at once. [K]
    never_to_a_drain : bool
        Whether it may be above 8 %, which goes down no drain whatever the rules.
    steps : tuple of Said
        What to do, in order.
    """

    oxygen_l: Figure
    open_days: Figure
    heat_rise_k: float
    never_to_a_drain: bool
    steps: tuple[Said, ...]


def way_out(strength: Figure, mass_kg: float, rate: Figure) -> WayOut:
    """What a bath that is done with still holds, and what to do with it.

    Parameters
    ----------
    strength : Figure
        Mass fraction with its ends. [w/w]
    mass_kg : float
        The bath. [kg]
    rate : Figure
        Rate of loss as it stands, from `decay.rate_per_day`, above 0. [1/day]

    Returns
    -------
    WayOut
        Oxygen, days and steps.

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70.

    Notes
    -----
    The quick end joins the weakest bath and the fastest rate, the slow end the strongest and the slowest. Local codes and licensed
    practice decide what goes where; nothing here says that it may.
    """
    oxygen = [oxygen_l(w, mass_kg) for w in (strength.value, strength.low, strength.high)]
    pairs = ((strength.value, rate.value), (strength.low, rate.high), (strength.high, rate.low))
    days = [max(math.log(max(w, TRACE_W) / TRACE_W), 0.0) / k for w, k in pairs]
    standing = weakest((strength.standing, rate.standing))
    never = strength.high > NO_DRAIN_ABOVE_W.value + 1e-9
    return WayOut(
        oxygen_l=Figure(oxygen[0], oxygen[1], oxygen[2], "L", strength.standing, strength.source),
        open_days=Figure(days[0], days[1], days[2], "days", standing, rate.source),
        heat_rise_k=heat_rise_k(strength.high),
        never_to_a_drain=never,
        steps=_steps_out(oxygen[2], never),
    )


def _steps_out(oxygen_high_l: float, never: bool) -> tuple[Said, ...]:
    steps = [
        said(
            "bath.out.open", "Let it stand in an open tub, outdoors or in moving air, away from flame: up to {oxygen:volume} of "
            "oxygen still come from it, so never close a lid on it",
            oxygen=oxygen_high_l,
        ),
        said("bath.out.sieve", "Sieve it for teeth"),
        said("bath.out.strip", "Test first: it is not ready until a strip shows none, twice a day apart"),
        said("bath.out.ask", "Then ask the local water authority; defer to local codes and licensed practice"),
    ]  # fmt: skip
    if never:
        steps.insert(
            1, said("bath.out.strong", "It may be above {limit:strength}: that goes down no drain", limit=NO_DRAIN_ABOVE_W.value)
        )
    return tuple(steps)
