"""Catch-up: the walk through the room."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


@router.get("/catch-up")
def catch_up(request: Request) -> Response:
    """Show what nobody has said a word about lately, place by place."""
    return show(request, "catch-up", "catch_up.html", card=door_of(request).catch_up())
