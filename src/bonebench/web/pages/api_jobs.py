"""Long work as JSON: how far it is, asked again or sent as it goes on; and the way to stop it."""

import asyncio
from collections.abc import AsyncIterator
from typing import Annotated, Any

import msgspec
from fastapi import APIRouter, Query, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response, StreamingResponse

from bonebench.services.cards import as_json
from bonebench.services.jobs import JobCard, JobsCard
from bonebench.web.pages.api import REFUSED
from bonebench.web.shell import door_of, go_back

router = APIRouter(responses=REFUSED)
EVERY_S = 0.7
MOST_EVENTS = 1000  # some ten minutes; a page that wants more asks again by itself


@router.get("/api/v1/jobs", response_model=JobsCard)
def newest(request: Request, kind: Annotated[str | None, Query(max_length=20)] = None) -> JSONResponse:
    """Return the newest pieces of long work."""
    return JSONResponse(as_json(door_of(request).long_work(kind)))


@router.get("/api/v1/jobs/{job}", response_model=JobCard)
def one(request: Request, job: str) -> JSONResponse:
    """Return one piece of long work, as far as it is."""
    return JSONResponse(as_json(door_of(request).long_work_of(job)))


@router.post("/api/v1/jobs/{job}/stop", response_model=JobCard)
def stop(request: Request, job: str) -> JSONResponse:
    """Ask it to stop; the best so far is kept where there is one."""
    return JSONResponse(as_json(door_of(request).stop_work(job)))


@router.post("/jobs/{job}/stop", include_in_schema=False)
def stop_by_button(request: Request, job: str, back: Annotated[str, Query()] = "/") -> Response:
    """Ask it to stop, by a button on a page."""
    door_of(request).stop_work(job)
    return go_back(back)


@router.get("/api/v1/jobs/{job}/events", include_in_schema=False)
async def events(request: Request, job: str) -> Response:
    """Send how far it is, line by line, until it ends."""
    door = door_of(request)
    first = await run_in_threadpool(door.long_work_of, job)

    async def lines() -> AsyncIterator[bytes]:
        card = first
        for _ in range(MOST_EVENTS):
            yield b"data: " + msgspec.json.encode(_line(card)) + b"\n\n"
            if not card.live or await request.is_disconnected():
                return
            await asyncio.sleep(EVERY_S)
            card = await run_in_threadpool(door.long_work_of, job)

    return StreamingResponse(lines(), media_type="text/event-stream", headers={"Cache-Control": "no-store"})


def _line(card: JobCard) -> dict[str, Any]:
    return {"id": card.id, "state": card.state, "share": card.share, "words": card.words.text, "live": card.live}
