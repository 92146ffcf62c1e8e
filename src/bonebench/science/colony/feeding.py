"""How much food, and from when: the least ration, the feeding-up before a season, a time away, what a cold snap did.

Each is worked out on many colonies that may be this one; what comes out is a range and never a single number.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.colony import equations, run
from bonebench.science.colony.forecast import Draws, Forecast, forecast
from bonebench.science.colony.layout import BODY_DRY, FloatArray
from bonebench.science.colony.model import HOURS_A_DAY, Conditions, Housing, Series, conditions

SOURCE = "colony model, nine draws in ten; not checked in your room"
_RATIONS = 15


def _figure(values: FloatArray, unit: str, shares: tuple[float, float, float] = (0.05, 0.5, 0.95)) -> Figure:
    low, middle, high = (float(q) for q in np.quantile(values, shares))
    return Figure(middle, low, high, unit, Standing.ESTIMATE, SOURCE)


@dataclass(frozen=True, slots=True)
class Air:
    """The air of the days ahead, hour by hour, as for `model.conditions`."""

    days: int
    temperature_c: Series
    humidity: Series
    moist: Series = 1.0

    def fed(self, kg_per_day: Series | None, food_dry_share: float) -> Conditions:
        """Return the same days with so much food; None: always enough."""
        return conditions(
            self.days,
            self.temperature_c,
            self.humidity,
            moist=self.moist,
            food_kg_per_day=kg_per_day,
            food_dry_share=food_dry_share,
        )

    def part(self, first: int, days: int) -> "Air":
        """Return so many of these days from day ``first`` on."""
        hours = slice(first * HOURS_A_DAY, (first + days) * HOURS_A_DAY)

        def cut(series: Series) -> Series:
            values = np.asarray(series, dtype=np.float64)
            return float(values) if values.ndim == 0 else values[hours]

        return Air(days, cut(self.temperature_c), cut(self.humidity), cut(self.moist))


@dataclass(frozen=True, slots=True)
class Ration:
    """Food a day that keeps a colony: the range over draws, and the share of draws that no food keeps in this air."""

    kg_per_day: Figure
    not_kept: float


def least_ration(draws: Draws, housing: Housing, air: Air, *, keep: float = 0.5) -> Ration:
    """Least food that brings a colony through a quiet time.

    Parameters
    ----------
    draws : Draws
        Colonies that may be this one, evenly weighted.
    housing : Housing
        Floor, sites, cover, kind of food.
    air : Air
        Of the quiet time.
    keep : float, optional
        Share of the live mass that must be there at its end, above 0 to 1. [1]

    Returns
    -------
    Ration
        A range: feed the upper end if it is cheap, never under the lower. [kg/day]

    Raises
    ------
    OutsideRange
        If the share to keep is not above 0 and at most 1.

    Notes
    -----
    Fifteen rations from a thousandth of what they could eat to all of it are tried on every draw; between two the log is taken
    in line.
    """
    if not 0 < keep <= 1:
        raise OutsideRange("colony.keep", "to keep {share:percent} of a colony; give a share above 0 and at most 100 %", share=keep)
    alive = _alive(draws)
    full = forecast(draws, housing, air.fed(None, housing.food_dry_share)).paths("appetite_kg").max(axis=1).max()
    rations = np.geomspace(0.001, 1.0, _RATIONS) * max(float(full), 1e-6)
    kept = np.array(
        [forecast(draws, housing, air.fed(ration, housing.food_dry_share)).paths("live_kg")[:, -1] / alive for ration in rations]
    )
    needs = np.full(len(alive), np.nan)
    for k in range(len(alive)):
        enough = np.flatnonzero(kept[:, k] >= keep)
        if len(enough):
            first = int(enough[0])
            needs[k] = rations[first] if first == 0 else _between(rations, kept[:, k], first, keep)
    found = needs[~np.isnan(needs)]
    if not len(found):
        raise Impossible(
            "colony.not_kept",
            "no food keeps {share:percent} of the colony through {days} days of this air: keep it warmer, or fewer days",
            share=keep,
            days=air.days,
        )
    return Ration(_figure(found, "kg/day"), float(np.isnan(needs).mean()))


def _alive(draws: Draws) -> FloatArray:
    return np.array(
        [run.live_dry_kg(state, equations.masses_of(row)) / BODY_DRY for row, state in zip(draws.traits, draws.states, strict=True)]
    )


def _between(rations: FloatArray, kept: FloatArray, first: int, keep: float) -> float:
    share = (keep - kept[first - 1]) / (kept[first] - kept[first - 1])
    return float(np.exp(np.log(rations[first - 1]) + share * (np.log(rations[first]) - np.log(rations[first - 1]))))


@dataclass(frozen=True, slots=True)
class RampUp:
    """Feeding up for a season: days it takes, the day to begin at (negative: too late), food until then, chance to get there.

    ``start`` is how many larvae and adults there are when it begins; ``first_kg_per_day`` and ``season_kg_per_day`` what they can
    eat a day then and when the season comes.
    """

    days: Figure | None
    begin_day: int | None
    food_kg: Figure | None
    chance: float
    start: Figure | None = None
    first_kg_per_day: Figure | None = None
    season_kg_per_day: Figure | None = None


def ramp_up(
    draws: Draws,
    housing: Housing,
    air: Air,
    *,
    season_day: int,
    target_kg_per_day: float,
    sure: float = 0.8,
    held_kg_per_day: float | None = None,
) -> RampUp:
    """When to begin to feed all they eat, so that a season finds them hungry enough.

    Parameters
    ----------
    draws : Draws
        Colonies that may be this one today.
    housing : Housing
        Floor, sites, cover, kind of food.
    air : Air
        From today on, to the season at least and for as many days as may be spent on it.
    season_day : int
        Days from now to the season. [days]
    target_kg_per_day : float
        What they should be able to eat a day by then, above 0. [kg/day]
    sure : float, optional
        Share of the draws that must be there in time. [1]
    held_kg_per_day : float, optional
        What they get a day until feeding-up begins, zero or more; without it they are taken to stay as many as today. [kg/day]

    Returns
    -------
    RampUp
        None where too few of the draws ever get there.

    Raises
    ------
    OutsideRange
        If the target is not above 0.

    Notes
    -----
    With a ration the colony is run on it to the day feeding-up begins, and that day is found by halving: the later it begins, the
    fewer are there in time.
    """
    if not 0 < target_kg_per_day < math.inf:
        raise OutsideRange("colony.target", "a target of {rate:feeding}; it must be above 0", rate=target_kg_per_day)
    goal = _Goal(draws, housing, air, season_day, target_kg_per_day, held_kg_per_day)
    told, days, there = goal.fed_from(0)
    chance = float(there.mean())
    if chance < sure:
        return RampUp(None, None, None, chance)
    begin = season_day - math.ceil(float(np.quantile(days, sure)))
    if begin > 0 and held_kg_per_day is not None:
        begin = _latest(goal, sure)
    if begin > 0:
        told, days, _ = goal.fed_from(begin)
    food = np.array([path[: int(day) + 1].sum() for path, day in zip(told.paths("eaten_kg"), days, strict=True)])
    appetite = told.paths("appetite_kg")
    last = min(max(season_day - max(begin, 0), 0), appetite.shape[1] - 1)
    return RampUp(
        _figure(days, "days"),
        begin,
        _figure(food, "kg"),
        chance,
        _figure(told.paths("active")[:, 0], "1"),
        _figure(appetite[:, 0], "kg/day"),
        _figure(appetite[:, last], "kg/day"),
    )


@dataclass(frozen=True, slots=True)
class _Goal:
    """A season that colonies are fed up for."""

    draws: Draws
    housing: Housing
    air: Air
    season_day: int
    target_kg_per_day: float
    held_kg_per_day: float | None

    def fed_from(self, begin: int) -> tuple[Forecast, FloatArray, npt.NDArray[np.bool_]]:
        """Hold them to a day, then feed all they eat: the run from there, the days each takes to the target, which get there."""
        dry, start = self.housing.food_dry_share, self.draws
        if begin > 0 and self.held_kg_per_day is not None:
            start = forecast(start, self.housing, self.air.part(0, begin).fed(self.held_kg_per_day, dry)).ends
        left = self.air.part(begin, self.air.days - begin)
        told = forecast(start, self.housing, left.fed(None, dry))
        reached = told.paths("appetite_kg") >= self.target_kg_per_day
        there: npt.NDArray[np.bool_] = np.asarray(reached.any(axis=1), dtype=np.bool_)
        days = np.where(there, reached.argmax(axis=1), left.days).astype(np.float64)
        return told, days, there

    def share_in_time(self, begin: int) -> float:
        """Return the share of the colonies that are there by the season, fed up from a day on."""
        _, days, there = self.fed_from(begin)
        return float(np.mean(there & (days <= self.season_day - begin)))


def _latest(goal: _Goal, sure: float) -> int:
    """Return the latest day to begin at, by halving; 0 if even today is none too early."""
    early, late = 0, goal.season_day
    while late - early > 1:
        middle = (early + late) // 2
        if goal.share_in_time(middle) >= sure:
            early = middle
        else:
            late = middle
    return early


@dataclass(frozen=True, slots=True)
class Away:
    """What to load for days on which nobody comes: fresh, dried (as mass of dried food), whether a neighbour should look in.

    ``hungry`` is the share of draws that would lose a tenth of their mass all the same.
    """

    fresh_kg: Figure
    dried_kg: Figure
    neighbour: bool
    hungry: float


WET_DAYS = 2.0  # how long fresh food lies before it spoils: `cleaning.rot.BUDGET_H` at 28 degC
DRIED_DRY, FRESH_DRY = 0.80, 0.26
LONGEST_ALONE_DAYS = 7  # common practice, no source: water, lid, heater and alarm want eyes once a week


def going_away(draws: Draws, housing: Housing, air: Air) -> Away:
    """Work out what to load before days away, so that nothing starves or rots.

    Parameters
    ----------
    draws : Draws
        Colonies that may be this one.
    housing : Housing
        Floor, sites, cover; the kind of food is worked out here.
    air : Air
        Of the days away.

    Returns
    -------
    Away
        Fresh food only as much as a slow-eating colony surely finishes before it spoils; the rest dried. [kg]

    Notes
    -----
    The upper end of the dried load is what a hungry colony could eat in the whole time; dried food that is left over does no harm
    in dry air, so load toward it. No dried food replaces water: a pad, or a neighbour.
    """
    told = forecast(draws, housing, air.fed(None, FRESH_DRY))
    rows = told.paths("appetite_kg") * housing.food_dry_share / FRESH_DRY
    soon = rows[:, : max(1, round(WET_DAYS))].sum(axis=1) * min(1.0, air.days / WET_DAYS)
    fresh = _fresh(soon)
    dried = np.clip(rows.sum(axis=1) - fresh.value, 0.0, None) * FRESH_DRY / DRIED_DRY
    load = _figure(dried, "kg")
    return Away(fresh, load, air.days > LONGEST_ALONE_DAYS, _hungry(draws, housing, air, fresh.value, load.high))


def _fresh(soon: FloatArray) -> Figure:
    low, middle, high = (float(q) for q in np.quantile(soon, (0.0, 0.05, 0.30)))
    return Figure(middle, low, high, "kg", Standing.ESTIMATE, SOURCE)


def _hungry(draws: Draws, housing: Housing, air: Air, fresh_kg: float, dried_kg: float) -> float:
    load = np.zeros(air.days)
    load[0] = (fresh_kg * FRESH_DRY + dried_kg * DRIED_DRY) / housing.food_dry_share
    end = forecast(draws, housing, air.fed(load, housing.food_dry_share)).paths("live_kg")[:, -1]
    return float(np.mean(end < 0.9 * _alive(draws)))


@dataclass(frozen=True, slots=True)
class Loss:
    """What a cold snap, heat or a dead heater cost: shares lost against the air they usually have, and of the appetite."""

    larvae: Figure
    adults: Figure
    appetite: Figure


def loss_by(draws: Draws, housing: Housing, event: Air, usual: Air) -> Loss:
    """Hold a colony after an event against the same colony without it, some days later.

    Parameters
    ----------
    draws : Draws
        Colonies that may be this one, before it.
    housing : Housing
        Floor, sites, cover, kind of food.
    event, usual : Air
        The air as it was, with the event, and as it would have been; as many days.

    Returns
    -------
    Loss
        Shares at the end; below 0 is a gain. [1]

    Raises
    ------
    Impossible
        If the two run over different numbers of days.
    """
    if event.days != usual.days:
        raise Impossible("colony.loss_days", "{one} days are held against {other}; give as many", one=event.days, other=usual.days)
    with_it, without = (forecast(draws, housing, air.fed(None, housing.food_dry_share)) for air in (event, usual))

    def share(name: str) -> Figure:
        after, before = with_it.paths(name)[:, -1], without.paths(name)[:, -1]
        return _figure(1.0 - after / np.maximum(before, 1e-12), "1")

    return Loss(share("larvae"), share("adults"), share("appetite_kg"))
