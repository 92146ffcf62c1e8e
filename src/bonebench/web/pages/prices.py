"""The page of prices: what things cost here, to read and to set; the same as JSON."""

from typing import Annotated

from fastapi import APIRouter, Body, Request
from pydantic import Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.door import PricesTyped
from bonebench.errors import BonebenchError
from bonebench.said import Said
from bonebench.services.cards import as_json
from bonebench.services.costs.cards import PricesCard
from bonebench.services.costs.prices import prices
from bonebench.shop.prices import PAID_FOR
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter()
Text = Annotated[str | None, Field(max_length=40)]


class PricesNow(Strict):
    """Prices by what is paid for, as text; what is left out stays as it was, none takes it back."""

    currency: Text = None
    since: Text = None
    prices: dict[str, Annotated[str, Field(max_length=40)]] = Field(min_length=1, max_length=len(PAID_FOR))


def _read(request: Request) -> PricesCard:
    return door_of(request).read(prices)


def _page(request: Request, form: dict[str, str], error: Said | None) -> Response:
    return show(request, "room", "prices.html", status=422 if error else 200, card=_read(request), form=form, error=error)


@router.get("/prices", include_in_schema=False)
def page(request: Request) -> Response:
    """Show what things cost here."""
    return _page(request, {}, None)


@router.post("/prices", include_in_schema=False)
async def set_(request: Request) -> Response:
    """Set prices; what cannot be is said beside the form, and nothing typed is lost."""
    sent = await request.form()
    form = {name: str(sent.get(name, "")).strip() for name in ("currency", "since", *PAID_FOR)}
    return await run_in_threadpool(_set, request, form)


def _set(request: Request, form: dict[str, str]) -> Response:
    typed = PricesTyped(currency=form["currency"], since=form["since"], prices={key: form[key] for key in PAID_FOR})
    try:
        kept = door_of(request).set_prices(typed, who_of(request))
    except BonebenchError as fault:
        return _page(request, form, fault.said)
    return go_back("/prices", kept.entries[0].id)


@router.get("/api/v1/prices", response_model=PricesCard, responses=REFUSED)
def prices_(request: Request) -> JSONResponse:
    """Return the room's prices as they are today."""
    return JSONResponse(as_json(_read(request)))


@router.post("/api/v1/prices", response_model=PricesCard, responses=REFUSED)
def set_prices_(request: Request, told: Annotated[PricesNow, Body()]) -> JSONResponse:
    """Set prices from a day on; the answer is all of them as they are then."""
    door_of(request).set_prices(PricesTyped(currency=told.currency, since=told.since, prices=told.prices), who_of(request))
    return JSONResponse(as_json(_read(request)))
