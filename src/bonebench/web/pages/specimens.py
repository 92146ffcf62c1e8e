"""The list of specimens, and one of them."""

from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


@router.get("/specimens")
def specimens(request: Request, step: str = "", place: str = "", owner: str = "", late: str = "") -> Response:
    """Show the list, as it was asked for."""
    door = door_of(request)
    asked = {"step": step, "place": place, "owner": owner, "late": late}
    card = door.specimens(step=step or None, place=place or None, owner=owner or None, late=bool(late))
    return show(request, "specimens", "specimens.html", card=card, asked=asked)


@router.get("/find")
def find(request: Request, q: str = "") -> Response:
    """Find specimens by words; one that alone answers is shown at once."""
    card = door_of(request).find(q)
    if len(card.rows) == 1:
        return RedirectResponse(f"/specimens/{quote(card.rows[0].tag)}", status_code=303)
    return show(request, "specimens", "found.html", card=card)


@router.get("/specimens/{tag}")
def specimen(request: Request, tag: str) -> Response:
    """Show one specimen, whole."""
    return show(request, "specimen", "specimen.html", card=door_of(request).specimen(tag), photos=door_of(request).photos(tag))
