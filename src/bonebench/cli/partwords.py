"""Parts, condition, tags, lots and places as text for people."""

from datetime import datetime
from typing import TYPE_CHECKING

from bonebench.cli.words import flag_lines, moment
from bonebench.units import Reader, say, write

if TYPE_CHECKING:
    from bonebench.services.lots.cards import LotCard, LotListCard
    from bonebench.services.parts.cards import ConditionLine, PartCard, PartListCard, RepairLine, WaysCard
    from bonebench.services.places.cards import CountCard, PlaceBookCard, PlaceListCard, ShouldBeCard
    from bonebench.services.specimens.cards import SpecimenCard
    from bonebench.services.tags.cards import IssuedCard, TagsCard

TAGS_A_LINE = 10
BLANK = " " * 11


def _when(at: datetime | None, zone: str, reader: Reader) -> str:
    return "never" if at is None else moment(at, zone, reader)


def part_text(part: "PartCard", reader: Reader) -> str:
    """Return one part: where it is, and what is to be known of it."""
    if part.sent_to is not None:
        where = f"sent to {part.sent_to}"
    elif part.joined_to is not None:
        where = f"on the {part.joined_to}, in {part.place_name or 'no place'}"
    else:
        where = f"in {part.place_name or 'no place'}"
    more = [f"{write(part.mass_kg, 'mass', reader)}"] if part.mass_kg is not None else []
    if part.sample is not None:
        more += [word for word in (part.sample.of, f"for {part.sample.purpose}" if part.sample.purpose else "") if word]
    more += ["NOT FOUND at the last count"] if part.missing_since is not None else []
    return f"{part.name} {where}" + (f" ({'; '.join(more)})" if more else "")


def part_lines(card: "SpecimenCard", reader: Reader, zone: str) -> list[str]:
    """Return the parts and the condition of a specimen, as its page shows them."""
    lines = ["parts      " + f"\n{BLANK}".join(part_text(part, reader) for part in card.parts)]
    lines += [f"marked by  {card.marked}"] if card.marked is not None else []
    lines += [f"tag before {', '.join(card.former_tags)}"] if card.former_tags else []
    for head, some in (("as it came", card.looks.came), ("seen here", card.looks.here), ("as it goes", card.looks.goes)):
        lines += [f"{head:10} {condition_text(line, zone, reader)}" for line in some]
    return lines + [f"{'mended':10} {repair_text(line, zone, reader)}" for line in card.looks.repairs]


def condition_text(line: "ConditionLine", zone: str, reader: Reader) -> str:
    """Return how it looked, in one line."""
    return _of(line.words, line.where, line.part, line.note, len(line.photos), _when(line.at, zone, reader))


def _of(words: str, where: str, part: str, note: str, photos: int, when: str) -> str:
    place = ", ".join(word for word in (part, where) if word)
    pictures = f" [{photos} picture{'s' if photos > 1 else ''}]" if photos else ""
    return words + (f", {place}" if place else "") + (f": {note}" if note else "") + f"{pictures} ({when})"


def repair_text(line: "RepairLine", zone: str, reader: Reader) -> str:
    """Return what was mended, and whether it comes off again."""
    words = _of(line.words, line.where, line.part, line.note, len(line.photos), _when(line.at, zone, reader))
    if line.adhesive is None:
        return words
    off = {True: "comes off again", False: "does not come off again", None: "nobody knows whether it comes off again"}
    undone = f": {line.undone_by}" if line.undone_by else ""
    return f"{words}; {line.adhesive_name}, {off[line.reversible]}{undone}"


def parts_text(card: "PartListCard", reader: Reader) -> str:
    """Return the parts of a specimen, one a line."""
    return "\n".join([card.tag, *(f"  {part_text(part, reader)}" for part in card.parts)])


