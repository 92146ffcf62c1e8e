"""The two questions about the box with their forms, and what stands beside the answers."""

from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import Request

from bonebench.science.weather import MONTH_NAMES
from bonebench.services.enclosure.around import Surroundings
from bonebench.services.enclosure.begin import BeginCard, begin
from bonebench.services.enclosure.cards import AdviseCard, BlackoutCard, SimulateCard, SizeCard
from bonebench.services.enclosure.cut import cut_power
from bonebench.services.enclosure.described import (
    NUMBERS,
    ROOM_NUMBERS,
    FewNumbers,
    RoomNumbers,
    box_of_numbers,
    building_of_numbers,
)
from bonebench.services.enclosure.run import simulate_box
from bonebench.services.enclosure.seasons import Seasons, year_of
from bonebench.services.enclosure.size import size
from bonebench.services.enclosure.year import advise
from bonebench.services.specimens.intake import read_day
from bonebench.units import Reader, write
from bonebench.web.boxdrawing import drawn
from bonebench.web.charts import Chart, Series, chart
from bonebench.web.shell import door_of
from bonebench.web.tools import Field, Tool

BOX = (
    Field("length", "Length over all", "1.20 m or 47 in"),
    Field("width", "Width over all", "0.65 m"),
    Field("height", "Height over all", "0.80 m"),
    Field("wall", "Foam of its walls", "65 mm; a chest freezer has 50 to 90"),
    Field("watts", "Heater", "100 W"),
    Field("low_holes", "Open holes near the floor", "1"),
    Field("high_holes", "Open holes near the lid", "1"),
    Field("fan", "Fan, if there is one", "63 m3/h or 37 CFM, as its maker says; empty is none"),
)
SHARPEN = (
    Field("hole_width", "Width of a hole", "25.4 mm or 1 in", more=True),
    Field("low_height", "The low ones sit above the floor", "5 cm", more=True),
    Field("high_height", "The high ones, and the duct", "45 cm", more=True),
    Field("window", "Window in lid or wall", "0.10 m2; empty is none", more=True),
    Field("pavers", "Pavers in foil", "40 kg; empty is none", more=True),
    Field("water", "Water in closed jugs", "5 L; empty is none", more=True),
    Field("settings", "Any other figure this rests on", "heater.set=26 C; heater.hysteresis=2 K; humidistat.on=55 %", more=True),
)
AROUND = (
    Field("building", "How warm is the building?", "5 C or 41 F; or one for each hour, apart by semicolons"),
    Field("humidity", "How damp is it there?", "80 %; empty is 70 %"),
    Field("days", "For how long?", "7d"),
    Field("price", "Money for a kWh", "0.15; empty leaves money out"),
)
INSIDE = (
    Field("water_h", "Water heads and colony give off in an hour", "5 g", more=True),
    Field("colony", "Heat the colony gives", "2 W", more=True),
    Field("heads", "Frozen heads that go in meanwhile", "2", more=True),
    Field("head", "Mass of one", "1 kg", more=True),
)
POWER = (
    Field("outdoor", "How cold is it outside?", "-10 C"),
    Field("building_now", "How warm is the building now?", "5 C; empty is as outside"),
    Field("bottles", "Hot water in closed bottles", "10 L@60 C; empty is none"),
    Field("start", "The box stands at", "26 C; empty is its set point", more=True),
    Field("look", "How many hours to look", "48", more=True),
)
ROOM = (
    Field("means", "How warm is it outdoors?", "Mean of each month from January on: -4 C; -2 C; 4 C; ... or of four "
          "seasons: winter; spring; summer; autumn"),
    Field("swings", "From night to afternoon", "12 K for all months as 12 K; 12 K; ...; empty is 10 K", more=True),
    Field("dew_points", "Dew points of the months", "-8 C; -6 C; ...; empty is 4 K below the mean", more=True),
    Field("latitude", "Latitude", "42, south is negative; empty is 45", more=True),
    Field("room_length", "Length of the building inside", "5 m or 16 ft"),
    Field("room_width", "Its width", "4 m"),
    Field("room_height", "Its height", "2.4 m"),
    Field("room_walls", "Its walls", "R-15, or 2.6 m2K/W"),
    Field("room_heater", "Its heater", "3 kW; empty is none"),
    Field("room_set", "The heater keeps it at", "5 C or 41 F"),
    Field("room_fuel", "It burns", choices=(("electric", "Nothing: electric"), ("vented propane", "Propane, vented"),
                                            ("unvented propane", "Propane, gases into the room"))),
    Field("tank", "Its tank holds", "200 lb; empty is none", more=True),
)  # fmt: skip
MOVES = Field("fan_may_move", "May the fan's set point change from month to month?", choices=(("no", "No"), ("yes", "Yes")))
# An invented box, for somebody who wants to see what comes out before measuring anything.
TRY = {
    "length": "1.20 m", "width": "0.65 m", "height": "0.80 m", "wall": "65 mm", "watts": "100 W", "low_holes": "1",
    "high_holes": "1", "fan": "63 m3/h", "pavers": "40 kg", "building": "5 C", "humidity": "80 %", "days": "7d",
    "means": "-4 C; 9 C; 23 C; 11 C", "latitude": "42", "room_length": "5 m", "room_width": "4 m", "room_height": "2.4 m",
    "room_walls": "R-15", "room_heater": "3 kW", "room_set": "5 C", "room_fuel": "vented propane", "tank": "200 lb",
    "outdoor": "-10 C", "building_now": "5 C", "bottles": "10 L@60 C",
}  # fmt: skip


