"""The teeth of a specimen as JSON."""

from typing import Annotated

from fastapi import APIRouter, Body, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.door import TeethTold
from bonebench.services.cards import as_json
from bonebench.services.teeth.cards import TeethChartCard, TeethToldCard
from bonebench.services.teeth.do import MOST_IN_JAR
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1/specimens/{tag}/teeth", responses=REFUSED)


Words = Annotated[str, Field(min_length=1, max_length=40)]


class TeethSaid(Strict):
    """What is said of teeth: each one named with its state, all the others, the jar (counted, or so many in or out)."""

    marks: dict[Words, Words] = Field(default_factory=dict, max_length=300)
    rest: Words | None = None
    jar: int | None = Field(None, ge=0, le=MOST_IN_JAR)
    jar_by: int | None = Field(None, ge=-MOST_IN_JAR, le=MOST_IN_JAR)
    at: Words | None = None
    about: Words | None = None


@router.get("", response_model=TeethChartCard)
def teeth(request: Request, tag: str) -> JSONResponse:
    """The chart of a specimen's teeth, its jar, and what does not add up."""
    return JSONResponse(as_json(door_of(request).teeth(tag)))


@router.post("", response_model=TeethToldCard, status_code=201)
def tell(request: Request, tag: str, said: Annotated[TeethSaid, Body()]) -> JSONResponse:
    """Say how teeth are, or what the jar holds; a code nobody can read is refused with those it could be."""
    asked = TeethTold(
        tag=tag, marks=said.marks, rest=said.rest, jar=None if said.jar is None else str(said.jar),
        jar_by=None if said.jar_by is None else str(said.jar_by), at=said.at, about=said.about,
    )  # fmt: skip
    return JSONResponse(as_json(door_of(request).tell_teeth(asked, who_of(request))), status_code=201)
