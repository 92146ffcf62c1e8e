"""Photos as JSON under /api/v1/specimens/{tag}/photos; the pictures themselves are at the addresses the cards give."""

import base64
import binascii
from typing import Annotated

from fastapi import APIRouter, Body, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.door import About
from bonebench.errors import FileFault
from bonebench.files.pictures import LARGEST_BYTES, shown_name
from bonebench.services.cards import as_json
from bonebench.services.photos.cards import PhotoOutCard, PhotosAddedCard, PhotosCard
from bonebench.services.photos.colour import ColourCard, CourseCard, courses_of, whole_course
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.colour import measured
from bonebench.web.pages.photos import MOST_AT_ONCE, keep_sent
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1/specimens/{tag}/photos", responses=REFUSED)


class SentPhoto(Strict):
    """One photo: its file's name, to speak of it only, and its bytes in base 64 (RFC 4648)."""

    name: str | None = Field(default=None, max_length=400)
    data: str = Field(min_length=1, max_length=LARGEST_BYTES * 4 // 3 + 4, description="JPEG, PNG or WebP in base 64")


class NewPhotos(Strict):
    """Photos of one specimen; each becomes an entry of its own."""

    photos: list[SentPhoto] = Field(min_length=1, max_length=MOST_AT_ONCE)
    step: str | None = Field(default=None, max_length=40, description="The step the specimen is in unless said")
    part: str | None = Field(default=None, max_length=200)
    note: str | None = Field(default=None, max_length=2000)


class PhotoOut(Strict):
    """Which photo is taken out: its entry, or the beginning of its hash."""

    photo: str = Field(min_length=4, max_length=64)
    erase: bool = Field(default=False, description="Delete the file as well, once nothing shows it any more")


@router.get("", response_model=PhotosCard)
def photos(request: Request, tag: str) -> JSONResponse:
    """The photos of one specimen, in the order of the steps."""
    return JSONResponse(as_json(door_of(request).photos(tag)))


@router.post("", response_model=PhotosAddedCard, status_code=201)
def add(request: Request, tag: str, new: Annotated[NewPhotos, Body()]) -> JSONResponse:
    """Keep photos of a specimen: upright, at most 2048 pixels, nothing beside the pixels; refused ones are named with why."""
    sent = [(one.name, _bytes_of(one)) for one in new.photos]
    card = keep_sent(request, About(tag, new.step, new.part, new.note), sent)
    if card.refused and not (card.kept or card.already):
        why = card.refused[0].why
        raise FileFault(why.key, why.template, **why.values)
    return JSONResponse(as_json(card), status_code=201)


def _bytes_of(one: SentPhoto) -> bytes:
    try:
        return base64.b64decode(one.data, validate=True)
    except (binascii.Error, ValueError):
        name = shown_name(one.name)
        raise FileFault("photo.base64", "{name} is not in base 64 (RFC 4648); send it so", name=name) from None


@router.post("/take-out", response_model=PhotoOutCard)
def take_out(request: Request, tag: str, out: Annotated[PhotoOut, Body()]) -> JSONResponse:
    """Take one photo out of a specimen's."""
    return JSONResponse(as_json(door_of(request).take_photo_out(tag, out.photo, erase=out.erase, who=who_of(request))))


class Marked(Strict):
    """A photo with its card and bone marked: each box is left, top, width and height in percent of the picture."""

    photo: str = Field(min_length=4, max_length=64)
    card: str = Field(min_length=1, max_length=80)
    bone: str = Field(min_length=1, max_length=80)
    against: str = Field(default="grey", max_length=40, description="grey, white, paper, or how much the card reflects: 85%")
    setting: str = Field(default="", max_length=80, description="Phone and light; only looks called the same are compared")


@router.get("/colour", response_model=CourseCard)
def colour(request: Request, tag: str) -> JSONResponse:
    """How the measured colour went, setting by setting."""
    door = door_of(request)
    looks, shown = door.colour_looks(tag), door.photos(tag).tag
    return JSONResponse(as_json(whole_course(shown, door.work(lambda known: courses_of(known, looks, shown)))))


@router.post("/colour", response_model=ColourCard, status_code=201)
def measure_colour(request: Request, tag: str, asked: Annotated[Marked, Body()]) -> JSONResponse:
    """Measure the colour of bone in a photo against a card in it, and write it down."""
    door = door_of(request)
    photos = door.photos(tag)
    one = photos.named(asked.photo)
    found = measured(request, photos.tag, one, asked.model_dump())
    door.keep_colour(photos.tag, one.entry, found.entry(), who=who_of(request))
    return JSONResponse(as_json(found), status_code=201)
