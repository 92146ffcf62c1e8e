"""Today."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


@router.get("/")
def today(request: Request, minutes: float | None = None) -> Response:
    """Show the day's work."""
    return show(request, "today", "today.html", card=door_of(request).today(minutes=minutes), minutes=minutes)
