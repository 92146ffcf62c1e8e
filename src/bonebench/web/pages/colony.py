"""The colony: its questions, each on a page of its own."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.errors import UnknownName
from bonebench.web.colonytools import TOOLS, TRY, beside, tried
from bonebench.web.shell import show
from bonebench.web.tools import worked_page

router = APIRouter(include_in_schema=False)


@router.get("/colony")
def colony(request: Request) -> Response:
    """Show the questions about the colony."""
    invented = {key: tried(tool) for key, tool in TOOLS.items()}
    return show(request, "colony", "colony.html", tools=tuple(TOOLS.values()), invented=invented, size=TRY["size"])


@router.get("/colony/work/{tool}")
def work(request: Request, tool: str) -> Response:
    """Show one question with its answer."""
    if tool not in TOOLS:
        raise UnknownName("work.unknown", "there is no '{tool}' to work out here", could_be=tuple(TOOLS), tool=tool)
    return worked_page(request, TOOLS[tool], "colony", ("/colony", "The colony"), template="colony_work.html", more=beside)
