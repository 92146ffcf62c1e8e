"""Baths in an open transaction: gather what the cards need, and show them."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime

from bonebench.records import entries as log_rows
from bonebench.records.book import Reading
from bonebench.science.baths import degreasing
from bonebench.science.baths.calibration import room_leaning
from bonebench.science.baths.decay import Leaning, Load
from bonebench.services.baths import working
from bonebench.services.baths.bathcard import BathCard, BathListCard, DegreasingCard
from bonebench.services.baths.cautions import raw
from bonebench.services.baths.greased import COLDEST_C, followed, learned_from, pot_log
from bonebench.services.baths.history import Arrivals, Reckoned, reckon, seen_by
from bonebench.services.baths.keep import all_baths, find_bath
from bonebench.services.baths.show import Scene, bath_card, list_card
from bonebench.services.baths.workcards import DegreaseCard
from bonebench.services.gather import everything_in_work, known_of, specimen_by_subject, surroundings
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.problem import Subject
from bonebench.shop.bath import Bath
from bonebench.shop.bath_entries import Recipe, bath_subject
from bonebench.shop.entries import Moved, root_of, specimen_subject

__all__ = ["arrivals_in", "degrease", "find_bath", "listed", "scene_of", "show"]


def arrivals_in(tx: Reading, bath: Bath) -> Arrivals:
    """Return when something first came into a bath after it was made, by the moves that count."""
    if bath.made is None:
        return Arrivals()
    first: datetime | None = None
    tissue = False
    for row in log_rows.of_kind_since(tx, Moved.KIND, bath.made):
        if row.values.get("place") != bath.place or (bath.discarded is not None and row.earliest > bath.discarded):
            continue
        for subject in {root_of(s) for s in row.subjects if s.startswith("specimen:")}:
            story, _ = story_of(tx, subject)
            if all(entry.id != row.id for entry in story.entries):
                continue
            first = row.latest if first is None else min(first, row.latest)
            tissue = tissue or raw(specimen_by_subject(tx, subject))
    return Arrivals(first, tissue)


def _seen(found: Iterable[Bath], tx: Reading, now: datetime) -> dict[str, Reckoned]:
    """What the tests of each bath of the room that was ever tested say by themselves, by the bath's id."""
    tested = [bath for bath in found if bath.recipe is Recipe.PEROXIDE and bath.last("tested") is not None]
    return {bath.id: reckon(bath, arrivals_in(tx, bath), bath.discarded or now) for bath in tested}


def _leanings(seen: Mapping[str, Reckoned], bath: Bath) -> dict[Load, Leaning]:
    """What the room's other baths say about how fast this one loses strength: its own tests must not count twice."""
    others = [reckoned for key, reckoned in seen.items() if key != bath.id]
    return {load: room_leaning(rates) for load, rates in seen_by(others).items()}


def scene_of(tx: Reading, baths: Iterable[Bath], now: datetime) -> Scene:
    """Gather what the cards of these baths need."""
    baths = tuple(baths)
    known = known_of(tx)
    subjects = everything_in_work(tx, known)
    seen = _seen(all_baths(tx), tx, now)
    arrivals = {bath.id: arrivals_in(tx, bath) for bath in baths}
    return Scene(
        around=surroundings(tx, known, now),
        subjects=subjects,
        reckoned={bath.id: reckon(bath, arrivals[bath.id], bath.discarded or now, _leanings(seen, bath)) for bath in baths},
        arrivals=arrivals,
        sitting=_sitting(subjects),
    )


def _degreasing(
    tx: Reading, known: Known, pot: Bath, sitting: Iterable[tuple[Subject, tuple[str, ...]]], now: datetime
) -> dict[str, DegreasingCard]:
    """Where each piece in a pot stands: only for a page of one pot, for it reads the stories of many."""
    here = {specimen_subject(subject.specimen.id) for subject, _ in sitting}
    if pot.recipe is not Recipe.DETERGENT or not pot.live or not here:
        return {}
    warm = min(max(degreasing.REFERENCE_C if pot.temperature_c is None else pot.temperature_c, COLDEST_C), 100.0)
    pieces = pot_log(tx, known, now, all_baths(tx))
    return {
        subject: followed(pieces[subject], warm, [piece for key, piece in pieces.items() if key != subject])
        for subject in here
        if subject in pieces
    }


def degrease(tx: Reading, now: datetime, species: str, temperature: str | None, head: str | None) -> DegreaseCard:
    """Say how long a head stays in the pot, by the class table and what the room's own pots have shown."""
    known = known_of(tx)
    learned = learned_from(pot_log(tx, known, now, all_baths(tx)).values())
    return working.degrease(known, species=species, temperature=temperature, head=head, learned=learned)


def _sitting(subjects: Iterable[Subject]) -> dict[str, tuple[tuple[Subject, tuple[str, ...]], ...]]:
    found: dict[str, list[tuple[Subject, tuple[str, ...]]]] = {}
    for subject in subjects:
        for place in {part.place for part in subject.specimen.parts if part.place is not None}:
            parts = tuple(part.name for part in subject.specimen.parts if part.place == place)
            found.setdefault(place, []).append((subject, parts))
    return {place: tuple(sits) for place, sits in found.items()}


def show(tx: Reading, text: str, now: datetime) -> BathCard:
    """Return one bath, whole."""
    bath = find_bath(tx, text)
    story, entries = story_of(tx, bath_subject(bath.id))
    scene = scene_of(tx, [bath], now)
    scene = replace(scene, degreasing=_degreasing(tx, scene.around.known, bath, scene.in_it(bath), now))
    return bath_card(bath, entries, story.voided, scene)


def listed(tx: Reading, now: datetime, *, everything: bool = False) -> BathListCard:
    """Return the baths that stand in the room, or every one there ever was."""
    found = all_baths(tx)
    shown = found if everything else tuple(bath for bath in found if bath.live)
    return list_card(shown, scene_of(tx, shown, now), gone=len(found) - len(shown))
