"""A bath's strength now, from its history and its tests, and what a room's tests say about how fast its baths decay."""

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bonebench.figures import Figure, Standing, weakest
from bonebench.said import Said, said
from bonebench.science.baths.decay import (
    FLOOR_W,
    K20,
    LOADS,
    Leaning,
    Load,
    check_floor,
    half_life_days,
    look_by_days,
)
from bonebench.science.baths.history import MIX_OFF, TRACE_W, Event, Poured, Section, Tested, Walked, check_events
from bonebench.science.baths.reaction import oxygen_l
from bonebench.science.baths.spread import ends
from bonebench.science.baths.unknowns import (
    NOTHING_W,
    SHARE_BATH,
    SHARE_FILLING,
    SHARE_ROOM,
    Ahead,
    Unknowns,
    moved_by_tests,
)

# A test that lies further from the rest than this, in its own standard deviations, is flagged.
ODD = 2.5
# A test that shows this many standard deviations more than the one before, with no peroxide added, rises ...
RISES = 2.0
# ... and then both are believed this many times less.
DOUBT = 3.0
# A rate further out than this is outside what nineteen in twenty baths do by the shipped range.
FAR = 2.0
# A test that narrows a rate by less than this share says nothing about it.
_WORTH_TELLING = 0.01


@dataclass(frozen=True, slots=True)
class RateSeen:
    """What one bath's tests say about the rate of one load, with the shipped range taken out again.

    Attributes
    ----------
    middle : float
        Where they put it. [standard deviations of the shipped range]
    variance : float
        How sure they are. [the same, squared]
    tests : int
        Tests that stand behind it.
    """

    middle: float
    variance: float
    tests: int


@dataclass(frozen=True, slots=True)
class BathNow:
    """A bath now, by its history and tests.

    Attributes
    ----------
    strength_w : Figure
        Mass fraction, one in ten below and above its ends. [w/w]
    rate : Figure
        Rate of loss from now on. [1/day]
    half_life_days, days_to_floor : Figure
        From now on. [days]
    oxygen_l_per_day : Figure
        Within the next day. [L/day]
    look_by_days : float
        Test it within so many days. [days]
    mass_kg : float
        Mass of the bath. [kg]
    tests : int
        Tests in its history.
    days_since_test : float or None
        Days since the last; None where it rests on age and load alone. [days]
    seen : mapping of str to RateSeen
        What its tests say about the loads it had, for `room_leaning`.
    flags : tuple of Said
        What does not fit, in words.
    usual : Walked
        The walk at the middle of what is believed: what was put in, decayed, taken, left.
    """

    strength_w: Figure
    rate: Figure
    half_life_days: Figure
    days_to_floor: Figure
    oxygen_l_per_day: Figure
    look_by_days: float
    mass_kg: float
    tests: int
    days_since_test: float | None
    seen: Mapping[Load, RateSeen]
    flags: tuple[Said, ...]
    usual: Walked


def strength_now(
    events: Sequence[Event], ahead: Ahead, *, room: Mapping[Load, Leaning] | None = None, floor_w: float = FLOOR_W.value
) -> BathNow:
    """Strength of a bath at the end of its history, and how it goes on.

    Parameters
    ----------
    events : sequence of Event
        What happened, in order; the first is what made it.
    ahead : Ahead
        How it stands from now on.
    room : mapping of str to Leaning, optional
        What the room's other baths say, from `room_leaning`; left out, the shipped ranges.
    floor_w : float, optional
        Mass fraction below which it is no use. [kg/kg]

    Returns
    -------
    BathNow
        Strength with its range, rate, days to the floor, what it rests on and what does not fit.

    Raises
    ------
    Impossible
        If the history does not begin with a bath being made.
    OutsideRange
        If the temperature ahead lies outside 0..50 degC, or the floor is 0.

    Notes
    -----
    For a forecast put a section at the end of the events. Middles are medians. A test pulls the strength towards what it measured
    by its precision against that of the walk, and the rates of the loads it has seen with it. Odd tests are kept, believed less
    where they rise with nothing added, and always flagged. Without tests and with one section the range is that of the shipped
    rate and the mix.
    """
    check_events(events)
    check_floor(floor_w)
    unknowns = Unknowns(events, room or {}, ahead)
    tests = [event for event in events if isinstance(event, Tested)]
    spreads, flags = _rising(events)
    moved = moved_by_tests(unknowns, tests, spreads)
    calm = [test.log_spread == spread for test, spread in zip(tests, spreads, strict=True)]
    flags += _out_of_line(tests, calm, unknowns.walked(moved[0])) + _far(unknowns, moved[0]) + _outside(events)
    return _told(unknowns, moved, floor_w, flags)


