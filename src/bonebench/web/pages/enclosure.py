"""The box as physics: its run through time, a year month by month, and a power cut."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.web.boxtools import BEGIN, CUT, RUN, SIZE, YEAR, beside_begin, beside_cut, beside_run, beside_size, beside_year
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


@router.get("/enclosure/year")
def year(request: Request) -> Response:
    """Show which holes to leave open in each month of a year."""
    return worked_page(request, YEAR, "enclosure", ("/enclosure", "The box"), template="enclosure.html", more=beside_year)


@router.get("/enclosure/begin")
def begin(request: Request) -> Response:
    """Show how to make a box from an old freezer; it answers before anything is typed."""
    return worked_page(request, BEGIN, "enclosure", ("/enclosure", "The box"), template="enclosure.html", more=beside_begin)


@router.get("/enclosure/size")
def size(request: Request) -> Response:
    """Show the smallest heater and pavers that hold the box."""
    return worked_page(request, SIZE, "enclosure", ("/enclosure", "The box"), template="enclosure.html", more=beside_size)
