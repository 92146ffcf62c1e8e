"""The colony: its questions, each on a page of its own."""

from dataclasses import fields

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import Response

from bonebench.door import Look
from bonebench.errors import BonebenchError, OutsideRange, UnknownName
from bonebench.files.airlog import MOST_BYTES, log_text
from bonebench.reference.pests import load_pests
from bonebench.said import Said
from bonebench.services.colony.book import colonies
from bonebench.services.colony.dates import dates
from bonebench.web.colonytools import LOOK_FIELDS, TOOLS, beside, tried
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show
from bonebench.web.tools import worked_page

router = APIRouter(include_in_schema=False)


MOST_PASTED = 4_000_000  # bytes of a pasted log; a longer one comes as a file
TYPED = tuple(field.name for field in fields(Look))


def _page(request: Request, form: dict[str, str], error: Said | None) -> Response:
    door = door_of(request)
    card = door.read(colonies)
    invented = {key: tried(tool) for key, tool in TOOLS.items()}
    return show(
        request, "colony", "colony.html", status=200 if error is None else 422, card=card, dates=door.read(dates),
        tools=tuple(TOOLS.values()),
        invented=invented, look_fields=LOOK_FIELDS, form=form, error=error,
        pest_names=tuple(pest.name for pest in load_pests().values()),
    )  # fmt: skip


@router.get("/colony")
def colony(request: Request) -> Response:
    """Show what the log says of the colonies, and the questions about them."""
    return _page(request, {name: request.query_params.get(name, "") for name in TYPED}, None)


@router.post("/colony")
async def look(request: Request) -> Response:
    """Write down what was seen; what cannot be read is said beside the form, and nothing typed is lost."""
    sent = await request.form()
    form = {name: str(sent.get(name, "")).strip() for name in TYPED}
    return await run_in_threadpool(_look, request, form)


def _look(request: Request, form: dict[str, str]) -> Response:
    try:
        seen = Look(**{name: text for name, text in form.items() if text})
        entry = door_of(request).note_colony(seen, who_of(request))
    except BonebenchError as fault:
        return _page(request, form, fault.said)
    return go_back("/colony", entry)


@router.get("/colony/ask/{tool}")
def work(request: Request, tool: str) -> Response:
    """Show one question with its answer."""
    return _worked(request, tool, None)


@router.post("/colony/ask/{tool}")
async def work_sent(request: Request, tool: str) -> Response:
    """Answer a question whose form is too long for an address; nothing is stored."""
    try:
        return await _sent(request, tool)
    except HTTPException as fault:
        if "maximum size" not in str(fault.detail):
            raise
        raise OutsideRange(
            "colony.log.pasted", "what was pasted is above 4 MB: send the log as a file, or cut it to the weeks you ask about"
        ) from fault


async def _sent(request: Request, tool: str) -> Response:
    async with request.form(max_part_size=MOST_PASTED) as sent:
        form = {name: value.strip() for name, value in sent.items() if isinstance(value, str)}
        file = sent.get("log_file")
        raw = b"" if file is None or isinstance(file, str) else await file.read(MOST_BYTES + 1)
    return await run_in_threadpool(_worked, request, tool, form, raw)


def _worked(request: Request, tool: str, sent: dict[str, str] | None, raw: bytes = b"") -> Response:
    if tool not in TOOLS:
        raise UnknownName("work.unknown", "there is no '{tool}' to work out here", could_be=tuple(TOOLS), tool=tool)
    if raw:
        sent = {**(sent or {}), "log": log_text(raw)}
    return worked_page(
        request, TOOLS[tool], "colony", ("/colony", "The colony"), template="colony_work.html", more=beside, sent=sent
    )  # fmt: skip
