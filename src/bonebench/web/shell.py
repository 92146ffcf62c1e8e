"""What every page shares: the templates, who is at it, what was just stored, and the one-tap undo."""

from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit
from zoneinfo import ZoneInfo

from fastapi import Request
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.responses import HTMLResponse, RedirectResponse, Response

from bonebench.door import Door, Surface
from bonebench.door.work import Work
from bonebench.said import Said
from bonebench.units import Reader
from bonebench.web.writing import filters

WHO_COOKIE = "bonebench_who"
AFTER_COOKIE = "bonebench_after"


def door_of(request: Request) -> Door:
    """Return the open book of this application."""
    door: Door = request.app.state.door
    return door


def work_of(request: Request) -> Work:
    """Return what does long work for this application."""
    work: Work = request.app.state.work
    return work


@lru_cache(maxsize=8)
def _environment(reader: Reader, zone: str) -> Environment:
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(filters(reader, ZoneInfo(zone)))
    return environment


def render(name: str, surface: Surface, context: dict[str, Any], status: int = 200) -> HTMLResponse:
    """Fill one template in the reader's units and the room's zone."""
    template = _environment(surface.reader, surface.zone).get_template(name)
    return HTMLResponse(template.render(context), status_code=status)


def frame(request: Request, page: str, surface: Surface) -> dict[str, Any]:
    """Return what every page needs beside its card."""
    after = request.cookies.get(AFTER_COOKIE, "")
    door = door_of(request)
    return {
        "page": page,
        "room_name": surface.room_name,
        "demo": surface.demo,
        "who": surface.people.get(request.cookies.get(WHO_COOKIE, "")),
        "who_id": request.cookies.get(WHO_COOKIE, ""),
        "people": tuple(surface.people.items()),
        "units": surface.reader.system,
        "said_after": door.told(after) if after else None,
        "undo": after or None,
        "here": request.url.path + (f"?{request.url.query}" if request.url.query else ""),
    }


def show(request: Request, page: str, template: str, *, status: int = 200, **context: Any) -> Response:
    """Show one page; what was just stored is said once, with its undo."""
    surface = door_of(request).surface()
    answer = render(template, surface, {**frame(request, page, surface), **context}, status)
    if request.cookies.get(AFTER_COOKIE):
        answer.delete_cookie(AFTER_COOKIE, path="/")
    return answer


def error_page(request: Request, words: Said, status: int, could_be: tuple[str, ...]) -> Response:
    """Show what went wrong and what to do, on a page of the house."""
    return show(request, "problem", "problem.html", status=status, problem=words, could_be=could_be)


def safe_back(back: str) -> str:
    """Return where a tap came from; never another site."""
    parts = urlsplit(back)
    local = not parts.scheme and not parts.netloc and back.startswith("/") and not back.startswith("//") and "\\" not in back
    return quote(back, safe="/?&=%#+:,-._~") if local else "/"


def go_back(back: str, after: str | None = None) -> Response:
    """Answer a tap: back to the page it came from, which then says what was stored."""
    answer = RedirectResponse(safe_back(back), status_code=303)
    if after is None:
        answer.delete_cookie(AFTER_COOKIE, path="/")
    else:
        answer.set_cookie(AFTER_COOKIE, after, max_age=600, path="/", httponly=True, samesite="strict")
    return answer
