"""The teeth of one specimen: its chart to tap, its jar to count."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.responses import Response

from bonebench.door import TeethTold
from bonebench.errors import BonebenchError, InputError
from bonebench.said import Said
from bonebench.services.teeth.cards import ToothCard
from bonebench.shop.teeth_entries import ToothState
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)

STATES = tuple(state.value for state in ToothState)


@dataclass(frozen=True, slots=True)
class Quarter:
    """One side of one jaw, its teeth from the middle of the mouth to the back."""

    jaw: str
    side: str
    name: str
    teeth: tuple[ToothCard, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """What was chosen and tapped, kept when it cannot be stored."""

    state: str = ""
    teeth: tuple[str, ...] = ()
    typed: str = ""
    jar: str = ""

    @classmethod
    def from_sent(cls, sent: FormData) -> "Form":
        """Read a plain form."""
        one = {name: str(sent.get(name, "")).strip() for name in ("state", "typed", "jar")}
        return cls(**one, teeth=tuple(str(code) for code in sent.getlist("tooth")))

    def told(self, tag: str) -> TeethTold:
        """Return what it says; a tooth without a state, or a state without a tooth, is asked again."""
        codes = [*self.teeth, *(piece.strip() for piece in self.typed.split(",") if piece.strip())]
        if codes and not self.state:
            raise InputError("teeth.no_state", "say how they are first: loose, in the jar, glued; then tap the teeth")
        if self.state and not codes:
            raise InputError("teeth.no_tooth", "no tooth was tapped, so nothing was stored; tap the teeth that are {state}",
                             state=self.state)  # fmt: skip
        return TeethTold(tag=tag, marks=dict.fromkeys(codes, self.state), jar=self.jar or None)


def quarters(teeth: Iterable[ToothCard]) -> tuple[Quarter, ...]:
    """Return the quarters of the mouth that have teeth; codes nobody can read stand in one of their own.

    Where milk and permanent teeth stand side by side each set has quarters of its own, the milk teeth on the inside.
    """
    found: dict[tuple[str, str, bool], list[ToothCard]] = {}
    for tooth in teeth:
        found.setdefault((tooth.jaw, tooth.side, tooth.milk), []).append(tooth)
    both = len({milk for jaw, _, milk in found if jaw}) > 1
    return tuple(
        Quarter(jaw, side, _quarter_name(jaw, side, milk=milk, both=both), tuple(found[jaw, side, milk]))
        for jaw, side, milk in sorted(found, key=_from_top_to_bottom)
    )


def _from_top_to_bottom(key: tuple[str, str, bool]) -> tuple[int, bool, bool]:
    jaw, side, milk = key
    return ("upper", "lower", "").index(jaw), milk if jaw == "upper" else not milk, side != "right"


def _quarter_name(jaw: str, side: str, *, milk: bool, both: bool) -> str:
    if not jaw:
        return "Codes nobody can read"
    return f"{jaw.capitalize()} jaw, animal's {side}" + ("" if not both else ", milk teeth" if milk else ", permanent teeth")


def _page(request: Request, tag: str, form: Form, error: Said | None = None) -> Response:
    card = door_of(request).teeth(tag)
    return show(
        request, "specimen", "teeth.html", status=200 if error is None else 422, card=card, quarters=quarters(card.teeth),
        states=STATES, form=form, error=error,
    )  # fmt: skip


@router.get("/specimens/{tag}/teeth")
def teeth(request: Request, tag: str) -> Response:
    """Show the chart and the jar."""
    return _page(request, tag, Form())


@router.post("/specimens/{tag}/teeth")
async def tell(request: Request, tag: str) -> Response:
    """Say how teeth are, or how many the jar holds; what cannot be read is said beside the chart, and nothing tapped is lost."""
    sent = await request.form()
    return await run_in_threadpool(_tell, request, tag, Form.from_sent(sent))


def _tell(request: Request, tag: str, form: Form) -> Response:
    door_of(request).teeth(tag)  # a tag nobody knows is a page of its own
    try:
        told = door_of(request).tell_teeth(form.told(tag), who_of(request))
    except BonebenchError as fault:
        return _page(request, tag, form, fault.said)
    return go_back(f"/specimens/{quote(told.chart.tag)}/teeth", told.entry_id)
