"""Parts, tags, lots and places as JSON, under /api/v1."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.services.cards import as_json
from bonebench.services.lots.cards import LotCard, LotListCard
from bonebench.services.parts.cards import PartListCard, WaysCard
from bonebench.services.places.cards import PlaceBookCard, PlaceListCard
from bonebench.services.places.do import Count
from bonebench.services.specimens.cards import SpecimenCard
from bonebench.services.tags.cards import IssuedCard, TagsCard
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1", responses=REFUSED)

Tag = Annotated[str, Field(min_length=1, max_length=40)]
Subject = Annotated[str, Field(min_length=1, max_length=120)]


class NewCount(Strict):
    """What is in a place: how many, the tags that were read, the subjects that were ticked."""

    found: int | None = Field(default=None, ge=0, le=100_000)
    tags: list[Tag] = Field(default_factory=list, max_length=2000)
    ticked: list[Subject] = Field(default_factory=list, max_length=2000)


class NewRoll(Strict):
    """A block of tags to hand out."""

    count: int = Field(ge=1, le=2000)
    roll: str | None = Field(default=None, max_length=120)


class Together(Strict):
    """Specimens that join a lot."""

    name: str = Field(min_length=1, max_length=120)
    tags: list[Tag] = Field(min_length=1, max_length=500)


class Apart(Strict):
    """Specimens that leave a lot; none named is all of them."""

    name: str = Field(min_length=1, max_length=120)
    tags: list[Tag] = Field(default_factory=list, max_length=500)


class NewTag(Strict):
    """The tag in hand; none takes the next."""

    to: Tag | None = None


def _answer(card: Any, status: int = 200) -> JSONResponse:
    return JSONResponse(as_json(card), status_code=status)


@router.get("/specimens/{tag}/parts", response_model=PartListCard)
def parts(request: Request, tag: str) -> JSONResponse:
    """The parts of a specimen, each with its place; entries about them go to /entries."""
    return _answer(door_of(request).parts(tag))


@router.get("/parts/{part}", response_model=WaysCard)
def ways(request: Request, part: str, into: str | None = None) -> JSONResponse:
    """Which baths a part may enter; refused in words where it stays out of the place named."""
    return _answer(door_of(request).part_ways(part, into))


@router.post("/specimens/{tag}/retag", response_model=SpecimenCard)
def retag(request: Request, tag: str, new: Annotated[NewTag, Body()]) -> JSONResponse:
    """Put another tag on a specimen."""
    door = door_of(request)
    kept = door.retag(tag, new.to, who=who_of(request))
    return _answer(door.specimen(kept.entries[0].what.tag))  # type: ignore[attr-defined]


@router.get("/tags", response_model=TagsCard)
def tags(request: Request) -> JSONResponse:
    """The rolls of tags that were issued, and what is left of each."""
    return _answer(door_of(request).tags())


@router.post("/tags", response_model=IssuedCard, status_code=201)
def issue(request: Request, new: Annotated[NewRoll, Body()]) -> JSONResponse:
    """Hand out a block of tags."""
    return _answer(door_of(request).issue_tags(new.count, new.roll, who=who_of(request)), 201)


@router.get("/lots", response_model=LotListCard)
def lots(request: Request) -> JSONResponse:
    """The lots of the room."""
    return _answer(door_of(request).lots())


@router.post("/lots", response_model=LotCard, status_code=201)
def join(request: Request, new: Annotated[Together, Body()]) -> JSONResponse:
    """Treat specimens together from now on."""
    return _answer(door_of(request).join_lot(new.name, new.tags, who=who_of(request)), 201)


@router.post("/lots/split", response_model=LotListCard)
def split(request: Request, out: Annotated[Apart, Body()]) -> JSONResponse:
    """Take specimens out of a lot."""
    return _answer(door_of(request).split_lot(out.name, out.tags, who=who_of(request)))


@router.get("/places", response_model=PlaceListCard)
def places(request: Request) -> JSONResponse:
    """The places along the wall, how many things should be in each, and when it was counted last."""
    return _answer(door_of(request).places())


@router.get("/places/{key}", response_model=PlaceBookCard)
def place(request: Request, key: str) -> JSONResponse:
    """What should be in a place, and what its last count found."""
    return _answer(door_of(request).place(key))


@router.post("/places/{key}/count", response_model=PlaceBookCard)
def count(request: Request, key: str, new: Annotated[NewCount, Body()]) -> JSONResponse:
    """Count a place: what is missing is named with where it was seen last."""
    return _answer(door_of(request).count_place(key, Count(new.found, new.tags, new.ticked), who=who_of(request)))
