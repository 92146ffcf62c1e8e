"""Parts, condition and another tag, written down on a specimen's page."""

from collections.abc import Callable, Mapping
from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.records.book import Reading
from bonebench.services.parts import do as parts
from bonebench.services.parts.do import Seen, Stage, ToWrite, Vial
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back

router = APIRouter(include_in_schema=False)

STAGES: Mapping[str, Stage] = {"came": "came", "here": "here", "goes": "goes"}
Typed = Mapping[str, str]
Write = Callable[[Reading, str, Typed], ToWrite]


def _seen(typed: Typed) -> Seen:
    return Seen(
        typed.get("what", ""), typed.get("part") or None, STAGES.get(typed.get("stage", ""), "here"), typed.get("where", ""),
        typed.get("note") or None, typed.get("photos", "").split(), typed.get("adhesive"),
    )  # fmt: skip


def _vial(typed: Typed) -> Vial:
    return Vial(typed.get("purpose", ""), typed.get("of", ""), typed.get("place") or None, typed.get("vial"), typed.get("note"))


WRITES: Mapping[str, Write] = {
    "part": lambda tx, tag, typed: parts.add(tx, tag, typed.get("part", "")),
    "sample": lambda tx, tag, typed: parts.sample(tx, tag, _vial(typed)),
    "send": lambda tx, tag, typed: parts.send(tx, tag, typed.get("part", ""), typed.get("to", ""), typed.get("note")),
    "mark": lambda tx, tag, typed: parts.mark(tx, tag, typed.get("how", "")),
    "condition": lambda tx, tag, typed: parts.condition(tx, tag, _seen(typed)),
    "repair": lambda tx, tag, typed: parts.repair(tx, tag, _seen(typed)),
}


async def _typed(request: Request) -> dict[str, str]:
    return {name: str(value).strip() for name, value in (await request.form()).items()}


def _store(request: Request, tag: str, what: str, typed: Typed) -> Response:
    logged = door_of(request).note_part(lambda tx: WRITES[what](tx, tag, typed), who=who_of(request))
    return go_back(f"/specimens/{quote(tag)}", logged.entry_id)


def _write(what: str) -> None:
    @router.post(f"/specimens/{{tag}}/{what}", name=f"write-{what}")
    async def write(request: Request, tag: str) -> Response:
        """Store one entry about a specimen or a part of it, and go back to its page."""
        return await run_in_threadpool(_store, request, tag, what, await _typed(request))


for _what in WRITES:
    _write(_what)


@router.post("/specimens/{tag}/retag")
async def retag(request: Request, tag: str) -> Response:
    """Put another tag on a specimen, and go to the page it has now."""
    typed = await _typed(request)
    kept = await run_in_threadpool(door_of(request).retag, tag, typed.get("to") or None, who_of(request))
    return go_back(f"/specimens/{quote(kept.entries[0].what.tag)}", kept.entries[0].id)  # type: ignore[attr-defined]
