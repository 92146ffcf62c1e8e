"""The box as JSON under /api/v1/enclosure: by a few numbers, or by the text of its file."""

from typing import Annotated

from fastapi import APIRouter, Body, Query, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.files.enclosure_toml import enclosure_of
from bonebench.science.enclosure import Box
from bonebench.services.cards import as_json
from bonebench.services.enclosure.around import Surroundings
from bonebench.services.enclosure.begin import BeginCard, begin
from bonebench.services.enclosure.cards import AdviseCard, BlackoutCard, SimulateCard, SizeCard
from bonebench.services.enclosure.cut import cut_power
from bonebench.services.enclosure.described import ROOM_NUMBERS, FewNumbers, RoomNumbers, box_of_numbers, building_of_numbers
from bonebench.services.enclosure.run import simulate_box
from bonebench.services.enclosure.seasons import Seasons, year_of
from bonebench.services.enclosure.size import size
from bonebench.services.enclosure.year import advise
from bonebench.services.specimens.intake import read_day
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1/enclosure", responses=REFUSED)

Text = Annotated[str | None, Field(max_length=80)]
Size = Annotated[str, Field(min_length=1, max_length=80)]


class BoxNumbers(Strict):
    """A box by a few numbers; quantities with their units, as text."""

    length: Size
    width: Size
    height: Size
    wall: Size
    watts: Text = None
    low_holes: Text = None
    high_holes: Text = None
    hole_width: Text = None
    low_height: Text = None
    high_height: Text = None
    fan: Text = None
    window: Text = None
    pavers: Text = None
    water: Text = None
    settings: Annotated[str | None, Field(max_length=400)] = None

    def box(self) -> Box:
        """Return the box these describe."""
        return box_of_numbers(FewNumbers(**{name: getattr(self, name) for name in BoxNumbers.model_fields}))


class RunNumbers(BoxNumbers):
    """A box and what surrounds it."""

    building: Annotated[str, Field(min_length=1, max_length=4000)]
    humidity: Annotated[str | None, Field(max_length=4000)] = None
    days: Text = None
    price: Text = None
    water_h: Text = None
    colony: Text = None
    heads: Text = None
    head: Text = None


class CutNumbers(BoxNumbers):
    """A box and how cold it is when the power goes."""

    outdoor: Text = None
    building_now: Text = None
    start: Text = None
    bottles: Text = None
    look: Text = None


class YearNumbers(BoxNumbers):
    """A box, its building and the months of a place."""

    means: Annotated[str, Field(min_length=1, max_length=400)]
    swings: Annotated[str | None, Field(max_length=400)] = None
    dew_points: Annotated[str | None, Field(max_length=400)] = None
    latitude: Text = None
    room_length: Size
    room_width: Size
    room_height: Size
    room_walls: Size
    room_heater: Text = None
    room_set: Text = None
    room_fuel: Text = None
    tank: Text = None
    price: Text = None
    water_h: Text = None
    hold: Text = None

    def given(self) -> tuple[Surroundings, float]:
        """Return the surroundings these describe, and what the tank holds in kg."""
        room, tank_kg = building_of_numbers(RoomNumbers(**{name: getattr(self, name) for name in ROOM_NUMBERS}))
        seasons = Seasons(means=self.means, swings=self.swings, dew_points=self.dew_points, latitude=self.latitude)
        return Surroundings(weather=year_of(seasons), room=room, water=self.water_h), tank_kg


class BoxFile(Strict):
    """The text of `enclosure.toml`, changes to it, and what surrounds the box."""

    file: str = Field(min_length=1, max_length=40_000)
    settings: list[Annotated[str, Field(max_length=80)]] = Field(default_factory=list, max_length=40)
    building: Annotated[str, Field(min_length=1, max_length=4000)]
    humidity: Annotated[str | None, Field(max_length=4000)] = None
    days: Text = None
    price: Text = None


@router.get("/simulate", response_model=SimulateCard)
def simulate(request: Request, asked: Annotated[RunNumbers, Query()]) -> JSONResponse:
    """A box through hours."""
    given = Surroundings(
        building=asked.building, humidity=asked.humidity, days=asked.days, water=asked.water_h, colony=asked.colony,
        heads=asked.heads, head=asked.head,
    )  # fmt: skip
    box = asked.box()
    card = door_of(request).work(lambda known: simulate_box(known, box=box, given=given, price=asked.price))
    return JSONResponse(as_json(card))


@router.post("/simulate", response_model=SimulateCard)
def simulate_file(request: Request, asked: Annotated[BoxFile, Body()]) -> JSONResponse:
    """A box of a file through hours."""
    box = enclosure_of(asked.file, asked.settings)
    given = Surroundings(building=asked.building, humidity=asked.humidity, days=asked.days)
    card = door_of(request).work(lambda known: simulate_box(known, box=box, given=given, price=asked.price))
    return JSONResponse(as_json(card))


@router.get("/blackout", response_model=BlackoutCard)
def blackout(request: Request, asked: Annotated[CutNumbers, Query()]) -> JSONResponse:
    """A power cut."""
    box = asked.box()
    bottles = tuple(part.strip() for part in (asked.bottles or "").split(";") if part.strip())
    card = door_of(request).work(
        lambda known: cut_power(
            known,
            box=box,
            outdoor=asked.outdoor,
            building=asked.building_now,
            start=asked.start,
            help_water=bottles,
            hours=asked.look,
        )
    )
    return JSONResponse(as_json(card))


@router.get("/advise", response_model=AdviseCard)
def advise_months(request: Request, asked: Annotated[YearNumbers, Query()]) -> JSONResponse:
    """How many holes to leave open in each month; some seconds."""
    box, (given, tank_kg) = asked.box(), asked.given()
    card = door_of(request).work(lambda known: advise(known, box=box, given=given, tank_kg=tank_kg, price=asked.price))
    return JSONResponse(as_json(card))


@router.get("/size", response_model=SizeCard)
def size_heater(request: Request, asked: Annotated[YearNumbers, Query()]) -> JSONResponse:
    """The smallest heater and pavers that hold; some seconds."""
    box, (given, _) = asked.box(), asked.given()
    return JSONResponse(as_json(door_of(request).work(lambda known: size(known, box=box, given=given, hold=asked.hold))))


@router.get("/begin", response_model=BeginCard)
def guide(request: Request, starter: Text = None, first_day: Text = None) -> JSONResponse:
    """From an old freezer to the first skull."""
    day = read_day(first_day)
    return JSONResponse(as_json(door_of(request).work(lambda known: begin(known, starter=starter, first_day=day))))
