"""Taps: one entry from one button, one undo, and who is at it."""

import json
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from bonebench.errors import EntryUnreadable
from bonebench.web.shell import WHO_COOKIE, door_of, go_back

router = APIRouter(include_in_schema=False)


def who_of(request: Request) -> str | None:
    """Return the person who said they are at it, if the room knows them."""
    person = request.cookies.get(WHO_COOKIE, "")
    return person if person in door_of(request).surface().people else None


@dataclass(frozen=True, slots=True)
class Tapped:
    """What a button sent: one answer as a card showed it."""

    kind: str
    values: dict[str, Any]
    task: str | None = None
    about: str | None = None


def read_tapped(kind: str, values: str, task: str, about: str) -> Tapped:
    """Read a button's own fields."""
    try:
        read = json.loads(values)
    except ValueError:
        read = None
    if not isinstance(read, dict) or not kind:
        raise EntryUnreadable("tap.values", "the button sent something that cannot be read; load the page again and tap once more")
    return Tapped(kind, read, task or None, about or None)


def read_answer(answer: str, about: str) -> Tapped:
    """Read a button of a tray, which carries its whole answer."""
    try:
        read = json.loads(answer)
        return Tapped(read["kind"], read["values"], read.get("task"), about or read.get("about"))
    except (ValueError, KeyError, TypeError, AttributeError):
        raise EntryUnreadable(
            "tap.values", "the button sent something that cannot be read; load the page again and tap once more"
        ) from None


@router.post("/entries")
def tap(
    request: Request,
    kind: Annotated[str, Form()] = "",
    subject: Annotated[list[str] | None, Form()] = None,
    values: Annotated[str, Form()] = "{}",
    task: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "/",
    id: Annotated[str, Form()] = "",
    about_time: Annotated[str, Form()] = "",
    answer: Annotated[str, Form()] = "",
) -> Response:
    """Store what was tapped, about exactly the subjects the page showed and left ticked."""
    tapped = read_answer(answer, about_time) if answer else read_tapped(kind, values, task, about_time)
    subjects = [one for ticked in subject or () for one in ticked.split(",") if one]
    if not subjects:
        raise EntryUnreadable("tap.nothing", "nothing was ticked, so nothing was stored; tick what it is about")
    logged = door_of(request).tap(
        kind=tapped.kind,
        subjects=subjects,
        values=tapped.values,
        task=tapped.task,
        about=tapped.about,
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
