"""A quote for a piece that has not come: when would it be ready, in half, four of five and nineteen of twenty replays?"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import Literal
from zoneinfo import ZoneInfo

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing, basis
from bonebench.planning.draws import Uncertain
from bonebench.planning.problem import Problem
from bonebench.planning.promise import QUOTE_REPLAYS, Promised, quote
from bonebench.said import Said, said
from bonebench.services.cards import Basis, Flag
from bonebench.services.known import Known, cautions_for_species
from bonebench.services.plans.problem import subject_of
from bonebench.services.plans.sentence import sentence_of
from bonebench.services.plans.stored import Limit, Promise
from bonebench.services.promise.cards import LimitCard, PromiseCard, QuoteCard
from bonebench.services.promise.meanwhile import APPETITE, fresh_piece
from bonebench.services.specimens.intake import Intake, read_day, received_of
from bonebench.services.specimens.names import species_name
from bonebench.shop.names import find
from bonebench.shop.room import Room
from bonebench.shop.species import Species
from bonebench.shop.specimen import Part, Specimen

MOST_DAYS = 12
FURTHEST_DAYS = 365
COUNTED = "the model held against what was counted"
LIMITS = {"hands": "hands ({name})", "place": "room ({name})", "appetite": "the beetles ({name})"}


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedQuote:
    """A piece that has not come, as it was typed; ``arrives`` are days, today unless said."""

    species: str
    arrives: tuple[str, ...] = ()
    live_mass: str | None = None
    head_mass: str | None = None
    finish: str = "white"
    measure: bool = False


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything a quote is made from."""

    known: Known
    problem: Problem
    order: tuple[str, ...]
    uncertain: Uncertain
    now: datetime


def quoted(asked: AskedQuote, gathered: Gathered) -> PromiseCard:
    """Work out what could be promised."""
    known, zone = gathered.known, ZoneInfo(gathered.known.room.zone)
    species = find(asked.species, known.species)
    today = known.room.day(gathered.now)
    days = tuple(dict.fromkeys(_arrives(text, today) for text in asked.arrives)) or (today,)
    if len(days) > MOST_DAYS:
        raise OutsideRange("promise.days", "{count} days were asked for; it is {most} at once", count=len(days), most=MOST_DAYS)
    like = imagined(asked, species)
    quotes = []
    for day in days:
        at = max(gathered.now, datetime.combine(day, time(12), zone))
        piece = replace(fresh_piece(like, known, gathered.now, key="the piece asked for"), release=at, received=at)
        promised = quote(gathered.problem, gathered.order, piece, gathered.uncertain)
        quotes.append(_card(day, promised, species, known.room))
    arrivals = gathered.uncertain.arrivals
    return PromiseCard(
        species=species_name(species.key, known),
        p50=quotes[0].p50,
        p80=quotes[0].p80,
        p95=quotes[0].p95,
        limited_by=quotes[0].limited_by,
        sentence=quotes[0].sentence,
        quotes=tuple(quotes),
        replays=QUOTE_REPLAYS,
        waiting=len(gathered.problem.pieces),
        arrivals_a_year=sum(arrivals.per_month.values()) if arrivals is not None else 0.0,
        basis=tuple(_basis(like, known, gathered)),
        flags=tuple(_flags(gathered)),
        cautions=cautions_for_species(species, known),
    )


def _arrives(text: str, today: date) -> date:
    day = read_day(text) or today
    if not 0 <= (day - today).days <= FURTHEST_DAYS:
        raise OutsideRange(
            "promise.arrives", "{day:day} is asked for; a quote is for today or a day within a year from now", day=day.isoformat()
        )
    return day


def imagined(asked: AskedQuote, species: Species) -> Specimen:
    """Return the piece as it would be written down, with everything refused that intake refuses."""
    intake = Intake(asked.species, live_mass=asked.live_mass, head_mass=asked.head_mass, finish=asked.finish, measure=asked.measure)
    received = received_of(intake, tag="", species=species.key, owner=None)
    finish: Literal["white", "natural"] = received.finish
    return Specimen(
        "asked", species=species.key, live_mass_kg=received.live_mass_kg, head_mass_kg=received.head_mass_kg, finish=finish,
        measure=received.measure, parts=tuple(Part(name) for name in received.parts),
    )  # fmt: skip


