"""The same services as JSON, under /api/v1, from the same cards."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body, Query, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import JSONResponse

from bonebench.door import Intake
from bonebench.errors import BonebenchError
from bonebench.services.baths.cards import ConvertCard, MixCard
from bonebench.services.baths.mix import convert, mix, read_notation
from bonebench.services.cards import as_json
from bonebench.services.rooms.cards import RoomCard
from bonebench.services.search.cards import SearchCard
from bonebench.services.species.cards import SpeciesCard, SpeciesListCard
from bonebench.services.specimens.cards import AddedCard, SpecimenCard, SpecimenListCard
from bonebench.services.today.cards import TodayCard
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of


class Fault(BaseModel):
    """What went wrong, in the words a person reads."""

    key: str
    text: str
    values: dict[str, Any] = Field(default_factory=dict)
    path: str | None = None


class FaultCard(BaseModel):
    """The answer where something can be mended."""

    schema_: str = Field(alias="schema")
    error: Fault


class Health(BaseModel):
    """Whether the book can be read and written."""

    readable: bool
    writable: bool


REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"model": FaultCard, "description": "This is not JSON."},
    403: {"model": FaultCard, "description": "Writing from a page of another site."},
    404: {"model": FaultCard, "description": "Nobody knows that name."},
    411: {"model": FaultCard, "description": "The question does not say how long it is."},
    413: {"model": FaultCard, "description": "The question is too large; send fewer photos at a time."},
    421: {"model": FaultCard, "description": "The program does not answer to that host name."},
    422: {"model": FaultCard, "description": "Something in the question cannot be."},
    503: {"model": FaultCard, "description": "Another program holds the book; try again."},
    507: {"model": FaultCard, "description": "The book takes no more writing."},
}
router = APIRouter(prefix="/api/v1", responses=REFUSED)


class Strict(BaseModel):
    """Neither a false for a number nor a name nobody knows gets in."""

    model_config = ConfigDict(strict=True, extra="forbid")


class NewSpecimen(Strict):
    """A specimen as it is taken in; quantities with their units, as text."""

    species: str = Field(min_length=1, max_length=200)
    owner: str | None = Field(default=None, max_length=200)
    live_mass: str | None = Field(default=None, max_length=40)
    head_mass: str | None = Field(default=None, max_length=40)
    sex: str | None = Field(default=None, max_length=40)
    age: str | None = Field(default=None, max_length=40)
    condition: str | None = Field(default=None, max_length=2000)
    finish: Literal["white", "natural"] = "white"
    measure: bool = False
    permit: str | None = Field(default=None, max_length=200)
    promised: str | None = Field(default=None, max_length=10)
    parts: str | None = Field(default=None, max_length=400)
    tag: str | None = Field(default=None, max_length=40, description="One in hand, off a printed roll")
    arrived: str | None = Field(default=None, max_length=40)
    answers: dict[str, Literal["yes", "no", "unknown"]] = Field(default_factory=dict, description="To the questions at the door")


class NewEntry(Strict):
    """One entry with the id its writer made, so that sending it again does nothing."""

    id: str = Field(min_length=8, max_length=64)
    kind: str = Field(max_length=40)
    subjects: list[Annotated[str, Field(min_length=1, max_length=120)]] = Field(max_length=500)
    values: dict[str, Any] = Field(default_factory=dict)
    earliest: str = Field(description="ISO 8601 with its zone")
    latest: str = Field(description="ISO 8601 with its zone")
    writer: str = Field(min_length=1, max_length=120)
    number: int = Field(ge=0, le=2**31 - 1)
    task: str | None = Field(default=None, max_length=64)
    replaces: str | None = Field(default=None, max_length=64)
    who: str | None = Field(default=None, max_length=36)


class Batch(Strict):
    """Entries made while there was no network."""

    entries: list[NewEntry] = Field(max_length=1000)


class Stored(BaseModel):
    """How one entry of a batch went."""

    id: str
    how: Literal["stored", "already stored", "clash", "unreadable"]
    why: str | None = None


class BatchAnswer(BaseModel):
    """How each entry of a batch went."""

    schema_: str = Field(default="entries/1", alias="schema")
    entries: list[Stored]


def _answer(card: Any, status: int = 200) -> JSONResponse:
    return JSONResponse(as_json(card), status_code=status)


@router.get("/today", response_model=TodayCard)
def today(request: Request, minutes: Annotated[float | None, Query(gt=0, le=100000)] = None) -> JSONResponse:
    """The day's work, clean work first."""
    return _answer(door_of(request).today(minutes=minutes))


@router.get("/specimens", response_model=SpecimenListCard)
def specimens(
    request: Request, step: str | None = None, place: str | None = None, owner: str | None = None, late: bool = False
) -> JSONResponse:
    """The list of specimens."""
    return _answer(door_of(request).specimens(step=step, place=place, owner=owner, late=late))


@router.post("/specimens", response_model=AddedCard, status_code=201)
def add(request: Request, new: Annotated[NewSpecimen, Body()]) -> JSONResponse:
    """Take a specimen in."""
    return _answer(door_of(request).add(Intake(**new.model_dump()), who=who_of(request)), 201)


@router.get("/find", response_model=SearchCard)
def find(request: Request, q: str = "") -> JSONResponse:
    """The specimens that answer to words of a tag, owner, species, place or note."""
    return _answer(door_of(request).find(q))


@router.get("/specimens/{tag}", response_model=SpecimenCard)
def specimen(request: Request, tag: str) -> JSONResponse:
    """One specimen, whole."""
    return _answer(door_of(request).specimen(tag))


@router.post("/entries", response_model=BatchAnswer)
def entries(request: Request, batch: Annotated[Batch, Body()]) -> JSONResponse:
    """Store entries that were written elsewhere; each is answered for itself, and what cannot be read says why."""
    door = door_of(request)
    answers: list[dict[str, str | None]] = []
    for new in batch.entries:
        try:
            how = door.take(new.model_dump())
            answers.append({"id": new.id, "how": how, "why": None})
        except BonebenchError as fault:
            answers.append({"id": new.id, "how": "unreadable", "why": fault.said.text})
    door.make_current(door.now())
    return JSONResponse({"schema": "entries/1", "entries": answers})


@router.get("/room", response_model=RoomCard)
def room(request: Request) -> JSONResponse:
    """The room as it stands."""
    return _answer(door_of(request).room())


@router.get("/species", response_model=SpeciesListCard)
def species(request: Request, q: str = "") -> JSONResponse:
    """The species that answer to a word."""
    return _answer(door_of(request).species_list(q))


@router.get("/species/{key}", response_model=SpeciesCard)
def one_species(request: Request, key: str) -> JSONResponse:
    """One species with the standing of every value."""
    return _answer(door_of(request).species(key))


@router.get("/baths/mix", response_model=MixCard)
def mix_bath(
    stock: str, volume: str, target: str | None = None, parts: str | None = None, temperature: str | None = None
) -> JSONResponse:
    """What to pour for a bath, never without its cautions."""
    return _answer(mix(stock=stock, target=target, parts=parts, volume=volume, temperature=temperature))


@router.get("/baths/convert", response_model=ConvertCard)
def convert_strength(strength: str, to: str, temperature: str | None = None) -> JSONResponse:
    """A strength in another notation."""
    return _answer(convert(strength=strength, to=read_notation(to), temperature=temperature))
