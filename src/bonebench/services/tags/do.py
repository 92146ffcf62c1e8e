"""Tags in an open transaction: the next one, a block for a roll or a device, one of a block at intake, a new one for a lost one."""

from bonebench.errors import InputError, OutsideRange
from bonebench.records import finding, tags
from bonebench.records.book import Reading, Writing
from bonebench.said import said
from bonebench.services.gather import carried_before, known_of, names_of_people, room_of, specimen_by_tag, specimens_tagged
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.tags.cards import IssuedCard, RollCard, TagsCard
from bonebench.shop.entries import ROOM, Retagged, exactly, specimen_subject
from bonebench.shop.identity import near_tags, number_of_tag, read_tag, tag_from_number
from bonebench.shop.part_entries import TagsIssued
from bonebench.shop.room import Roll
from bonebench.shop.specimen import Specimen

# One roll is printed in one go; more than this is a slip of the finger.
MOST = 2000


def next_tag(tx: Writing) -> str:
    """Issue the next tag that nothing carries; bodies whose check character is never issued are passed over."""
    while True:
        tag = tag_from_number(tags.next_tag_number(tx))
        if tag is not None and not specimens_tagged(tx, tag):
            return tag


def issue(tx: Writing, pen: Pen, count: int, roll: str | None = None) -> IssuedCard:
    """Hand out a block of tags that nobody else gets: for a printed roll, or a device that works without the network."""
    if not 1 <= count <= MOST:
        raise OutsideRange("tags.count", "{count} tags on one roll; it takes 1 to {most}", count=count, most=MOST)
    name = (roll or "").strip() or f"Roll {len(room_of(tx).rolls) + 1}"
    issued = [next_tag(tx) for _ in range(count)]
    numbers = [number for number in (number_of_tag(tag) for tag in issued) if number is not None]
    what = TagsIssued(name, min(numbers), max(numbers))
    kept = record(tx, [write_entry(tx, pen, what, (ROOM,), exactly(pen.now))], pen.now)
    return IssuedCard(name, tuple(issued), kept.entries[0].id)


def tags_of(roll: Roll) -> tuple[str, ...]:
    """Return the tags of a block in order; a block that no roll could hold gives none beyond the most there can be."""
    last = min(roll.last, roll.first + 2 * MOST)
    found = (tag_from_number(number) for number in range(max(0, roll.first), last + 1))
    return tuple(tag for tag in found if tag is not None)


def listed(tx: Reading) -> TagsCard:
    """Return the blocks that were handed out, and what is left of each."""
    used = set(finding.tags(tx)) | carried_before(tx).keys()
    rolls = []
    for roll in reversed(room_of(tx).rolls):
        printed = tags_of(roll)
        free = tuple(tag for tag in printed if tag not in used)
        rolls.append(RollCard(roll.name, roll.at, len(printed), len(printed) - len(free), free))
    teach = (
        None if rolls else said("tags.teach", "No roll was issued yet; a tag is made at intake. Issue a roll to print tags ahead.")
    )
    return TagsCard(tuple(rolls), teach)


def accept(tx: Reading, text: str) -> str:
    """Return a tag that somebody has in hand, if it may be put on a new piece; refused in words with whose it is."""
    try:
        tag = read_tag(text)
    except InputError as fault:
        near = near_tags(text, _free(tx))
        if not near:
            raise
        raise InputError("tag.near_free", fault.said.template + "; a free one of your rolls is {near}",
                         **{**fault.said.values, "near": " or ".join(near)}) from None  # fmt: skip
    carriers = specimens_tagged(tx, tag)
    if carriers:
        raise InputError("tag.used", "{tag} is on {whose} already; take the next tag of the roll", tag=tag,
                         whose=_whose(tx, carriers[0]))  # fmt: skip
    before = carried_before(tx).get(tag)
    if before is not None:
        raise InputError("tag.was_used", "{tag} was on {whose}, which carries {now} now; take the next tag of the roll", tag=tag,
                         whose=_whose(tx, before), now=before.tag)  # fmt: skip
    number = number_of_tag(tag)
    if number is None or not (number < tags.coming(tx) or any(r.first <= number <= r.last for r in room_of(tx).rolls)):
        raise InputError(
            "tag.never_issued", "{tag} was never issued by this book; issue a roll first, or leave the tag out", tag=tag
        )
    return tag


def _free(tx: Reading) -> list[str]:
    return [tag for roll in listed(tx).rolls for tag in roll.free]


def _whose(tx: Reading, specimen: Specimen) -> str:
    species = known_of(tx).species.get(specimen.species)
    owner = names_of_people(tx).get(specimen.owner or "")
    name = f"the {species.common_name}" if species is not None else "a specimen"
    return (f"{name} of {owner}" if owner else name) + (" that is finished" if specimen.finished else "")


def retag(tx: Writing, pen: Pen, tag: str, to: str | None = None) -> Kept:
    """Put another tag on a specimen: the one in hand, or the next; the old one is known of it and never issued again."""
    specimen = specimen_by_tag(tx, tag)
    new = accept(tx, to) if to else next_tag(tx)
    return record(tx, [write_entry(tx, pen, Retagged(new), (specimen_subject(specimen.id),), exactly(pen.now))], pen.now)
