"""How warm a bath really gets, its peroxide used up as it goes, and what to say of it by the whole range of its figures."""

from dataclasses import dataclass
from itertools import product
from typing import Literal

from bonebench.figures import Figure, weakest
from bonebench.said import Said, said
from bonebench.science.baths.decay import Q10, REFERENCE_C
from bonebench.science.baths.reaction import HEAT_CAPACITY, heat_rise_k
from bonebench.science.baths.runaway import BOILING_C, DAY_S, VERDICTS, WARN_C, SelfHeating, WarmBath, heat_w, judge

# Following a bath: a step is this share of the shortest time anything takes; stop when less than so much is still to come.
STEP_SHARE = 0.05
NEAR_K = 1e-4
NOTHING_K = 1e-6
LONGEST_DAYS = 60.0

Level = Literal["quiet", "look", "act"]

LEAVES_OUT: tuple[Said, ...] = (
    said("runaway.out.catalyst", "blood, tissue, rust, metal or dust that comes in later can make it a hundred times faster"),
    said("runaway.out.foam", "foam that lifts the bath over its brim, and steam and oxygen that carry heat away"),
    said("runaway.out.spots", "hot spots: the bath is taken as one temperature, as if stirred"),
    said("runaway.out.acid", "that the rate itself changes as the bath turns less sour or its stabiliser is used up"),
)


@dataclass(frozen=True, slots=True)
class Followed:
    """A bath followed until it is at its warmest, its peroxide used up as it goes.

    Attributes
    ----------
    peak_c : float
        The warmest it gets, boiling at most. [degC]
    peak_after_days : float
        When. [days]
    left_w : float
        Mass fraction then. [kg/kg]
    warm_after_days, boils_after_days : float or None
        When it passes 30 degC and when it boils, if it does. [days]
    """

    peak_c: float
    peak_after_days: float
    left_w: float
    warm_after_days: float | None
    boils_after_days: float | None


def follow(bath: WarmBath) -> Followed:
    """Follow a bath until it is at its warmest, its peroxide used up as it goes.

    Parameters
    ----------
    bath : WarmBath
        The bath, as warm as it begins.

    Returns
    -------
    Followed
        How warm, when, and how much peroxide is left then.

    Notes
    -----
    ``C dT/dt = m w H k(T) - L (T - Ta)`` and ``dw/dt = -k(T) w`` by Runge and Kutta's fourth order. At boiling it stops: from there
    on steam carries the heat away and the bath foams over. After `LONGEST_DAYS` it stops too.
    """
    t, at_c, left = 0.0, bath.start_c, bath.strength_w
    warm = 0.0 if at_c >= WARN_C else None
    rise_now, _ = _slopes(bath, at_c, left)
    while rise_now * bath.heat_j_per_k > bath.loss_w_per_k * NEAR_K and t < LONGEST_DAYS * DAY_S:
        step = _step_s(bath, at_c, left)
        next_c, next_left = _moved(bath, at_c, left, step)
        for mark in (WARN_C, BOILING_C):
            if at_c < mark <= next_c:
                part = _part_to(bath, mark, at_c, left, step)
                passed = (t + part) / DAY_S
                if mark == BOILING_C:
                    return Followed(BOILING_C, passed, _moved(bath, at_c, left, part)[1], warm, passed)
                warm = passed
        if heat_rise_k(next_left) < NOTHING_K:
            # What is left warms nothing any more, and following it would take ever so many steps.
            next_left = 0.0
        rise_next, _ = _slopes(bath, next_c, next_left)
        if rise_next < 0:
            # It turned within this step: where a slope that falls evenly is level.
            share = rise_now / (rise_now - rise_next)
            peak_c = at_c + rise_now * step * share / 2
            return Followed(peak_c, (t + step * share) / DAY_S, left + (next_left - left) * share, warm, None)
        t, at_c, left, rise_now = t + step, next_c, next_left, rise_next
    return Followed(at_c, t / DAY_S, left, warm, None)


def _part_to(bath: WarmBath, mark_c: float, at_c: float, left_w: float, step_s: float) -> float:
    """How much of a step brings it to a mark, by halving: a straight line between its ends comes too soon on a hollow curve."""
    low, high = 0.0, step_s
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if _moved(bath, at_c, left_w, middle)[0] < mark_c else (low, middle)
    return high


def _slopes(bath: WarmBath, at_c: float, left_w: float) -> tuple[float, float]:
    """How fast it warms and its peroxide goes. [K/s], [1/s]"""
    made = heat_w(bath.mass_kg, left_w, bath.rate20_per_day, at_c, bath.q10)
    rate = bath.rate20_per_day / DAY_S * bath.q10 ** ((at_c - REFERENCE_C) / 10)
    return (made - bath.loss_w_per_k * (at_c - bath.air_c)) / bath.heat_j_per_k, -rate * left_w


def _step_s(bath: WarmBath, at_c: float, left_w: float) -> float:
    """A share of the shortest of three times: heat leaving, heat feeding on itself, peroxide going."""
    made = heat_w(bath.mass_kg, left_w, bath.rate20_per_day, at_c, bath.q10)
    rate = bath.rate20_per_day / DAY_S * bath.q10 ** ((at_c - REFERENCE_C) / 10)
    going = rate if left_w else 0.0
    fastest: float = max(bath.loss_w_per_k / bath.heat_j_per_k, made * bath.b_per_k / bath.heat_j_per_k, going)
    return STEP_SHARE / fastest


