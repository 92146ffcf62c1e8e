"""The web application: one for each book it serves."""

import importlib
import pkgutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from bonebench import __version__
from bonebench.door import Door
from bonebench.door.kinds import KINDS
from bonebench.door.work import Work
from bonebench.errors import BonebenchError
from bonebench.web import pages
from bonebench.web.faults import on_fault, on_http, on_unreadable
from bonebench.web.guard import guard

HERE = Path(__file__).parent


def make_app(door: Door, host: str | None = None) -> FastAPI:
    """Return the application for one open book; ``host`` is the name it was started under, if it has one of its own."""

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        yield
        app.state.work.close()
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
    app.state.host = host
    app.state.work = Work(door, KINDS)
    app.middleware("http")(guard)
    app.add_exception_handler(BonebenchError, on_fault)
    app.add_exception_handler(HTTPException, on_http)
    app.add_exception_handler(RequestValidationError, on_unreadable)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    for module in sorted(pkgutil.iter_modules(pages.__path__), key=lambda m: m.name):
        app.include_router(importlib.import_module(f"{pages.__name__}.{module.name}").router)
    return app
