"""The weeks ahead: who is where when, what is late, what found no time."""

from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.papers.calendar import icalendar_bytes
from bonebench.services.calendar.cards import PlanCard
from bonebench.services.cards import as_json
from bonebench.web.pages.api import REFUSED
from bonebench.web.shell import door_of, show
from bonebench.web.weeks import by_week, weeks

router = APIRouter()
WIDE, NARROW = 1080.0, 420.0


@router.get("/calendar", include_in_schema=False)
def calendar(request: Request, days: Annotated[int, Query()] = 28) -> Response:
    """Show the weeks ahead."""
    door = door_of(request)
    card, zone = door.plan(days), ZoneInfo(door.surface().zone)
    drawings = (weeks(card, zone, days=7, width=NARROW), weeks(card, zone, days=min(days, 42), width=WIDE))
    newest = next(iter(door.long_work("plan").jobs), None)
    going = newest if newest is not None and newest.live else None
    return show(
        request, "calendar", "calendar.html", card=card, narrow=drawings[0], wide=drawings[1], weeks=by_week(card), days=days,
        job=going, found=newest if going is None else None,
    )  # fmt: skip


@router.get("/calendar.ics", include_in_schema=False)
async def file(request: Request, days: Annotated[int, Query()] = 90) -> Response:
    """Return the weeks ahead for a calendar on a phone."""
    return await run_in_threadpool(_file, request, days)


def _file(request: Request, days: int) -> Response:
    door = door_of(request)
    card, surface = door.plan(days), door.surface()
    data = icalendar_bytes(card, room=surface.room_name, book=door.book_id(), demo=surface.demo, reader=surface.reader)
    return Response(data, media_type="text/calendar", headers={"Content-Disposition": 'attachment; filename="weeks-ahead.ics"'})


@router.get("/api/v1/plan", response_model=PlanCard, responses=REFUSED)
def plan(request: Request, days: Annotated[int, Query(ge=1, le=420)] = 28) -> JSONResponse:
    """Return the plan as it is kept."""
    return JSONResponse(as_json(door_of(request).plan(days)))
