"""What to set, month by month: how many holes to leave open, and whether a heater and its heat stores are enough."""

from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.blackout import blackout
from bonebench.science.enclosure.box import Box, Store
from bonebench.science.enclosure.months import Period
from bonebench.science.enclosure.simulate import Around, simulate

CO2_MOST_PPM = 5000.0  # occupational limit over eight hours # from memory; no figure for beetles was found
SAME_SHARE = 0.02  # hours outside the band that differ by less than this share of a month are a tie
SAME_KWH = 0.05  # and so is energy within this share
ACHIEVED_SHARE = 0.1
# Carbon dioxide of insects by the heat they give: 20 kJ for each litre of oxygen, 0.8 of it given back.
CO2_KG_J = Figure(7.3e-8, 6.5e-8, 8.5e-8, "kg/J", Standing.MEMORY, "20-21 kJ a litre of oxygen, respiratory quotient 0.7-0.9")


@dataclass(frozen=True, slots=True)
class Choice:
    """What to leave open in a month.

    Attributes
    ----------
    month, holes : int
        Month, and how many holes stay open.
    period : Period
        What the box does then.
    others : mapping of int to Period
        Every count that was tried.
    achieved : bool
        Whether at least nine tenths of the hours lie in the band.
    because : str
        What is in the way where it is not: ``wet outside``, ``hot outside``, ``fight``, ``weak heater``, ``too dry``, ``too wet``,
        ``stale``; empty where it is achieved.
    fan_on_rh : float or None
        Where the fan is to turn on, if its set point may move. [1]
    """

    month: int
    holes: int
    period: Period
    others: Mapping[int, Period]
    achieved: bool
    because: str
    fan_on_rh: float | None = None


def opened(box: Box, count: int) -> Box:
    """Leave so many of a box's holes open, lowest group first, one of each group in turn.

    Parameters
    ----------
    box : Box
        Its groups tell how many holes there are.
    count : int
        How many to open, 0 to all.

    Returns
    -------
    Box
        The rest is taped.

    Raises
    ------
    OutsideRange
        If it has not so many.
    """
    groups = sorted(box.holes, key=lambda group: group.height_m)
    if not 0 <= count <= sum(group.count for group in groups):
        raise OutsideRange(
            "advice.holes", "this box has {all} holes; {n} cannot be open", all=sum(g.count for g in groups), n=count
        )
    left, open_now = count, [0] * len(groups)
    while left:
        for n, group in enumerate(groups):
            if left and open_now[n] < group.count:
                open_now[n] += 1
                left -= 1
    return replace(box, holes=tuple(replace(group, count=n) for group, n in zip(groups, open_now, strict=True)))


def breathing(around: Around) -> Around:
    """Add the carbon dioxide that goes with the heat of the colony."""
    return replace(around, co2_kg_s=around.heat_w * CO2_KG_J.value)


def every_count(
    box: Box, around: Around, counts: Sequence[int], *, first_hour: int = 0, step_s: float = 10.0, workers: int = 2
) -> Mapping[int, Sequence[Period]]:
    """Run a box with each count of open holes.

    Parameters
    ----------
    box : Box
        With all the holes it has.
    around : Around
        Hours.
    counts : sequence of int
        What to try.
    first_hour : int, optional
        Hour of the year of the first. [h]
    step_s : float, optional
        Step. [s]
    workers : int, optional
        Runs at a time; the loop lets go of the interpreter.

    Returns
    -------
    mapping of int to sequence of Period
        The months of each run.
    """
    air = breathing(around)

    def one(count: int) -> Sequence[Period]:
        return simulate(opened(box, count), air, step_s=step_s, first_hour=first_hour).months

    with ThreadPoolExecutor(workers) as pool:
        return dict(zip(counts, pool.map(one, counts), strict=True))


def choose(runs: Mapping[int, Sequence[Period]], box: Box) -> list[Choice]:
    """Choose for each month the count with the most hours in band; ties go to less energy, then to fewer changes.

    Parameters
    ----------
    runs : mapping of int to sequence of Period
        From `every_count`.
    box : Box
        Its band.

    Returns
    -------
    list of Choice
        In the order of the months.
    """
    chosen: list[Choice] = []
    months = next(iter(runs.values()))
    for place in range(len(months)):
        each = {count: periods[place] for count, periods in runs.items()}
        fresh = {count: p for count, p in each.items() if p.co2_max_ppm <= CO2_MOST_PPM} or each
        best = min(p.hours_outside_band for p in fresh.values())
        tied = {n: p for n, p in fresh.items() if p.hours_outside_band <= best + SAME_SHARE * p.hours}
        least = min(p.heater_kwh + p.fan_kwh for p in tied.values())
        cheap = {n: p for n, p in tied.items() if p.heater_kwh + p.fan_kwh <= least * (1 + SAME_KWH) + 0.05}
        before = chosen[-1].holes if chosen else min(cheap)
        count = min(cheap, key=lambda n: (abs(n - before), n))
        period = each[count]
        achieved = period.hours_outside_band <= ACHIEVED_SHARE * period.hours
        chosen.append(Choice(period.month, count, period, each, achieved, "" if achieved else _because(period, box)))
    return chosen