Log = Callable[[Sequence[float]], float]


@dataclass(frozen=True, slots=True)
class _Belief:
    """The unknowns once the tests are seen, and what the figures from them may say of themselves."""

    unknowns: Unknowns
    z: list[float]
    covariance: list[list[float]]
    standing: Standing
    source: str

    def figure(self, log_of: Log, unit: str) -> Figure:
        """Return what lies at the middle of a logarithm, and one in ten below and above."""
        value = math.exp(log_of(self.z))
        low, high = ends(log_of, self.z, self.covariance)
        return Figure(value, min(math.exp(low), value), max(math.exp(high), value), unit, self.standing, self.source)

    def log_strength(self, z: Sequence[float]) -> float:
        return math.log(max(self.unknowns.walked(z).strength_w, NOTHING_W))

    def to_floor(self, floor_w: float) -> Figure:
        """Days until the floor; below 0 is there already."""

        def days(z: Sequence[float]) -> float:
            return (self.log_strength(z) - math.log(floor_w)) * math.exp(-self.unknowns.log_k_ahead(z))

        value, (low, high) = days(self.z), ends(days, self.z, self.covariance)
        return Figure(max(value, 0.0), max(min(low, value), 0.0), max(high, value, 0.0), "days", self.standing, self.source)

    def oxygen(self, mass_kg: float) -> Figure:
        """Oxygen within the next day."""
        log_whole = math.log(oxygen_l(0.01, mass_kg) / 0.01)

        def log_litres(z: Sequence[float]) -> float:
            return self.log_strength(z) + math.log(-math.expm1(-math.exp(self.unknowns.log_k_ahead(z)))) + log_whole

        return self.figure(log_litres, "L/day")


def _belief(
    unknowns: Unknowns, moved: tuple[list[float], list[list[float]]], seen: Collection[Load], loads: Collection[Load]
) -> _Belief:
    """What is believed, and how well it is known if it rests on these loads."""
    tests = sum(isinstance(event, Tested) for event in unknowns.events)
    unseen = [load for load in LOADS if load in loads and load not in seen]
    sources = [f"tests of this bath: {tests}"] if tests else ["age and load alone"]
    standings = [Standing.ROOM if tests else MIX_OFF.standing]
    sources += [K20[load].source for load in unseen]
    standings += [K20[load].standing for load in unseen]
    return _Belief(unknowns, *moved, weakest(standings), "; ".join(sources))


def _loads_since_test(events: Sequence[Event]) -> set[Load]:
    """What was in the bath since its last test, or ever."""
    last = max((n for n, event in enumerate(events) if isinstance(event, Tested)), default=0)
    return {event.load for event in events[last:] if isinstance(event, Section) and event.days > 0}


def _told(unknowns: Unknowns, moved: tuple[list[float], list[list[float]]], floor_w: float, flags: list[Said]) -> BathNow:
    seen = _seen(unknowns, moved)
    since = _loads_since_test(unknowns.events)
    now = _belief(unknowns, moved, seen, since)
    ahead = _belief(unknowns, moved, seen, since | {unknowns.ahead.load})
    walked = unknowns.walked(moved[0])
    rate, to_floor = ahead.figure(unknowns.log_k_ahead, "1/day"), ahead.to_floor(floor_w)
    strength = now.figure(now.log_strength, "w/w")
    if strength.high < TRACE_W:
        # The rate with tissue holds while there is tissue; reckoning alone must never say that a bath has nothing left.
        strength = replace(strength, high=TRACE_W)
        flags.append(
            said("bath.reckoned_flat", "by its age next to nothing is left in it, but nobody knows: test it before it is touched")
        )
    return BathNow(
        strength_w=strength,
        rate=rate,
        half_life_days=half_life_days(rate),
        days_to_floor=to_floor,
        oxygen_l_per_day=ahead.oxygen(walked.mass_kg),
        look_by_days=look_by_days(to_floor),
        mass_kg=walked.mass_kg,
        tests=len(walked.at_tests_w),
        days_since_test=_days_since_test(unknowns.events),
        seen=seen,
        flags=tuple(flags),
        usual=walked,
    )


def _days_since_test(events: Sequence[Event]) -> float | None:
    days = 0.0
    for event in reversed(events):
        if isinstance(event, Tested):
            return days
        days += event.days if isinstance(event, Section) else 0.0
    return None


def _seen(unknowns: Unknowns, moved: tuple[list[float], list[list[float]]]) -> dict[Load, RateSeen]:
    """What the tests alone say of each load: the posterior with the prior divided out again."""
    z, covariance = moved
    result: dict[Load, RateSeen] = {}
    for load in unknowns.loads:
        place = unknowns.at[load, "bath", None]
        before, after = unknowns.covariance[place][place], covariance[place][place]
        weight = 1 / after - 1 / before
        if weight > _WORTH_TELLING / before:
            middle = (z[place] / after - unknowns.middle[place] / before) / weight
            result[load] = RateSeen(middle, 1 / weight, _tests_with(load, unknowns.events))
    return result


