"""Set a real room up, without writing a file."""

from zoneinfo import available_timezones

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.door import Beginning
from bonebench.errors import BonebenchError
from bonebench.said import Said
from bonebench.shop.steps import PlaceKind, Step
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)

# The steps whose method is asked at the start: those that can harm bone or people most.
ASKED = (Step.DEGREASE, Step.WHITEN, Step.KILL)
PEOPLE = 3


def _page(request: Request, form: dict[str, str], error: Said | None) -> Response:
    methods = door_of(request).room().methods
    choices = [(step.value, [(m.key, m.name, m.harm, m.standing) for m in methods if m.step == step.value]) for step in ASKED]
    return show(
        request, "begin", "begin.html", status=200 if error is None else 422, form=form, error=error,
        kinds=[(kind.value, "1") for kind in PlaceKind], choices=choices,
        zones=sorted(zone for zone in available_timezones() if "/" in zone and not zone.startswith(("Etc/", "SystemV/"))),
    )  # fmt: skip


@router.get("/begin")
def begin_page(request: Request) -> Response:
    """Show the form."""
    return _page(request, {}, None)


@router.post("/begin")
async def begin(request: Request) -> Response:
    """Store the room; what cannot be is said beside the form, and nothing typed is lost."""
    sent = await request.form()
    form = {name: str(value).strip() for name, value in sent.items()}
    return await run_in_threadpool(_store, request, form)


def _store(request: Request, form: dict[str, str]) -> Response:
    beginning = Beginning(
        name=form.get("name", ""),
        zone=form.get("zone", ""),
        units=form.get("units", "metric"),
        places={kind.value: form.get(f"count {kind.value}", "") for kind in PlaceKind},
        holds={kind.value: form.get(f"holds {kind.value}", "") for kind in PlaceKind},
        eats=form.get("eats", ""),
        people=[(form.get(f"person {n}", ""), form.get(f"hours {n}", "")) for n in range(1, PEOPLE + 1)],
        methods=[form.get(f"method {step.value}", "") for step in ASKED],
    )
    try:
        door_of(request).begin(beginning)
    except BonebenchError as fault:
        return _page(request, form, fault.said)
    return go_back("/room")
