"""How a fault reaches the browser: a page of the house, or JSON under /api, in the same words."""

from fastapi import Request
from fastapi.exceptions import RequestValidationError
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, PlainTextResponse, Response

from bonebench.errors import BonebenchError, BookBusy, BookError, UnknownName
from bonebench.said import Said, said
from bonebench.web.shell import error_page


def status_of(fault: BonebenchError) -> int:
    """Return the HTTP status of what we raise on purpose."""
    if isinstance(fault, UnknownName):
        return 404
    if isinstance(fault, BookBusy):
        return 503
    return 507 if isinstance(fault, BookError) else 422


def wants_json(request: Request) -> bool:
    """Whether a program asks, and not a browser."""
    return request.url.path.startswith("/api/") or request.url.path == "/healthz"


def as_body(words: Said) -> dict[str, object]:
    """Return a fault as the API says it: the words, with key and values."""
    error = {"key": words.key, "text": words.text, "values": words.values, "path": words.values.get("path")}
    return {"schema": "error/1", "error": error}


async def _tell(
    request: Request, words: Said, status: int, could_be: tuple[str, ...] = (), headers: dict[str, str] | None = None
) -> Response:
    if wants_json(request):
        return JSONResponse(as_body(words), status_code=status, headers=headers)
    try:
        return await run_in_threadpool(error_page, request, words, status, could_be)
    except BookError:
        # The frame of a page reads the book too; where that is what failed, the words alone have to do.
        return PlainTextResponse(words.text, status_code=status, headers=headers)


async def on_fault(request: Request, fault: Exception) -> Response:
    """Say what can be mended."""
    assert isinstance(fault, BonebenchError)
    return await _tell(request, fault.said, status_of(fault), getattr(fault, "could_be", ()))


async def on_http(request: Request, fault: Exception) -> Response:
    """Say that there is no such page, in the house's words."""
    assert isinstance(fault, HTTPException)
    words = said("web.http", "{detail}", detail=str(fault.detail))
    if fault.status_code == 404:
        words = said("web.no_page", "there is no page at {path}", path=request.url.path)
    return await _tell(request, words, fault.status_code, headers=dict(fault.headers or {}))


async def on_unreadable(request: Request, fault: Exception) -> Response:
    """Say which field of a question cannot be read, and why."""
    assert isinstance(fault, RequestValidationError)
    first = fault.errors()[0]
    path = ".".join(str(part) for part in first["loc"][1:]) or str(first["loc"][0])
    why = str(first["msg"])
    if wants_json(request):
        words = said("web.unreadable", "{path}: {why}", path=path, why=why)
    else:
        words = said(
            "web.unreadable", "{path} cannot be read ({why}); go back, load the page again and try once more", path=path, why=why
        )
    return await _tell(request, words, 422)


def refusal(request: Request, words: Said, status: int) -> Response:
    """Turn a request away before anything of the book is looked at."""
    if wants_json(request):
        return JSONResponse(as_body(words), status_code=status)
    return PlainTextResponse(words.text, status_code=status)