def _because(p: Period, box: Box) -> str:
    """Say what is most in the way, the one nobody can mend first."""
    band, hours = box.band, p.hours
    if p.hours_cannot_dry > ACHIEVED_SHARE * hours:
        return "wet outside"
    if p.t_mean_c > band.high_c:
        return "hot outside"
    if p.latch_hours > ACHIEVED_SHARE * hours:
        return "fight"
    if p.t_mean_c < band.low_c:
        return "weak heater"
    if p.co2_max_ppm > CO2_MOST_PPM:
        return "stale"
    return "too dry" if p.rh_mean < (band.low_rh + band.high_rh) / 2 else "too wet"


def _months_of(around: Around, chosen: Sequence[Choice]) -> list[Around]:
    """Cut surroundings into the months that were chosen for."""
    cuts = np.cumsum([0, *(choice.period.hours for choice in chosen)])
    return [
        Around(around.t_c[a : b + 1], around.ratio[a : b + 1], around.heat_w[a:b], around.water_kg_s[a:b], around.co2_kg_s[a:b])
        for a, b in pairwise(cuts)
    ]


def _set(box: Box, choice: Choice) -> Box:
    """Set a box as a month wants it: its holes, and its fan if that may move."""
    set_now = opened(box, choice.holes)
    if choice.fan_on_rh is None or set_now.humidistat is None:
        return set_now
    gap = set_now.humidistat.on_rh - set_now.humidistat.off_rh
    return replace(set_now, humidistat=replace(set_now.humidistat, on_rh=choice.fan_on_rh, off_rh=choice.fan_on_rh - gap))


def with_fan_points(
    chosen: Sequence[Choice], box: Box, around: Around, points: Sequence[float], *, step_s: float = 10.0, workers: int = 2
) -> list[Choice]:
    """Let the fan's set point move too, month by month, each with the count that was chosen for it.

    Parameters
    ----------
    chosen : sequence of Choice
        From `choose`.
    box : Box
        With a humidistat; the gap between on and off stays.
    around : Around
        The hours they were chosen for.
    points : sequence of float
        Where the fan may turn on. [1]
    step_s, workers
        As `every_count`.

    Returns
    -------
    list of Choice
        A month's point moves only where that brings more hours into the band, or the same for less energy.

    Raises
    ------
    OutsideRange
        If the box has no humidistat to set.
    """
    if box.humidistat is None:
        raise OutsideRange("advice.no_fan", "this box has no humidistat whose set point could move")
    months = _months_of(breathing(around), chosen)

    def best(choice: Choice, month: Around) -> Choice:
        assert box.humidistat is not None
        found = replace(choice, fan_on_rh=box.humidistat.on_rh)
        for point in points:
            other = replace(choice, fan_on_rh=point)
            period = replace(simulate(_set(box, other), month, step_s=step_s).year, month=choice.month)
            if _better(period, found.period):
                achieved = period.hours_outside_band <= ACHIEVED_SHARE * period.hours
                found = replace(other, period=period, achieved=achieved, because="" if achieved else _because(period, box))
        return found

    with ThreadPoolExecutor(workers) as pool:
        return list(pool.map(best, chosen, months))


def _better(new: Period, old: Period) -> bool:
    """Clearly fewer hours outside the band, or hardly more for clearly less energy."""
    fewer = old.hours_outside_band - new.hours_outside_band
    if abs(fewer) > SAME_SHARE * old.hours:
        return fewer > 0
    return new.heater_kwh + new.fan_kwh < (old.heater_kwh + old.fan_kwh) * (1 - SAME_KWH)


