"""The room's own pieces and boxes as JSON: a look at a piece, the settings of a box, how good the dates were."""

from typing import Annotated

from fastapi import APIRouter, Body, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.door import BoxTyped
from bonebench.services.cards import as_json
from bonebench.services.colony.boxes import BoxesCard
from bonebench.services.colony.dates import DatesCard, dates
from bonebench.services.specimens.cards import SpecimenCard
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.colonybox import read_boxes
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1", responses=REFUSED)
Text = Annotated[str | None, Field(max_length=80)]


class PieceNow(Strict):
    """How a piece looks (hardly touched, eaten into, half gone, crevices left, bare), smells (0 to 3) and what it weighs."""

    grade: Text = None
    smell: Text = None
    mass: Text = None
    at: Text = None
    about: Text = None


class BoxNow(Strict):
    """A box; what is left out stays as it was, none takes it back."""

    place: Annotated[str, Field(max_length=80)] = ""
    floor: Text = None
    sites: Text = None
    beetles: Text = None
    heater: Text = None
    holding: Text = None
    spare: Text = None


@router.post("/specimens/{tag}/look", response_model=SpecimenCard)
def look(request: Request, tag: str, seen: Annotated[PieceNow, Body()]) -> JSONResponse:
    """Write down a look at a piece; the answer is the specimen as it is then."""
    door = door_of(request)
    door.note_piece(tag, who=who_of(request), **seen.model_dump())
    return JSONResponse(as_json(door.specimen(tag)))


@router.get("/colony/skill", response_model=DatesCard)
def skill(request: Request) -> JSONResponse:
    """How good the dates were: each piece that is through, and the shares that kept."""
    return JSONResponse(as_json(door_of(request).read(dates)))


@router.get("/colony/box", response_model=BoxesCard)
def boxes_(request: Request) -> JSONResponse:
    """The settings of the room's beetle boxes."""
    return JSONResponse(as_json(read_boxes(request)))


@router.post("/colony/box", response_model=BoxesCard)
def set_box_(request: Request, box: Annotated[BoxNow, Body()]) -> JSONResponse:
    """Set a box; the answer is all of them as they are then."""
    door_of(request).set_box(BoxTyped(**box.model_dump()), who_of(request))
    return JSONResponse(as_json(read_boxes(request)))
