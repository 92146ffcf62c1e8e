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
from bonebench.web.pages.api import REFUSED, Strict
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
