"""Lots: specimens treated together, told from their own states; and pieces in one vessel that nothing tells apart."""

from collections.abc import Iterable
from dataclasses import dataclass

from bonebench.said import said
from bonebench.shop.flags import Flag
from bonebench.shop.room import Place, Room
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind

# Where pieces lie in one vessel and can come apart: teeth, jaws and loose bones of one go to the other.
VESSELS = frozenset({PlaceKind.POT, PlaceKind.TUB, PlaceKind.RINSE, PlaceKind.ENCLOSURE})


@dataclass(frozen=True, slots=True)
class Lot:
    """Specimens that are treated together."""

    key: str
    name: str
    members: tuple[Specimen, ...]


def lots_of(specimens: Iterable[Specimen]) -> tuple[Lot, ...]:
    """Return the lots there are, by name; who is gone or finished is in none."""
    found: dict[str, list[Specimen]] = {}
    for specimen in specimens:
        if specimen.lot is not None and not specimen.finished:
            found.setdefault(specimen.lot, []).append(specimen)
    lots = (Lot(key, members[0].lot_name or key, tuple(members)) for key, members in found.items())
    return tuple(sorted(lots, key=lambda lot: (lot.name.casefold(), lot.key)))


def lot_flags(lot: Lot, room: Room) -> tuple[Flag, ...]:
    """Return what is odd about a lot: one of a lot alone, or its members in several places."""
    flags = []
    if len(lot.members) == 1:
        flags.append(
            Flag(
                said("flag.lot_of_one", "{tag} is alone in the lot {lot}", tag=lot.members[0].tag, lot=lot.name),
                said("flag.lot_of_one.next", "join what is treated with it, or take it out of the lot"),
            )
        )
    places: dict[str, list[str]] = {}
    for member in lot.members:
        part = main_part(member)
        place = room.place(part.place) if part is not None else None
        places.setdefault(place.name if place is not None else "no place", []).append(member.tag)
    if len(places) > 1:
        where = "; ".join(f"{', '.join(tags)} in {name}" for name, tags in places.items())
        flags.append(
            Flag(
                said("flag.lot_apart", "{lot} is not together: {where}", lot=lot.name, where=where),
                said("flag.lot_apart.next", "say where each is, or take out of the lot what goes its own way"),
            )
        )
    return tuple(flags)


def unmarked_alike(specimens: Iterable[Specimen], place: Place) -> dict[str, tuple[Specimen, ...]]:
    """Return by species those of which two or more lie in one vessel with nothing on them that tells one from the other."""
    if place.kind not in VESSELS:
        return {}
    alike: dict[str, list[Specimen]] = {}
    for specimen in specimens:
        part = main_part(specimen)
        if part is not None and part.place == place.key and specimen.marked is None:
            alike.setdefault(specimen.species, []).append(specimen)
    return {species: tuple(some) for species, some in alike.items() if len(some) > 1}


def unmarked_together(specimens: Iterable[Specimen], place: Place, names: dict[str, str]) -> tuple[Flag, ...]:
    """Say which pieces of one species in one vessel nothing tells apart, and what to do."""
    return tuple(
        Flag(
            said("flag.unmarked", "{tags}, each a {species}, are in {place} and nothing marks them",
                 tags=" and ".join(sorted(one.tag for one in some)), species=names.get(species, species), place=place.name),
            said("flag.unmarked.next", "one skull to a pot or bag: a mesh bag with its punched tag tied on (no metal in "
                                       "peroxide), its teeth in a jar of its own; then tap what marks it"),
        )
        for species, some in unmarked_alike(specimens, place).items()
    )  # fmt: skip
