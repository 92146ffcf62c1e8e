"""A colony with its box as JSON under /api/v1/colony/with-box: by a few numbers, or by the text of the box's file."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Query, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.files.building_toml import building_of
from bonebench.files.enclosure_toml import enclosure_of
from bonebench.science.enclosure import Box
from bonebench.services.cards import as_json
from bonebench.services.colony.asked import Asked
from bonebench.services.enclosure.around import Surroundings
from bonebench.services.enclosure.seasons import Seasons, year_of
from bonebench.services.season.boxed import with_box
from bonebench.services.season.cards import BoxedCard
from bonebench.web.boxedtools import COLONY, surroundings_of
from bonebench.web.pages.api import REFUSED
from bonebench.web.pages.api_colony import AboutBeetles
from bonebench.web.pages.api_enclosure import BoxNumbers
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1/colony/with-box", responses=REFUSED)

Text = Annotated[str | None, Field(max_length=80)]
Months = Annotated[str | None, Field(max_length=400)]
Hours = Annotated[str | None, Field(max_length=4000)]


class Boxed(AboutBeetles):
    """A colony, its food, and what surrounds its box: a building held at one warmth, hours of it, or the months of a place."""

    ration: Text = None
    building: Hours = None
    building_humidity: Hours = None
    days: Text = None
    water_h: Text = None
    means: Months = None
    swings: Months = None
    dew_points: Months = None
    latitude: Text = None

    def colony(self) -> Asked:
        """Return the colony these describe."""
        about: dict[str, Any] = {name: text for name in COLONY if (text := getattr(self, name))}
        return Asked(**about, seed=self.seed)


class BoxedNumbers(Boxed, BoxNumbers):
    """The same with a box by a few numbers, and its building if the months of a place are given."""

    room_length: Text = None
    room_width: Text = None
    room_height: Text = None
    room_walls: Text = None
    room_heater: Text = None
    room_set: Text = None
    room_fuel: Text = None
    tank: Text = None

    def given(self) -> Surroundings:
        """Return the surroundings these describe."""
        return surroundings_of({name: text for name, text in self.model_dump().items() if isinstance(text, str)})


class BoxedFile(Boxed):
    """The same with the text of `enclosure.toml` and changes to it; the file's building counts with the months of a place."""

    file: str = Field(min_length=1, max_length=40_000)
    settings: list[Annotated[str, Field(max_length=80)]] = Field(default_factory=list, max_length=40)

    def given(self) -> Surroundings:
        """Return the surroundings these describe."""
        if not self.means:
            return Surroundings(building=self.building, humidity=self.building_humidity, days=self.days, water=self.water_h)
        weather = year_of(Seasons(means=self.means, swings=self.swings, dew_points=self.dew_points, latitude=self.latitude))
        room = building_of(self.file, self.settings)
        held = None if room else self.building
        return Surroundings(weather=weather, room=room[0] if room else None, held=held, days=self.days, water=self.water_h)


@router.get("", response_model=BoxedCard)
def boxed(request: Request, asked: Annotated[BoxedNumbers, Query()]) -> JSONResponse:
    """A colony in its box; a year takes some seconds."""
    return _answer(request, asked, asked.box(), asked.given())


@router.post("", response_model=BoxedCard)
def boxed_file(request: Request, asked: Annotated[BoxedFile, Body()]) -> JSONResponse:
    """A colony in the box of a file; nothing is stored."""
    return _answer(request, asked, enclosure_of(asked.file, asked.settings), asked.given())


def _answer(request: Request, asked: Boxed, box: Box, given: Surroundings) -> JSONResponse:
    colony = asked.colony()
    card = door_of(request).work(lambda known: with_box(known, colony, box=box, given=given, ration=asked.ration))
    return JSONResponse(as_json(card))
