"""Whether bone still changes colour: a series of looks told from how much photos of one thing differ by themselves."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible
from bonebench.science.colour.difference import delta_e_2000

# Colour difference between two photos of the same thing with the same phone in the same light: low, likely, high. Estimate.
ASSUMED_REPEAT = (0.7, 1.5, 3.0)
# With fewer repeats than this the room's own figure is no better than the assumed one.
FEWEST_REPEATS = 3
# Two photos of one thing lie closer than this many times their root mean square difference 95 times in 100: their difference is the
# length of three equal normal errors, whose 95th percentile is 2.795 standard deviations (chi with 3 degrees of freedom) and whose
# root mean square is sqrt(3) of them.
LIMIT_IN_REPEATS = 2.795 / 3**0.5


@dataclass(frozen=True, slots=True)
class Repeats:
    """Root mean square colour difference of photos of one thing; ``count`` repeats stand behind it, none where it is assumed."""

    low: float
    likely: float
    high: float
    count: int


@dataclass(frozen=True, slots=True)
class Progress:
    """How a series of looks changed: since the one before and in all, and since when nothing beyond the noise was seen.

    ``limit`` is the difference that noise alone passes once in twenty; ``still_looks`` the newest looks no two of which lie further
    apart than it, ``still_days`` the time they span.
    """

    last: float
    whole: float
    lighter: float
    limit: float
    still_looks: int
    still_days: float


def repeats(groups: Sequence[npt.ArrayLike]) -> Repeats:
    """How much photos of one thing differ by themselves.

    Parameters
    ----------
    groups : sequence of array_like, each shape (n, 3)
        L*, a* and b* of photos taken of the same bone at the same look. [-]

    Returns
    -------
    Repeats
        Root mean square difference of two such photos by CIEDE2000: the room's own with its 90 % interval where at least
        three repeats stand behind it, else an assumed one. [-]

    Notes
    -----
    Each group of n gives n - 1 repeats. The interval takes the three axes of colour as equally uncertain, so that a repeat counts
    three degrees of freedom.
    """
    squares, count = 0.0, 0
    for group in groups:
        lab = np.asarray(group, dtype=np.float64)
        if len(lab) < 2:
            continue
        pairs = [(i, j) for i in range(len(lab)) for j in range(i)]
        squares += (len(lab) - 1) * float(np.mean([delta_e_2000(lab[i], lab[j]) ** 2 for i, j in pairs]))
        count += len(lab) - 1
    if count < FEWEST_REPEATS:
        return Repeats(*ASSUMED_REPEAT, count=0)
    likely = (squares / count) ** 0.5
    low, high = _chi_interval(3 * count)
    return Repeats(likely * low, likely, likely * high, count)


def _chi_interval(freedom: int) -> tuple[float, float]:
    """By which factors a root mean square of so many degrees of freedom may be off, 90 % two-sided.

    Wilson and Hilferty's cube (1931), within 1 % from 9 degrees on.
    """
    part = 2 / (9 * freedom)
    upper, lower = (1 - part + z * part**0.5 for z in (1.6449, -1.6449))
    return upper**-1.5, lower**-1.5


def progress(days: npt.ArrayLike, lab: npt.ArrayLike, repeat: float) -> Progress:
    """Tell a series of looks from its noise.

    Parameters
    ----------
    days : array_like, shape (n,)
        When each look was, rising; two looks at least. [days]
    lab : array_like, shape (n, 3)
        L*, a* and b* of each look, of one setting. [-]
    repeat : float
        Root mean square difference of two photos of one thing, above 0. [-]

    Returns
    -------
    Progress
        Changes by CIEDE2000, and how long nothing beyond the noise was seen. [-], [days]

    Raises
    ------
    Impossible
        If there are fewer than two looks, or if they do not rise in time.

    Notes
    -----
    That no change was seen does not say that none goes on: one smaller than the noise is not seen, and a slow one is looked for in
    the newest looks together. It says nothing of whether the bone is white enough, or has had enough.
    """
    at, seen = np.asarray(days, dtype=np.float64), np.asarray(lab, dtype=np.float64)
    if len(at) < 2 or (np.diff(at) < 0).any():
        raise Impossible("colour.looks", "a change needs two looks at least, in the order of their times")
    limit = LIMIT_IN_REPEATS * repeat
    first = len(at) - 1
    while first > 0 and (delta_e_2000(seen[first:], seen[first - 1]) <= limit).all():
        first -= 1
    return Progress(
        last=float(delta_e_2000(seen[-2], seen[-1])),
        whole=float(delta_e_2000(seen[0], seen[-1])),
        lighter=float(seen[-1, 0] - seen[0, 0]),
        limit=limit,
        still_looks=len(at) - first,
        still_days=float(at[-1] - at[first]),
    )
