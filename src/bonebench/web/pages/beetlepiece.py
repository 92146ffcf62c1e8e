"""A weight of one piece, typed on its page."""

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back

router = APIRouter(include_in_schema=False)


@router.post("/specimens/{tag}/weigh")
def weigh(request: Request, tag: str, mass: Annotated[str, Form()] = "", back: Annotated[str, Form()] = "/") -> Response:
    """Write down what a piece weighs now."""
    logged = door_of(request).note_piece(tag, mass=mass, who=who_of(request))
    return go_back(back, logged[0])
