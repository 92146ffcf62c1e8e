"""What if: a few large ticks and the room as it would be beside the room as it is; the same as JSON from any change."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import time
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from pydantic import Field
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from bonebench.errors import BonebenchError
from bonebench.files.whatif_toml import Helper, Otherwise, changes_in
from bonebench.services.cards import as_json
from bonebench.services.specimens.intake import read_day
from bonebench.services.what_if.cards import WhatIfCard
from bonebench.services.what_if.do import MOST_MOVES, MOVES, Asked, for_what_if, worked
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.shell import door_of, show

router = APIRouter()
# What a change costs to have at all is typed beside its tick, under its name.
BUYS = "buys:"
MORE = ("pot", "tub", "beetle box", "rack")
OTHERS = (
    Otherwise(name="a helper on Saturday mornings", helper=Helper((5,), time(9), time(13))),
    Otherwise(name="the box half hungrier", appetite=1.5),
    Otherwise(name="no whitening", without=("whitening",)),
)
HINTS = {
    "a helper on Saturday mornings": "9:00 to 13:00, trained for everything",
    "the box half hungrier": "warmer, or a stronger colony",
    "no whitening": "and no rinse, where it has not begun",
}


class Changed(Strict):
    """Changes as a what-if file has them under [[change]]; days as text."""

    change: list[dict[str, Any]] = Field(min_length=1, max_length=12)
    moves: int = Field(default=MOVES, ge=0, le=MOST_MOVES)


@router.get("/what-if", include_in_schema=False)
async def page(
    request: Request, tick: Annotated[list[str] | None, Query()] = None, until: Annotated[str, Query(max_length=40)] = ""
) -> Response:
    """Show the ticks, and what comes of those that are set."""
    sums = ((name.removeprefix(BUYS), text.strip()[:20]) for name, text in request.query_params.items() if name.startswith(BUYS))
    return await run_in_threadpool(_page, request, tuple(tick or ()), until.strip(), {name: sum_ for name, sum_ in sums if sum_})


def _page(request: Request, ticked: Sequence[str], until: str, buys: Mapping[str, str]) -> Response:
    door, card, error = door_of(request), None, None
    kinds = {place.kind for place in door.room().places if place.open}
    offered = (*(Otherwise(name=f"one more {kind}", more={kind: 1}) for kind in MORE if kind in kinds), *OTHERS)
    offered = tuple(replace(one, buys=buys.get(one.name)) for one in offered)
    try:
        changes = tuple(_changes(offered, ticked, until))
        if changes:
            card = _worked(request, Asked(changes))
    except BonebenchError as fault:
        error = fault.said
    return show(
        request, "calendar", "what_if.html", status=422 if error else 200, card=card, error=error, ticked=ticked, until=until,
        buys=buys,
        offered=[(one.name, HINTS.get(one.name, "like the one there is")) for one in offered],
    )  # fmt: skip


def _changes(offered: Iterable[Otherwise], ticked: Sequence[str], until: str) -> Iterable[Otherwise]:
    yield from (one for one in offered if one.name in ticked)
    day = read_day(until)
    if day is not None:
        yield Otherwise(name="no new work before then", no_new_before=day)


def _worked(request: Request, asked: Asked) -> WhatIfCard:
    door = door_of(request)
    door.make_current(door.now())
    return worked(asked, door.read(for_what_if))


@router.post("/api/v1/what-if", response_model=WhatIfCard, responses=REFUSED)
def what_if(request: Request, changed: Changed) -> JSONResponse:
    """Plan the room as it is and once for each change; nothing is kept."""
    changes = changes_in({"change": changed.change}, "the question")
    return JSONResponse(as_json(_worked(request, Asked(changes, changed.moves))))
