"""Today."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


@router.get("/")
def today(request: Request, minutes: Annotated[float | None, Query(gt=0, le=100000)] = None) -> Response:
    """Show the day's work."""
    return show(request, "today", "today.html", card=door_of(request).today(minutes=minutes, who=who_of(request)), minutes=minutes)
