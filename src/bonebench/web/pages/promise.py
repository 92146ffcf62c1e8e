"""Promises: a quote for a piece that has not come, how promises turned out, and the longer look for a better plan."""

from dataclasses import fields
from typing import Annotated, Literal

from fastapi import APIRouter, Query, Request
from pydantic import Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.errors import BonebenchError
from bonebench.services.cards import as_json
from bonebench.services.jobs import JobCard
from bonebench.services.promise.cards import KeptCard, PromiseCard
from bonebench.services.promise.do import for_quote, turned_out
from bonebench.services.promise.quote import AskedQuote, quoted
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.shell import door_of, go_back, show, work_of

router = APIRouter()
TYPED = tuple(field.name for field in fields(AskedQuote))


class Effort(Strict):
    """How much may be tried; both left out is the usual."""

    seconds: float | None = Field(default=None, ge=0, le=3600)
    moves: int | None = Field(default=None, ge=0, le=1_000_000)
    seed: int = Field(default=1, ge=0, le=2**31)


@router.get("/promise", include_in_schema=False)
async def page(request: Request) -> Response:
    """Show what could be promised for a piece that has not come, and how promises turned out."""
    form = {name: request.query_params.get(name, "").strip() for name in TYPED}
    return await run_in_threadpool(_page, request, form)


def _page(request: Request, form: dict[str, str]) -> Response:
    door, card, error = door_of(request), None, None
    if form["species"]:
        try:
            card = _quote(request, _asked(form))
        except BonebenchError as fault:
            error = fault.said
    return show(
        request, "calendar", "promise.html", status=422 if error else 200, card=card, error=error, form=form,
        kept=door.read(turned_out), species_names=[row.common for row in door.species_list("").rows],
    )  # fmt: skip


def _asked(form: dict[str, str]) -> AskedQuote:
    return AskedQuote(
        species=form["species"], arrives=tuple(day.strip() for day in form["arrives"].split(",") if day.strip()),
        live_mass=form["live_mass"] or None, head_mass=form["head_mass"] or None, finish=form["finish"] or "white",
        measure=bool(form["measure"]),
    )  # fmt: skip


def _quote(request: Request, asked: AskedQuote) -> PromiseCard:
    door = door_of(request)
    door.make_current(door.now())
    return quoted(asked, door.read(for_quote))


@router.get("/api/v1/promise", response_model=PromiseCard, responses=REFUSED)
def promise(
    request: Request,
    species: Annotated[str, Query(min_length=1, max_length=200)],
    arrives: Annotated[list[str] | None, Query(description="Days such as 2026-12-05; today unless said")] = None,
    head_mass: Annotated[str | None, Query(max_length=40)] = None,
    live_mass: Annotated[str | None, Query(max_length=40)] = None,
    finish: Literal["white", "natural"] = "white",
) -> JSONResponse:
    """Say what could be promised for a piece that has not come."""
    asked = AskedQuote(species=species, arrives=tuple(arrives or ()), head_mass=head_mass, live_mass=live_mass, finish=finish)
    return JSONResponse(as_json(_quote(request, asked)))


@router.get("/api/v1/promises", response_model=KeptCard, responses=REFUSED)
def promises(request: Request) -> JSONResponse:
    """Say how promises turned out."""
    return JSONResponse(as_json(door_of(request).read(turned_out)))


@router.post("/api/v1/plan", response_model=JobCard, status_code=202, responses=REFUSED)
def look(request: Request, effort: Effort) -> JSONResponse:
    """Begin to look for a better plan; the answer is the long work to follow."""
    asked = effort.model_dump(exclude_none=True)
    return JSONResponse(as_json(work_of(request).start("plan", asked)), status_code=202)


@router.post("/calendar/look", include_in_schema=False)
def look_by_button(request: Request) -> Response:
    """Begin to look for a better plan, by the button."""
    work_of(request).start("plan", {})
    return go_back("/calendar")
