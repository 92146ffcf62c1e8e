"""Fat leaving bone in warm detergent: how many days and changes, what a temperature does, and what a room's own pots say.

Fat leaves at a rate that is proportional to what is left; the water clouds and gives some of it back, so it is changed. How much
fat
a skull of a grease class has to lose is not known: the days of the class table are common practice, and what is fitted here is
how a
room's pieces go against them.
"""

import math
from collections.abc import Mapping, Sequence
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
DOSE = Figure(0.01, 0.005, 0.02, "by volume", Standing.PRACTICE, "detergent, 5-20 mL in a litre: common practice, no source")
LIQUOR = Figure(5.0, 5.0, 10.0, "kg/kg", Standing.PRACTICE, "water to head, at least: common practice, no source")
DOUBLES_IN_K = Figure(
    12.0, 10.0, 15.0, "K", Standing.PRACTICE, "the rate doubles in so many degrees while fat is liquid: common practice"
)
REFERENCE_C = 45.0
STARTS_C = 30.0
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
    Limit(55.0, "alarm: too warm for a warm pot", "the margin to shrinking collagen is small", Standing.DERIVED, "bench 2.2"),
    Limit(60.0, "collagen at risk", "wet tendon shrinks at 60 to 65 °C; mineral protects bone above that, nobody knows how long",
          Standing.MEMORY, "from memory"),
    Limit(75.0, "a slow cooker on high: edges fray, teeth may split", "common practice for eight hours all the same; measure it",
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
    it is
    carried on unchanged, which nobody has measured: fat may also be driven in.
    """
    limit_at(temperature_c)
    over = (temperature_c - REFERENCE_C) / 1.0
    ends = sorted(2 ** (over / k) for k in (DOUBLES_IN_K.value, DOUBLES_IN_K.low, DOUBLES_IN_K.high))
    stiff = 1.0 if temperature_c >= STARTS_C else max(0.02, 1 - 0.098 * (STARTS_C - temperature_c))
    return Figure(
        2 ** (over / DOUBLES_IN_K.value) * stiff,
        ends[0] * stiff,
        ends[-1] * stiff,
        "share",
        DOUBLES_IN_K.standing,
        DOUBLES_IN_K.source,
    )


@dataclass(frozen=True, slots=True)
class Room:
    """How a room's pieces go against the class table, on the logarithm of the rate.

    Attributes
    ----------
    middle, spread : float
        Mean and standard deviation of ln(rate / table rate) for the next piece.
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
    days = _days(grease)
    return math.log(days.high / days.low) / (2 * Z90)


def _days(grease: int) -> Figure:
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
    days, factor, room = _days(grease), speed(temperature_c), learned or Room()
    own = room.spread * table_spread(grease)
    middle = days.value / factor.value * math.exp(-room.middle)
    warm = math.log(factor.high / factor.low) / (2 * Z90) if factor.high > factor.low else 0.0
    reach = math.exp(Z90 * math.hypot(own, warm))
    standing = Standing.ROOM if room.pieces >= 8 and room.spread < 0.7 else days.standing
    return Figure(
        middle,
        middle / reach,
        middle * reach,
        "days",
        standing,
        f"{room.pieces} pieces of this room, and: {days.source}" if room.pieces else days.source,
    )


def fat_left(days: float, needed_days: float) -> float:
    """Share of the fat that is left.

    Parameters
    ----------
    days : float
        In the pot, 0 or more. [days]
    needed_days : float
        Days it takes to be clean, above 0. [days]

    Returns
    -------
    float
        Share, 1 at the start and 0.05 when clean. [1]
    """
    left: float = CLEAN_SHARE ** (days / needed_days)
    return left


@dataclass(frozen=True, slots=True)
class Check:
    """A dry-spot check of one piece.

    Attributes
    ----------
    grease : int
        Class, 1 to 5.
    days_at_45 : float
        Days in the pot, each counted by `speed` of its temperature. [days]
    passed : bool
        Whether no spot was left.
    """

    grease: int
    days_at_45: float
    passed: bool


@dataclass(frozen=True, slots=True)
class Water:
    """How the water looked at a change: how much fat that filling took up, seen by eye.

    Attributes
    ----------
    grease : int
        Class, 1 to 5.
    from_days_at_45, to_days_at_45 : float
        Days in the pot when this filling began and ended, each counted by `speed`. [days]
    clear : bool
        Whether it was clear or only hazy, and not cloudy or with fat on top.
    """

    grease: int
    from_days_at_45: float
    to_days_at_45: float
    clear: bool


# Water that took up more than this share of all the fat looks cloudy; how sharp the eye is, on the logarithm. Both are guesses.
CLOUDS_AT = Figure(0.10, 0.04, 0.25, "share", Standing.ESTIMATE, "of all fat in one filling; a guess")
EYE_SPREAD = 1.0

# The spread of ln(rate) splits in halves: what all pieces of a room share, and what each has of its own. An estimate.
SHARED = 0.5
_STD = NormalDist()
_GRID = [-4 + 0.05 * n for n in range(161)]


def learn(checks: Sequence[Check], waters: Sequence[Water] = ()) -> Room:
    """What a room's own dry-spot checks say about how fast its pots clean.

    Parameters
    ----------
    checks : sequence of Check
        One or more for each piece; a pass means that it was clean by then, a fail that it was not.
    waters : sequence of Water, optional
        How the water looked at changes.

    Returns
    -------
    Room
        For the next piece: the room's middle, and its spread with the piece's own part put back.

    Raises
    ------
    OutsideRange
        If a time is not above 0.

    Notes
    -----
    Bayes on a grid: the room's shift is normal with half the variance of the class table, each check is a pass or fail of a
    lognormal
    time with the other half. Checks of one piece are taken as independent, which makes a piece that was checked often count a
    little
    too much.
    """
    for check in checks:
        if not check.days_at_45 > 0:
            raise OutsideRange("degrease.check", "a check after {days} days in the pot says nothing: it must be above 0",
                               days=f"{check.days_at_45:g}")  # fmt: skip
    own = math.sqrt(1 - SHARED)
    weights = []
    for shift in _GRID:
        log = -0.5 * shift**2 / SHARED
        for check in checks:
            spread = table_spread(check.grease)
            ahead = math.log(check.days_at_45 / DAYS[check.grease].value) / spread + shift
            chance = _STD.cdf((ahead if check.passed else -ahead) / own)
            log += math.log(max(chance, 1e-300))
        weights.append(log + math.fsum(_seen_in_water(water, shift) for water in waters))
    top = max(weights)
    shares = [math.exp(w - top) for w in weights]
    whole = math.fsum(shares)
    mean = math.fsum(s * g for s, g in zip(shares, _GRID, strict=True)) / whole
    variance = math.fsum(s * (g - mean) ** 2 for s, g in zip(shares, _GRID, strict=True)) / whole
    classes = [check.grease for check in checks] + [water.grease for water in waters]
    spreads = [table_spread(grease) for grease in classes] or [table_spread(3)]
    scale = math.fsum(spreads) / len(spreads)
    return Room(mean * scale, math.sqrt(variance + (1 - SHARED)), len(checks))


def _seen_in_water(water: Water, shift: float) -> float:
    """Log chance that a filling looked as it did, had the room's pieces this shift."""
    needed = DAYS[water.grease].value * math.exp(-shift * table_spread(water.grease))
    taken_up = fat_left(water.from_days_at_45, needed) - fat_left(water.to_days_at_45, needed)
    under = math.log(CLOUDS_AT.value / max(taken_up, 1e-9)) / EYE_SPREAD
    return math.log(max(_STD.cdf(under if water.clear else -under), 1e-300))
