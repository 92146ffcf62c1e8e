"""The box through a year of weather: what to leave open each month, why, and what box and building cost."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing, basis
from bonebench.said import Said, said
from bonebench.science.air.moist import humidity_ratio, pressure_at
from bonebench.science.building import Building, BuildingMonth, tank_days
from bonebench.science.enclosure import Around, Box, to_sharpen
from bonebench.science.enclosure.advice import Choice, choose, every_count, margins, with_fan_points
from bonebench.science.weather import MONTH_NAMES
from bonebench.services.cards import Fact, Flag
from bonebench.services.enclosure.around import Surroundings, Told, told, unvented
from bonebench.services.enclosure.cards import AdviseCard, HolesTried, MonthAdvice
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_box
from bonebench.units import read_number

STEP_S = 15.0  # a year at 15 s differs from 10 s by less than 1 % in energy, and ten counts are done in seconds
MOST_COUNTS = 10
FAN_POINTS = (0.45, 0.55, 0.60)
OTHER_YEARS = Figure(
    2.0, 1.0, 3.0, "K", Standing.ESTIMATE, "a mild or hard year lies about 2 K off a typical one, its water from half to twice"
)
CO2_LIMIT_PPM = 5000.0

BECAUSE = {
    "wet outside": "outdoor air holds more water than the box may, so air does not dry it: fewer wet heads, or a drying agent",
    "hot outside": "the building is as warm as the box may be: shade or air the building, or move the box",
    "fight": "heater and fan run against each other: a slower fan or a stronger heater",
    "weak heater": "the heater cannot hold the warmth: thicker walls, or a stronger heater with its guard and second cut-out",
    "stale": "too little fresh air for the colony at any count that keeps the band",
    "too dry": "too dry at every count: tape all but one, and bring in something wet",
    "too wet": "too wet at every count: let the fan turn on earlier, or fewer wet heads at once",
}


def advise(
    known: Known, *, box: Box, given: Surroundings, tank_kg: float = 0.0, price: str | None = None, fan_may_move: bool = False
) -> AdviseCard:
    """Choose how many holes to leave open in each month of the weather."""
    holes = sum(group.count for group in box.holes)
    if not holes:
        raise Impossible("advice.none", "this box has no holes to open or tape: describe them with their heights")
    if given.weather is None:
        raise Impossible("advice.weather", "advice for a year needs weather: a file, or twelve months")
    at = told(given, float(pressure_at(box.elevation_m)))
    fewest = 0 if box.duct is not None else 1  # a colony needs some air
    counts = sorted({round(n) for n in np.linspace(fewest, holes, min(holes + 1 - fewest, MOST_COUNTS))})
    runs = every_count(box, at.around, counts, first_hour=at.first_hour, step_s=STEP_S)
    chosen = choose(runs, box)
    if fan_may_move:
        chosen = with_fan_points(chosen, box, at.around, FAN_POINTS, step_s=STEP_S)
    spread = margins(chosen, box, _other_years(at.around), step_s=STEP_S)
    rooms = at.year.months if at.year is not None else [None] * len(chosen)
    months = tuple(
        _month(choice, ends, room, given.room, tank_kg) for choice, ends, room in zip(chosen, spread, rooms, strict=True)
    )
    heater = sum(month.heater_kwh for month in months)
    return AdviseCard(
        title=_title(months),
        facts=tuple(_facts(months, at, given.room, tank_kg, price)),
        cautions=for_box(known.caution_rows, heated=True, unvented=unvented(given)),
        basis=(*(basis(key, figure) for key, figure in at.assumed), basis("other_years", OTHER_YEARS), *to_sharpen(box)),
        flags=tuple(_flags(months, at)),
        months=months,
        tried=tuple(
            HolesTried(n, sum(p.heater_kwh for p in periods), sum(p.hours_outside_band for p in periods))
            for n, periods in runs.items()
        ),
        changes=sum(a.holes != b.holes for a, b in pairwise(months)),
        heater_kwh=heater,
        building_kwh=at.year.whole.heater_kwh if at.year else 0.0,
        propane_kg=at.year.whole.propane_kg if at.year else 0.0,
    )


def _other_years(around: Around) -> Sequence[Around]:
    """A warmer, a colder, a wetter and a drier year of the same hours."""

    def warmer(kelvin: float) -> Around:
        t = around.t_c + kelvin
        return replace(around, t_c=t, ratio=np.minimum(around.ratio * 1.065**kelvin, humidity_ratio(t, 1.0)))

    return [
        warmer(OTHER_YEARS.value), warmer(-OTHER_YEARS.value), replace(around, water_kg_s=2 * around.water_kg_s),
        replace(around, water_kg_s=around.water_kg_s / 2),
    ]  # fmt: skip


def _month(
    choice: Choice, ends: tuple[float, float], room: BuildingMonth | None, building: Building | None, tank_kg: float
) -> MonthAdvice:
    p = choice.period
    lasts = None
    if room is not None and building is not None and building.flame is not None and tank_kg > 0 and room.heater_kwh > 0:
        lasts = tank_days(tank_kg, building.flame.sensible_share, room.heater_kwh / room.hours * 24)
    return MonthAdvice(
        month=choice.month,
        holes=choice.holes,
        why=_why(choice),
        fan_on_rh=choice.fan_on_rh,
        achievable=choice.achieved,
        because=choice.because,
        t_mean_c=p.t_mean_c,
        rh_mean=p.rh_mean,
        rh_p95=p.rh_p95,
        hours=p.hours,
        hours_outside_band=p.hours_outside_band,
        hours_outside_low=min(ends[0], p.hours_outside_band),
        hours_outside_high=max(ends[1], p.hours_outside_band),
        heater_kwh=p.heater_kwh,
        fan_hours=p.fan_hours,
        co2_max_ppm=p.co2_max_ppm,
        building_c=room.t_mean_c if room else None,
        building_kwh=room.heater_kwh if room else 0.0,
        propane_kg=room.propane_kg if room else 0.0,
        tank_days=lasts,
    )


def _why(choice: Choice) -> Said:
    """Compare with one count fewer and one more: what taping or opening would do."""
    if choice.because:
        return said("advice.because", BECAUSE[choice.because])
    fewer, more = (max((n for n in choice.others if n < choice.holes), default=None),
                   min((n for n in choice.others if n > choice.holes), default=None))  # fmt: skip
    return said(
        "advice.why",
        "{less}; {more}",
        less="none can be taped" if fewer is None else _beside(choice, fewer),
        more="all are open" if more is None else _beside(choice, more),
    )


def _beside(choice: Choice, n: int) -> str:
    other, this = choice.others[n], choice.period
    hours = other.hours_outside_band - this.hours_outside_band
    kwh = other.heater_kwh + other.fan_kwh - this.heater_kwh - this.fan_kwh
    if other.co2_max_ppm > CO2_LIMIT_PPM >= this.co2_max_ppm:
        return f"with {n} the air is stale"
    if hours > 0.02 * this.hours:
        return f"with {n} it is {'damper' if other.rh_mean > this.rh_mean else 'drier'}: {hours:.0f} h more outside the band"
    if abs(kwh) < 0.05:
        return f"with {n} it is much the same"
    return f"with {n} it takes {abs(kwh):.1f} kWh {'more' if kwh > 0 else 'less'}"


def _title(months: tuple[MonthAdvice, ...]) -> Said:
    words = [f"{MONTH_NAMES[m.month - 1]} {m.holes}" for n, m in enumerate(months) if n == 0 or months[n - 1].holes != m.holes]
    return said("advice.title", "open holes from {list}", list=", ".join(words))


def _facts(months: tuple[MonthAdvice, ...], at: Told, room: Building | None, tank_kg: float, price: str | None) -> list[Fact]:
    heater, outside = sum(m.heater_kwh for m in months), sum(m.hours_outside_band for m in months)
    low, high = (sum(getattr(m, f"hours_outside_{end}") for m in months) for end in ("low", "high"))
    facts = [
        fact("advice.kwh", "The box's heater takes", "{kwh:energy} in the year", kwh=heater),
        fact(
            "advice.outside", "Hours outside the band", "{n} of {all}; {low} to {high} in milder, harder, wetter and drier years",
            n=f"{outside:.0f}", all=f"{sum(m.hours for m in months)}", low=f"{low:.0f}", high=f"{high:.0f}",
        ),
    ]  # fmt: skip
    if at.year is not None and room is not None:
        whole = at.year.whole
        facts.append(
            fact(
                "advice.building", "The building", "{low:temperature} to {high:temperature}; its heater gives {kwh:energy}",
                low=whole.t_min_c, high=whole.t_max_c, kwh=whole.heater_kwh,
            )
        )  # fmt: skip
        if room.flame is not None:
            facts.append(fact("advice.propane", "Propane in the year", "{mass:mass}", mass=whole.propane_kg))
            shortest = min((m.tank_days for m in months if m.tank_days is not None), default=None)
            if shortest is not None:
                facts.append(fact("advice.tank", "A full tank lasts, in the hardest month", "{days:days}", days=shortest))
    if price:
        facts.append(fact("advice.money", "Money for the box", "{money}", money=f"{heater * read_number(price, 'price'):.2f}"))
    return facts


def _flags(months: tuple[MonthAdvice, ...], at: Told) -> list[Flag]:
    flags = [
        Flag(
            said(
                "advice.not", "{month}: not achievable, {hours} of {all} h lie outside the band",
                month=MONTH_NAMES[month.month - 1], hours=f"{month.hours_outside_band:.0f}", all=str(month.hours),
            ),
            month.why,
        )
        for month in months
        if not month.achievable
    ]  # fmt: skip
    if at.year is not None and at.year.whole.co2_max_ppm > CO2_LIMIT_PPM:
        flags.append(
            Flag(
                said(
                    "advice.co2",
                    "the flame takes the building's air to {ppm} ppm of carbon dioxide",
                    ppm=f"{at.year.whole.co2_max_ppm:.0f}",
                ),
                said(
                    "advice.co2.next",
                    "above 5000 ppm nobody works there eight hours: a vented heater, and a CO alarm that is tested",
                ),
            )
        )
    flags += [Flag(note, said("advice.weather.next", "look at the file if it matters")) for note in at.notes]
    if at.outdoors:
        flags.append(
            Flag(
                said("enclosure.outdoors", "the building was taken to be as warm as outdoors, or as warm as it is held"),
                said("enclosure.outdoors.next", "describe [building] in the file, or log its own temperature"),
            )
        )
    flags.append(
        Flag(
            said("advice.unchecked", "a typical year, not the coming one; nothing here was checked in your room"),
            said("advice.unchecked.next", "change one hole at a time, wait a day, look at the hygrometer"),
        )
    )
    return flags