def few_of(form: Mapping[str, str]) -> FewNumbers:
    """Return the few numbers of a box from what was typed."""
    sizes = {name: form.get(name, "") for name in ("length", "width", "height", "wall")}
    rest = {name: form.get(name) or None for name in NUMBERS if name not in sizes}
    return FewNumbers(**sizes, **rest)  # type: ignore[arg-type]


def _simulate(request: Request, form: Mapping[str, str]) -> SimulateCard:
    box = box_of_numbers(few_of(form))
    given = Surroundings(
        **{name: form.get(name) or None for name in ("building", "humidity", "days", "colony", "heads", "head")},  # type: ignore[arg-type]
        water=form.get("water_h") or None,
    )
    return door_of(request).work(lambda known: simulate_box(known, box=box, given=given, price=form.get("price") or None))


def _cut(request: Request, form: Mapping[str, str]) -> BlackoutCard:
    box = box_of_numbers(few_of(form))
    bottles = tuple(part.strip() for part in (form.get("bottles") or "").split(";") if part.strip())
    return door_of(request).work(
        lambda known: cut_power(
            known, box=box, outdoor=form.get("outdoor") or None, building=form.get("building_now") or None,
            start=form.get("start") or None, help_water=bottles, hours=form.get("look") or None,
        )
    )  # fmt: skip


RUN = Tool(
    "run", "The box through time", "warmth, damp, power", "A heated box in a colder building: a few numbers give warmth, damp and "
    "cost, and whether heater and fan fight.", (*BOX, *AROUND, *SHARPEN, *INSIDE), ("building",), _simulate, "/enclosure",
)  # fmt: skip
CUT = Tool(
    "cut", "When the power goes", "how long it stays warm", "How long the box stays warm without power, and what hot water in "
    "closed bottles buys.", (*BOX, *POWER, *SHARPEN), ("outdoor", "building_now"), _cut, "/enclosure/cut",
)  # fmt: skip


def _in_its_year(form: Mapping[str, str]) -> tuple[Surroundings, float]:
    """Return building and weather as they were typed, and what the tank holds in kg."""
    sizes = {name: form.get(name, "") for name in ROOM_NUMBERS[:4]}
    rest = {name: form.get(name) or None for name in ROOM_NUMBERS[4:]}
    room, tank_kg = building_of_numbers(RoomNumbers(**sizes, **rest))  # type: ignore[arg-type]
    typed = {name: form.get(name) or None for name in ("swings", "dew_points", "latitude")}
    weather = year_of(Seasons(means=form.get("means", ""), **typed))
    return Surroundings(weather=weather, room=room, water=form.get("water_h") or None), tank_kg