def _moved(bath: WarmBath, at_c: float, left_w: float, step_s: float) -> tuple[float, float]:
    t1, w1 = _slopes(bath, at_c, left_w)
    t2, w2 = _slopes(bath, at_c + t1 * step_s / 2, left_w + w1 * step_s / 2)
    t3, w3 = _slopes(bath, at_c + t2 * step_s / 2, left_w + w2 * step_s / 2)
    t4, w4 = _slopes(bath, at_c + t3 * step_s, left_w + w3 * step_s)
    return at_c + step_s * (t1 + 2 * t2 + 2 * t3 + t4) / 6, left_w + step_s * (w1 + 2 * w2 + 2 * w3 + w4) / 6


@dataclass(frozen=True, slots=True)
class HeatWarning:
    """What to tell someone about a bath's own heat.

    Attributes
    ----------
    level : {"quiet", "look", "act"}
        Stays below 30 degC and settles even at its fastest; only by its usual figures; or not even by these.
    usual, fastest : SelfHeating
        By the middles of its figures, and by the ends that warm it most.
    peak_c : Figure
        How warm it gets, its peroxide used up as it goes. [degC]
    warm_after_days : float or None
        Soonest it passes 30 degC, by the ends that warm it most. [days]
    may_boil : bool
        Whether it boils by these ends.
    what, do : Said
        In words.
    leaves_out : tuple of Said
        What none of it can see.
    """

    level: Level
    usual: SelfHeating
    fastest: SelfHeating
    peak_c: Figure
    warm_after_days: float | None
    may_boil: bool
    what: Said
    do: Said
    leaves_out: tuple[Said, ...] = LEAVES_OUT


def heat_warning(
    *, mass_kg: float, strength_w: float, rate20: Figure, loss: Figure, air_c: float, bath_c: float | None = None
) -> HeatWarning:
    """Judge a bath by the whole range of its figures, and say what to do.

    Parameters
    ----------
    mass_kg, strength_w, air_c, bath_c
        As in `WarmBath`.
    rate20 : Figure
        First-order rate at 20 degC, as in `decay.K20`. [1/day]
    loss : Figure
        Heat that leaves for each degree above the air, above 0. [W/K]

    Returns
    -------
    HeatWarning
        How loud, how warm, how soon, and words.

    Raises
    ------
    OutsideRange
        If a value lies outside its range.

    Notes
    -----
    The ends are those of rate, loss, `Q10` and heat capacity together: below 20 degC a low Q10 is the faster one, so every corner
    is tried. A weak bath may run away by Semenov's rule and yet use its peroxide up before it is warm; it is still told to be
    looked at, for a top-up gives it new peroxide.
    """

    def bath(rate: float, lost: float, q10: float, capacity: float) -> WarmBath:
        return WarmBath(mass_kg=mass_kg, strength_w=strength_w, rate20_per_day=rate, loss_w_per_k=lost, air_c=air_c, q10=q10,
                        bath_c=bath_c, capacity=capacity)  # fmt: skip

    middle = bath(rate20.value, loss.value, Q10.value, HEAT_CAPACITY.value)
    corners = [bath(*ends) for ends in product(*((f.low, f.high) for f in (rate20, loss, Q10, HEAT_CAPACITY)))]
    usual, judged = judge(middle), [judge(corner) for corner in corners]
    fastest = max(judged, key=lambda found: (VERDICTS.index(found.verdict), found.settles_c or 0.0, found.heat_w))
    ran, runs = follow(middle), [follow(corner) for corner in corners]
    peaks = [run.peak_c for run in (ran, *runs)]
    warm = [run.warm_after_days for run in runs if run.warm_after_days is not None]
    standing = weakest(figure.standing for figure in (rate20, loss, Q10, HEAT_CAPACITY))
    peak = Figure(ran.peak_c, min(peaks), max(peaks), "degC", standing, f"heat of decay less loss; {rate20.source}")
    level: Level = "quiet" if fastest.verdict == "settles" and peak.high <= WARN_C else "look" if peak.value <= WARN_C else "act"
    soonest = min(warm, default=None)
    may_boil = any(run.boils_after_days is not None for run in runs)
    what, do = _words(level, peak, soonest, may_boil=may_boil)
    return HeatWarning(level, usual, fastest, peak, soonest, may_boil, what, do)


def _words(level: Level, peak: Figure, soonest: float | None, *, may_boil: bool) -> tuple[Said, Said]:
    if level == "quiet":
        return (
            said("runaway.quiet", "by these figures it gets no warmer than {high:temperature}; not checked in your room",
                 high=peak.high),
            said("runaway.quiet.do", "look at it after an hour and the next day all the same; never close it"),
        )  # fmt: skip
    far = "until it boils" if may_boil else "up to {high:temperature}"
    soon = "" if soonest is None else ", past 30 °C after {soonest:days} at the soonest"
    values = ({} if may_boil else {"high": peak.high}) | ({} if soonest is None else {"soonest": soonest})
    if level == "look":
        return (
            said("runaway.look", f"at its fastest it warms itself {far}{soon}; not checked in your room", **values),
            said("runaway.look.do", "put a thermometer in and look before then; nothing but clean, degreased bone goes in; "
                 "never close it; above 30 °C everything comes out"),
        )  # fmt: skip
    return (
        said("runaway.act", f"by its usual figures it reaches {{usual:temperature}}; at its fastest it warms itself {far}{soon}",
             usual=peak.value, **values),
        said("runaway.act.do", "do not make this bath: make it weaker, or clean first what goes in. If it stands already and "
             "warms, never close it, keep away from foam and steam, thin it with much cold water if that can be done from a "
             "distance, and call for help if it goes on"),
    )  # fmt: skip
