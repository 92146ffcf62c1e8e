"""The room."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


@router.get("/room")
def room(request: Request) -> Response:
    """Show what sits where."""
    return show(request, "room", "room.html", card=door_of(request).room())