def _advise(request: Request, form: Mapping[str, str]) -> AdviseCard:
    box, (given, tank_kg) = box_of_numbers(few_of(form)), _in_its_year(form)
    price, moves = form.get("price") or None, form.get("fan_may_move") == "yes"
    return door_of(request).work(
        lambda known: advise(known, box=box, given=given, tank_kg=tank_kg, price=price, fan_may_move=moves)
    )


def _begin(request: Request, form: Mapping[str, str]) -> BeginCard:
    day = read_day(form.get("first_day") or None)
    return door_of(request).work(lambda known: begin(known, starter=form.get("starter") or None, first_day=day))


BEGIN = Tool(
    "begin", "From an old freezer to the first skull", "how to build it, and when it can work", "How to make a box from an old "
    "freezer safely, and when a starter colony can take a mouse, a squirrel, a deer.",
    (Field("starter", "Beetles and larvae in the starter", "300"),
     Field("first_day", "Day on which the empty box stands in band", "2026-05-04; empty counts days")),
    (), _begin, "/enclosure/begin",
)  # fmt: skip
YEAR = Tool(
    "year", "Month by month", "which holes to leave open, and why", "How many holes to leave open in each month of a year, with "
    "the reason and the cost. All holes the box has count here, open or taped; it takes some seconds.",
    (*BOX, *ROOM, MOVES, AROUND[-1], *SHARPEN, INSIDE[0]), ("means",), _advise, "/enclosure/year",
)  # fmt: skip


def _size(request: Request, form: Mapping[str, str]) -> SizeCard:
    box, (given, _) = box_of_numbers(few_of(form)), _in_its_year(form)
    return door_of(request).work(lambda known: size(known, box=box, given=given, hold=form.get("hold") or None))


SIZE = Tool(
    "size", "How strong a heater", "the smallest heater and pavers that hold", "The smallest heater and pavers that hold the box "
    "in its coldest fortnight and through a power cut.",
    (*BOX, *ROOM, Field("hold", "Hours above 15 °C without power", "4; empty is 4"), *SHARPEN, INSIDE[0]), ("means",), _size,
    "/enclosure/size",
)  # fmt: skip


def beside_size(request: Request, card: SizeCard | None, form: Mapping[str, str]) -> dict[str, Any]:
    """Return the grid and its chart."""
    del request
    both: dict[str, Any] = {"box": {name: form[name] for name in NUMBERS if form.get(name)}, "try_it": TRY}
    if card is None:
        return both
    bare = [each for each in card.grid if each.pavers_kg == card.grid[0].pavers_kg]
    runs = chart(
        "How much of the time the heater runs in the coldest fortnight, %", "By heater", [each.watts for each in bare],
        [Series("it runs", [100 * each.heater_share for each in bare])], x_label="W", y_label="%", floor=0,
    )  # fmt: skip
    return {**both, "charts": (runs,), "grid": card.grid}


def beside_begin(request: Request, card: BeginCard | None, form: Mapping[str, str]) -> dict[str, Any]:
    """The guide has no box of its own and no chart."""
    del request, card, form
    return {"box": {}, "try_it": {}, "charts": ()}