def ways_text(card: "WaysCard") -> str:
    """Return which baths a part may enter, and why."""
    words = {"in": "goes in", "out": "STAYS OUT", "ask": "ask first"}
    lines = [f"{card.part}: kept in {card.kept}", f"  {card.note}"]
    for way in card.ways:
        lines += [f"  {way.bath:11} {words[way.may]}: {way.why}", f"  {'':11} {way.do} ({way.standing}; {way.source})"]
    return "\n".join(lines)


def issued_text(card: "IssuedCard") -> str:
    """Return a block of tags, ten a line."""
    rows = [card.tags[at : at + TAGS_A_LINE] for at in range(0, len(card.tags), TAGS_A_LINE)]
    return "\n".join([f"{card.roll}: {len(card.tags)} tags", *("  " + "  ".join(row) for row in rows)])


def tags_text(card: "TagsCard", reader: Reader, zone: str) -> str:
    """Return the blocks that were handed out."""
    if card.teach is not None:
        return say(card.teach, reader)
    lines = []
    for roll in card.rolls:
        following = f", next {roll.free[0]}" if roll.free else ", none left"
        lines.append(f"{roll.roll}: {roll.used} of {roll.count} used{following} (issued {_when(roll.issued, zone, reader)})")
    return "\n".join(lines)


def lot_text(card: "LotCard", reader: Reader) -> str:
    """Return one lot, who is in it."""
    lines = [f"{card.name}: {len(card.members)} together"]
    lines += [
        f"  {m.tag:8} {m.species.common:24.24} {m.place_name or 'no place':18.18} {m.marked or 'no mark'}" for m in card.members
    ]
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


def lots_text(card: "LotListCard", reader: Reader) -> str:
    """Return the lots of the room."""
    return say(card.teach, reader) if card.teach is not None else "\n".join(lot_text(lot, reader) for lot in card.lots)


def places_text(card: "PlaceListCard", reader: Reader, zone: str) -> str:
    """Return the places along the wall, one a line."""
    return "\n".join(
        f"{p.key:18} {p.name:20.20} {p.holds:3} should be here; counted {_when(p.counted, zone, reader)}"
        + (f"; {p.missing} MISSING" if p.missing else "")
        for p in card.places
    )


def _item(item: "ShouldBeCard") -> str:
    more = [f"lot {item.lot}"] if item.lot else []
    more += [f"marked by {item.marked}"] if item.marked else []
    more += [f"kept in {kept}" for kept in item.kept]
    more += ["NOT FOUND"] if item.missing else []
    return f"  {item.tag:8} {item.species.common:24.24} {', '.join(item.parts)}" + (f"  ({'; '.join(more)})" if more else "")


def place_text(card: "PlaceBookCard", reader: Reader, zone: str) -> str:
    """Return what should be in a place, and what its last count found."""
    lines = [f"{card.name} ({card.kind}): {card.holds} should be here; a skull with its jaw is one"]
    lines += [_item(item) for item in card.items]
    lines += [f"  bath: {bath.name}" for bath in card.baths]
    lines += [""] + (count_lines(card.count, reader, zone) if card.count is not None else ["never counted"])
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


def count_lines(count: "CountCard", reader: Reader, zone: str) -> list[str]:
    """Return what a count found: what is missing with where it was seen last, and what is too many."""
    who = f" by {count.who}" if count.who else ""
    lines = [f"counted {_when(count.at, zone, reader)}{who}: {say(count.summary, reader)}"]
    for lost in count.missing:
        by = f", {lost.last_who}" if lost.last_who else ""
        last = f"{say(lost.last, reader)} ({_when(lost.last_at, zone, reader)}{by})"
        lines.append(f"  missing  {lost.tag} {lost.species.common}, {', '.join(lost.parts)}; last: {last}")
    lines += [f"  too many {s.tag} {s.species.common}; the book has it in {s.recorded or 'no place'}" for s in count.strange]
    return lines + [f"  unknown  '{tag}': look at the tag again, or add the specimen" for tag in count.unknown]