def margins(
    chosen: Sequence[Choice], box: Box, years: Sequence[Around], *, step_s: float = 10.0, workers: int = 2
) -> list[tuple[float, float]]:
    """How many hours lie outside the band in other years, if each month keeps what was chosen for it.

    Parameters
    ----------
    chosen : sequence of Choice
        One for each month of the years, in their order.
    box : Box
        With all its holes.
    years : sequence of Around
        Warmer, colder, wetter, drier years of the same months.
    step_s, workers
        As `every_count`.

    Returns
    -------
    list of tuple of float
        Fewest and most hours of each month. [h]
    """

    def one(around: Around) -> list[float]:
        months = _months_of(breathing(around), chosen)
        return [
            simulate(_set(box, choice), month, step_s=step_s).year.hours_outside_band
            for choice, month in zip(chosen, months, strict=True)
        ]

    with ThreadPoolExecutor(workers) as pool:
        every = list(pool.map(one, years))
    return [(min(hours), max(hours)) for hours in zip(*every, strict=True)]


@dataclass(frozen=True, slots=True)
class Sized:
    """A heater and a heat store tried together: how the box holds, and how long without power.

    Attributes
    ----------
    watts, pavers_kg : float
        What was tried. [W], [kg]
    t_min_c, heater_share, starts_per_day : float
        In the coldest days. [degC], [1]
    hold_h : float or None
        Hours without power until the air is below ``HOLD_TO_C``; None if it does not fall so far in two days. [h]
    enough : bool
        Whether it holds the band with a tenth of its power to spare and keeps warm long enough.
    """

    watts: float
    pavers_kg: float
    t_min_c: float
    heater_share: float
    starts_per_day: float
    hold_h: float | None
    enough: bool


HOLD_TO_C = 15.0
MOST_SHARE = 0.9


def coldest(around: Around, days: int = 14) -> Around:
    """Return the coldest stretch of so many days.

    Parameters
    ----------
    around : Around
        Hours.
    days : int, optional
        How many; all there are if fewer.

    Returns
    -------
    Around
        That stretch.
    """
    hours = len(around.heat_w)
    span = min(24 * days, hours)
    sums = np.concatenate([[0.0], np.cumsum(around.t_c[:-1])])
    begin = int(np.argmin(sums[span:] - sums[: hours - span + 1]))
    part, edge = slice(begin, begin + span), slice(begin, begin + span + 1)
    return Around(around.t_c[edge], around.ratio[edge], around.heat_w[part], around.water_kg_s[part], around.co2_kg_s[part])


def size_grid(
    box: Box, around: Around, *, watts: Sequence[float], pavers_kg: Sequence[float], hold_h: float,
    told: Callable[[int, int], bool] = lambda _done, _all: True,
) -> list[Sized]:  # fmt: skip
    """Try heaters and pavers in the coldest fortnight and in a power cut at its coldest hour.

    Parameters
    ----------
    box : Box
        With a heater; its pavers are replaced.
    around : Around
        Hours.
    watts, pavers_kg : sequence of float
        What to try. [W], [kg]
    hold_h : float
        Hours it is to stay above `HOLD_TO_C` without power. [h]
    told : callable, optional
        Asked after each with how many are done and how many there are; False stops.

    Returns
    -------
    list of Sized
        As far as it came, the smallest heater first, each with the least mass first.

    Raises
    ------
    OutsideRange
        If the box has no heater to replace.
    """
    if box.heater is None:
        raise OutsideRange("size.heater", "this box has no heater: describe [heater] first")
    cold = coldest(around)
    worst = float(cold.t_c.min())
    pairs = [(w, kg) for w in sorted(watts) for kg in sorted(pavers_kg)]
    found: list[Sized] = []
    for done, (w, kg) in enumerate(pairs, 1):
        others = tuple(store for store in box.stores if store.kind != "pavers")
        tried = replace(box, heater=replace(box.heater, power_w=w), stores=(*others, *([Store("pavers", kg)] if kg else [])))
        run = simulate(tried, cold, first_hour=0)
        late = run.hours[min(48, len(run.hours) // 2) :]  # after the stores have warmed
        low, share = float(late[:, at.T_MEAN].min()), float(late[:, at.HEATER].mean())
        held = blackout(tried, building_c=worst, hours=48).hours_to[HOLD_TO_C]
        enough = low >= box.band.low_c - 1 and share <= MOST_SHARE and (held is None or held >= hold_h)
        found.append(Sized(w, kg, low, share, float(late[:, at.HEATER_STARTS].sum()) / len(late) * 24, held, enough))
        if not told(done, len(pairs)):
            break
    return found


def smallest(found: Sequence[Sized]) -> Sized | None:
    """Return the first that is enough: least power, then least mass."""
    return next((each for each in sorted(found, key=lambda s: (s.watts, s.pavers_kg)) if each.enough), None)
