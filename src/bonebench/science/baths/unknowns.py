"""The unknowns behind a bath's strength, and how its tests move them.

Each is a standard normal deviate: how the bath lies in the range of each load's rate (room and bath together), how each filling
lies in it, how much warmth matters, and how far off each mix was.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from bonebench.figures import Figure, Standing
from bonebench.science.baths.decay import K20, LOADS, SHIPPED, Leaning, Load, warmth_factor
from bonebench.science.baths.history import Event, Poured, Section, Tested, Walked, walk
from bonebench.science.baths.spread import STEP, Z90, log_at

# How the shipped range of a rate splits, in shares of its variance: between rooms (water, light, habits), between baths of a room,
# and between fillings of a bath. An estimate; the three add up to the shipped range.
SHARE_ROOM = Figure(0.5, 0.3, 0.7, "share", Standing.ESTIMATE, "how far rooms differ, of all of it; a guess")
SHARE_BATH = Figure(0.3, 0.2, 0.4, "share", Standing.ESTIMATE, "how far baths of one room differ, of all of it; a guess")
SHARE_FILLING = 1 - SHARE_ROOM.value - SHARE_BATH.value

LEAST_VARIANCE = 0.02
_TURNS = 60
_WHOLE_STEPS = 20
_LONGEST_STEP = 1.5
_CLOSE = 1e-6


@dataclass(frozen=True, slots=True)
class Ahead:
    """How the bath will stand from now on.

    Attributes
    ----------
    load : {"clean", "bone", "tissue"}
        What is in it.
    temperature_c : float
        Temperature. [degC]
    filling : int or None
        The number of the filling that is in it, if it is one of its history's.
    """

    load: Load
    temperature_c: float
    filling: int | None = None


Name: TypeAlias = tuple[str, object, object]
_WARMTH: Name = ("warmth", None, None)
# A logarithm of a strength that has sunk below what numbers can hold.
NOTHING_W = 1e-300


class Unknowns:
    """Where each unknown of a history stands in the vector, and what is believed of it before any test.

    Parameters
    ----------
    events : sequence of Event
        What happened to the bath.
    room : mapping of str to Leaning
        What the room's other baths say of the loads.
    ahead : Ahead
        How the bath will stand.
    """

    def __init__(self, events: Sequence[Event], room: Mapping[Load, Leaning], ahead: Ahead) -> None:
        self.events = events
        self.ahead = ahead
        sections = [(place, event) for place, event in enumerate(events) if isinstance(event, Section)]
        used = {section.load for _, section in sections} | {ahead.load}
        loads = [load for load in LOADS if load in used]
        fillings = [filling_of(place, section) for place, section in sections]
        going_on: Name = (ahead.load, "filling", ahead.filling)
        self.filling_ahead = going_on if ahead.filling is not None and going_on in fillings else (ahead.load, "filling", "ahead")
        mixes: list[Name] = [("poured", p, None) for p, e in enumerate(events) if isinstance(e, Poured) and e.strength_w > 0]
        of_loads: list[Name] = [(load, "bath", None) for load in loads]
        others = [_WARMTH, *mixes, *dict.fromkeys([*fillings, self.filling_ahead])]
        self.at = {name: place for place, name in enumerate([*of_loads, *others])}
        beliefs = [room.get(load, SHIPPED) for load in loads]
        self.loads = tuple(loads)
        self.middle = [belief.middle for belief in beliefs] + [0.0] * len(others)
        # A leaning is told for one filling of a bath; the filling's own part of the spread is an unknown by itself here.
        variances = [max(belief.spread**2 - SHARE_FILLING, LEAST_VARIANCE) for belief in beliefs] + [1.0] * len(others)
        self.covariance = [[v if i == j else 0.0 for j in range(len(variances))] for i, v in enumerate(variances)]

    def log_k(self, z: Sequence[float], load: Load, filling: Name, temperature_c: float) -> float:
        """Logarithm of the rate of one filling. [1/day]"""
        place = z[self.at[load, "bath", None]] + math.sqrt(SHARE_FILLING) * z[self.at[filling]]
        return log_at(K20[load], place) + math.log(warmth_factor(temperature_c, z[self.at[_WARMTH]]))

    def log_k_ahead(self, z: Sequence[float]) -> float:
        """Logarithm of the rate from now on. [1/day]"""
        return self.log_k(z, self.ahead.load, self.filling_ahead, self.ahead.temperature_c)

    def walked(self, z: Sequence[float]) -> Walked:
        """Follow the history with these unknowns."""

        def lost(place: int, section: Section) -> float:
            log_k = self.log_k(z, section.load, filling_of(place, section), section.usable_c)
            return section.days * math.exp(min(log_k, 50.0))

        def poured(place: int, event: Poured) -> float:
            return (
                event.strength_w * math.exp(z[self.at["poured", place, None]] / Z90 * math.log1p(event.off))
                if event.strength_w
                else 0.0
            )

        return walk(self.events, lost, poured)


def filling_of(place: int, section: Section) -> Name:
    """Name the filling that a section of a history belongs to.

    Parameters
    ----------
    place : int
        Its place in the list.
    section : Section
        The section.

    Returns
    -------
    tuple
        A name; sections of one filling share it.
    """
    return (section.load, "filling", ("place", place) if section.filling is None else section.filling)


def log_tests(walked: Walked) -> list[float]:
    """Logarithms of the strengths a walk passes at its tests.

    Parameters
    ----------
    walked : Walked
        The walk.

    Returns
    -------
    list of float, shape (tests,)
        Natural logarithms of mass fractions.
    """
    return [math.log(max(w, NOTHING_W)) for w in walked.at_tests_w]


def moved_by_tests(unknowns: Unknowns, tests: Sequence[Tested], spreads: Sequence[float]) -> tuple[list[float], list[list[float]]]:
    """Move the unknowns by what the tests say.

    Parameters
    ----------
    unknowns : Unknowns
        What is believed before.
    tests : sequence of Tested, shape (n,)
        The tests in the history, in order.
    spreads : sequence of float, shape (n,)
        Standard deviation of the logarithm of each.

    Returns
    -------
    tuple of list, shapes (m,) and (m, m)
        The most likely unknowns and their covariance.

    Notes
    -----
    Iterated Kalman updates, one test after the other: the Gauss-Newton way to the most likely point.

    References
    ----------
    .. [1] Bell B.M., Cathey F.W. 1993. IEEE Trans. Automatic Control 38:294-297; from memory.
    """
    z = list(unknowns.middle)
    covariance = unknowns.covariance
    for turn in range(_TURNS if tests else 0):
        expected = log_tests(unknowns.walked(z))
        slopes = _slopes(unknowns, z, len(tests))
        middle, covariance = list(unknowns.middle), unknowns.covariance
        for test, spread, at, slope in zip(tests, spreads, expected, slopes, strict=True):
            # What the test says, carried back along the tangent to the place where this turn began.
            said_at = test.log_middle - at + math.fsum(s * (old - m) for s, old, m in zip(slope, z, middle, strict=True))
            middle, covariance = _one_test(middle, covariance, slope, (said_at, spread))
        step = max(abs(new - old) for new, old in zip(middle, z, strict=True))
        # A loss is exponential in its unknown, so a long leap along the tangent overshoots wildly; and the two sides of a rate's
        # range meet in a kink, where half steps settle what would hop across it.
        share = min(1.0 if turn < _WHOLE_STEPS else 0.5, _LONGEST_STEP / max(step, _CLOSE))
        z = [old + share * (new - old) for new, old in zip(middle, z, strict=True)]
        if step < _CLOSE:
            break
    return z, covariance


def _slopes(unknowns: Unknowns, z: Sequence[float], tests: int) -> list[list[float]]:
    """How each test's expected logarithm moves with each unknown, shape (tests, unknowns)."""
    columns = []
    for place in range(len(z)):
        less, more = list(z), list(z)
        less[place] -= STEP
        more[place] += STEP
        pair = zip(log_tests(unknowns.walked(less)), log_tests(unknowns.walked(more)), strict=True)
        columns.append([(high - low) / (2 * STEP) for low, high in pair])
    return [[column[test] for column in columns] for test in range(tests)]


def _one_test(
    middle: list[float], covariance: list[list[float]], slope: list[float], test: tuple[float, float]
) -> tuple[list[float], list[list[float]]]:
    residual, spread = test
    lean = [math.fsum(c * s for c, s in zip(row, slope, strict=True)) for row in covariance]
    total = math.fsum(a * s for a, s in zip(lean, slope, strict=True)) + spread**2
    moved = [m + a * residual / total for m, a in zip(middle, lean, strict=True)]
    narrowed = [[c - a * b / total for c, b in zip(row, lean, strict=True)] for row, a in zip(covariance, lean, strict=True)]
    return moved, narrowed
