"""Shrinkage of durations: what a class of pieces usually takes, moved towards what this room's own pieces took."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from bonebench.errors import OutsideRange

# What the prior weighs, in pieces: with nine, three pieces weigh a quarter and twenty-seven three quarters. An estimate: it says
# that the class figures are about as good as nine pieces of somebody else's room.
PRIOR_PIECES = 9.0
# A piece forgotten for months says nothing about the step: its days are cut at so many of the prior's own half-widths.
CUT = 3.0
# Durations are taken as lognormal; one in ten is below the first and one in ten above the last of these.
_Z90 = NormalDist().inv_cdf(0.9)


@dataclass(frozen=True, slots=True)
class Prior:
    """What a class of pieces takes before anything was seen: one in ten is quicker than p10, one in ten slower than p90. [days]"""

    p10: float
    p50: float
    p90: float

    def __post_init__(self) -> None:
        if not 0 < self.p10 <= self.p50 <= self.p90:
            raise OutsideRange(
                "learning.prior", "a span of {p10}, {p50}, {p90} days cannot be learned from: it must rise from above 0",
                p10=self.p10, p50=self.p50, p90=self.p90,
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Learned:
    """What is expected now, for the next single piece, and how many of the room's own pieces are behind it. [days]

    ``weight`` is the share that the room's own pieces have in it, 0 to 1.
    """

    p10: float
    p50: float
    p90: float
    pieces: int
    weight: float


@dataclass(frozen=True, slots=True)
class _Normal:
    """A belief on the logarithm of days: its middle, the spread below and above it, and what it weighs in pieces."""

    middle: float
    below: float
    above: float
    weight: float


def shrunk(prior: Prior, observed: Sequence[float], *, prior_pieces: float = PRIOR_PIECES) -> Learned:
    """Days to expect for the next piece, from the class and from what this room's own pieces took.

    Parameters
    ----------
    prior : Prior
        The class before anything was seen. [days]
    observed : sequence of float
        What the room's own pieces took, above 0, in any order. [days]
    prior_pieces : float, optional
        What the prior weighs, above 0. [pieces]

    Returns
    -------
    Learned
        Quantiles for the next piece. With nothing observed it is the prior. [days]

    Raises
    ------
    OutsideRange
        If a duration is not above 0.

    Notes
    -----
    Normal with a normal prior on the logarithm of days, the variance shrunk by the same weights and widened for what is still
    unknown of the middle (factor ``sqrt(1 + 1/(prior + n))`` against the prior's own), so that a few pieces never make it
    narrower than they may. Durations are cut at three half-widths of the prior. Waiting in the place counts as part of it. Left
    out: pieces still running.

    References
    ----------
    .. [1] Gelman et al., Bayesian Data Analysis (3rd ed.), section 2.5, normal mean with normal prior; from memory.
    """
    return _told(_seen(_of(prior, prior_pieces), observed, prior), prior_pieces, len(observed))


def shrunk_twice(prior: Prior, others: Sequence[float], own: Sequence[float], *, prior_pieces: float = PRIOR_PIECES) -> Learned:
    """Days to expect for the next piece of one species: from the class, then the room's other pieces, then those of the species.

    Parameters
    ----------
    prior : Prior
        The class before anything was seen. [days]
    others : sequence of float
        What the room's pieces of other species in the class took, above 0. [days]
    own : sequence of float
        What its pieces of this species took, above 0. [days]
    prior_pieces : float, optional
        What each step of belief weighs at most against the next, above 0. [pieces]

    Returns
    -------
    Learned
        Quantiles for the next piece; ``pieces`` counts those of the species. [days]

    Raises
    ------
    OutsideRange
        If a duration is not above 0.

    Notes
    -----
    Other species may differ, so what they say weighs no more than the prior itself, however many they are.
    """
    room = _seen(_of(prior, prior_pieces), others, prior)
    capped = _Normal(room.middle, room.below, room.above, min(room.weight, prior_pieces))
    return _told(_seen(capped, own, prior), capped.weight, len(own))


def _of(prior: Prior, weight: float) -> _Normal:
    if not weight > 0:
        raise OutsideRange("learning.weight", "a prior that weighs {weight} pieces cannot be: give more than 0", weight=weight)
    middle = math.log(prior.p50)
    return _Normal(middle, (middle - math.log(prior.p10)) / _Z90, (math.log(prior.p90) - middle) / _Z90, weight)


def _seen(belief: _Normal, observed: Sequence[float], prior: Prior) -> _Normal:
    if not observed:
        return belief
    bad = next((days for days in observed if not (days > 0 and math.isfinite(days))), None)
    if bad is not None:
        raise OutsideRange("learning.days", "a stay of {days} days cannot be learned from: it must be above 0", days=bad)
    usual = math.log(prior.p50)
    low, high = usual - CUT * (usual - math.log(prior.p10)), usual + CUT * (math.log(prior.p90) - usual)
    logs = sorted(min(max(math.log(days), low), high) for days in observed)
    count = len(logs)
    mean = math.fsum(logs) / count
    total = belief.weight + count
    middle = (belief.weight * belief.middle + count * mean) / total
    square = math.fsum((one - mean) ** 2 for one in logs)
    between = belief.weight * count / total * (mean - belief.middle) ** 2
    # Below and above are learned alike; they keep the shape that the class has.
    below = math.sqrt((belief.weight * belief.below**2 + square + between) / total)
    above = math.sqrt((belief.weight * belief.above**2 + square + between) / total)
    return _Normal(middle, below, above, total)


def _told(belief: _Normal, prior_weight: float, count: int) -> Learned:
    # A prior is told as it was given; every piece seen leaves a little doubt about the middle beside the spread.
    doubt = math.sqrt(1 + 1 / belief.weight) if count else 1.0
    return Learned(
        p10=math.exp(belief.middle - _Z90 * belief.below * doubt),
        p50=math.exp(belief.middle),
        p90=math.exp(belief.middle + _Z90 * belief.above * doubt),
        pieces=count,
        weight=count / (prior_weight + count),
    )
