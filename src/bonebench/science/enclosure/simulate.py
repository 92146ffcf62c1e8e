"""A box in its building through hours: what goes in, one call, what comes out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.air.moist import FloatArray, humidity_ratio
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.box import Box
from bonebench.science.enclosure.kernel import run_box
from bonebench.science.enclosure.months import Period, months_of, period
from bonebench.science.enclosure.numbers import head_rows, numbers_of, start_state
from bonebench.science.enclosure.specimens import HeadIn

SHORTEST_S, LONGEST_S = 0.01, 60.0


@dataclass(frozen=True, slots=True)
class Around:
    """What surrounds a box, hour by hour.

    Attributes
    ----------
    t_c, ratio : ndarray, shape (hours + 1,)
        Air of the building at each full hour; straight lines between. [degC], [kg/kg]
    heat_w, water_kg_s, co2_kg_s : ndarray, shape (hours,)
        What colony and heads give off in each hour; water arrives as vapour and takes its heat from the air. [W], [kg/s], [kg/s]
    """

    t_c: FloatArray
    ratio: FloatArray
    heat_w: FloatArray
    water_kg_s: FloatArray
    co2_kg_s: FloatArray


@dataclass(frozen=True, slots=True)
class Start:
    """How a box begins: its state and its nodes' temperatures, as a run leaves them."""

    state: FloatArray
    node_t: FloatArray


@dataclass(frozen=True, slots=True)
class Run:
    """What a run gives.

    Attributes
    ----------
    box : Box
        What was run.
    hours : ndarray, shape (hours, 21)
        Columns of `layout`; `columns` gives them under names.
    months : list of Period
        The months it touched.
    year : Period
        The whole run.
    heat_error, water_error : float
        What the balances leave open, as a share of what passed. [1]
    end : Start
        To go on from.
    trace : ndarray, shape (n, 6)
        The box at regular moments, if asked for.
    thawed_s : ndarray, shape (heads,)
        When each head had thawed, nan if it has not. [s]
    """

    box: Box
    hours: FloatArray
    months: list[Period]
    year: Period
    heat_error: float
    water_error: float
    end: Start
    trace: FloatArray
    thawed_s: FloatArray

    def columns(self) -> Mapping[str, FloatArray]:
        """Hours under names: temperatures [degC], humidities [1], shares of the hour, water [kg], air [kg/s]."""
        names = {
            "t_mean_c": at.T_MEAN, "t_min_c": at.T_MIN, "t_max_c": at.T_MAX, "rh_mean": at.RH_MEAN, "rh_min": at.RH_MIN,
            "rh_max": at.RH_MAX, "heater_share": at.HEATER, "fan_share": at.FAN, "heater_starts": at.HEATER_STARTS,
            "fan_starts": at.FAN_STARTS, "air_kg_s": at.AIR_KG_S, "on_glass_kg": at.ON_GLASS_KG, "in_duct_kg": at.IN_DUCT_KG,
            "latch_s": at.LATCH, "bedding_moisture": at.BED, "bedding_c": at.BED_C, "store_c": at.STORE_C, "head_c": at.HEAD_C,
        }  # fmt: skip
        return {name: self.hours[:, column] for name, column in names.items()}


