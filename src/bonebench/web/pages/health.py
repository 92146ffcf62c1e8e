"""Whether the program is well."""

from fastapi import APIRouter, Request
from starlette.responses import JSONResponse

from bonebench.web.pages.api import Health
from bonebench.web.shell import door_of

router = APIRouter()


@router.get("/healthz", response_model=Health, responses={503: {"model": Health, "description": "The book takes no writing."}})
def healthz(request: Request) -> JSONResponse:
    """Answer when the book can be read and written."""
    readable, writable = door_of(request).health()
    return JSONResponse({"readable": readable, "writable": writable}, status_code=200 if readable and writable else 503)
