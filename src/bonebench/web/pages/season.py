"""The season ahead: what comes in against what there is, the freezer, the last day for a holiday; as a page and as JSON."""

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.errors import BonebenchError
from bonebench.services.cards import as_json
from bonebench.services.promise.do import for_quote
from bonebench.services.year.cards import SeasonCard
from bonebench.services.year.do import MONTHS, MOST_MONTHS, AskedSeason, season
from bonebench.web.pages.api import REFUSED
from bonebench.web.seasoncharts import hand_rows, month_rows, season_charts
from bonebench.web.shell import door_of, show

router = APIRouter()
Text = Annotated[str | None, Query(max_length=200)]


def _season(request: Request, asked: AskedSeason) -> SeasonCard:
    door = door_of(request)
    door.make_current(door.now())
    return season(asked, door.read(for_quote))


@router.get("/season", include_in_schema=False)
async def page(request: Request, holiday: Text = None, species: Text = None) -> Response:
    """Show the season ahead."""
    return await run_in_threadpool(_page, request, (holiday or "").strip(), (species or "").strip())


def _page(request: Request, holiday: str, species: str) -> Response:
    error = None
    try:
        card = _season(request, AskedSeason(holiday=holiday or None, species=species or None))
    except BonebenchError as fault:
        # The months do not depend on the holiday: what cannot be is said above them.
        error, card = fault.said, _season(request, AskedSeason())
    return show(
        request, "calendar", "season.html", status=422 if error else 200, card=card, error=error, charts=season_charts(card),
        rows=month_rows(card), hours=hand_rows(card),
        form={"holiday": holiday, "species": species}, species_names=[row.common for row in door_of(request).species_list("").rows],
    )  # fmt: skip


@router.get("/api/v1/season", response_model=SeasonCard, responses=REFUSED)
def season_now(
    request: Request, months: Annotated[int, Query(ge=1, le=MOST_MONTHS)] = MONTHS, holiday: Text = None, species: Text = None
) -> JSONResponse:
    """Return the season ahead."""
    return JSONResponse(as_json(_season(request, AskedSeason(months=months, holiday=holiday, species=species))))
