"""Baths: as they stand, and what happened to them."""

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.door import Happened, NewBath
from bonebench.errors import BonebenchError, UnknownName
from bonebench.said import Said
from bonebench.services.baths.bench import bench
from bonebench.services.baths.keep import USUAL
from bonebench.shop.steps import PlaceKind
from bonebench.web.bathtools import TOOLS
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show
from bonebench.web.tools import worked_page

router = APIRouter(include_in_schema=False)

FIELDS = (
    "place", "recipe", "name", "stock", "strength", "volume", "dose", "temperature", "vessel", "vessel_volume", "stock_opened",
    "about",
)  # fmt: skip
ADDED = ("added", "Something was poured in", [
    ("what", "What", "stock, water, detergent"), ("volume", "How much", "0.5 L or 1 pt"),
    ("strength", "If stock: the bottle says", "35 %"),
])  # fmt: skip
TAKEN = ("taken", "Some was taken out", [("volume", "How much", "2 L")])
TESTED = ("tested", "It was tested", [
    ("how", "By what", "strip, permanganate or iodometric"), ("strength", "Strength found", "2.8 % w/w; or a range below"),
    ("low", "A strip between two colours: the lower", "1 %"), ("high", "and the higher", "3 %"),
])  # fmt: skip
LOOKED = ("looked", "Thermometer or level", [
    ("temperature", "The thermometer in it read", "44 C or 111 F"), ("level", "The water is", "full, sunk or heater bare"),
])  # fmt: skip
SIEVE = [
    ("sieved", "Poured through a sieve?", "yes or no"), ("teeth", "Teeth found", "0, 1, 2"),
    ("whose", "Whose are they?", "the tag, such as 104-M"),
]  # fmt: skip
CHANGED = ("changed", "Water changed, teeth found", [*SIEVE, ("clarity", "The old water was", "clear, hazy, cloudy, fat on top")])
DISCARDED = (
    "discarded",
    "Thrown away, teeth found",
    [*SIEVE, ("how", "What was done with it", "stood open, asked where it may go")],
)
FORMS = {
    "peroxide": [TESTED, ADDED, TAKEN, LOOKED, DISCARDED],
    "detergent": [CHANGED, LOOKED, ADDED, DISCARDED],
    "rinse water": [CHANGED, LOOKED, DISCARDED],
}


def _list(request: Request, form: dict[str, str], error: Said | None) -> Response:
    door = door_of(request)
    places = [(p.key, p.name, USUAL[PlaceKind(p.kind)].value) for p in door.room().places if PlaceKind(p.kind) in USUAL and p.open]
    card = door.baths(everything=request.query_params.get("all") == "yes")
    return show(
        request, "baths", "baths.html", status=200 if error is None else 422, card=card, places=places, tools=TOOLS.values(),
        form=form, error=error,
    )  # fmt: skip


@router.get("/baths")
def baths(request: Request) -> Response:
    """Show the baths of the room."""
    return _list(request, {name: request.query_params.get(name, "") for name in FIELDS}, None)


@router.post("/baths")
async def make(request: Request) -> Response:
    """Say that a bath was made; what cannot be read is said beside the form, and nothing typed is lost."""
    sent = await request.form()
    form = {name: str(sent.get(name, "")).strip() for name in FIELDS}
    return await run_in_threadpool(_make, request, form)


def _make(request: Request, form: dict[str, str]) -> Response:
    try:
        card = door_of(request).make_bath(NewBath(**{name: value or None for name, value in form.items()}), who_of(request))  # type: ignore[arg-type]
    except BonebenchError as fault:
        return _list(request, form, fault.said)
    return go_back(f"/baths/{card.id}", card.entries[-1].id)


@router.get("/baths/ask/{tool}")
def work(request: Request, tool: str) -> Response:
    """Show one calculation of the wet bench."""
    if tool not in TOOLS:
        raise UnknownName("work.unknown", "there is no '{tool}' to work out here", could_be=tuple(TOOLS), tool=tool)
    return worked_page(request, TOOLS[tool], "work", ("/baths", "Baths"))


@router.get("/baths/bench")
def bench_page(request: Request) -> Response:
    """Show what stands on the bench and what must not meet what."""
    return show(request, "work", "bench.html", card=door_of(request).work(bench))


def _one(request: Request, name: str, error: Said | None = None) -> Response:
    card = door_of(request).bath(name)
    forms = FORMS.get(card.recipe, [ADDED, TAKEN, LOOKED]) if card.live else []
    return show(request, "bath", "bath.html", status=200 if error is None else 422, card=card, forms=forms, error=error)


@router.get("/baths/{name}")
def bath(request: Request, name: str) -> Response:
    """Show one bath, whole."""
    return _one(request, name)


@router.post("/baths/{name}")
async def happened(request: Request, name: str) -> Response:
    """Say what happened to a bath."""
    sent = await request.form()
    values = {key: str(value).strip() for key, value in sent.items() if str(value).strip()}
    return await run_in_threadpool(_happened, request, name, values)


def _happened(request: Request, name: str, values: dict[str, str]) -> Response:
    what = values.pop("happened", "")
    try:
        entry, card = door_of(request).note_bath(Happened(bath=name, what=what, values=values), who_of(request))
    except BonebenchError as fault:
        return _one(request, name, fault.said)
    return go_back(f"/baths/{card.id}", entry)
