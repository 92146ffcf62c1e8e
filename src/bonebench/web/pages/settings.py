"""How the room does things, and what it has."""

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from bonebench.shop.rounds import ROOM_PLACE, place_subject
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)


@router.get("/methods")
def methods(request: Request) -> Response:
    """Show every way the program knows to do each step, with its harm, and which the room uses."""
    return show(request, "methods", "methods.html", card=door_of(request).room())


@router.post("/methods")
def choose(request: Request, method: Annotated[str, Form()], back: Annotated[str, Form()] = "/methods") -> Response:
    """Choose how the room does a step."""
    kept = door_of(request).choose_method(method, who_of(request))
    return go_back(back, kept.entries[0].id)


@router.post("/profile")
def profile(request: Request, name: Annotated[str, Form()] = "", back: Annotated[str, Form()] = "/methods") -> Response:
    """Lock the room to a profile, or unlock it."""
    kept = door_of(request).set_profile(name, who_of(request))
    return go_back(back, kept.entries[0].id)


@router.post("/features")
def features(
    request: Request, feature: Annotated[list[str] | None, Form()] = None, back: Annotated[str, Form()] = "/methods"
) -> Response:
    """Say what the room has."""
    kept = door_of(request).set_features(feature or [], who_of(request))
    return go_back(back, kept.entries[0].id)


@router.post("/left")
def left(request: Request, tick: Annotated[list[str] | None, Form()] = None, back: Annotated[str, Form()] = "/") -> Response:
    """Store the card at the door with the taps that were made."""
    logged = door_of(request).tap(
        kind="left", subjects=[place_subject(ROOM_PLACE)], values={"ticks": tick or []}, who=who_of(request)
    )
    return go_back(back, logged.entry_id)
