"""Papers as JSON: what a code in a picture means, a pencil sheet, and the sheet typed back."""

from typing import Annotated

from fastapi import APIRouter, Body, File, Request, UploadFile
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.files.codes import codes_in
from bonebench.files.pictures import LARGEST_BYTES
from bonebench.services.cards import as_json
from bonebench.services.prints.cards import ScanCard, SheetCard, TypedBackCard
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1", responses=REFUSED)


class Codes(Strict):
    """Texts of codes that were read elsewhere."""

    codes: list[Annotated[str, Field(max_length=400)]] = Field(max_length=60)


class TypedBack(Strict):
    """What a pencil sheet says: its number, and its rows as they were circled."""

    sheet: str = Field(max_length=40, description="The number at the head of the sheet, such as 1126A-7")
    rows: str = Field(max_length=4000, description="Such as: 3 b, 5 d4, 7 a at 14:30")


@router.post("/scan/picture", response_model=ScanCard)
def scan_picture(request: Request, picture: Annotated[UploadFile, File(description="A JPEG, PNG or WebP picture")]) -> JSONResponse:
    """What the codes in a picture are: specimens, places, baths, pencil sheets."""
    data = picture.file.read(LARGEST_BYTES + 1)
    return JSONResponse(as_json(door_of(request).scanned(codes_in(data, picture.filename))))


@router.post("/scan", response_model=ScanCard)
def scan_codes(request: Request, sent: Annotated[Codes, Body()]) -> JSONResponse:
    """What codes are whose texts were read elsewhere."""
    return JSONResponse(as_json(door_of(request).scanned(sent.codes)))


@router.get("/sheets/{number}", response_model=SheetCard)
def sheet(request: Request, number: str) -> JSONResponse:
    """A pencil sheet as it was printed: its rows, and what each letter stores."""
    return JSONResponse(as_json(door_of(request).sheet(number)))


@router.post("/typed-back", response_model=TypedBackCard)
def typed_back(request: Request, sent: Annotated[TypedBack, Body()]) -> JSONResponse:
    """Store what a pencil sheet says. What cannot be read is answered in words; typing the same again stores nothing twice."""
    return JSONResponse(as_json(door_of(request).typed_back(sent.sheet, sent.rows, who_of(request))))
