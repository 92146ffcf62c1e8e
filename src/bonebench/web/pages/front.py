"""The front of the route: is outdoors a freezer, and how long on the thaw shelf; as pages and as JSON."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.errors import UnknownName
from bonebench.services.cards import as_json
from bonebench.services.front.cards import OutdoorsCard, ThawCard
from bonebench.services.front.outdoors import outdoors
from bonebench.services.front.shelf import thaw
from bonebench.web.fronttools import TOOLS
from bonebench.web.pages.api import REFUSED
from bonebench.web.shell import door_of
from bonebench.web.tools import worked_page

router = APIRouter()
Text = Annotated[str | None, Query(max_length=80)]


@router.get("/calendar/ask/{key}", include_in_schema=False)
async def page(request: Request, key: str) -> Response:
    """Show one of the two questions, answered where something was typed."""
    tool = TOOLS.get(key)
    if tool is None:
        raise UnknownName("front.question", "there is no question '{key}' here", could_be=tuple(TOOLS), key=key)
    return await run_in_threadpool(worked_page, request, tool, "calendar", ("/calendar", "The weeks ahead"))


@router.get("/api/v1/outdoors", response_model=OutdoorsCard, responses=REFUSED)
def outdoors_now(
    request: Request,
    warmest: Annotated[str, Query(min_length=1, max_length=400, description="Of each day, today first: -7, -9, -4 C")],
) -> JSONResponse:
    """Say until when outdoors is a freezer."""
    door = door_of(request)
    return JSONResponse(as_json(door.work(lambda known: outdoors(known, today=known.room.day(door.now()), warmest=warmest))))


@router.get("/api/v1/thaw", response_model=ThawCard, responses=REFUSED)
def thaw_one(
    request: Request, species: Text = None, head_mass: Text = None, shelf: Text = None, freezer: Text = None
) -> JSONResponse:
    """Say how long a head takes on the thaw shelf, and to freeze it again."""
    asked = {"species": species, "head_mass": head_mass, "shelf": shelf, "freezer": freezer}
    return JSONResponse(as_json(door_of(request).work(lambda known: thaw(known, **asked))))
