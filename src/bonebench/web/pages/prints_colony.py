"""What is printed of the colony, as PDF."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from bonebench.papers.awaywords import away_pdf
from bonebench.services.colony.food import away
from bonebench.services.colony.own import ask
from bonebench.web.pages.api_colony import Leaving
from bonebench.web.shell import door_of

router = APIRouter(include_in_schema=False)


@router.get("/print/neighbour.pdf")
def neighbour(request: Request, asked: Annotated[Leaving, Query()]) -> Response:
    """Return the sheet for whoever looks in while nobody is there."""
    surface = door_of(request).surface()
    today = surface.reader.today.isoformat() if surface.reader.today else None
    more = {"days": asked.days, "first_day": asked.first_day or today}
    card = door_of(request).read(
        lambda tx, now: ask(
            tx, now, asked.colony(), lambda known, own: away(known, own, **more), box=asked.box, first_day=asked.first_day
        )
    )
    pdf = away_pdf(card, surface.reader, room=surface.room_name, demo=surface.demo)
    return Response(pdf, media_type="application/pdf", headers={"Content-Disposition": 'inline; filename="neighbour.pdf"'})
