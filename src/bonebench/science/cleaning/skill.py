"""How good the dates have been: predicted days held against what they were."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

FEW = 10  # below so many pieces the shares say next to nothing: the interval is as wide as a half


@dataclass(frozen=True, slots=True)
class Kept:
    """A share of pieces that were done by a date, with what the share of all pieces to come may be (nine chances in ten)."""

    share: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Skill:
    """How good the dates have been.

    ``ratio`` is the median of actual over predicted days, ``mean_error_days`` how much later than the even date they were on
    average (below 0: earlier), ``mean_off_days`` how far off either way.
    """

    pieces: int
    ratio: float
    by_50: float
    by_80: float
    mean_error_days: float
    mean_off_days: float
    kept_80: Kept


def skill(pieces: Sequence[tuple[float, float, float]]) -> Skill | None:
    """Hold predicted days against what they were.

    Parameters
    ----------
    pieces : sequence of (predicted at 50, predicted at 80, actual)
        Of finished pieces, above 0. [days]

    Returns
    -------
    Skill or None
        None if there are no pieces yet.
    """
    if not pieces:
        return None
    ratios = sorted(actual / middle for middle, _, actual in pieces)
    half, count = len(ratios) // 2, len(pieces)
    median = ratios[half] if count % 2 else 0.5 * (ratios[half - 1] + ratios[half])
    by_50 = sum(actual <= middle for middle, _, actual in pieces) / count
    late = sum(actual <= last for _, last, actual in pieces)
    errors = [actual - middle for middle, _, actual in pieces]
    return Skill(
        count, median, by_50, late / count, math.fsum(errors) / count, math.fsum(map(abs, errors)) / count, kept(late, count)
    )


def kept(done: int, of: int) -> Kept:
    """Say what so many of so many tells of the share of all.

    Parameters
    ----------
    done, of : int
        How many were done by their date, of how many; at least one. [1]

    Returns
    -------
    Kept
        The share, and Wilson's interval of nine chances in ten.

    References
    ----------
    .. [1] Wilson 1927, J. Am. Stat. Assoc. 22:209-212, score interval (any handbook of statistics).
    """
    z, share = NormalDist().inv_cdf(0.95), done / of
    middle = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z / (1 + z * z / of) * math.sqrt(share * (1 - share) / of + z * z / (4 * of * of))
    return Kept(share, max(0.0, middle - half), min(1.0, middle + half))
