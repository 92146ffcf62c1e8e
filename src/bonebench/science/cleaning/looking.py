"""From a look or a weighing to what is left on a piece, how fast it goes, and when it will be clean."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.cleaning.eating import TAIL_SHARE, TAIL_SLOWNESS
from bonebench.science.cleaning.surface import FLUX

# Share of the tissue left that each grade of a look stands for, and how far eyes differ: estimates, on words of our own.
LOOKS: dict[str, float] = {"hardly touched": 0.92, "eaten into": 0.70, "half gone": 0.45, "crevices left": 0.15, "bare": 0.02}
LOOK_SPREAD = 0.13
WEIGHING_SPREAD = 0.05  # drying is guessed too
POINTS = 201
EDGE = 1.645


@dataclass(frozen=True, slots=True)
class Reading:
    """What was left, as a share of the tissue it went in with, so many days after it went in; and how sure that is."""

    day: float
    left_share: float
    spread: float


@dataclass(frozen=True, slots=True)
class CleanBy:
    """What is left now, how fast it goes against the first guess, and days from now until it is clean: even chance and 4 in 5."""

    left_share: Figure
    pace: Figure
    days_50: float
    days_80: float


def by_look(day: float, name: str) -> Reading:
    """Read a five-grade look.

    Parameters
    ----------
    day : float
        Days since it went in. [days]
    name : str
        One of `LOOKS`.

    Returns
    -------
    Reading
        For `clean_by`.

    Raises
    ------
    OutsideRange
        If there is no such grade.
    """
    if name not in LOOKS:
        raise OutsideRange("cleaning.look", "no look is called {name}; they are {known}", name=name, known=", ".join(LOOKS))
    return Reading(day, LOOKS[name], LOOK_SPREAD)


def by_weight(day: float, tissue_kg: float, lost_kg: float) -> Reading:
    """Read a weighing.

    Parameters
    ----------
    day : float
        Days since it went in. [days]
    tissue_kg, lost_kg : float
        Tissue it went in with, above 0, and what it has lost by eating. [kg]

    Returns
    -------
    Reading
        For `clean_by`; a loss above the tissue is taken as all of it.

    Raises
    ------
    OutsideRange
        If the tissue is not above 0 or the loss is negative.
    """
    if not (tissue_kg > 0 and lost_kg >= 0):
        raise OutsideRange(
            "cleaning.weighing", "{lost:mass} lost of {tissue:mass} of tissue; the tissue must be above 0, the loss 0 or more",
            lost=lost_kg, tissue=tissue_kg,
        )  # fmt: skip
    return Reading(day, max(0.0, 1.0 - lost_kg / tissue_kg), WEIGHING_SPREAD)


def share_left(day: float, share_per_day: float, most_share_per_day: float = math.inf) -> float:
    """Share left of one piece alone.

    Parameters
    ----------
    day : float
        Days since it went in. [days]
    share_per_day : float
        What its surface gives a day, as a share of its tissue. [1/day]
    most_share_per_day : float, optional
        What the colony can eat a day, as a share of its tissue. [1/day]

    Returns
    -------
    float
        As in `eating.days_in_box`: the last part goes more slowly. [1]
    """
    quick, slow = min(share_per_day, most_share_per_day), min(share_per_day / TAIL_SLOWNESS, most_share_per_day)
    turn = (1.0 - TAIL_SHARE) / quick
    if day <= turn:
        return 1.0 - quick * day
    return max(0.0, TAIL_SHARE - slow * (day - turn))


def _days_whole(share_per_day: float, most: float) -> float:
    quick, slow = min(share_per_day, most), min(share_per_day / TAIL_SLOWNESS, most)
    return (1.0 - TAIL_SHARE) / quick + TAIL_SHARE / slow


def clean_by(
    now_day: float, tissue_kg: float, rate_kg_per_day: float, readings: Sequence[Reading], *, appetite_kg_per_day: float = math.inf
) -> CleanBy:
    """Work out when a piece will be clean from what was seen of it.

    Parameters
    ----------
    now_day : float
        Days since it went in. [days]
    tissue_kg, rate_kg_per_day : float
        Tissue it went in with and the first guess at what its surface gives a day, both above 0. [kg], [kg/day]
    readings : sequence of Reading
        Looks and weighings; none leaves the guess with its whole range.
    appetite_kg_per_day : float, optional
        What the colony can give it a day, above 0. [kg/day]

    Returns
    -------
    CleanBy
        Ranges are nine chances in ten.

    Raises
    ------
    OutsideRange
        If a mass or rate is not above 0.

    Notes
    -----
    Bayes on a grid of 201 paces (lognormal, as wide as the range of `FLUX`); a reading is normal in the share left. A clean piece
    then gets its one more day, or one more look within 6-12 h below about 100 g: the rule of the trade, not part of this.
    """
    for what, value in (("tissue", tissue_kg), ("eating rate", rate_kg_per_day), ("appetite", appetite_kg_per_day)):
        if not value > 0:
            raise OutsideRange("cleaning.clean_by", "the {what} is {value}; it must be above 0", what=what, value=value)
    normal = NormalDist()
    up, down = math.log(FLUX.high / FLUX.value) / EDGE, math.log(FLUX.value / FLUX.low) / EDGE
    z = [normal.inv_cdf((k + 0.5) / POINTS) for k in range(POINTS)]
    paces = [math.exp(x * (up if x > 0 else down)) for x in z]
    base, most = rate_kg_per_day / tissue_kg, appetite_kg_per_day / tissue_kg
    logs = [-0.5 * sum(((share_left(r.day, base * pace, most) - r.left_share) / r.spread) ** 2 for r in readings) for pace in paces]
    weights = [math.exp(log - max(logs)) for log in logs]
    left = [share_left(now_day, base * pace, most) for pace in paces]
    days = [max(0.0, _days_whole(base * pace, most) - now_day) for pace in paces]
    source = "this piece as it was seen" if readings else FLUX.source
    return CleanBy(
        figure_of(left, weights, source),
        figure_of(paces, weights, source),
        quantile(days, weights, 0.5),
        quantile(days, weights, 0.8),
    )


def figure_of(values: Sequence[float], weights: Sequence[float], source: str) -> Figure:
    """Nine chances in ten of weighted values.

    Parameters
    ----------
    values, weights : sequence of float, shape (n,)
        What it may be, and how likely each is. [1]
    source : str
        What it rests on.

    Returns
    -------
    Figure
        An estimate. [1]
    """
    low, middle, high = (quantile(values, weights, share) for share in (0.05, 0.5, 0.95))
    return Figure(middle, low, high, "1", Standing.ESTIMATE, source)


def quantile(values: Sequence[float], weights: Sequence[float], share: float) -> float:
    """The value below which a share of the weight lies.

    Parameters
    ----------
    values, weights : sequence of float, shape (n,)
        In any order. [1]
    share : float
        0 to 1. [1]

    Returns
    -------
    float
        One of the values.
    """
    wanted, so_far = share * sum(weights), 0.0
    for value, weight in sorted(zip(values, weights, strict=True)):
        so_far += weight
        if so_far >= wanted:
            return value
    return max(values)
