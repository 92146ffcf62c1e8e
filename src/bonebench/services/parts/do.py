"""Parts, vials, marks, condition and repairs in an open transaction.

Each function returns the entry that was asked for, ready for the one way entries are stored; what is only a plan is refused.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.errors import Impossible, InputError, UnknownName
from bonebench.records.book import Reading
from bonebench.reference.adhesives import load_adhesives
from bonebench.reference.parts import load_parts
from bonebench.services.gather import room_of, specimen_by_tag
from bonebench.services.parts.cards import PartListCard, WaysCard
from bonebench.services.parts.show import part_cards, ways_card
from bonebench.shop.entries import Moved, PartFound, What, specimen_subject
from bonebench.shop.part_entries import ConditionNoted, Marked, PartJoined, PartSent, Repaired, SampleTaken
from bonebench.shop.part_entries import Stage as Stage  # noqa: PLC0414  faces read it here
from bonebench.shop.parts import PartKind, kind_of
from bonebench.shop.room import Place
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen


@dataclass(frozen=True, slots=True)
class ToWrite:
    """One entry that is to be stored, and what it is about."""

    what: What
    subjects: tuple[str, ...]


def part_name(text: str, specimen: Specimen | None = None) -> str:
    """Return the name a part is kept by: the specimen's own word for it, else the shipped one, else as it was typed."""
    plain = " ".join(text.split()).casefold()
    if not plain:
        raise InputError("part.name", "say which part: {known}", known=", ".join(kind.name for kind in load_parts().values()))
    own = [part.name for part in specimen.parts] if specimen is not None else []
    kind = kind_of(plain, load_parts())
    same = [name for name in own if name == plain] or [
        name for name in own if kind is not None and kind_of(name, load_parts()) is kind
    ]  # fmt: skip
    bare = kind is not None and plain in (kind.key, kind.name, *kind.also)
    if len(same) == 1 and (bare or same[0] == plain):
        return same[0]
    return kind.name if kind is not None and bare else plain


def listed(tx: Reading, tag: str) -> PartListCard:
    """Return the parts of a specimen."""
    specimen = specimen_by_tag(tx, tag)
    return PartListCard(specimen.tag, specimen.species, part_cards(specimen, room_of(tx)))


def ways(text: str) -> WaysCard:
    """Return which baths a part may enter."""
    return ways_card(known_kind(text))


def known_kind(text: str) -> PartKind:
    """Return a kind of part by its name."""
    kind = kind_of(text, load_parts())
    if kind is None:
        names = tuple(one.name for one in load_parts().values())
        raise UnknownName("part.kind", "nothing is known of '{part}'; there are: {known}. Ask before it goes into any bath",
                          could_be=names, part=text, known=", ".join(names))  # fmt: skip
    return kind


def may_enter(tx: Reading, text: str, place: str) -> WaysCard:
    """Plan to put a part into a place; refused in words where it stays out."""
    kind, at = known_kind(text), place_named(tx, place)
    way = kind.way(at.kind)
    if way is not None and way.may == "out":
        raise Impossible("part.stays_out", "{part} stay out of {place}: {why}; instead: {do}",
                         part=kind.name, place=at.name, why=way.why, do=way.do)  # fmt: skip
    card = ways_card(kind)
    return WaysCard(card.part, card.kept, card.note, tuple(line for line in card.ways if line.bath == at.kind.value))


def place_named(tx: Reading, text: str) -> Place:
    """Return a place by its key or its name."""
    room, plain = room_of(tx), text.strip().casefold()
    for place in room.places:
        if plain in (place.key.casefold(), place.name.casefold()):
            return place
    known = tuple(place.key for place in room.places)
    raise UnknownName("place.unknown", "this room has no place '{place}'; it has {known}", could_be=known, place=text,
                      known=", ".join(known) or "none yet")  # fmt: skip


def add(tx: Reading, tag: str, part: str) -> ToWrite:
    """Keep track of a part from here on."""
    specimen = specimen_by_tag(tx, tag)
    name = part_name(part, specimen)
    if name in {one.name for one in specimen.parts}:
        raise InputError("part.there", "{tag} has {part} already; `part move` says where they are", tag=specimen.tag, part=name)
    return ToWrite(PartFound(name), (specimen_subject(specimen.id),))


