"""The colony as JSON under /api/v1/colony: what was seen, what is ahead, and how the pieces in the box fare."""

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Body, Query, Request
from pydantic import Field
from starlette.responses import JSONResponse

from bonebench.door import Look
from bonebench.files.airlog import AirLog, air_log_of
from bonebench.files.logtimes import zone_named
from bonebench.services.cards import Worked, as_json
from bonebench.services.colony.ahead import ahead
from bonebench.services.colony.asked import SEED, Asked
from bonebench.services.colony.book import ColoniesCard, colonies
from bonebench.services.colony.cards import (
    AwayCard,
    CleanByCard,
    ForecastCard,
    HarmCard,
    LeastCard,
    NumbersCard,
    RampUpCard,
    RotCard,
    SecondCard,
    ThinCard,
    TonightCard,
)
from bonebench.services.colony.food import away, least, ramp_up
from bonebench.services.colony.harm import harm
from bonebench.services.colony.numbers import numbers
from bonebench.services.colony.own import ask
from bonebench.services.colony.pieces import clean_by, rot, tonight
from bonebench.services.colony.sparing import second, thin
from bonebench.services.known import Known
from bonebench.web.pages.api import REFUSED, Strict
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of

router = APIRouter(prefix="/api/v1/colony", responses=REFUSED)

Text = Annotated[str | None, Field(max_length=80)]
Needed = Annotated[str, Field(min_length=1, max_length=80)]
Series = Annotated[str | None, Field(max_length=8000)]


class AboutBeetles(Strict):
    """How many beetles, and where they live, but for their air; quantities with their units, as text."""

    size: Text = None
    floor: Text = None
    sites: Text = None
    bare: Text = None
    dry: Text = None
    dried: Text = None
    beetles: Text = None
    pests: Text = None
    seed: Annotated[int, Field(ge=0, lt=2**32)] = SEED


class AboutColony(AboutBeetles):
    """A colony as people say it, with its air."""

    temperature: Series = None
    humidity: Series = None

    def colony(self) -> Asked:
        """Return the colony these describe."""
        return Asked(**{name: getattr(self, name) for name in AboutColony.model_fields})

    def rest(self) -> dict[str, str | None]:
        """Return what is asked beside the colony."""
        known = AboutColony.model_fields | OwnColony.model_fields
        return {name: getattr(self, name) for name in type(self).model_fields if name not in known}


class OwnColony(AboutColony):
    """A colony as people say it, or the room's own: without a size it is today's by the log of its box."""

    box: Text = None


class SeenThere(AboutColony):
    """What was seen of it."""

    scoop_count: Text = None
    scoop_part: Text = None
    pupae: Text = None
    pupae_part: Text = None
    before: Text = None
    after: Text = None
    apart: Text = None
    dried_off: Text = None
    heads_eaten: Text = None
    heads_days: Text = None
    frozen_in: Text = None


class AheadOfIt(OwnColony):
    """How far ahead, with which food and queue."""

    days: Text = None
    ration: Text = None
    waiting: Text = None
    first_day: Text = None


class Logged(AboutColony):
    """A log of the box, as the text of its file; ``log_unit`` is C or F where its names do not say."""

    log: Annotated[str | None, Field(max_length=4_000_000)] = None
    log_unit: Annotated[str | None, Field(pattern="^[CF]$")] = None

    def air(self, known: Known) -> AirLog | None:
        """Return the log, its wall times in the room's zone."""
        return air_log_of(self.log, zone_named(known.room.zone), self.log_unit) if self.log else None

    def rest(self) -> dict[str, str | None]:
        """Return what is asked beside the colony and the log."""
        return {name: getattr(self, name) for name in type(self).model_fields if name not in Logged.model_fields}


class LoggedDays(Logged):
    """How far ahead, with which food and queue; a log of the box drives the days it covers."""

    days: Text = None
    ration: Text = None
    waiting: Text = None
    first_day: Text = None


class LoggedEvent(Logged):
    """Cold or heat that it lay in, by how much and how long, or by a log that shows it."""

    fell_to: Text = None
    lasted: Text = None
    days: Text = None


class Season(OwnColony):
    """A season that comes."""

    season: Needed
    target: Needed
    first_day: Text = None
    held: Text = None


class Quiet(OwnColony):
    """A quiet time."""

    days: Text = None
    keep: Text = None
    begins: Text = None


class Leaving(OwnColony):
    """A time away."""

    days: Text = None
    first_day: Text = None


class Spare(OwnColony):
    """What it is needed for, and when it was counted."""

    needed: Needed
    counted: Text = None
    days: Text = None


class Height(OwnColony):
    """The height of a season."""

    needed: Needed
    days: Text = None
    has_spare: Text = None


class Event(OwnColony):
    """Cold or heat that it lay in."""

    fell_to: Needed
    lasted: Needed
    days: Text = None


class Waiting(AboutColony):
    """Heads that wait, and what lies in the box."""

    waiting: Needed
    free_floor: Text = None
    spare_heat: Text = None
    inside: Text = None
    inside_left: Text = None


class LookNow(Strict):
    """What was seen of a colony; what was not looked at is left out."""

    place: Annotated[str, Field(max_length=80)] = ""
    counted: Text = None
    part: Text = None
    grade: Text = None
    pupae: Text = None
    pupae_part: Text = None
    sites: Text = None
    fed: Text = None
    dried: Text = None
    temperature: Text = None
    humidity: Text = None
    smell: Text = None
    pests: Text = None
    beetles: Text = None
    hunger: Text = None
    at: Text = None
    about: Text = None