def around_box(
    hours: int, *, t_c: npt.ArrayLike, rh: npt.ArrayLike | None = None, ratio: npt.ArrayLike | None = None,
    heat_w: npt.ArrayLike = 0.0, water_kg_s: npt.ArrayLike = 0.0, co2_kg_s: npt.ArrayLike = 0.0, pressure_pa: float = 101_325.0,
) -> Around:  # fmt: skip
    """Put together what surrounds a box.

    Parameters
    ----------
    hours : int
        How many, 1 or more.
    t_c : array_like
        Air of the building: one value, one an hour (the last then holds) or one more. [degC]
    rh, ratio : array_like
        Its relative humidity [1] or its humidity ratio [kg/kg]; one of them.
    heat_w, water_kg_s, co2_kg_s : array_like, optional
        What colony and heads give off: one value or one an hour. [W], [kg/s], [kg/s]
    pressure_pa : float, optional
        Air pressure. [Pa]

    Returns
    -------
    Around
        Checked.

    Raises
    ------
    OutsideRange
        If a value lies outside what can be.
    Impossible
        If lengths do not fit the hours, humidity is missing or told twice, or the air would hold more water than it can.
    """
    if hours < 1:
        raise OutsideRange("enclosure.hours", "a run has 1 hour or more, not {hours}", hours=hours)
    if (rh is None) == (ratio is None):
        raise Impossible(
            "enclosure.humidity_twice", "tell the building's humidity once: as relative humidity or as a humidity ratio"
        )
    building = _points(t_c, hours, "temperature of the building", -60.0, 60.0)
    full = humidity_ratio(building, 1.0, pressure_pa)
    if rh is not None:
        water = humidity_ratio(building, _points(rh, hours, "humidity of the building", 0.0, 1.0), pressure_pa)
    else:
        assert ratio is not None
        water = _points(ratio, hours, "humidity ratio of the building", 0.0, 0.2)
        if (water > full * 1.001).any():
            worst = int(np.argmax(water - full))
            raise Impossible(
                "enclosure.building_wet", "in hour {hour} the building's air at {t:temperature} is to hold {g} g/kg; it holds "
                "{most} at most: look at temperature and humidity again",
                hour=worst, t=float(building[worst]), g=f"{1000 * water[worst]:.1f}", most=f"{1000 * full[worst]:.1f}",
            )  # fmt: skip
    return Around(
        building, water, _each(heat_w, hours, "heat given off", -1e4, 1e4), _each(water_kg_s, hours, "water given off", 0.0, 0.01),
        _each(co2_kg_s, hours, "carbon dioxide given off", 0.0, 0.01),
    )  # fmt: skip


def _checked(values: FloatArray, what: str, low: float, high: float) -> FloatArray:
    odd = ~((values >= low) & (values <= high))
    if odd.any():
        hour = int(np.argmax(odd))
        raise OutsideRange(
            "enclosure.series", "{what} is {value} in hour {hour}; it lies from {low} to {high}",
            what=what, value=f"{values[hour]:g}", hour=hour, low=f"{low:g}", high=f"{high:g}",
        )  # fmt: skip
    return values


def _lengths(what: str, count: int, hours: int) -> Impossible:
    return Impossible("enclosure.lengths", "{what} has {count} values for {hours} hours: give one, or one for each hour",
                      what=what, count=count, hours=hours)  # fmt: skip


def _points(values: npt.ArrayLike, hours: int, what: str, low: float, high: float) -> FloatArray:
    given = np.atleast_1d(np.asarray(values, dtype=np.float64))
    if len(given) == 1:
        given = np.full(hours + 1, given[0])
    elif len(given) == hours:
        given = np.append(given, given[-1])
    elif len(given) != hours + 1:
        raise _lengths(what, len(given), hours)
    return _checked(given, what, low, high)


def _each(values: npt.ArrayLike, hours: int, what: str, low: float, high: float) -> FloatArray:
    given = np.atleast_1d(np.asarray(values, dtype=np.float64))
    if len(given) == 1:
        given = np.full(hours, given[0])
    elif len(given) != hours:
        raise _lengths(what, len(given), hours)
    return _checked(given, what, low, high)


