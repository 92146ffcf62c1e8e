"""Baths as JSON under /api/v1/baths: as they stand, what happened to them, and the arithmetic of the wet bench."""

from typing import Annotated, Any

from fastapi import APIRouter, Body, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.door import Happened, NewBath
from bonebench.services.baths import working
from bonebench.services.baths.bathcard import BathCard, BathListCard
from bonebench.services.baths.bench import BenchCard, bench
from bonebench.services.baths.workcards import (
    BlendCard,
    CoverCard,
    DecayCard,
    DegreaseCard,
    DryCard,
    HeatCard,
    TitrateCard,
    TopUpWorkCard,
    WhitenCard,
)
from bonebench.services.cards import as_json
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1/baths", responses=REFUSED)

Text = Annotated[str | None, Field(max_length=80)]


class BathMadeNow(Strict):
    """A bath that was made; quantities with their units, as text."""

    place: str = Field(min_length=1, max_length=80)
    recipe: Text = None
    name: Text = None
    stock: Text = None
    strength: Text = None
    volume: Text = None
    dose: Text = None
    temperature: Text = None
    vessel: Text = None
    vessel_volume: Text = None
    stock_opened: Text = None
    at: Text = None
    about: Text = None


class BathHappened(Strict):
    """What happened to a bath: added, taken, tested, looked, changed, discarded, with its values as text."""

    what: str = Field(min_length=1, max_length=40)
    values: dict[Annotated[str, Field(max_length=40)], Annotated[str, Field(max_length=200)]] = Field(default_factory=dict)
    at: Text = None
    about: Text = None


def _answer(card: Any, status: int = 200) -> JSONResponse:
    return JSONResponse(as_json(card), status_code=status)


@router.get("", response_model=BathListCard)
def baths(request: Request, everything: bool = False) -> JSONResponse:
    """The baths that stand in the room."""
    return _answer(door_of(request).baths(everything=everything))


@router.post("", response_model=BathCard, status_code=201)
def make(request: Request, new: Annotated[BathMadeNow, Body()]) -> JSONResponse:
    """Say that a bath was made."""
    return _answer(door_of(request).make_bath(NewBath(**new.model_dump()), who_of(request)), 201)


@router.get("/bench", response_model=BenchCard)
def the_bench(request: Request) -> JSONResponse:
    """Chemicals, materials and glues: what must not meet what."""
    return _answer(door_of(request).work(bench))


@router.get("/blend", response_model=BlendCard)
def blend(request: Request, a: str, b: str, target: str, total: str, temperature: str | None = None) -> JSONResponse:
    """Two solutions to a third."""
    return _answer(door_of(request).work(lambda k: working.blend(k, a=a, b=b, target=target, total=total, temperature=temperature)))


@router.get("/top-up", response_model=TopUpWorkCard)
def top_up(
    request: Request, volume: str, strength: str, stock: str, target: str, largest: str, temperature: str | None = None
) -> JSONResponse:
    """What brings a used bath back up."""
    asked = {"volume": volume, "strength": strength, "stock": stock, "target": target, "largest": largest}
    return _answer(door_of(request).work(lambda k: working.top_up(k, **asked, temperature=temperature)))


@router.get("/titrate", response_model=TitrateCard)
def titrate(
    request: Request, sample: str, normality: str, used: str, dilution: str | None = None, blank: str | None = None,
    by: str | None = None, stock: str | None = None, temperature: str | None = None,
) -> JSONResponse:  # fmt: skip
    """How strong a bath is by a titration, with the arithmetic."""
    return _answer(
        door_of(request).work(
            lambda k: working.titrate(
                k, sample=sample, normality=normality, used=used, dilution=dilution, blank=blank, by=by, stock=stock,
                temperature=temperature,
            )
        )
    )  # fmt: skip


@router.get("/decay", response_model=DecayCard)
def decay(
    request: Request, strength: str, days: str, load: str | None = None, volume: str | None = None,
    temperature: str | None = None, stock: str | None = None, at_once: str | None = None, stay: str | None = None,
    price: str | None = None,
) -> JSONResponse:  # fmt: skip
    """How strong a bath probably is after some days, what it serves and costs, and how it goes out."""
    return _answer(
        door_of(request).work(
            lambda k: working.decay(
                k,
                strength=strength,
                days=days,
                load=load,
                volume=volume,
                temperature=temperature,
                stock=stock,
                at_once=at_once,
                stay=stay,
                price=price,
            )
        )
    )


@router.get("/heat", response_model=HeatCard)
def heat(
    request: Request, volume: str, open_area: str, wall_area: str, temperature: str, lid: bool = True, foam: bool = False,
    room: str | None = None, humidity: str | None = None, watts: str | None = None, price: str | None = None,
) -> JSONResponse:  # fmt: skip
    """What a warm pot takes in power and water."""
    return _answer(
        door_of(request).work(
            lambda k: working.heat(
                k, volume=volume, open_area=open_area, wall_area=wall_area, temperature=temperature, lid=lid, foam=foam, room=room,
                humidity=humidity, watts=watts, price=price,
            )
        )
    )  # fmt: skip


@router.get("/cover", response_model=CoverCard)
def cover(
    request: Request, species: str, length: str, depth: str, width: str = "", count: str | None = None, round: bool = False
) -> JSONResponse:
    """How much bath covers so many skulls in a vessel."""
    return _answer(
        door_of(request).work(
            lambda k: working.cover(k, length=length, width=width, depth=depth, species=species, count=count, round=round)
        )
    )


@router.get("/whiten", response_model=WhitenCard)
def whiten(
    request: Request, species: str, strength: str | None = None, temperature: str | None = None, method: str | None = None
) -> JSONResponse:
    """How long to whiten, when to look, when to stop."""
    return _answer(
        door_of(request).work(
            lambda k: working.whiten(k, species=species, strength=strength, temperature=temperature, method=method)
        )
    )


@router.get("/degrease", response_model=DegreaseCard)
def degrease(request: Request, species: str, temperature: str | None = None, head: str | None = None) -> JSONResponse:
    """How long in the pot, with how many changes."""
    return _answer(door_of(request).degrease(species=species, temperature=temperature, head=head))


@router.get("/dry", response_model=DryCard)
def dry(
    request: Request, species: str, use: str, temperature: str | None = None, humidity: str | None = None,
    weighings: str | None = None, step: str | None = None,
) -> JSONResponse:  # fmt: skip
    """When a skull is dry enough for what comes next."""
    return _answer(
        door_of(request).work(
            lambda k: working.dry(
                k, species=species, use=use, temperature=temperature, humidity=humidity, weighings=weighings, step=step
            )
        )
    )


@router.get("/{name}", response_model=BathCard)
def bath(request: Request, name: str) -> JSONResponse:
    """One bath, whole."""
    return _answer(door_of(request).bath(name))


@router.post("/{name}", response_model=BathCard)
def happened(request: Request, name: str, what: Annotated[BathHappened, Body()]) -> JSONResponse:
    """Say what happened to a bath."""
    said = Happened(bath=name, what=what.what, values=what.values, at=what.at, about=what.about)
    return _answer(door_of(request).note_bath(said, who_of(request))[1])
