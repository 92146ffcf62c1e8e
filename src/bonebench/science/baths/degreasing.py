"""Degreasing bone in warm detergent: dose, what a temperature does, what it does not kill, and how many days and changes it takes.

Fat leaves at a rate that is proportional to what is left; the water clouds and gives some of it back, so it is changed
(`fillings`). How much fat a skull of a grease class has to lose is not known: the days of the class table are common practice, and
what `clearing` learns is how a room's own pieces go against them.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing

# Days at 45 degC and changes of water by grease class 1..5: bench 2.1, common practice without a source.
DAYS: Mapping[int, Figure] = {
    grease: Figure(mid, low, high, "days", Standing.PRACTICE, "at 45 °C with detergent: common practice, no source")
    for grease, (low, mid, high) in {1: (1, 3, 5), 2: (3, 8, 14), 3: (10, 18, 30), 4: (21, 35, 60), 5: (45, 90, 180)}.items()
}
CHANGES: Mapping[int, Figure] = {
    grease: Figure(mid, low, high, "changes", Standing.PRACTICE, "common practice, no source")
    for grease, (low, mid, high) in {1: (1, 2, 2), 2: (2, 3, 4), 3: (3, 5, 6), 4: (5, 8, 10), 5: (8, 15, 25)}.items()
}
CHANGE_EVERY_DAYS = Figure(4.0, 2.0, 7.0, "days", Standing.PRACTICE, "water is changed so often: common practice, no source")
DOSE = Figure(0.01, 0.005, 0.02, "by volume", Standing.PRACTICE, "detergent, 5-20 mL in a litre: common practice, no source")
LIQUOR = Figure(5.0, 5.0, 10.0, "kg/kg", Standing.PRACTICE, "water to head, at least: common practice, no source")
DOUBLES_IN_K = Figure(
    12.0, 10.0, 15.0, "K", Standing.PRACTICE, "the rate doubles in so many degrees while fat is liquid: common practice"
)
REFERENCE_C = 45.0
STARTS_C = 30.0
ALARM_C, CAP_C = 55.0, 60.0
# "Clean" is a twentieth of the fat left: a choice that only ties the rate to the days of the table.
CLEAN_SHARE = 0.05
Z90 = NormalDist().inv_cdf(0.9)


@dataclass(frozen=True, slots=True)
class Limit:
    """What a temperature does to bone, fat and hands: from ``from_c`` up to the next."""

    from_c: float
    what: str
    why: str
    standing: Standing
    source: str


LIMITS: tuple[Limit, ...] = (
    Limit(0.0, "nearly nothing leaves", "most body fat is stiff below 25-45 °C", Standing.MEMORY, "from memory"),
    Limit(STARTS_C, "slow", "fat is only just liquid", Standing.PRACTICE, "common practice, no source"),
    Limit(40.0, "good", "fat is liquid and bone is spared", Standing.PRACTICE, "osteology guide R64: 40 to 60 °C"),
    Limit(50.0, "warm; watch it", "loosened collagen turns at 42 to 52 °C", Standing.PUBLISHED, "Gross 1964, Science 143:960"),
    Limit(ALARM_C, "alarm: too warm for a warm pot", "the margin to shrinking collagen is small", Standing.DERIVED, "bench 2.2"),
    Limit(CAP_C, "collagen at risk", "wet tendon shrinks at 60 to 65 °C; mineral protects bone above that, nobody knows how long",
          Standing.MEMORY, "from memory"),
    Limit(75.0, "as hot as a slow cooker on high: edges fray, teeth may split",
          "eight hours on high is a common way of its own; a cooker's settings are no temperatures: measure it",
          Standing.PRACTICE, "common practice, no source"),
    Limit(98.0, "boiling", "splits teeth and drives fat into bone; eight hours change collagen", Standing.PUBLISHED,
          "JBMR Plus 2019 (collagen after 8 h); collectors' notes R104, R105"),
)  # fmt: skip

SURVIVES: tuple[Limit, ...] = (
    Limit(0.0, "raccoon roundworm eggs live on", "they bear a 45 °C bath and disinfectants; boiling kills them", Standing.PUBLISHED,
          "California public health note R69"),
    Limit(0.0, "prions of deer and elk live on", "they bear drying, boiling and peroxide", Standing.MEMORY, "from memory"),
)  # fmt: skip


def limit_at(temperature_c: float) -> Limit:
    """Return what a temperature does.

    Parameters
    ----------
    temperature_c : float
        Of the water, 0 to 100. [degC]

    Returns
    -------
    Limit
        The row whose range it lies in.

    Raises
    ------
    OutsideRange
        If it lies outside 0..100 degC.
    """
    if not 0 <= temperature_c <= 100:
        raise OutsideRange("pot.temperature", "the water is {temperature:temperature}; it lies from 0 to 100 °C: check the number",
                           temperature=temperature_c)  # fmt: skip
    return [limit for limit in LIMITS if limit.from_c <= temperature_c][-1]


def speed(temperature_c: float) -> Figure:
    """How many times faster fat leaves than at 45 degC.

    Parameters
    ----------
    temperature_c : float
        Of the water, 0 to 100. [degC]

    Returns
    -------
    Figure
        Factor, 1 at 45 degC; nearly nothing below 30 degC. [1]

    Raises
    ------
    OutsideRange
        If it lies outside 0..100 degC.

    Notes
    -----
    Doubles in 10 to 15 K above 30 degC; below, fat is stiff and the factor falls to a fiftieth within ten degrees. Above 60 degC
    nobody has measured it and fat may also be driven in: the low end stays at that of 60 degC.
    """
    limit_at(temperature_c)
    stiff = 1.0 if temperature_c >= STARTS_C else max(0.02, 1 - 0.098 * (STARTS_C - temperature_c))
    value, *others = (2 ** ((temperature_c - REFERENCE_C) / k) for k in (DOUBLES_IN_K.value, DOUBLES_IN_K.low, DOUBLES_IN_K.high))
    low, high = min(others), max(others)
    if temperature_c > CAP_C:
        low = 2 ** ((CAP_C - REFERENCE_C) / DOUBLES_IN_K.high)
    standing = Standing.ESTIMATE if temperature_c > CAP_C else DOUBLES_IN_K.standing
    return Figure(value * stiff, low * stiff, high * stiff, "share", standing, DOUBLES_IN_K.source)


@dataclass(frozen=True, slots=True)
class Dose:
    """What goes into the pot for some heads.

    Attributes
    ----------
    water_l : Figure
        Water, at least. [L]
    detergent_l : Figure
        Detergent in it. [L]
    """

    water_l: Figure
    detergent_l: Figure


def dose(head_kg: float) -> Dose:
    """Water and detergent for so much head.

    Parameters
    ----------
    head_kg : float
        Heads in the pot, above 0. [kg]

    Returns
    -------
    Dose
        Five litres for each kilogram at least, 0.5 to 2 % of it detergent.

    Raises
    ------
    OutsideRange
        If the mass is not above 0 and at most 200 kg.
    """
    if not 0 < head_kg <= 200:
        raise OutsideRange("degrease.head", "the heads weigh {mass:mass}; it must be above 0 and at most {most:mass}",
                           mass=head_kg, most=200.0)  # fmt: skip
    water = LIQUOR.scaled(head_kg, "L")
    return Dose(water, water.times(DOSE, "L"))


@dataclass(frozen=True, slots=True)
class Room:
    """How a room's pieces go against the class table.

    Attributes
    ----------
    middle, spread : float
        Mean and standard deviation of ln(rate / table rate) for the next piece, in units of its class's `table_spread`.
    pieces : int
        How many of the room's own are behind it.
    """

    middle: float = 0.0
    spread: float = 1.0
    pieces: int = 0


def table_spread(grease: int) -> float:
    """Standard deviation of ln(days) that the class table's range stands for.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.

    Returns
    -------
    float
        Half the logarithm of high over low, over 1.28.
    """
    days = class_days(grease)
    return math.log(days.high / days.low) / (2 * Z90)


def class_days(grease: int) -> Figure:
    """Days at 45 degC of a grease class.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.

    Returns
    -------
    Figure
        Days. [days]

    Raises
    ------
    Impossible
        If the class is none.
    """
    if grease not in DAYS:
        raise Impossible(
            "degrease.class", "grease class {grease} is none; it is 1 (lean) to 5 (bear, pig, sea mammal)", grease=grease
        )
    return DAYS[grease]


def days_needed(grease: int, temperature_c: float, learned: Room | None = None) -> Figure:
    """Days in the pot until a dry-spot check passes, one time in ten outside each end.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    temperature_c : float
        Of the water, 20 to 100. [degC]
    learned : Room, optional
        What the room's own pieces say.

    Returns
    -------
    Figure
        Days. [days]

    Raises
    ------
    Impossible
        If the class is none.
    OutsideRange
        If the water is below 20 degC, where it never ends, or above 100.

    Notes
    -----
    Ends by a dry-spot test, never by the calendar: dry it for 48 hours and look for yellow or glassy patches.
    """
    if temperature_c < 20:
        raise OutsideRange("degrease.cold", "at {temperature:temperature} fat does not leave: warm the pot to 40 to 50 °C",
                           temperature=temperature_c)  # fmt: skip
    days, room = class_days(grease), learned or Room()
    middle = days.value / speed(temperature_c).value * math.exp(-room.middle * table_spread(grease))
    reach = math.exp(Z90 * rate_spread(grease, temperature_c, room))
    standing = Standing.ROOM if room.pieces >= 8 and room.spread < 0.7 else days.standing
    source = f"{room.pieces} pieces of this room, and: {days.source}" if room.pieces else days.source
    return Figure(middle, middle / reach, middle * reach, "days", standing, source)


def rate_spread(grease: int, temperature_c: float, room: Room) -> float:
    """Standard deviation of ln(rate) of the next piece, for what is not known of it, of the class and of the temperature's part.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    temperature_c : float
        Of the water. [degC]
    room : Room
        What the room's own pieces say.

    Returns
    -------
    float
        On the natural logarithm. [1]
    """
    factor = speed(temperature_c)
    return math.hypot(room.spread * table_spread(grease), math.log(factor.high / factor.low) / (2 * Z90))