class WetPiece(Strict):
    """A piece that lay warm and wet."""

    hours: Needed
    temperature: Text = None
    left: Text = None
    wet: Text = None
    smell: Text = None


class PieceInside(Strict):
    """A piece in the box."""

    species: Needed
    inside: Needed
    look: Text = None
    tissue: Text = None
    lost: Text = None
    appetite: Text = None
    first_day: Text = None


def _first_day(request: Request, said: str | None) -> str | None:
    """Return the day that was said, else the room's today."""
    today = door_of(request).surface().reader.today
    return said or (today.isoformat() if today else None)


def _own(request: Request, asked: OwnColony, act: Callable[..., Worked], **more: Any) -> JSONResponse:
    """Answer a question of a colony: the one that was described, else today's by the log of its box."""
    day = getattr(asked, "first_day", None)
    return _answer(
        door_of(request).read(
            lambda tx, now: ask(
                tx, now, asked.colony(), lambda known, colony: act(known, colony, **more), box=asked.box, first_day=day
            )
        )
    )


def _answer(card: Worked) -> JSONResponse:
    return JSONResponse(as_json(card))


@router.get("", response_model=ColoniesCard)
def colonies_(request: Request) -> JSONResponse:
    """The colonies of the room by its own log."""
    return JSONResponse(as_json(door_of(request).read(colonies)))


@router.post("", response_model=ColoniesCard)
def look_(request: Request, seen: Annotated[LookNow, Body()]) -> JSONResponse:
    """Write down what was seen; the answer is the colonies as they are then."""
    door_of(request).note_colony(Look(**seen.model_dump()), who_of(request))
    return JSONResponse(as_json(door_of(request).read(colonies)))


@router.get("/numbers", response_model=NumbersCard)
def numbers_(request: Request, asked: Annotated[SeenThere, Query()]) -> JSONResponse:
    """How many there probably are, and what they can eat today."""
    return _answer(door_of(request).work(lambda known: numbers(known, asked.colony(), **asked.rest())))


@router.get("/forecast", response_model=ForecastCard)
def forecast_(request: Request, asked: Annotated[AheadOfIt, Query()]) -> JSONResponse:
    """The days ahead."""
    more: dict[str, Any] = asked.rest() | {"first_day": _first_day(request, asked.first_day)}
    return _own(request, asked, ahead, **more)


@router.post("/forecast", response_model=ForecastCard)
def forecast_by_log(request: Request, asked: Annotated[LoggedDays, Body()]) -> JSONResponse:
    """The days ahead, driven by a log of the box as far as it goes; nothing is stored."""
    more: dict[str, Any] = asked.rest() | {"today": _first_day(request, None)}
    return _answer(door_of(request).work(lambda known: ahead(known, asked.colony(), log=asked.air(known), **more)))


@router.get("/ramp-up", response_model=RampUpCard)
def ramp_up_(request: Request, asked: Annotated[Season, Query()]) -> JSONResponse:
    """When to begin to feed up for a season."""
    more = asked.rest() | {"first_day": _first_day(request, asked.first_day)}
    return _own(request, asked, ramp_up, **more)


@router.get("/least", response_model=LeastCard)
def least_(request: Request, asked: Annotated[Quiet, Query()]) -> JSONResponse:
    """The least food for a quiet time."""
    return _own(request, asked, least, **asked.rest())


@router.get("/away", response_model=AwayCard)
def away_(request: Request, asked: Annotated[Leaving, Query()]) -> JSONResponse:
    """What to load before days away."""
    return _own(request, asked, away, **asked.rest() | {"first_day": _first_day(request, asked.first_day)})


@router.get("/thin", response_model=ThinCard)
def thin_(request: Request, asked: Annotated[Spare, Query()]) -> JSONResponse:
    """What may be thinned, sold or given away."""
    return _own(request, asked, thin, **asked.rest())


@router.get("/second", response_model=SecondCard)
def second_(request: Request, asked: Annotated[Height, Query()]) -> JSONResponse:
    """Whether to start a second colony."""
    return _own(request, asked, second, **asked.rest())


@router.get("/harm", response_model=HarmCard)
def harm_(request: Request, asked: Annotated[Event, Query()]) -> JSONResponse:
    """What cold or heat cost."""
    return _own(request, asked, harm, **asked.rest())


@router.post("/harm", response_model=HarmCard)
def harm_by_log(request: Request, asked: Annotated[LoggedEvent, Body()]) -> JSONResponse:
    """What cold or heat cost, by a log that shows it; nothing is stored."""
    more: dict[str, Any] = asked.rest()
    return _answer(door_of(request).work(lambda known: harm(known, asked.colony(), log=asked.air(known), **more)))


@router.get("/tonight", response_model=TonightCard)
def tonight_(request: Request, asked: Annotated[Waiting, Query()]) -> JSONResponse:
    """Which heads may go in now."""
    more = {name: text for name, text in asked.rest().items() if name != "waiting"}
    return _answer(door_of(request).work(lambda known: tonight(known, asked.colony(), waiting=asked.waiting, **more)))


@router.get("/rot", response_model=RotCard)
def rot_(request: Request, asked: Annotated[WetPiece, Query()]) -> JSONResponse:
    """The rot clock of one piece."""
    return _answer(door_of(request).work(lambda known: rot(known, **asked.model_dump())))


@router.get("/clean-by", response_model=CleanByCard)
def clean_by_(request: Request, asked: Annotated[PieceInside, Query()]) -> JSONResponse:
    """When a piece will be clean."""
    more = asked.model_dump() | {"first_day": _first_day(request, asked.first_day)}
    return _answer(door_of(request).work(lambda known: clean_by(known, **more)))
