"""Mix a bath."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from bonebench.errors import BonebenchError
from bonebench.services.baths.mix import mix
from bonebench.web.shell import show

router = APIRouter(include_in_schema=False)

FIELDS = ("stock", "target", "parts", "volume", "temperature")


@router.get("/mix")
def mix_page(request: Request) -> Response:
    """Show the recipe that was asked for, its cautions first; a mix that cannot be is said on the same page."""
    form = {name: request.query_params.get(name, "").strip() for name in FIELDS}
    card = error = None
    if form["stock"] or form["volume"]:
        try:
            card = mix(
                stock=form["stock"], target=form["target"] or None, parts=form["parts"] or None, volume=form["volume"],
                temperature=form["temperature"] or None,
            )  # fmt: skip
        except BonebenchError as fault:
            error = fault.said
    return show(request, "mix", "mix.html", status=200 if error is None else 422, card=card, form=form, error=error)
