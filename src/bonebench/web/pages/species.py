"""Species."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


@router.get("/species")
def species(request: Request, q: str = "") -> Response:
    """Show the species that answer to a word."""
    return show(request, "species", "species.html", card=door_of(request).species_list(q), query=q)


@router.get("/species/{key}")
def one_species(request: Request, key: str) -> Response:
    """Show one species with the standing of every value."""
    return show(request, "species", "one_species.html", card=door_of(request).species(key))
