"""Taps: one entry from one button, one undo, and who is at it."""

import json
from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from bonebench.errors import EntryUnreadable
from bonebench.web.shell import WHO_COOKIE, door_of, go_back

router = APIRouter(include_in_schema=False)


def who_of(request: Request) -> str | None:
    """Return the person who said they are at it, if the room knows them."""
    person = request.cookies.get(WHO_COOKIE, "")
    return person if person in door_of(request).surface().people else None


@router.post("/entries")
def tap(
    request: Request,
    kind: Annotated[str, Form()],
    subject: Annotated[list[str], Form()],
    values: Annotated[str, Form()] = "{}",
    task: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "/",
    id: Annotated[str, Form()] = "",
    about_time: Annotated[str, Form()] = "",
) -> Response:
    """Store what was tapped, about exactly the subjects the page showed."""
    try:
        read = json.loads(values)
    except ValueError:
        read = None
    if not isinstance(read, dict):
        raise EntryUnreadable("tap.values", "the button sent something that cannot be read; load the page again and tap once more")
    door = door_of(request)
    logged = door.tap(
        kind=kind,
        subjects=subject,
        values=read,
        task=task or None,
        about=about_time or None,
        who=who_of(request),
        entry_id=id or None,
    )
    return go_back(back, logged.entry_id)


@router.post("/undo")
def undo(request: Request, entry: Annotated[str, Form()], back: Annotated[str, Form()] = "/") -> Response:
    """Take one entry back."""
    door_of(request).undo(entry, who=who_of(request))
    return go_back(back)


@router.post("/who")
def who(request: Request, person: Annotated[str, Form()] = "", back: Annotated[str, Form()] = "/") -> Response:
    """Say who is at it on this device from now on."""
    answer = go_back(back)
    if person in door_of(request).surface().people:
        answer.set_cookie(WHO_COOKIE, person, max_age=12 * 3600, path="/", httponly=True, samesite="strict")
    else:
        answer.delete_cookie(WHO_COOKIE, path="/")
    return answer
