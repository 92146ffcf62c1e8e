"""The box as physics: its run through time, and a power cut."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.web.boxtools import CUT, RUN, beside_cut, beside_run
from bonebench.web.tools import worked_page

router = APIRouter(include_in_schema=False)


@router.get("/enclosure")
def enclosure(request: Request) -> Response:
    """Show the box and its run by the few numbers in the address."""
    return worked_page(request, RUN, "enclosure", ("/room", "The room"), template="enclosure.html", more=beside_run)


@router.get("/enclosure/cut")
def cut(request: Request) -> Response:
    """Show how the box cools without power."""
    return worked_page(request, CUT, "enclosure", ("/enclosure", "The box"), template="enclosure.html", more=beside_cut)
