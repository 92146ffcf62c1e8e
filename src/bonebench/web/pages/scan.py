"""Scan: a photo of a label, or a tag typed by hand, leads to the piece, the place, the bath or the sheet."""

import re
from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from bonebench.errors import BonebenchError
from bonebench.files.codes import codes_in
from bonebench.files.pictures import LARGEST_BYTES, shown_name, too_heavy
from bonebench.papers.punch import read_holes
from bonebench.said import Said
from bonebench.services.prints.cards import FoundCode, ScanCard
from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)

# Where each kind of code leads; what is nothing of this room leads to the search.
PAGES = {
    "specimen": "/specimens/{key}",
    "place": "/specimens?place={key}",
    "bath": "/baths/{key}",
    "sheet": "/typed-back?sheet={key}",
    "unknown": "/find?q={key}",
}
MOST_SENT = 60
# A punched strip as a finger tells it: the numbers of the holes, a space after each block.
_HOLES = re.compile(r"[1-6]+(\s+[1-6]+){3,}")


def page_of(found: FoundCode) -> str:
    """Return the address of what a code means."""
    return PAGES[found.kind].format(key=quote(found.key, safe=""))


def _page(request: Request, card: ScanCard | None = None, error: Said | None = None, could_be: tuple[str, ...] = ()) -> Response:
    found = [(one, page_of(one)) for one in card.found] if card is not None else []
    return show(
        request, "scan", "scan.html", status=200 if error is None else 422, card=card, found=found, error=error, could_be=could_be
    )


def _answer(request: Request, codes: tuple[str, ...]) -> Response:
    card = door_of(request).scanned(codes)
    if len(card.found) == 1 and card.found[0].kind != "unknown":
        return RedirectResponse(page_of(card.found[0]), status_code=303)
    return _page(request, card)


@router.get("/scan")
def scan_page(request: Request, code: str = "") -> Response:
    """Show where a picture is sent or a tag typed; a code that is typed leads on at once."""
    typed = code.strip()
    if not typed:
        return _page(request)
    card = door_of(request).scanned((typed,))
    if card.found and card.found[0].kind != "unknown":
        return RedirectResponse(page_of(card.found[0]), status_code=303)
    try:
        tag = read_holes(typed) if _HOLES.fullmatch(typed) else typed
        return RedirectResponse(f"/specimens/{quote(door_of(request).specimen(tag).tag)}", status_code=303)
    except BonebenchError as fault:
        return _page(request, None, fault.said, getattr(fault, "could_be", ()))


@router.post("/scan")
async def scan(request: Request) -> Response:
    """Read the codes of a picture, or take those that the browser read itself."""
    if int(request.headers.get("content-length") or 0) > LARGEST_BYTES + 100_000:
        raise too_heavy("the picture")
    async with request.form(max_files=1, max_fields=MOST_SENT) as form:
        read = tuple(text for text in form.getlist("code") if isinstance(text, str) and text.strip())
        picture = form.get("picture")
        if read or not isinstance(picture, UploadFile):
            return await run_in_threadpool(_answer, request, read)
        data = await picture.read(LARGEST_BYTES + 1)
        return await run_in_threadpool(_of_picture, request, data, picture.filename)


def _of_picture(request: Request, data: bytes, name: str | None) -> Response:
    if not data:
        return _answer(request, ())
    try:
        codes = codes_in(data, shown_name(name))
    except BonebenchError as fault:
        return _page(request, None, fault.said)
    return _answer(request, codes)
