"""The card of catch-up, from plain values."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from bonebench.said import said
from bonebench.services.cards import Answer
from bonebench.services.catchup.cards import CatchUpCard, SilentCard, WalkCard
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject
from bonebench.services.specimens.answers import moving_subjects
from bonebench.services.specimens.names import species_name
from bonebench.shop.entries import specimen_subject
from bonebench.shop.room import Place
from bonebench.shop.routes import Leg, main_part

# A piece that somebody said a word about within so long needs no asking: half a day, so that one walk is one walk.
FRESH = timedelta(hours=12)
# From so many days without any entry on, the morning begins with the offer of a walk.
SILENCE_DAYS = 3.0


def silent_days(subjects: Iterable[Subject], now: datetime) -> float:
    """Return for how long nobody has said a word about anything in the room; 0 for an empty one."""
    heard = [s.specimen.last_heard for s in subjects if s.specimen.last_heard is not None]
    return max(0.0, (now - max(heard)).total_seconds() / 86400) if heard else 0.0


def catch_up_card(subjects: Iterable[Subject], known: Known, now: datetime) -> CatchUpCard:
    """Return the walk through the room: what nobody has said a word about lately, place by place."""
    subjects = tuple(subjects)
    silent = [s for s in subjects if s.specimen.last_heard is None or now - s.specimen.last_heard > FRESH]
    cards = [(place_of(subject, known), _silent(subject, known, now)) for subject in silent]
    fresh = [place_of(subject, known) for subject in subjects if subject not in silent]
    walks = tuple(
        _walk(place, [card for where, card in cards if where == place.key], fresh.count(place.key)) for place in known.room.places
    )
    left = len(silent)
    return CatchUpCard(
        silent_days=round(silent_days(subjects, now), 1),
        left=left,
        said=len(subjects) - left,
        places=tuple(walk for walk in walks if walk.pieces or walk.settled),
        nowhere=tuple(card for where, card in cards if known.room.place(where) is None),
        teach=None if left else said("catchup.done", "Everything in the room was spoken of lately. The book is right."),
    )


def place_of(subject: Subject, known: Known) -> str | None:
    """Return where a specimen is, if that is a place of this room."""
    part = main_part(subject.specimen)
    return None if part is None or known.room.place(part.place) is None else part.place


def _walk(place: Place, pieces: list[SilentCard], settled: int) -> WalkCard:
    subjects = tuple(subject for piece in pieces for subject in piece.subject)
    here = Answer("all-here", said("tap.all_here", "All still here"), "seen", subjects, {"place": place.key}) if pieces else None
    return WalkCard(place.key, place.name, place.kind.value, tuple(pieces), settled, here)


def _silent(subject: Subject, known: Known, now: datetime) -> SilentCard:
    specimen = subject.specimen
    whole = (specimen_subject(specimen.id),)
    part = main_part(specimen)
    where = place_of(subject, known)
    heard = specimen.last_heard or specimen.received or now
    about = f"since {heard.isoformat()}"
    leg = subject.standing.leg
    here = Answer("here", said("tap.here", "Still here"), "seen", whole, {"place": where}) if where is not None else None
    return SilentCard(
        specimen_id=specimen.id,
        tag=specimen.tag,
        species=species_name(specimen.species, known),
        parts=tuple(p.name for p in specimen.parts if p.place == (part.place if part is not None else None)),
        subject=whole,
        since=part.since if part is not None else None,
        silent_days=round((now - heard).total_seconds() / 86400, 1),
        was=said("catchup.was", "it was in {step}", step=leg.step.value)
        if leg is not None
        else said("catchup.waited", "it waited"),
        here=here,
        moved=tuple(_moved(subject, place, about) for place in _likely_first(subject, known) if place.key != where),
        gone=Answer("gone", said("tap.gone", "Not here any more"), "gone", whole, {"why": "not found at catch-up"}, about=about),
    )


def _likely_first(subject: Subject, known: Known) -> list[Place]:
    """The places in the order this specimen would come to them; those of no step ahead last."""
    ahead = [leg.place_kind for leg in subject.standing.ahead]
    order = {kind: index for index, kind in reversed(list(enumerate(ahead)))}
    return sorted(known.room.places, key=lambda p: (not p.open, order.get(p.kind, len(ahead)), p.order))


def next_stay_in(subject: Subject, place: Place) -> Leg | None:
    """Return the nearest stay ahead that is in this kind of place: what a move there most likely began."""
    return next((leg for leg in subject.standing.ahead if leg.kind.stay and leg.place_kind is place.kind), None)


def _moved(subject: Subject, place: Place, about: str) -> Answer:
    leg = next_stay_in(subject, place)
    values: dict[str, object] = {"place": place.key}
    if leg is not None:
        values |= {"step": leg.step.value, "visit": leg.visit, "method": leg.method.key}
    label = said("tap.into", "Into {place}", place=place.name)
    return Answer(f"moved-{place.key}", label, "moved", moving_subjects(subject.specimen, place.kind), values, about=about)
