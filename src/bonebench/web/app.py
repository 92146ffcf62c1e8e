"""The web application: one for each book it serves."""

import importlib
import pkgutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from bonebench import __version__
from bonebench.door import Door
from bonebench.errors import BonebenchError, BookBusy, BookError, UnknownName
from bonebench.said import said
from bonebench.web import pages
from bonebench.web.guard import guard
from bonebench.web.shell import error_page

HERE = Path(__file__).parent


def status_of(fault: BonebenchError) -> int:
    """Return the HTTP status of what we raise on purpose."""
    if isinstance(fault, UnknownName):
        return 404
    if isinstance(fault, BookBusy):
        return 503
    return 507 if isinstance(fault, BookError) else 422


def _wants_json(request: Request) -> bool:
    return request.url.path.startswith("/api/") or request.url.path == "/healthz"


def error_json(fault: BonebenchError) -> dict[str, object]:
    """Return a fault as the API says it: the same words, with key and values."""
    return {
        "schema": "error/1",
        "error": {"key": fault.said.key, "text": fault.said.text, "values": fault.said.values, "path": fault.path},
    }


async def on_fault(request: Request, fault: Exception) -> Response:
    """Say what can be mended, as a page or as JSON."""
    assert isinstance(fault, BonebenchError)
    status = status_of(fault)
    if _wants_json(request):
        return JSONResponse(error_json(fault), status_code=status)
    return error_page(request, fault.said, status, getattr(fault, "could_be", ()))


async def on_http(request: Request, fault: Exception) -> Response:
    """Say that there is no such page, in the house's words."""
    assert isinstance(fault, HTTPException)
    words = said("web.http", "{detail}", detail=str(fault.detail))
    if fault.status_code == 404:
        words = said("web.no_page", "there is no page at {path}", path=request.url.path)
    if _wants_json(request):
        body = {"schema": "error/1", "error": {"key": words.key, "text": words.text, "values": words.values, "path": None}}
        return JSONResponse(body, status_code=fault.status_code, headers=fault.headers)
    return error_page(request, words, fault.status_code, ())


def make_app(door: Door) -> FastAPI:
    """Return the application for one open book."""

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        door.close()

    app = FastAPI(
        title="Bonebench",
        version=__version__,
        description="The bone room's own services as JSON. Defer to local codes and licensed practice.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/v1/openapi.json",
        lifespan=lifespan,
    )
    app.state.door = door
    app.middleware("http")(guard)
    app.add_exception_handler(BonebenchError, on_fault)
    app.add_exception_handler(HTTPException, on_http)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    for module in sorted(pkgutil.iter_modules(pages.__path__), key=lambda m: m.name):
        app.include_router(importlib.import_module(f"{pages.__name__}.{module.name}").router)
    return app
