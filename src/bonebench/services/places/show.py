"""One place as a card: what should be in it, what marks it, what its last count found. From plain values."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from bonebench.reference.parts import load_parts
from bonebench.said import Said, said
from bonebench.services.cards import Answer
from bonebench.services.known import Known
from bonebench.services.places.cards import CountCard, MissingCard, PlaceBookCard, ShouldBeCard, StandsHere, StrangeCard
from bonebench.services.specimens.names import species_name
from bonebench.shop.bath import Bath
from bonebench.shop.counts import CountMark
from bonebench.shop.entries import Entry, root_of, specimen_subject
from bonebench.shop.lots import unmarked_alike, unmarked_together
from bonebench.shop.part import Part
from bonebench.shop.part_entries import MARKS, UNMARKED
from bonebench.shop.parts import kind_of
from bonebench.shop.room import Place
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen


@dataclass(frozen=True, slots=True)
class LastSeen:
    """What was last written about a piece before it was missed."""

    told: Said
    entry: Entry
    who: str | None


@dataclass(frozen=True, slots=True)
class Around:
    """What the card of a place needs beside the place."""

    known: Known
    people: Mapping[str, str]
    baths: tuple[Bath, ...]
    last_seen: Callable[[Specimen], LastSeen | None]


def should_be(place: Place, specimens: Iterable[Specimen], around: Around) -> tuple[ShouldBeCard, ...]:
    """Return what should be in a place, what came first first."""
    cards = [card for one in specimens if (card := _item(place, one, around)) is not None]
    return tuple(sorted(cards, key=lambda card: (card.since is None, card.since, card.tag)))


def parts_here(specimen: Specimen, place: str) -> tuple[Part, ...]:
    """Return the parts of a specimen that are recorded in a place."""
    return tuple(part for part in specimen.parts if part.place == place and part.sent_to is None)


def subject_of_parts(specimen: Specimen, parts: Iterable[Part]) -> tuple[str, ...]:
    """Return what a tick of these parts is about: the whole specimen where they are all it has."""
    names = [part.name for part in parts]
    if len(names) == len(specimen.parts):
        return (specimen_subject(specimen.id),)
    return tuple(specimen_subject(specimen.id, name) for name in names)


def _item(place: Place, specimen: Specimen, around: Around) -> ShouldBeCard | None:
    here = parts_here(specimen, place.key)
    if not here:
        return None
    kinds = {part.name: kind_of(part, load_parts()) for part in here}
    main = main_part(specimen)
    apart = [part for part in here if main is None or main.place != place.key or part.sample is not None]
    return ShouldBeCard(
        specimen_id=specimen.id,
        tag=specimen.tag,
        species=species_name(specimen.species, around.known),
        owner=around.people.get(specimen.owner or ""),
        parts=tuple(part.name for part in here),
        kept=tuple(kind.kept for part in apart if (kind := kinds[part.name]) is not None),
        subject=subject_of_parts(specimen, here),
        since=max((part.since for part in here if part.since is not None), default=None),
        seen=max((part.seen for part in here if part.seen is not None), default=None),
        lot=specimen.lot_name,
        marked=specimen.marked,
        missing=any(part.missing is not None for part in here),
    )


def place_card(place: Place, specimens: Iterable[Specimen], mark: CountMark | None, around: Around) -> PlaceBookCard:
    """Return one place, whole."""
    specimens = tuple(specimens)
    items = should_be(place, specimens, around)
    names = {key: species.common_name for key, species in around.known.species.items()}
    alike = {one.id for some in unmarked_alike(specimens, place).values() for one in some}
    mixed = tuple(item for item in items if item.specimen_id in alike)
    return PlaceBookCard(
        key=place.key,
        name=place.name,
        kind=place.kind.value,
        open=place.open,
        holds=len(items),
        items=items,
        baths=tuple(StandsHere(bath.id, bath.name) for bath in around.baths if bath.place == place.key),
        mixed=mixed,
        marks=_marks(mixed),
        count=None if mark is None else _count(place, specimens, mark, around),
        flags=unmarked_together(specimens, place, names),
        cautions=(around.known.defer,),
    )


def _marks(items: Iterable[ShouldBeCard]) -> tuple[Answer, ...]:
    """The taps that say what tells the pieces here from each other."""
    subjects = tuple(specimen_subject(item.specimen_id) for item in items)
    if not subjects:
        return ()
    return tuple(
        Answer(f"mark-{key.replace(' ', '-')}", said(f"tap.mark.{key}", label), "marked", subjects, {"how": key})
        for key, label in MARKS
        if key != UNMARKED
    )


def _count(place: Place, specimens: tuple[Specimen, ...], mark: CountMark, around: Around) -> CountCard:
    by_subject = {specimen_subject(one.id): one for one in specimens}
    missing = [by_subject[root] for root in _roots(mark.missing) if root in by_subject]
    seen = [by_subject[root] for root in _roots(mark.seen) if root in by_subject]
    strange = [one for one in seen if not parts_here(one, place.key) and any(part.place is not None for part in one.parts)]
    still = [one for one in missing if any(part.missing is not None for part in one.parts)]
    return CountCard(
        at=mark.at,
        who=around.people.get(mark.who or ""),
        entry=mark.entry,
        found=mark.found,
        expected=mark.expected,
        seen=tuple(one.tag for one in seen),
        missing=tuple(_missing(place, one, around) for one in still),
        strange=tuple(_strange(place, one, around) for one in strange),
        unknown=mark.unknown,
        summary=_summary(mark, len(still), len(strange)),
    )


def _roots(subjects: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(root_of(subject) for subject in subjects))


def _missing(place: Place, specimen: Specimen, around: Around) -> MissingCard:
    lost = [part for part in specimen.parts if part.missing is not None]
    subject = subject_of_parts(specimen, lost)
    last = around.last_seen(specimen)
    never = said("place.never_seen", "nothing was written of it before")
    return MissingCard(
        tag=specimen.tag,
        species=species_name(specimen.species, around.known),
        parts=tuple(part.name for part in lost),
        last=last.told if last is not None else never,
        last_at=last.entry.when.latest if last is not None else None,
        last_who=last.who if last is not None else None,
        found=Answer("found", said("tap.found_here", "Found, it is here"), "seen", subject, {"place": place.key}),
        moved=tuple(
            Answer(f"moved-{p.key}", said("tap.into", "Into {place}", place=p.name), "moved", subject, {"place": p.key})
            for p in around.known.room.places
            if p.open and p.key != place.key
        ),
    )


def _strange(place: Place, specimen: Specimen, around: Around) -> StrangeCard:
    main = main_part(specimen)
    recorded = around.known.room.place(main.place) if main is not None else None
    subject = (specimen_subject(specimen.id, main.name),) if main is not None else (specimen_subject(specimen.id),)
    move = Answer("moved-here", said("tap.moved_here", "It was moved here"), "moved", subject, {"place": place.key})
    return StrangeCard(
        specimen.tag, species_name(specimen.species, around.known), recorded.name if recorded is not None else None, move
    )


def _summary(mark: CountMark, missing: int, strange: int) -> Said:
    """Say what a count came to, in one sentence."""
    found, expected = mark.found, mark.expected
    if missing or strange or mark.unknown:
        words = [f"{missing} missing"] if missing else []
        words += [f"{strange} that the book has elsewhere"] if strange else []
        words += [f"{len(mark.unknown)} with a tag nobody knows"] if mark.unknown else []
        return said("count.differs", "{what}", what=", ".join(words))
    if found is None or expected is None or found == expected:
        if mark.missing:
            return said("count.since_found", "what was missing was found since")
        return said("count.agrees", "all {count} that should be here are here", count=expected if expected is not None else found)
    if found < expected:
        return said("count.too_few", "{count} fewer than the book has; tick the tags that are here to find which",
                    count=expected - found)  # fmt: skip
    return said("count.too_many", "{count} more than the book has; type the tags that are not in the list",
                count=found - expected)  # fmt: skip
