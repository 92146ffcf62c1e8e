"""Pages of one place, of lots, and of rolls of tags."""

from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from bonebench.errors import BonebenchError, NotAQuantity
from bonebench.said import Said
from bonebench.services.places.do import Count
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)

Text = Annotated[str, Form()]


def whole(text: str) -> int | None:
    """Read a whole number as it is typed; nothing typed is none."""
    plain = text.strip()
    if not plain:
        return None
    try:
        return int(plain)
    except ValueError:
        raise NotAQuantity("count.whole", "'{text}' is not a whole number; write it like 12", text=text) from None


def _page(request: Request, page: str, card: Any, error: Said | None = None, typed: dict[str, str] | None = None) -> Response:
    status = 200 if error is None else 422
    return show(request, page, f"{page}.html", status=status, card=card, error=error, typed=typed or {})


@router.get("/place/{key}")
def place(request: Request, key: str) -> Response:
    """Show what should be in a place, and what its last count found."""
    return _page(request, "place", door_of(request).place(key))


@router.post("/place/{key}/count")
def count(
    request: Request, key: str, ticked: Annotated[list[str] | None, Form()] = None, tags: Text = "", found: Text = ""
) -> Response:
    """Count a place; what cannot be read is said beside what was typed."""
    door = door_of(request)
    subjects = [one for ticks in ticked or () for one in ticks.split(",") if one]
    try:
        card = door.count_place(key, Count(whole(found), tags.replace(",", " ").split(), subjects), who=who_of(request))
    except BonebenchError as fault:
        return _page(request, "place", door.place(key), fault.said, {"tags": tags, "found": found})
    return go_back(f"/place/{quote(card.key)}", card.count.entry if card.count is not None else None)


@router.get("/lots")
def lots(request: Request) -> Response:
    """Show the lots of the room."""
    return _page(request, "lots", door_of(request).lots())


@router.post("/lots")
def join(request: Request, name: Text = "", tags: Text = "") -> Response:
    """Treat specimens together from now on."""
    door = door_of(request)
    try:
        door.join_lot(name, tags.replace(",", " ").split(), who=who_of(request))
    except BonebenchError as fault:
        return _page(request, "lots", door.lots(), fault.said, {"name": name, "tags": tags})
    return go_back("/lots")


@router.post("/lots/split")
def split(request: Request, name: Text = "", tag: Annotated[list[str] | None, Form()] = None, all: Text = "") -> Response:
    """Take the ticked ones out of a lot, or all of them."""
    door = door_of(request)
    try:
        if not tag and not all:
            raise NotAQuantity("lot.ticks", "nothing was ticked; tick who goes its own way, or split all of it")
        door.split_lot(name, [] if all else tag or [], who=who_of(request))
    except BonebenchError as fault:
        return _page(request, "lots", door.lots(), fault.said)
    return go_back("/lots")


@router.get("/tags")
def tags(request: Request) -> Response:
    """Show the rolls of tags that were issued."""
    return _page(request, "tags", door_of(request).tags())


@router.post("/tags")
def issue(request: Request, count: Text = "", roll: Text = "") -> Response:
    """Issue a roll of tags."""
    door = door_of(request)
    try:
        issued = door.issue_tags(whole(count) or 0, roll, who=who_of(request))
    except BonebenchError as fault:
        return _page(request, "tags", door.tags(), fault.said)
    return go_back("/tags", issued.entry_id)
