"""Add a specimen."""

from typing import Any

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.door import Intake
from bonebench.errors import BonebenchError
from bonebench.reference.intake import load_questions
from bonebench.said import Said
from bonebench.services.specimens.intake import ASK
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)

FIELDS = (
    "species", "owner", "live_mass", "head_mass", "sex", "age", "condition", "finish", "measure", "permit", "promised", "parts",
    "tag", "arrived",
)  # fmt: skip


def _form_page(request: Request, form: dict[str, str], error: Said | None, could_be: tuple[str, ...] = ()) -> Response:
    door = door_of(request)
    names = [row.common for row in door.species_list("").rows]
    context: dict[str, Any] = {"form": form, "error": error, "could_be": could_be, "species_names": names}
    context["questions"] = [
        {"key": q.key, "text": q.text, "why": q.why, "must_ask": q.must_ask, "answer": form.get(f"{ASK}{q.key}", "")}
        for q in load_questions().values()
    ]
    return show(request, "add", "add.html", status=200 if error is None else 422, **context)


@router.get("/add")
def add_page(request: Request) -> Response:
    """Show the form, with what was typed in the address."""
    return _form_page(request, {name: request.query_params.get(name, "") for name in FIELDS}, None)


@router.post("/add")
async def add(request: Request) -> Response:
    """Take a specimen in; what cannot be read is said beside the form, and nothing typed is lost."""
    sent = await request.form()
    form = {name: str(sent.get(name, "")).strip() for name in (*FIELDS, *(f"{ASK}{key}" for key in load_questions()))}
    return await run_in_threadpool(_take_in, request, form)


def _take_in(request: Request, form: dict[str, str]) -> Response:
    try:
        card = door_of(request).add(Intake.from_form(form), who=who_of(request))
    except BonebenchError as fault:
        return _form_page(request, form, fault.said, getattr(fault, "could_be", ()))
    return go_back(f"/specimens/{card.tag}", card.entry_id)
