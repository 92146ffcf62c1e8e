"""The card of the room, from plain values."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from bonebench.said import Said, said
from bonebench.services.cards import Answer
from bonebench.services.known import has_hazard
from bonebench.services.plans.problem import Subject
from bonebench.services.rooms.cards import FeatureCard, MethodCard, PlaceCard, RoomCard, SitsCard, StandsCard, WorkerCard
from bonebench.services.specimens.names import species_name
from bonebench.services.specimens.show import late_days, ready_of
from bonebench.services.surroundings import Surroundings
from bonebench.shop.bath import Bath
from bonebench.shop.entries import specimen_subject
from bonebench.shop.room import Place, Room
from bonebench.shop.rounds import FEATURES
from bonebench.shop.routes import main_part, method_for
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import STEP_ORDER


@dataclass(frozen=True, slots=True)
class _Sitting:
    place: str | None
    card: SitsCard


def room_card(subjects: Iterable[Subject], around: Surroundings, *, demo: bool, baths: Iterable[Bath] = ()) -> RoomCard:
    """Return the room as it stands: places in the order of the work, what sits in each, and the settings."""
    room = around.known.room
    sitting = [item for subject in subjects for item in _sits(subject, around)]
    keys = {place.key for place in room.places}
    standing = tuple(baths)
    stands = {place.key: tuple(StandsCard(b.id, b.name) for b in standing if b.place == place.key) for place in room.places}
    return RoomCard(
        name=room.name,
        zone=room.zone,
        units=room.units,
        demo=demo,
        places=tuple(
            replace(_place(place, [item.card for item in sitting if item.place == place.key], room), baths=stands[place.key])
            for place in room.places
        ),
        nowhere=tuple(item.card for item in sitting if item.place not in keys),
        people=tuple(WorkerCard(w.person, around.people.get(w.person, "name erased"), w.hours, w.trained) for w in room.people),
        methods=_methods(around),
        profile=room.profile,
        features=tuple(FeatureCard(feature, feature in room.features) for feature in FEATURES),
        closed=room.closed,
        teach=_teach(room.places),
        basis=(),
        flags=(*room.flags, *around.known.flags),
        cautions=(around.known.defer,),
    )


def _sits(subject: Subject, around: Surroundings) -> Iterable[_Sitting]:
    """Return one line for each place that holds parts of a specimen."""
    specimen, known = subject.specimen, around.known
    by_place: dict[str | None, list[str]] = {}
    for part in specimen.parts:
        by_place.setdefault(part.place, []).append(part.name)
    ready, main = ready_of(subject, around), main_part(specimen)
    for place, parts in by_place.items():
        since = max((p.since for p in specimen.parts if p.place == place and p.since is not None), default=None)
        yield _Sitting(
            place,
            SitsCard(
                specimen_id=specimen.id,
                tag=specimen.tag,
                species=species_name(specimen.species, known),
                parts=tuple(parts),
                subject=_subject(specimen, parts),
                since=since,
                days=round(max(0.0, (around.now - since).total_seconds() / 86400), 2) if since is not None else 0.0,
                next=_next(subject)
                if main is None or main.name in parts
                else said("sits.part", "kept here until the skull is done"),
                planned=ready.planned,
                late=late_days(specimen.promised, ready.planned, known.room.day(around.now), finished=False) > 0,
            ),
        )


def _next(subject: Subject) -> Said:
    if subject.specimen.held is not None:
        return said("sits.held", "on hold: {reason}", reason=subject.specimen.held)
    following = next((leg for leg in subject.standing.ahead if not leg.kind.begins_itself), None)
    if following is None:
        return said("sits.through", "nothing more")
    return said("sits.next", "next: {step}", step=following.step.value)


def _place(place: Place, sits: list[SitsCard], room: Room) -> PlaceCard:
    holds = len(sits)
    return PlaceCard(
        key=place.key,
        name=place.name,
        kind=place.kind.value,
        open=place.open,
        count=place.count,
        volume_l=place.volume_l,
        mass_kg=place.mass_kg,
        holds=holds,
        full=None if place.count is None else holds >= place.count,
        over=place.count is not None and holds > place.count,
        appetite_kg_per_day=place.appetite_kg_per_day,
        sits=tuple(sorted(sits, key=lambda card: (card.since is None, card.since, card.tag))),
        whole=_whole(place, sits, room),
    )


def _subject(specimen: Specimen, parts: list[str]) -> tuple[str, ...]:
    """The whole specimen where all of it is here, else the parts that are."""
    if len(parts) == len(specimen.parts):
        return (specimen_subject(specimen.id),)
    return tuple(specimen_subject(specimen.id, part) for part in parts)


def _whole(place: Place, sits: list[SitsCard], room: Room) -> tuple[Answer, ...]:
    """The buttons for everything that sits in a place: still here, or into another place."""
    if not sits:
        return ()
    subjects = tuple(subject for card in sits for subject in card.subject)
    here = Answer("all-here", said("tap.all_here", "All still here"), "seen", subjects, {"place": place.key})
    moves = (
        Answer(f"all-into-{p.key}", said("tap.into", "Into {place}", place=p.name), "moved", subjects, {"place": p.key})
        for p in room.places
        if p.open and p.key != place.key
    )
    return (here, *moves)


def _methods(around: Surroundings) -> tuple[MethodCard, ...]:
    room, methods = around.known.room, around.known.methods
    in_use = {step: method_for(step, room, methods).key for step in STEP_ORDER}
    return tuple(
        MethodCard(
            step=method.step.value,
            key=method.key,
            name=method.name,
            chosen=room.methods.get(method.step) == method.key,
            in_use=in_use[method.step] == method.key,
            allowed=method.fits(room.profile),
            hazard=has_hazard(method, around.known),
            effort=method.effort,
            harm=method.harm,
            standing=method.standing.value,
            source=method.source,
            classed_by=method.classed_by,
            days={name: (span.p10, span.p50, span.p90) for name, span in method.days.items()},
            pieces=dict(method.pieces),
        )
        for step in STEP_ORDER
        for method in methods.values()
        if method.step is step
    )


def _teach(places: tuple[Place, ...]) -> Said | None:
    if places:
        return None
    return said("teach.room", "This room has no places yet. Set the room up first: walk along the wall and say what stands there.")