def _tests_with(load: Load, events: Sequence[Event]) -> int:
    """How many tests come after a section with this load."""
    first = next((n for n, event in enumerate(events) if isinstance(event, Section) and event.load == load), len(events))
    return sum(isinstance(event, Tested) for event in events[first:])


def room_leaning(seen: Sequence[RateSeen]) -> Leaning:
    """What a room's baths say about the rate of one load, for the next bath.

    Parameters
    ----------
    seen : sequence of RateSeen
        What each bath's own tests say, worked out with the shipped range (``strength_now`` without ``room``); for a bath that is
        to be worked out itself, those of the others.

    Returns
    -------
    Leaning
        Where the rate lies in the shipped range, and how wide it is for one filling of a bath not yet tested.

    Notes
    -----
    Normal with a normal prior: the room's own part of the range is learned, the parts of baths and of fillings stay. So the range
    never shrinks below what baths of one room differ.

    References
    ----------
    .. [1] Gelman et al., Bayesian Data Analysis (3rd ed.), section 5.4, hierarchical normal model; from memory.
    """
    share_room, share_bath = SHARE_ROOM.value, SHARE_BATH.value
    weights = [1 / (one.variance + share_bath) for one in seen]
    weight = 1 / share_room + math.fsum(weights)
    middle = math.fsum(w * one.middle for w, one in zip(weights, seen, strict=True)) / weight
    return Leaning(middle, math.sqrt(1 / weight + share_bath + SHARE_FILLING), sum(one.tests for one in seen))


def _rising(events: Sequence[Event]) -> tuple[list[float], list[Said]]:
    """Spreads of the tests, wider where two of them rise with nothing added; and the flags for these."""
    tests = [(place, event) for place, event in enumerate(events) if isinstance(event, Tested)]
    spreads = [test.log_spread for _, test in tests]
    doubted, flags = set(), []
    for n, ((before, first), (after, second)) in enumerate(pairwise(tests)):
        added = any(isinstance(event, Poured) and event.strength_w > 0 for event in events[before:after])
        rise = second.log_middle - first.log_middle
        if not added and rise > RISES * math.hypot(first.log_spread, second.log_spread):
            doubted |= {n, n + 1}
            flags.append(
                said(
                    "bath.rising",
                    "a test says {second:strength} after one that said {first:strength}, and no peroxide was added between them: "
                    "both count less; test again, and ask whether something was added or much water dried off",
                    first=first.strength_w,
                    second=second.strength_w,
                )
            )
    return [spread * (DOUBT if n in doubted else 1.0) for n, spread in enumerate(spreads)], flags


def _out_of_line(tests: Sequence[Tested], calm: Sequence[bool], walked: Walked) -> list[Said]:
    """Tests that lie far from what all of them together say, but for those that are flagged as rising already."""
    return [
        said(
            "bath.odd_test",
            "a test says {tested:strength} where all the rest says about {expected:strength}: it counts, but test again",
            tested=test.strength_w,
            expected=expected,
        )
        for test, alone, expected in zip(tests, calm, walked.at_tests_w, strict=True)
        if alone and abs(test.log_middle - math.log(max(expected, NOTHING_W))) > ODD * test.log_spread
    ]


def _far(unknowns: Unknowns, z: Sequence[float]) -> list[Said]:
    """Loads whose rate came out far from what is usual."""
    flags = []
    for load in unknowns.loads:
        at = z[unknowns.at[load, "bath", None]]
        if abs(at) > FAR:
            flags.append(
                said(
                    "bath.fast" if at > 0 else "bath.slow",
                    "this bath loses its strength much {way} than baths with {load} do: {look}",
                    way="faster" if at > 0 else "more slowly",
                    load={"clean": "nothing in them", "bone": "clean bone", "tissue": "tissue left"}[load],
                    look="look for metal, tissue, dirt or sun on it" if at > 0 else "check the tests and what was in it",
                )
            )
    return flags


def _outside(events: Sequence[Event]) -> list[Said]:
    """Temperatures that the rule does not cover; the nearer end was used."""
    return [
        said(
            "bath.section_temperature",
            "the bath is said to have stood at {temperature:temperature}; reckoned as {used:temperature}, where the rule ends",
            temperature=event.temperature_c,
            used=event.usable_c,
        )
        for event in events
        if isinstance(event, Section) and event.usable_c != event.temperature_c
    ]
