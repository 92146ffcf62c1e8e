"""What is printed, as PDF."""

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.papers.bathlabel import bath_label
from bonebench.papers.words import label_of_bath
from bonebench.web.shell import door_of

router = APIRouter(include_in_schema=False)


@router.get("/baths/{name}/label.pdf")
async def label(request: Request, name: str) -> Response:
    """Return the label of a bath."""
    return await run_in_threadpool(_label, request, name)


def _label(request: Request, name: str) -> Response:
    door = door_of(request)
    card, surface = door.bath(name), door.surface()
    address = f"{request.base_url}baths/{card.id}"
    pdf = bath_label(label_of_bath(card, surface.reader, surface.zone, address), demo=surface.demo)
    return Response(pdf, media_type="application/pdf", headers={"Content-Disposition": 'inline; filename="bath-label.pdf"'})
