"""The season ahead: what comes in against what there is, the freezer, the last day for a holiday; as a page and as JSON."""

from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from pydantic import Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.errors import BonebenchError
from bonebench.planning.promise import QUOTE_REPLAYS
from bonebench.said import Said
from bonebench.services.at_length import is_large
from bonebench.services.cards import as_json
from bonebench.services.jobs import JobCard
from bonebench.services.promise.do import for_quote
from bonebench.services.year import long
from bonebench.services.year.cards import HolidayKeptCard, SeasonCard
from bonebench.services.year.do import MONTHS, MOST_MONTHS, AskedSeason, season
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.seasoncharts import hand_rows, month_rows, season_charts
from bonebench.web.shell import door_of, go_back, show, work_of

router = APIRouter()
Text = Annotated[str | None, Query(max_length=200)]


class Holiday(Strict):
    """A day, such as 2026-12-20, by which a piece of a species should be through, and the replays for each day that is tried."""

    holiday: str = Field(min_length=1, max_length=40)
    species: str = Field(min_length=1, max_length=200)
    replays: int = Field(default=QUOTE_REPLAYS, ge=1, le=long.MOST_REPLAYS)


def _season(request: Request, asked: AskedSeason) -> SeasonCard:
    door = door_of(request)
    door.make_current(door.now())
    return season(asked, door.read(for_quote))


@router.get("/season", include_in_schema=False)
async def page(request: Request, holiday: Text = None, species: Text = None) -> Response:
    """Show the season ahead."""
    return await run_in_threadpool(_page, request, (holiday or "").strip(), (species or "").strip())


def _page(request: Request, holiday: str, species: str, error: Said | None = None) -> Response:
    door = door_of(request)
    large, kept = door.read(is_large), door.read(long.kept)
    # In a large room a last day is long work, and only a button begins that.
    at_once = bool(holiday) and not large and error is None
    try:
        card = _season(request, AskedSeason(holiday=holiday, species=species or None) if at_once else AskedSeason())
    except BonebenchError as fault:
        # The months do not depend on the holiday: what cannot be is said above them.
        error, card = fault.said, _season(request, AskedSeason())
    if kept.job is not None and not holiday and not species:
        holiday, species = kept.job.asked["holiday"], kept.job.asked["species"]
    return show(
        request, "calendar", "season.html", status=422 if error else 200, card=card, error=error,
        charts=season_charts(card, door_of(request).surface().reader),
        rows=month_rows(card), hours=hand_rows(card), large=large, kept=kept,
        form={"holiday": holiday, "species": species}, species_names=[row.common for row in door.species_list("").rows],
    )  # fmt: skip


@router.post("/season/look", include_in_schema=False)
async def look_by_button(request: Request) -> Response:
    """Begin to work out the last day for a holiday as long work; the answer is kept and shown on the page of the season."""
    form = await request.form()
    holiday, species = (str(form.get(name, "")).strip()[:200] for name in ("holiday", "species"))
    return await run_in_threadpool(_begin, request, holiday, species, closer="closer" in form)


def _begin(request: Request, holiday: str, species: str, *, closer: bool) -> Response:
    try:
        _start(request, long.as_asked(holiday, species, long.CLOSER_REPLAYS if closer else QUOTE_REPLAYS))
    except BonebenchError as fault:
        return _page(request, holiday, species, fault.said)
    return go_back("/season")


def _start(request: Request, asked: Mapping[str, Any]) -> JobCard:
    door = door_of(request)
    door.make_current(door.now())
    return work_of(request).start(long.KIND, asked)


@router.get("/api/v1/season", response_model=SeasonCard, responses=REFUSED)
def season_now(
    request: Request, months: Annotated[int, Query(ge=1, le=MOST_MONTHS)] = MONTHS, holiday: Text = None, species: Text = None
) -> JSONResponse:
    """Return the season ahead."""
    return JSONResponse(as_json(_season(request, AskedSeason(months=months, holiday=holiday, species=species))))


@router.post("/api/v1/season/holiday", response_model=JobCard, status_code=202, responses=REFUSED)
def look(request: Request, asked: Holiday) -> JSONResponse:
    """Begin to work out the last day to take a piece in for a holiday; the answer is the long work to follow."""
    return JSONResponse(as_json(_start(request, long.as_asked(asked.holiday, asked.species, asked.replays))), status_code=202)


@router.get("/api/v1/season/holiday", response_model=HolidayKeptCard, responses=REFUSED)
def looked(request: Request) -> JSONResponse:
    """Return the last day that was worked out last, with its age, and how far the newest such work is."""
    return JSONResponse(as_json(door_of(request).read(long.kept)))
