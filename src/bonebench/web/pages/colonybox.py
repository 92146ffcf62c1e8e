"""The settings of a beetle box: a page to read and set them."""

from dataclasses import fields

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.door import BoxTyped
from bonebench.errors import BonebenchError
from bonebench.said import Said
from bonebench.services.colony.boxes import BoxesCard, boxes
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)
TYPED = tuple(field.name for field in fields(BoxTyped))


def read_boxes(request: Request) -> BoxesCard:
    """Return the settings of the room's boxes."""
    return door_of(request).read(lambda tx, _: boxes(tx))


def _page(request: Request, form: dict[str, str], error: Said | None) -> Response:
    status = 200 if error is None else 422
    return show(request, "colony", "colony_box.html", status=status, card=read_boxes(request), form=form, error=error)


@router.get("/colony/box")
def box(request: Request) -> Response:
    """Show what the room set for its boxes, and what is taken where it did not."""
    return _page(request, {}, None)


@router.post("/colony/box")
async def set_(request: Request) -> Response:
    """Set one; what cannot be is said beside the form, and nothing typed is lost."""
    sent = await request.form()
    form = {name: str(sent.get(name, "")).strip() for name in TYPED}
    return await run_in_threadpool(_set, request, form)


def _set(request: Request, form: dict[str, str]) -> Response:
    try:
        entry = door_of(request).set_box(BoxTyped(**{name: text for name, text in form.items() if text}), who_of(request))
    except BonebenchError as fault:
        return _page(request, form, fault.said)
    return go_back("/colony/box", entry)