def _card(day: date, promised: Promised, species: Species, room: Room) -> QuoteCard:
    limits = tuple(
        LimitCard(limit_words(Limit(one.limit, one.name, one.share), room), one.share) for one in promised.limited_by[:3]
    )
    sentence = sentence_of(species.common_name, Promise(promised.p50, promised.p80, promised.p95), arrives=day)
    return QuoteCard(day, promised.p50, promised.p80, promised.p95, limits, sentence)


def limit_words(limit: Limit, room: Room) -> Said:
    """Say what a piece waited for longest."""
    if limit.limit == "itself":
        return said("promise.limit.itself", "only its own steps")
    place = room.place(limit.name)
    name = place.name if place is not None else limit.name or "anyone"
    return said(f"promise.limit.{limit.limit}", LIMITS[limit.limit], name=name)


def _basis(like: Specimen, known: Known, gathered: Gathered) -> Iterable[Basis]:
    for leg in subject_of(replace(like, received=gathered.now), known).standing.route:
        if leg.kind.stay:
            source = f"{leg.pieces} pieces here; {leg.method.source}" if leg.pieces else leg.method.source
            yield Basis(f"{leg.step.value}, {leg.method.name}", leg.span.p10, leg.span.p90, "days", leg.known, source)
    yield from appetite_basis(known)
    yield from _ahead_basis(gathered)


def _ahead_basis(gathered: Gathered) -> Iterable[Basis]:
    """Return how far ahead those who may come are taken to be promised, where any was."""
    ahead = gathered.uncertain.arrivals.ahead_days if gathered.uncertain.arrivals is not None else ()
    known = [days for days in ahead if days is not None]
    if known:
        source = f"{len(known)} of the {len(ahead)} pieces that came last were promised a day"
        yield Basis("newcomers are promised, after they come", min(known), max(known), "days", Standing.ROOM, source)


def appetite_basis(known: Known) -> Iterable[Basis]:
    """Return what the beetles' appetite rests on: the counted colonies, or the room's own word with its doubt."""
    counted = known.appetites.boxes if known.appetites is not None else {}
    for key, days in counted.items():
        place = known.room.place(key)
        figure = Figure(
            days.value_kg, days.low_kg, days.high_kg, "kg/day", Standing.ESTIMATE, "the model held against what was counted"
        )
        yield basis(f"appetite of {place.name if place is not None else key} today", figure)
    if not counted:
        yield basis("season's appetite", APPETITE)


def _flags(gathered: Gathered) -> Iterable[Flag]:
    arrivals = gathered.uncertain.arrivals
    if arrivals is None:
        yield Flag(
            said(
                "promise.nobody_comes",
                "fewer than ten pieces came in the last year, so nobody else is reckoned with to come meanwhile",
            ),
            said("promise.nobody_comes.next", "before a busy season, promise the later day"),
        )
    elif arrivals.usual_ahead_days is None:
        yield Flag(
            said("promise.none_promised", "nobody who came last was promised a day, so this piece stands behind all that is there"),
            said("promise.none_promised.next", "write promised days on the pieces: then those go first, here and in the room"),
        )
    else:
        yield Flag(
            said(
                "promise.joins",
                "this piece goes before those that are promised later or not at all; those who come go before it or behind it by "
                "their day, promised as those who came last were",
            ),
            said("promise.joins.next", "write the day on the piece when it comes: without one it goes last, and takes longer"),
        )
    held = sum(1 for piece in gathered.problem.pieces if piece.held is not None)
    if held:
        yield Flag(
            said("promise.held", "{count} pieces on hold are left out, and will want room when they are released", count=held),
            said("promise.held.next", "ask again when they are"),
        )
    yield Flag(
        said("promise.replays", "these days replay the plan with steps quick and slow; they know nothing of a failed heater"),
        said("promise.replays.next", "promise the day that holds four times in five, or the last one where a day must hold"),
    )
