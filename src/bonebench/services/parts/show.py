"""The parts, the condition and the repairs of one specimen as cards, from plain values."""

from collections.abc import Mapping

from bonebench.reference.adhesives import load_adhesives
from bonebench.reference.parts import load_parts
from bonebench.said import Said, said
from bonebench.services.cards import Answer
from bonebench.services.parts.cards import (
    AskedMove,
    ConditionCard,
    ConditionLine,
    Offered,
    PartCard,
    RepairLine,
    SampleCard,
    WayLine,
    WaysCard,
)
from bonebench.shop.entries import Entry, root_of, specimen_subject
from bonebench.shop.part import Condition, Part, Repair
from bonebench.shop.part_entries import CONDITIONS, MARKS, REPAIRS, STAGES
from bonebench.shop.part_telling import note_text
from bonebench.shop.parts import PartKind, kind_of
from bonebench.shop.room import Place, Room
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind

_CONDITIONS, _REPAIRS = dict(CONDITIONS), dict(REPAIRS)


def part_cards(specimen: Specimen, room: Room) -> tuple[PartCard, ...]:
    """Return every part with its place and its taps."""
    main = main_part(specimen)
    return tuple(_part(specimen, part, main, room) for part in specimen.parts)


def _part(specimen: Specimen, part: Part, main: Part | None, room: Room) -> PartCard:
    place, kind = room.place(part.place), kind_of(part, load_parts())
    moves, asked = ((), ()) if part is main else _moves(specimen, part, kind, room)
    apart = (
        main is not None and part is not main and part.joined_to is None and (part.place != main.place or part.sent_to is not None)
    )
    return PartCard(
        name=part.name,
        place=part.place,
        place_name=place.name if place is not None else part.place,
        since=part.since,
        kind=kind.key if kind is not None else "",
        kept=kind.kept if kind is not None else "",
        note=kind.note if kind is not None else "",
        apart=apart,
        joined_to=part.joined_to,
        mass_kg=part.mass_kg,
        sample=None if part.sample is None else SampleCard(part.sample.of, part.sample.purpose, part.sample.at),
        sent_to=part.sent_to,
        missing_since=part.missing,
        back=_back(specimen, part, main, apart=apart, dry=kind is not None and kind.stays_dry),
        moves=moves,
        asked=asked,
    )


def _back(specimen: Specimen, part: Part, main: Part | None, *, apart: bool, dry: bool) -> Answer | None:
    """The tap that puts a part back with the rest; what hangs on the skull may be there without having been apart."""
    if main is None or part is main or part.joined_to is not None or part.sample is not None or specimen.finished:
        return None
    if not apart and not dry:
        return None
    label = said("tap.back_with_rest", "Back with the rest") if apart else said("tap.still_on", "Still on the {to}", to=main.name)
    subject = specimen_subject(specimen.id, part.name)
    return Answer(f"join-{part.name}", label, "part-joined", (subject,), {"to": main.name})


def _moves(specimen: Specimen, part: Part, kind: PartKind | None, room: Room) -> tuple[tuple[Answer, ...], tuple[AskedMove, ...]]:
    if specimen.finished:
        return (), ()
    free: list[Answer] = []
    asked: list[AskedMove] = []
    for place in room.places:
        if not place.open or place.key == part.place:
            continue
        way = kind.way(place.kind) if kind is not None else None
        answer = _move(specimen, part, place)
        if way is None or way.may == "in":
            free.append(answer)
        else:
            asked.append(AskedMove(place.key, place.name, way.may, way.why, way.do, way.standing.value, way.source, answer))
    return tuple(free), tuple(asked)


def _move(specimen: Specimen, part: Part, place: Place) -> Answer:
    label = said("tap.into", "Into {place}", place=place.name)
    subject = specimen_subject(specimen.id, part.name)
    return Answer(f"{part.name}-into-{place.key}", label, "moved", (subject,), {"place": place.key})


def with_parts(told: Said, entry: Entry, specimen: Specimen) -> Said:
    """Name the parts an entry was about where it was not about the whole specimen."""
    subject = specimen_subject(specimen.id)
    named = [s.split("/", 1)[1] for s in entry.subjects if root_of(s) == subject and "/" in s]
    if not named or subject in entry.subjects or len(named) >= len(specimen.parts):
        return told
    return said(told.key, "{of_parts}: " + told.template, **{**told.values, "of_parts": ", ".join(named)})


def ways_card(kind: PartKind) -> WaysCard:
    """Return which baths a kind of part may enter."""
    ways = tuple(
        WayLine(bath.value, way.may, way.why, way.do, way.standing.value, way.source) for bath, way in kind.ways.items()
    )  # fmt: skip
    return WaysCard(kind.name, kind.kept, kind.note, ways)


def condition_card(specimen: Specimen, notes: Mapping[str, str]) -> ConditionCard:
    """Return how it came, how it was here, how it goes, and what was mended."""
    lines = {stage: tuple(_line(c, notes) for c in specimen.conditions if c.stage == stage) for stage, _ in STAGES}
    repairs = tuple(_repair(one, notes) for one in specimen.repairs)
    return ConditionCard(lines["came"], lines["here"], lines["goes"], repairs)


def _line(one: Condition, notes: Mapping[str, str]) -> ConditionLine:
    words = _CONDITIONS.get(one.what, one.what)
    note = note_text(one.note, notes)
    return ConditionLine(one.entry, one.stage, one.what, words, one.where, one.part, one.at, note, one.photos)


def _repair(one: Repair, notes: Mapping[str, str]) -> RepairLine:
    glue = load_adhesives().get(one.adhesive or "")
    return RepairLine(
        entry=one.entry,
        how=one.how,
        words=_REPAIRS.get(one.how, one.how),
        where=one.where,
        part=one.part,
        adhesive=one.adhesive,
        adhesive_name=glue.name if glue is not None else one.adhesive,
        reversible=glue.reversible if glue is not None else None,
        undone_by=glue.undone_by if glue is not None else "",
        standing=glue.standing.value if glue is not None else "",
        at=one.at,
        note=note_text(one.note, notes),
        photos=one.photos,
    )


def offered(room: Room) -> Offered:
    """Return what the forms of a specimen's page offer."""
    kinds = load_parts()
    keeps = (PlaceKind.FREEZER, PlaceKind.RACK, PlaceKind.SHELF, PlaceKind.GLUE_BENCH)
    return Offered(
        parts=tuple(kind.name for kind in kinds.values() if kind.key != "sample"),
        conditions=CONDITIONS,
        repairs=REPAIRS,
        stages=STAGES,
        marks=MARKS,
        adhesives=tuple((key, glue.name) for key, glue in load_adhesives().items()),
        places=tuple((place.key, place.name) for place in room.places if place.open and place.kind in keeps),
    )