def beside_year(request: Request, card: AdviseCard | None, form: Mapping[str, str]) -> dict[str, Any]:
    """Return the months as a table and the charts of a year."""
    both: dict[str, Any] = {"box": {name: form[name] for name in NUMBERS if form.get(name)}, "try_it": TRY}
    if card is None:
        return both
    names = [MONTH_NAMES[month.month - 1][:3] for month in card.months]
    at = list(range(1, len(names) + 1))
    damp = chart(
        "Humidity in the box, mean to the dampest twentieth, %", "Month by month", at,
        [Series("the box", [100 * m.rh_p95 for m in card.months], low=[100 * m.rh_mean for m in card.months])],
        x_label="", y_label="%", x_names=names, floor=0,
    )  # fmt: skip
    outside = chart(
        "Hours outside the band, kindest to worst of several years", "Month by month", at,
        [Series("hours", [m.hours_outside_high for m in card.months], low=[m.hours_outside_low for m in card.months])],
        x_label="", y_label="h", x_names=names, floor=0,
    )  # fmt: skip
    tried = sorted(card.tried, key=lambda each: each.holes)
    lines = [
        Series("heater, kWh", [t.heater_kwh for t in tried]),
        Series("a tenth of the hours outside", [t.hours_outside_band / 10 for t in tried], mark="warm"),
    ]
    cost = chart(
        "A whole year with the same holes open", "Power and hours outside by count", [float(t.holes) for t in tried], lines,
        x_label="open holes", y_label="kWh", floor=0,
    )  # fmt: skip
    return {**both, "charts": (damp, outside, cost), "advice": list(zip(names, card.months, strict=True))}


def beside_run(request: Request, card: SimulateCard | None, form: Mapping[str, str]) -> dict[str, Any]:
    """Return the drawing and the charts of a run."""
    both: dict[str, Any] = {"box": {name: form[name] for name in NUMBERS if form.get(name)}, "try_it": TRY}
    if card is None:
        return both
    reader = door_of(request).surface().reader
    return {**both, "drawing": drawn(card.seen, reader), "charts": run_charts(card, reader)}


def warmth(celsius: Sequence[float], reader: Reader) -> list[float]:
    """Return temperatures as their reader has them."""
    return [1.8 * value + 32 if reader.system == "us" else value for value in celsius]


def degree(reader: Reader) -> str:
    """Return the unit of those temperatures."""
    return "°F" if reader.system == "us" else "°C"


def run_charts(card: SimulateCard, reader: Reader) -> tuple[Chart, ...]:
    """Draw warmth and damp of a run as bands, and how much of each stretch heater and fan ran."""
    at = card.curve
    days = [hour / 24 for hour in at.hours]
    words = f"from {write(card.year.t_min_c, 'temperature', reader)} to {write(card.year.t_max_c, 'temperature', reader)}"
    box = Series("the box, lowest to highest", warmth(at.t_max_c, reader), low=warmth(at.t_min_c, reader))
    building = Series("the building", warmth(at.building_c, reader), mark="faint")
    percent = [100 * share for share in at.heater_share]
    fan = [Series("fan", [100 * share for share in at.fan_share], mark="warm")] if card.seen.fan else []
    return (
        chart(
            f"Warmth in {degree(reader)}", f"Air in the box {words} over {days[-1]:.0f} days", days, [box, building],
            x_label="days", y_label=degree(reader),
        ),
        chart(
            "Relative humidity in the box, %", f"From {card.year.rh_min:.0%} to {card.year.rh_max:.0%}", days,
            [Series("the box", [100 * rh for rh in at.rh_max], low=[100 * rh for rh in at.rh_min])],
            x_label="days", y_label="%", floor=0,
        ),
        chart(
            "How much of the time they run, %", f"Heater {card.year.heater_share:.0%} on the mean", days,
            [Series("heater", percent), *fan], x_label="days", y_label="%", floor=0,
        ),
    )  # fmt: skip


def beside_cut(request: Request, card: BlackoutCard | None, form: Mapping[str, str]) -> dict[str, Any]:
    """Return the curve of a power cut."""
    both: dict[str, Any] = {"box": {name: form[name] for name in NUMBERS if form.get(name)}, "try_it": TRY}
    if card is None:
        return both
    reader = door_of(request).surface().reader
    helped = [Series("with hot water", warmth(card.t_with_water_c, reader), mark="warm")] if card.t_with_water_c else []
    lines = [
        Series("the box", warmth(card.t_c, reader)),
        *helped,
        Series("the building", warmth(card.building_c, reader), mark="faint"),
    ]
    unit = degree(reader)
    curve = chart(f"Warmth in {unit} without power", "The box cools", card.hours, lines, x_label="hours", y_label=unit)
    return {**both, "charts": (curve,)}
