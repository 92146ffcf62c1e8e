"""The question of a colony with its box: its form, and the charts and months that stand beside the answer."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fastapi import Request

from bonebench.science.weather import MONTH_NAMES
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.bands import count
from bonebench.services.colony.cards import Band
from bonebench.services.enclosure.around import Surroundings
from bonebench.services.enclosure.described import ROOM_NUMBERS, RoomNumbers, box_of_numbers, building_of_numbers
from bonebench.services.enclosure.seasons import Seasons, year_of
from bonebench.services.season.boxed import with_box
from bonebench.services.season.cards import BoxedCard
from bonebench.units import Reader
from bonebench.web.boxtools import BOX, ROOM, SHARPEN, degree, few_of, warmth
from bonebench.web.boxtools import TRY as TRY_BOX
from bonebench.web.charts import Chart, Series, chart
from bonebench.web.shell import door_of
from bonebench.web.tools import Field, Tool

# What is asked of the colony here; the air is that of the box.
COLONY = ("size", "floor", "sites", "bare", "dry", "dried", "beetles", "pests")
AROUND = (
    Field(
        "building", "How warm is the building?", "5 C or 41 F; or one for each hour, apart by semicolons; a year is asked for below"
    ),
    Field("building_humidity", "How damp is it there?", "80 %; empty is 70 %"),
    Field("days", "For how long?", "30d; with a year below, empty is all of it"),
)
YEAR = tuple(replace(field, more=True) for field in ROOM)
OTHER_WATER = Field("water_h", "Water in an hour beside theirs", "2 g, of a wet pad or drying food; empty is none", more=True)


def surroundings_of(form: Mapping[str, str]) -> Surroundings:
    """Return what surrounds the box: a building as it was typed, or a year of months with or without the building's walls."""
    days, water = form.get("days") or None, form.get("water_h") or None
    if not form.get("means"):
        humidity = form.get("building_humidity") or None
        return Surroundings(building=form.get("building") or None, humidity=humidity, days=days, water=water)
    typed = {name: form.get(name) or None for name in ("swings", "dew_points", "latitude")}
    weather = year_of(Seasons(means=form["means"], **typed))
    sizes = {name: form.get(name, "") for name in ROOM_NUMBERS[:4]}
    if not any(sizes.values()):
        return Surroundings(weather=weather, held=form.get("building") or None, days=days, water=water)
    rest = {name: form.get(name) or None for name in ROOM_NUMBERS[4:]}
    room, _ = building_of_numbers(RoomNumbers(**sizes, **rest))  # type: ignore[arg-type]
    return Surroundings(weather=weather, room=room, days=days, water=water)


def _with_box(request: Request, form: Mapping[str, str]) -> BoxedCard:
    about: dict[str, Any] = {name: form[name] for name in COLONY if form.get(name)}
    box, given, asked = box_of_numbers(few_of(form)), surroundings_of(form), Asked(**about)
    return door_of(request).work(lambda known: with_box(known, asked, box=box, given=given, ration=form.get("ration") or None))


def boxed_tool(size: Field, house: tuple[Field, ...]) -> Tool:
    """Return the question, with the fields that every question about a colony asks."""
    return Tool(
        "with-box", "With the box", "warmth and damp of the box drive them, and they it",
        "The box runs with the heat and water of the colony, and the colony in the air of the box: month by month.",
        (
            size, Field("ration", "Food a day", "80 g; empty is all they can eat"), *BOX, *AROUND, *SHARPEN, OTHER_WATER, *YEAR,
            *house,
        ),
        # The one field that no link brings along: with it, this form was sent.
        ("ration",), _with_box, "/colony/ask/with-box",
    )  # fmt: skip


TRY = {
    **{name: TRY_BOX[name] for name in ("length", "width", "height", "wall", "watts", "low_holes", "high_holes", "fan", "pavers")},
    "building": "5 C", "building_humidity": "80 %", "days": "60d", "ration": "80 g",
}  # fmt: skip


def beside_boxed(request: Request, card: BoxedCard) -> dict[str, Any]:
    """Return the charts of the days and the months as a table."""
    reader = door_of(request).surface().reader
    return {
        "charts": boxed_charts(card, reader),
        "boxed_months": [(MONTH_NAMES[month.month - 1], month, _many(month.larvae), _many(month.adults)) for month in card.months],
    }


def _many(band: Band) -> str:
    return f"{count(band.low)} to {count(band.high)}"


def boxed_charts(card: BoxedCard, reader: Reader) -> tuple[Chart, ...]:
    """Draw the air of the box and the appetite of the colony in it, day by day."""
    if len(card.days) < 2:
        return ()
    unit, days = degree(reader), [float(day.day) for day in card.days]
    low, high = (warmth([getattr(day, name) for day in card.days], reader) for name in ("t_min_c", "t_max_c"))
    damp = [100 * day.rh_mean for day in card.days]
    best = max(day.appetite_g.plan for day in card.days)
    return (
        chart(
            f"Warmth in the box with them, {unit}", f"Coldest to hottest of each day, {min(low):.1f} to {max(high):.1f} "
            "{unit}", days,
            [Series("the box, lowest to highest", high, low=low)], x_label="days", y_label=unit,
        ),
        chart(
            "Relative humidity in the box with them, %", f"Mean of each day, from {min(damp):.0f} to {max(damp):.0f} %", days,
            [Series("the box", damp)], x_label="days", y_label="%", floor=0,
        ),
        chart(
            "What they can eat, g a day", f"Planned cautiously, at most {best:.3g} g a day", days,
            [
                Series("nine in ten", [day.appetite_g.high for day in card.days], low=[day.appetite_g.low for day in card.days]),
                Series("plan with", [day.appetite_g.plan for day in card.days]),
            ],
            x_label="days", y_label="g a day", floor=0,
        ),
        chart(
            "Thousands of larvae and adults, middle of the band", "Day by day", days,
            [
                Series("larvae", [day.larvae.value / 1000 for day in card.days]),
                Series("adults", [day.adults.value / 1000 for day in card.days], mark="warm"),
            ],
            x_label="days", y_label="1000s", floor=0,
        ),
    )  # fmt: skip
