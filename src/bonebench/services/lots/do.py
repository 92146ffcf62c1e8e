"""Lots in an open transaction: show them, join specimens, split them again. A plan that cannot be is refused in words."""

from collections.abc import Sequence

from bonebench.errors import Impossible, UnknownName
from bonebench.records.book import Reading, Writing
from bonebench.said import said
from bonebench.services.gather import everything_in_work, known_of, names_of_people, specimen_by_tag
from bonebench.services.known import Known
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.lots.cards import LotCard, LotListCard, MemberCard
from bonebench.services.specimens.names import species_name
from bonebench.shop.entries import Joined, Parted, exactly, specimen_subject
from bonebench.shop.lots import Lot, lot_flags, lots_of, unmarked_together
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen


def _lots(tx: Reading, known: Known) -> tuple[Lot, ...]:
    return lots_of(subject.specimen for subject in everything_in_work(tx, known))


def listed(tx: Reading) -> LotListCard:
    """Return the lots of the room."""
    known, people = known_of(tx), names_of_people(tx)
    lots = tuple(_card(lot, known, people) for lot in _lots(tx, known))
    return LotListCard(lots, None if lots else said("lots.teach", "No specimens are treated together. Join two or more to a lot."))


def show(tx: Reading, name: str) -> LotCard:
    """Return one lot by its name."""
    known = known_of(tx)
    return _card(_named(_lots(tx, known), name), known, names_of_people(tx))


def _named(lots: tuple[Lot, ...], name: str) -> Lot:
    plain = " ".join(name.split()).casefold()
    for lot in lots:
        if plain in (lot.name.casefold(), lot.key.casefold()):
            return lot
    names = tuple(lot.name for lot in lots)
    raise UnknownName("lot.unknown", "there is no lot '{name}'; there are: {known}", could_be=names, name=name,
                      known=", ".join(names) or "none")  # fmt: skip


def _card(lot: Lot, known: Known, people: dict[str, str]) -> LotCard:
    names = {key: species.common_name for key, species in known.species.items()}
    keys = {part.place for member in lot.members if (part := main_part(member)) is not None}
    mixed = [flag for place in known.room.places if place.key in keys for flag in unmarked_together(lot.members, place, names)]
    members = tuple(_member(member, known, people) for member in lot.members)
    return LotCard(lot.key, lot.name, members, flags=(*lot_flags(lot, known.room), *mixed))


def _member(member: Specimen, known: Known, people: dict[str, str]) -> MemberCard:
    part = main_part(member)
    place = known.room.place(part.place) if part is not None else None
    return MemberCard(
        specimen_id=member.id,
        tag=member.tag,
        species=species_name(member.species, known),
        owner=people.get(member.owner or ""),
        place=part.place if part is not None else None,
        place_name=place.name if place is not None else None,
        since=part.since if part is not None else None,
        marked=member.marked,
    )


def join(tx: Writing, pen: Pen, name: str, tags: Sequence[str]) -> Kept:
    """Treat specimens together from now on; a name that is there takes them in."""
    plain = " ".join(name.split())
    if not plain:
        raise Impossible("lot.name", "a lot needs a name, such as Tray 3 or Small pot, May")
    joining = _joining(tx, tags)
    there = next((lot for lot in _lots(tx, known_of(tx)) if lot.name.casefold() == plain.casefold()), None)
    inside = {member.id for member in there.members} if there is not None else set()
    if len(inside | {one.id for one in joining}) < 2:
        raise Impossible("lot.one", "{tag} alone is no lot; name at least two that are treated together", tag=joining[0].tag)
    what = Joined(there.key if there is not None else pen.new_id(), there.name if there is not None else plain)
    subjects = [specimen_subject(one.id) for one in joining if one.id not in inside]
    if not subjects:
        raise Impossible("lot.inside", "all of them are in {lot} already", lot=what.name)
    return record(tx, [write_entry(tx, pen, what, subjects, exactly(pen.now))], pen.now)


def _joining(tx: Reading, tags: Sequence[str]) -> list[Specimen]:
    if not tags:
        raise Impossible("lot.nobody", "say which specimens, by their tags")
    joining = {one.id: one for one in (specimen_by_tag(tx, tag) for tag in tags)}
    for one in joining.values():
        if one.finished:
            raise Impossible("lot.gone", "{tag} is not here any more, so it joins no lot", tag=one.tag)
    return list(joining.values())


def split(tx: Writing, pen: Pen, name: str, tags: Sequence[str] = ()) -> Kept:
    """Take specimens out of their lot, or all of them; a last one left alone comes out with them."""
    lot = _named(_lots(tx, known_of(tx)), name)
    leaving = {specimen_by_tag(tx, tag).id: tag for tag in tags}
    members = {member.id: member.tag for member in lot.members}
    for specimen, tag in leaving.items():
        if specimen not in members:
            raise Impossible("lot.not_in", "{tag} is not in {lot}; in it are {members}", tag=tag, lot=lot.name,
                             members=", ".join(members.values()))  # fmt: skip
    out = set(leaving) or set(members)
    if len(members) - len(out) == 1:
        out = set(members)
    subjects = [specimen_subject(one) for one in members if one in out]
    return record(tx, [write_entry(tx, pen, Parted(lot.key), subjects, exactly(pen.now))], pen.now)