def check_step(step_s: float) -> None:
    """Refuse a step that is too long for the switches, too short to end, or no whole part of an hour.

    Parameters
    ----------
    step_s : float
        The step. [s]

    Raises
    ------
    OutsideRange
        If it is.
    """
    if not SHORTEST_S <= step_s <= LONGEST_S:
        raise OutsideRange(
            "enclosure.step", "a step of {step} s is outside what this model holds for: {low} to {high} s; 10 s is usual, "
            "and a longer one misses when heater and fan turn",
            step=f"{step_s:g}", low=f"{SHORTEST_S:g}", high=f"{LONGEST_S:g}",
        )  # fmt: skip
    if abs(at.HOUR_S / step_s - round(at.HOUR_S / step_s)) > 1e-6:
        raise OutsideRange(
            "enclosure.step_part", "a step of {step} s does not fill an hour: take 5, 10, 12, 15 or 20 s", step=f"{step_s:g}"
        )


def start_at(box: Box, t_c: float | None = None, rh: float = 0.5) -> Start:
    """A box at rest at one temperature and humidity.

    Parameters
    ----------
    box : Box
        The description.
    t_c : float or None, optional
        Temperature; the heater's set point, or else the middle of the band. [degC]
    rh : float, optional
        Relative humidity. [1]

    Returns
    -------
    Start
        Bedding and stores are at rest with the air, both switches off.
    """
    numbers = numbers_of(box)
    if t_c is None:
        t_c = box.heater.set_c if box.heater else (box.band.low_c + box.band.high_c) / 2
    return Start(start_state(numbers, t_c, rh), np.full(len(numbers.nodes), t_c))


def simulate(
    box: Box, around: Around, *, step_s: float = 10.0, heads: Sequence[HeadIn] = (), start: Start | None = None,
    first_hour: int = 0, look_every_s: float = 0.0,
) -> Run:  # fmt: skip
    """Run a box through the hours round it.

    Parameters
    ----------
    box : Box
        The description.
    around : Around
        From `around_box`.
    step_s : float, optional
        Step, 0.01 to 60 and a whole part of an hour. [s]
    heads : sequence of HeadIn, optional
        Heads that go in and out.
    start : Start or None, optional
        Where it begins; at rest at its set point.
    first_hour : int, optional
        Hour of the year (0 to 8759) with which it begins, for the months.
    look_every_s : float, optional
        A look at the box so often, for charts of a day; 0 for none. [s]

    Returns
    -------
    Run
        Hours, months, balances and the state at the end.

    Raises
    ------
    OutsideRange, Impossible
        If box, step or heads cannot be.

    Notes
    -----
    Left out: the heat of vapour besides its latent heat (below 2 % of what air carries off), the cooling of air inside the duct in
    its draught, the heater's own mass, stratification, and water deep in stone. Latent heat is taken as 2.45 MJ/kg.
    """
    check_step(step_s)
    numbers = numbers_of(box)
    start = start or start_at(box)
    hours = len(around.heat_w)
    every = round(look_every_s / step_s) if look_every_s else 0
    looks = round(hours * at.HOUR_S / step_s) // every if every else 0
    ran = run_box(
        np.array(numbers.constants), numbers.nodes, numbers.bed, numbers.stone, numbers.paths, series_table(around),
        head_rows(heads), start.state, start.node_t, step_s, trace_every=every, traced=looks,
    )  # fmt: skip
    c, sums = numbers.constants, ran.sums
    return Run(
        box=box,
        hours=ran.hours,
        months=months_of(box, c, ran.hours, around.ratio, first_hour),
        year=period(box, c, ran.hours, around.ratio, 0),
        heat_error=abs(float(sums[at.HEAT_ERROR])) / max(1.0, float(sums[at.HEAT_THROUGH])),
        water_error=abs(float(sums[at.WATER_ERROR])) / max(1e-6, float(sums[at.WATER_THROUGH])),
        end=Start(ran.state, ran.node_t),
        trace=ran.trace,
        thawed_s=ran.thawed_s,
    )


def series_table(around: Around) -> FloatArray:
    """Lay the series side by side for the loop, the hourly ones with a row that is never read."""
    last = np.zeros(1)
    hourly = [np.concatenate([series, last]) for series in (around.heat_w, around.water_kg_s, around.co2_kg_s)]
    return np.column_stack([around.t_c, around.ratio, *hourly])
