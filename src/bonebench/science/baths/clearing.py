"""What the water's look and dry-spot checks say of a piece, and what a room's pieces say of the next one.

How easy a piece is stands against the middle of its class on a logarithm, as in `fillings`. The class table gives how far pieces
spread before anything is seen; looks at the water and checks of the dry bone narrow it. How much fat makes water look cloudy is a
guess: it is let be off by a factor of two, the same for all looks of a piece or a room, so looks alone never narrow much; it is how
the looks change, and the checks, that tell.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.degreasing import CLEAN_SHARE, Room, class_days, speed, table_spread
from bonebench.science.baths.fillings import bath, days_to_clean, rhythm_days

FloatArray = npt.NDArray[np.float64]

# Fat in the water against what it holds in balance with all of the piece's fat at which it looks hazy, cloudy, and fat floats.
LOOKS_FROM = (0.02, 0.08, 0.30)
EYE = Figure(0.7, 0.4, 1.0, "1", Standing.ESTIMATE, "spread of the eye on the logarithm of fat in the water; a guess")
OFF = Figure(0.7, 0.5, 1.0, "1", Standing.ESTIMATE, "how far all the levels of `LOOKS_FROM` may be off together, on the logarithm")
SPOT = Figure(0.5, 0.3, 0.8, "1", Standing.ESTIMATE, "spread of the eye on the logarithm of fat in dry bone; a guess")
# The spread of the class table splits in halves: what all pieces of a room share, and what each has of its own. An estimate.
SHARED = 0.5
GRID = np.linspace(-4.0, 4.0, 121)
# Gauss's points and weights for summing over how far the levels are off.
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(7)


@dataclass(frozen=True, slots=True)
class Filling:
    """One filling of the pot.

    Attributes
    ----------
    days_at_45 : float
        How long it was in, each day counted by `speed` of its temperature, 0 or more. [days]
    looked : int or None
        How it looked at its end: 0 clear, 1 hazy, 2 cloudy, 3 fat on top; None if nobody looked.
    """

    days_at_45: float
    looked: int | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """A dry-spot check: dried for two days and looked at for yellow or glassy patches.

    Attributes
    ----------
    days_at_45 : float
        Days in the pot before it, counted from the first filling as in `Filling`, above 0. [days]
    passed : bool
        Whether no spot was left.
    """

    days_at_45: float
    passed: bool


@dataclass(frozen=True, slots=True)
class Piece:
    """What was seen of one piece.

    Attributes
    ----------
    grease : int
        Class, 1 to 5.
    fillings : tuple of Filling
        All its fillings, the present one last.
    spots : tuple of Spot
        Its dry-spot checks.
    """

    grease: int
    fillings: tuple[Filling, ...]
    spots: tuple[Spot, ...] = ()

    def __post_init__(self) -> None:
        class_days(self.grease)
        for filling in self.fillings:
            if filling.days_at_45 < 0 or (filling.looked is not None and filling.looked not in range(4)):
                raise OutsideRange(
                    "degrease.look", "water looks 0 clear, 1 hazy, 2 cloudy or 3 with fat on top, and stands 0 days or more"
                )
        whole = math.fsum(filling.days_at_45 for filling in self.fillings)
        for spot in self.spots:
            if not 0 < spot.days_at_45 <= whole * (1 + 1e-9):
                raise OutsideRange(
                    "degrease.check",
                    "a check after {days} days does not fit a piece that was {whole} days in the pot: check the days",
                    days=f"{spot.days_at_45:.3g}",
                    whole=f"{whole:.3g}",
                )


def _log_normal_cdf(x: FloatArray) -> FloatArray:
    from scipy.special import log_ndtr  # noqa: PLC0415  scipy costs a third of a second

    found: FloatArray = log_ndtr(x)
    return found


def _log_between(low: FloatArray, high: FloatArray) -> FloatArray:
    """Log chance of a standard normal between two bounds."""
    from scipy.special import ndtr  # noqa: PLC0415

    # The part of the tail that is further out is taken, where differences keep their digits.
    flip = low > 0
    a, b = np.where(flip, -high, low), np.where(flip, -low, high)
    found: FloatArray = np.log(np.maximum(ndtr(b) - ndtr(a), 1e-300))
    return found


def _stays(piece: Piece, z: FloatArray, days: float) -> FloatArray:
    """Share of the fat that stays in the bone through so long in one filling, for every z."""
    one, quickness = bath(piece.grease), np.exp(z * table_spread(piece.grease))
    holds = one.holds * quickness
    rate = one.leaves_per_day * quickness * (1 + 1 / holds)
    found: FloatArray = (1 + holds * np.exp(-rate * days)) / (1 + holds)
    return found


def _log_likelihoods(piece: Piece, z: FloatArray) -> FloatArray:
    """Log chance of all that was seen of a piece: a row for each way the levels may be off, a column for each ease z."""
    holds = bath(piece.grease).holds * np.exp(z * table_spread(piece.grease))
    off = OFF.value * _NODES[:, None]
    edges = (-math.inf, *(math.log(edge) for edge in LOOKS_FROM), math.inf)
    left, began, log = np.ones_like(z), 0.0, np.zeros((len(_NODES), len(z)))
    for filling in piece.fillings:
        ends = began + filling.days_at_45
        for spot in piece.spots:
            if began < spot.days_at_45 <= ends * (1 + 1e-9):
                cleaner = (math.log(CLEAN_SHARE) - np.log(left * _stays(piece, z, spot.days_at_45 - began))) / SPOT.value
                log = log + _log_normal_cdf(cleaner if spot.passed else -cleaner)
        after = left * _stays(piece, z, filling.days_at_45)
        if filling.looked is not None:
            seen = np.log(np.maximum((left - after) / holds, 1e-300)) - off
            log = log + _log_between((edges[filling.looked] - seen) / EYE.value, (edges[filling.looked + 1] - seen) / EYE.value)
        left, began = after, ends
    return log


def _shares(log: FloatArray) -> FloatArray:
    """Shares of each ease when the ways the levels may be off are summed out."""
    weights = _WEIGHTS @ np.exp(log - log.max())
    found: FloatArray = weights / weights.sum()
    return found


def learn(pieces: Sequence[Piece]) -> Room:
    """What a room's own pieces say about the next one.

    Parameters
    ----------
    pieces : sequence of Piece
        All that was seen, each piece once.

    Returns
    -------
    Room
        The room's middle, and its spread with the next piece's own part put back.

    Raises
    ------
    OutsideRange
        If what was seen of a piece cannot be (raised where the `Piece` is made).

    Notes
    -----
    Bayes on a grid: the room's shift is normal with half the variance of the class table, each piece's own part with the other half
    is summed out, so a piece that was looked at often still counts as one piece.
    """
    room = np.tile(-0.5 * GRID**2 / SHARED, (len(_NODES), 1))
    own = np.exp(-0.5 * (GRID[None, :] - GRID[:, None]) ** 2 / (1 - SHARED))
    own /= own.sum(axis=1, keepdims=True)
    for piece in pieces:
        log = _log_likelihoods(piece, GRID)
        room = room + np.log(np.maximum(np.exp(log - log.max()) @ own.T, 1e-300))
    shares = _shares(room)
    mean = float(shares @ GRID)
    return Room(mean, math.sqrt(float(shares @ (GRID - mean) ** 2) + (1 - SHARED)), len(pieces))


@dataclass(frozen=True, slots=True)
class Followed:
    """Where a piece stands.

    Attributes
    ----------
    rate_per_day : Figure
        Rate at which its fat leaves into clean water at 45 degC; one time in ten outside each end. [1/day]
    fat_left : Figure
        Share of its fat that is left now. [1]
    days_left : Figure
        Days until a twentieth is left, at the temperature and rhythm asked for. [days]
    clean_chance : float
        Chance that it is there already: whether a dry-spot check is worth its two days. [1]
    quickness : float
        How many times easier it is than its class's middle, for `fillings.next_change`. [1]
    """

    rate_per_day: Figure
    fat_left: Figure
    days_left: Figure
    clean_chance: float
    quickness: float


def follow(piece: Piece, temperature_c: float, every_days: float | None = None, learned: Room | None = None) -> Followed:
    """Where a piece stands and how many days it still takes, after all that was seen of it.

    Parameters
    ----------
    piece : Piece
        What was seen; its last filling is the one it lies in.
    temperature_c : float
        Of the water from now on, 20 to 100. [degC]
    every_days : float, optional
        Days between changes from now on; the class's rhythm unless given. [days]
    learned : Room, optional
        What the room's other pieces say.

    Returns
    -------
    Followed
        Rate, fat and days, one time in ten outside each end.

    Raises
    ------
    OutsideRange
        If the water is below 20 degC or above 100, or the rhythm not above 0.

    Notes
    -----
    Bayes on a grid of the logarithm of ease. How much faster a warmer pot really is adds to the days and is not in their range. It
    ends by a dry-spot check, never by the calendar.
    """
    if temperature_c < 20:
        raise OutsideRange("degrease.cold", "at {temperature:temperature} fat does not leave: warm the pot to 40 to 50 °C",
                           temperature=temperature_c)  # fmt: skip
    room, factor = learned or Room(), speed(temperature_c).value
    every = (rhythm_days(piece.grease, temperature_c) if every_days is None else every_days) * factor
    z = room.middle + room.spread * GRID
    shares = _shares(_log_likelihoods(piece, z) - 0.5 * GRID**2)
    summed = np.cumsum(shares) - shares / 2
    low, middle, high = (float(np.interp(p, summed, z)) for p in (0.1, 0.5, 0.9))
    slow, usual, quick = (_from_here(piece, math.exp(at * table_spread(piece.grease)), every) for at in (low, middle, high))
    seen = sum(filling.looked is not None for filling in piece.fillings) + len(piece.spots)
    source = f"class table, and {seen} looks and checks of this piece"
    standing = Standing.ESTIMATE

    def figure(at_low: float, at: float, at_high: float, unit: str) -> Figure:
        return Figure(at, min(at_low, at), max(at_high, at), unit, standing, source)

    rates = [bath(piece.grease, math.exp(at * table_spread(piece.grease))).leaves_per_day for at in (low, middle, high)]
    left = _left_now(piece, z)
    return Followed(
        rate_per_day=figure(rates[0], rates[1], rates[2], "1/day"),
        fat_left=figure(quick[0], usual[0], slow[0], "share"),
        days_left=figure(quick[1] / factor, usual[1] / factor, slow[1] / factor, "days"),
        clean_chance=float(shares @ (left <= CLEAN_SHARE)),
        quickness=math.exp(middle * table_spread(piece.grease)),
    )


def _left_now(piece: Piece, z: FloatArray) -> FloatArray:
    left = np.ones_like(z)
    for filling in piece.fillings:
        left = left * _stays(piece, z, filling.days_at_45)
    return left


def _from_here(piece: Piece, quickness: float, every_days_at_45: float) -> tuple[float, float]:
    """Fat that is left now, and days at 45 degC to go, for one ease."""
    one, before = bath(piece.grease, quickness), 1.0
    *past, present = piece.fillings or (Filling(0.0),)
    for filling in past:
        before *= one.stays(filling.days_at_45)
    days, _ = days_to_clean(piece.grease, every_days_at_45, quickness=quickness, left=before, into_days=present.days_at_45)
    return before * one.stays(present.days_at_45), days
