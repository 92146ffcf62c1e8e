"""Which specimens, places and new tags are printed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bonebench.errors import Impossible, UnknownName
from bonebench.records.book import Reading
from bonebench.services.baths.keep import all_baths
from bonebench.services.gather import everything_in_work, known_of, names_of_people, specimen_by_tag
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject, subject_of
from bonebench.services.prints.cards import Labelled, PlaceLabelled
from bonebench.services.tags.do import tags_of
from bonebench.services.teeth.chart import chart_of
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.room import Place
from bonebench.shop.routes import main_part
from bonebench.shop.steps import PlaceKind

MOST_INITIALS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Which specimens: by their tags, all in a place, all that wait, all that came in on the day; together they add up."""

    tags: tuple[str, ...] = ()
    place: str | None = None
    waiting: bool = False
    arrived: bool = False


def chosen(tx: Reading, choice: Choice, now: datetime) -> tuple[Labelled, ...]:
    """Return the specimens that were chosen, each once, in the order of the tags and then as they came in."""
    known = known_of(tx)
    named = [subject_of(specimen_by_tag(tx, tag), known) for tag in choice.tags]
    place = place_named(known, choice.place) if choice.place else None
    others = everything_in_work(tx, known) if place is not None or choice.waiting or choice.arrived else ()
    fitting = [s for s in others if _fits(s, choice, place, known, now)]
    found = {subject.specimen.id: subject for subject in (*named, *fitting)}
    if not found:
        raise _nobody(choice, place)
    people = names_of_people(tx)
    return tuple(_labelled(subject, people.get(subject.specimen.owner or "", ""), known) for subject in found.values())


def _fits(subject: Subject, choice: Choice, place: Place | None, known: Known, now: datetime) -> bool:
    specimen = subject.specimen
    if place is not None and any(part.place == place.key for part in specimen.parts):
        return True
    if choice.waiting and waits(subject, known):
        return True
    return choice.arrived and specimen.received is not None and known.room.day(specimen.received) == known.room.day(now)


def waits(subject: Subject, known: Known) -> bool:
    """Whether a specimen waits: in the freezer, on hold, or between two steps."""
    part = main_part(subject.specimen)
    place = known.room.place(part.place) if part is not None else None
    frozen = place is not None and place.kind is PlaceKind.FREEZER
    return frozen or subject.specimen.held is not None or not subject.standing.running


def _nobody(choice: Choice, place: Place | None) -> Impossible:
    if place is not None:
        return Impossible("print.empty_place", "nothing sits in {place}, so there is nothing to print", place=place.name)
    if choice.waiting:
        return Impossible("print.none_waits", "nothing waits in this room, so there is nothing to print")
    if choice.arrived:
        return Impossible("print.none_today", "nothing came in today, so there is nothing to print; name the tags instead")
    return Impossible(
        "print.nobody", "no specimen is chosen; name tags, or a place, or everything that waits, or what came in today"
    )


def _labelled(subject: Subject, owner: str, known: Known) -> Labelled:
    species = subject.head.species
    parts = tuple(part.name for part in subject.specimen.parts)
    expected = chart_of(subject.specimen, known).expected
    return Labelled(subject.specimen.tag, species.common_name, initials(owner), parts, expected)


def initials(name: str) -> str:
    """Return the initials of a name: a label lies about, and says no more than it must."""
    return " ".join([f"{word[0].upper()}." for word in name.split() if word[0].isalnum()][:MOST_INITIALS])


def place_named(known: Known, text: str) -> Place:
    """Return a place by its key or its name."""
    wanted = text.strip().casefold()
    found = next((p for p in known.room.places if wanted in (p.key.casefold(), p.name.casefold())), None)
    if found is None:
        names = tuple(p.key for p in known.room.places)
        raise UnknownName(
            "print.place",
            "there is no place called {place}; there are: {known}",
            could_be=names,
            place=text,
            known=", ".join(names),
        )
    return found


def places(tx: Reading, names: Sequence[str]) -> tuple[PlaceLabelled, ...]:
    """Return the places named, or every place that is in use."""
    known = known_of(tx)
    wanted = [place_named(known, name) for name in names] or [p for p in known.room.places if p.open]
    if not wanted:
        raise Impossible("print.no_places", "this room has no places yet, so there is nothing to print; set the room up first")
    with_peroxide = {bath.place for bath in all_baths(tx, live=True) if bath.recipe is Recipe.PEROXIDE}
    return tuple(PlaceLabelled(p.key, p.name, p.kind.value, p.kind is PlaceKind.TUB or p.key in with_peroxide) for p in wanted)


def tags_of_roll(tx: Reading, text: str) -> tuple[str, ...]:
    """Return all the tags of a roll that was issued, in order, whether they are used by now or not."""
    rolls = known_of(tx).room.rolls
    wanted = " ".join(text.split()).casefold()
    found = next((roll for roll in reversed(rolls) if roll.name.casefold() == wanted), None)
    if found is None:
        names = tuple(roll.name for roll in rolls)
        raise UnknownName(
            "print.roll", "there is no roll called {roll}; there are: {known}", could_be=names, roll=text,
            known=", ".join(names) or "none yet",
        )  # fmt: skip
    return tags_of(found)
