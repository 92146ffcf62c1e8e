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
from bonebench.said import Said
from bonebench.services.at_length import is_large, read_back
from bonebench.services.cards import as_json
from bonebench.services.jobs import JobCard
from bonebench.services.specimens.intake import read_day
from bonebench.services.what_if import long
from bonebench.services.what_if.cards import WhatIfCard, WhatIfKeptCard
from bonebench.services.what_if.do import MOST_MOVES, MOVES, Asked, for_what_if, worked
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.shell import door_of, go_back, show, work_of

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


def _page(request: Request, ticked: Sequence[str], until: str, buys: Mapping[str, str], error: Said | None = None) -> Response:
    door, card = door_of(request), None
    large, kept = door.read(is_large), door.read(long.kept)
    offered = _offered(request, buys)
    try:
        changes = tuple(_changes(offered, ticked, until)) if error is None else ()
        # In a large room an answer is long work, and only a button begins that.
        if changes and not large:
            card = _worked(request, Asked(changes))
    except BonebenchError as fault:
        error = fault.said
    if card is None and error is None and not ticked and not until:
        ticked, until, buys = _asked_last(door.read(long.kept_question))
    return show(
        request, "calendar", "what_if.html", status=422 if error else 200, card=card, error=error, ticked=ticked, until=until,
        buys=buys, large=large, kept=kept, asked=_names(kept.job),
        offered=[(one.name, HINTS.get(one.name, "like the one there is")) for one in offered],
    )  # fmt: skip


def _offered(request: Request, buys: Mapping[str, str]) -> tuple[Otherwise, ...]:
    kinds = {place.kind for place in door_of(request).room().places if place.open}
    offered = (*(Otherwise(name=f"one more {kind}", more={kind: 1}) for kind in MORE if kind in kinds), *OTHERS)
    return tuple(replace(one, buys=buys.get(one.name)) for one in offered)


def _asked_last(asked: Asked | None) -> tuple[Sequence[str], str, Mapping[str, str]]:
    """Return the ticks, the day and the sums of the question whose answer is kept."""
    changes = asked.changes if asked is not None else ()
    until = next((one.no_new_before.isoformat() for one in changes if one.no_new_before is not None), "")
    return [one.name for one in changes], until, {one.name: one.buys for one in changes if one.buys}


def _names(job: JobCard | None) -> list[str]:
    asked = read_back(job.asked, Asked) if job is not None else None
    return [one.name for one in asked.changes] if asked is not None else []


@router.post("/what-if/look", include_in_schema=False)
async def look_by_button(request: Request) -> Response:
    """Begin to lay side by side what is ticked, as long work; the answer is kept and shown on the page What if."""
    form = await request.form()
    typed = [(name, str(value).strip()) for name, value in form.multi_items()]
    ticked = [value for name, value in typed if name == "tick"]
    until = next((value[:40] for name, value in typed if name == "until"), "")
    buys = {name.removeprefix(BUYS): value[:20] for name, value in typed if name.startswith(BUYS) and value}
    closer = any(name == "closer" for name, _ in typed)
    return await run_in_threadpool(_begin, request, ticked, until, buys, closer=closer)


def _begin(request: Request, ticked: Sequence[str], until: str, buys: Mapping[str, str], *, closer: bool) -> Response:
    try:
        changes = tuple(_changes(_offered(request, buys), ticked, until))
        _start(request, long.as_asked(changes, long.CLOSER_MOVES if closer else MOVES))
    except BonebenchError as fault:
        return _page(request, ticked, until, buys, fault.said)
    return go_back("/what-if")


def _start(request: Request, asked: Mapping[str, Any]) -> JobCard:
    door = door_of(request)
    door.make_current(door.now())
    return work_of(request).start(long.KIND, asked)


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


@router.post("/api/v1/what-if/look", response_model=JobCard, status_code=202, responses=REFUSED)
def look(request: Request, changed: Changed) -> JSONResponse:
    """Begin to plan side by side; the answer is the long work to follow, and what comes of it is kept."""
    changes = changes_in({"change": changed.change}, "the question")
    return JSONResponse(as_json(_start(request, long.as_asked(changes, changed.moves))), status_code=202)


@router.get("/api/v1/what-if/look", response_model=WhatIfKeptCard, responses=REFUSED)
def looked(request: Request) -> JSONResponse:
    """Return what the last long look came to, with its age, and how far the newest one is."""
    return JSONResponse(as_json(door_of(request).read(long.kept)))