def move(tx: Reading, tag: str, part: str, place: str) -> ToWrite:
    """Say that a part was put in a place: what happened is stored, a bath it stays out of is flagged."""
    specimen = specimen_by_tag(tx, tag)
    return ToWrite(Moved(place_named(tx, place).key), (specimen_subject(specimen.id, part_name(part, specimen)),))


def join(tx: Reading, tag: str, part: str, to: str | None = None) -> ToWrite:
    """Say that a part is on another one again, the main one unless said."""
    specimen = specimen_by_tag(tx, tag)
    main = main_part(specimen)
    host = part_name(to, specimen) if to else (main.name if main is not None else "skull")
    return ToWrite(PartJoined(host), (specimen_subject(specimen.id, part_name(part, specimen)),))


def send(tx: Reading, tag: str, part: str, to: str, note: str | None = None) -> ToWrite:
    """Say where a part went outside the room."""
    if not to.strip():
        raise InputError("part.sent_to", "say where it went: a laboratory, the owner, another room")
    specimen = specimen_by_tag(tx, tag)
    return ToWrite(PartSent(to.strip(), note or None), (specimen_subject(specimen.id, part_name(part, specimen)),))


@dataclass(frozen=True, slots=True)
class Vial:
    """A sample as somebody says it was taken."""

    purpose: str = ""
    of: str = ""
    place: str | None = None
    name: str | None = None
    note: str | None = None


def sample(tx: Reading, tag: str, vial: Vial) -> ToWrite:
    """Say that a sample was taken; each vial has a name of its own."""
    specimen = specimen_by_tag(tx, tag)
    taken = {part.name for part in specimen.parts if part.sample is not None}
    name = " ".join((vial.name or "").split()).casefold() or _free_name(taken)
    if name in taken:
        raise InputError("part.vial", "{tag} has a vial '{vial}' already; give this one another name", tag=specimen.tag, vial=name)
    place = place_named(tx, vial.place).key if vial.place else None
    what = SampleTaken(name, vial.of.strip(), vial.purpose.strip(), place, vial.note or None)
    return ToWrite(what, (specimen_subject(specimen.id),))


def _free_name(taken: set[str]) -> str:
    number = 2
    while f"sample {number}" in taken:
        number += 1
    return "sample" if "sample" not in taken else f"sample {number}"


@dataclass(frozen=True, slots=True)
class Seen:
    """How a piece looks, or what was mended, as somebody says it."""

    what: str
    part: str | None = None
    stage: Stage = "here"
    where: str = ""
    note: str | None = None
    photos: Sequence[str] = ()
    adhesive: str | None = None


def _about(specimen: Specimen, part: str | None) -> tuple[str, ...]:
    return (specimen_subject(specimen.id, part_name(part, specimen) if part else None),)


def condition(tx: Reading, tag: str, seen: Seen) -> ToWrite:
    """Say how it, or a part of it, looks."""
    if not seen.what.strip():
        raise InputError("condition.what", "say how it looks in a word, such as cracked or whole")
    specimen = specimen_by_tag(tx, tag)
    what = ConditionNoted(seen.what.strip(), seen.stage, seen.where.strip(), seen.note or None, tuple(seen.photos))
    return ToWrite(what, _about(specimen, seen.part))


def repair(tx: Reading, tag: str, seen: Seen) -> ToWrite:
    """Say what was mended, and with which glue."""
    if not seen.what.strip():
        raise InputError("repair.how", "say what was done in a word, such as glued or filled")
    specimen = specimen_by_tag(tx, tag)
    what = Repaired(seen.what.strip(), seen.where.strip(), glue_key(seen.adhesive), seen.note or None, tuple(seen.photos))
    return ToWrite(what, _about(specimen, seen.part))


def glue_key(text: str | None) -> str | None:
    """Return the key of a glue by its key or a word of its name; words that fit none are kept as they stand."""
    plain = (text or "").strip()
    if not plain:
        return None
    glues = load_adhesives()
    found = [key for key, glue in glues.items() if plain.casefold() in (key, glue.name.casefold())]
    found = found or [key for key, glue in glues.items() if plain.casefold() in glue.name.casefold()]
    return found[0] if len(found) == 1 else plain


def mark(tx: Reading, tag: str, how: str) -> ToWrite:
    """Say what tells it from others in one vessel."""
    if not how.strip():
        raise InputError("mark.how", "say what marks it: bag, jar, tag on, or nothing")
    return ToWrite(Marked(how.strip()), (specimen_subject(specimen_by_tag(tx, tag).id),))
