"""Gather: the plain values a service needs, read in one transaction."""

from dataclasses import replace
from datetime import datetime, timedelta

import msgspec

from bonebench.errors import InputError, UnknownName
from bonebench.records import finding, people, plans, states
from bonebench.records.book import Reading
from bonebench.services.appetites import appetites_from_json
from bonebench.services.known import Known, known_in
from bonebench.services.learned import with_learned
from bonebench.services.plans.problem import Subject, subject_of
from bonebench.services.plans.stored import Promises, StoredPlan, plan_from_json, promises_from_json
from bonebench.services.surroundings import Surroundings
from bonebench.shop.entries import root_of
from bonebench.shop.identity import near_tags, read_tag
from bonebench.shop.room import Room
from bonebench.shop.rounds import PlaceLog
from bonebench.shop.specimen import Specimen


def room_of(tx: Reading) -> Room:
    """Return the room as it was folded last."""
    state = states.room(tx)
    return Room() if state is None else msgspec.convert(state, Room)


# Under this the appetites of counted colonies are kept. One worked out longer ago than this
# is of another colony: a generation lies between. An estimate.
APPETITE = "appetite"
APPETITE_HOLDS = timedelta(days=45)


def known_of(tx: Reading, now: datetime | None = None) -> Known:
    """Return the room with everything that is known in it, its durations shifted by its own pieces.

    With ``now``, the appetites of its counted colonies, too, if they were worked out lately.
    """
    known = known_in(room_of(tx))
    plain = plans.latest(tx, APPETITE) if now is not None else None
    if plain is not None and now is not None:
        appetites = appetites_from_json(plain)
        known = replace(known, appetites=appetites) if now - appetites.made_at <= APPETITE_HOLDS else known
    stays = states.stays(tx)
    return with_learned(known, stays) if stays else known


def place_logs(tx: Reading) -> dict[str, PlaceLog]:
    """Return what the log says of each place: its rounds, who saw it last."""
    return {key: msgspec.convert(state, PlaceLog) for key, state in states.places(tx).items()}


def names_of_people(tx: Reading) -> dict[str, str]:
    """Return the people of the book by id; erased ones have no name left."""
    return {person.id: person.name for person in people.listed(tx) if person.name}


def kept_plan(tx: Reading) -> StoredPlan | None:
    """Return the plan that is kept."""
    plan = plans.latest(tx, "working")
    return None if plan is None else plan_from_json(plan)


def kept_promises(tx: Reading) -> Promises | None:
    """Return the promises that are kept."""
    promises = plans.latest(tx, "promises")
    return None if promises is None else promises_from_json(promises)


def everything_in_work(tx: Reading, known: Known) -> tuple[Subject, ...]:
    """Return every specimen that is still in work, in the order it came in."""
    specimens = [msgspec.convert(state, Specimen) for state in states.specimens(tx, finished=False)]
    arrived = [s for s in specimens if s.received is not None and not s.finished]
    arrived.sort(key=lambda s: (s.received, s.tag, s.id))
    return tuple(subject_of(specimen, known) for specimen in arrived)


def finished(tx: Reading, known: Known) -> tuple[Subject, ...]:
    """Return every specimen that was handed over, is gone or went on as another."""
    return tuple(subject_of(msgspec.convert(state, Specimen), known) for state in states.specimens(tx, finished=True))


def surroundings(tx: Reading, known: Known, now: datetime) -> Surroundings:
    """Return what cards need beside a specimen."""
    return Surroundings(known, kept_plan(tx), names_of_people(tx), now, people.note_texts(tx), kept_promises(tx))


def specimen_by_tag(tx: Reading, text: str) -> Specimen:
    """Return the specimen with this tag; the one still in work where two ever carried it."""
    try:
        tag = read_tag(text)
    except InputError as fault:
        near = near_tags(text, finding.tags(tx))
        raise UnknownName(
            "tag.near" if near else fault.said.key, fault.said.template + ("; it could be {near}" if near else ""),
            could_be=near, **{**fault.said.values, "near": " or ".join(near)},
        ) from None  # fmt: skip
    found = specimens_tagged(tx, tag)
    if not found:
        before = carried_before(tx).get(tag)
        if before is not None:
            raise UnknownName("tag.former", "{tag} was lost or replaced: that specimen carries {now} now", could_be=(before.tag,),
                              tag=tag, now=before.tag)  # fmt: skip
        raise UnknownName("specimen.tag", "no specimen carries tag {tag} in this book", tag=tag)
    return sorted(found, key=lambda s: (s.finished, s.id))[0]


def specimens_tagged(tx: Reading, tag: str) -> list[Specimen]:
    """Return every specimen that carries this tag."""
    return [msgspec.convert(state, Specimen) for state in states.specimens(tx, tag=tag)]


def carried_before(tx: Reading) -> dict[str, Specimen]:
    """Return the tags that were taken off, each with the specimen that carried it."""
    retagged = (msgspec.convert(state, Specimen) for state in finding.retagged(tx))
    return {tag: specimen for specimen in retagged for tag in specimen.former_tags}


def specimen_by_subject(tx: Reading, subject: str) -> Specimen:
    """Return the state of one specimen by its subject, or by one of its parts."""
    specimen = root_of(subject).removeprefix("specimen:")
    state = states.specimen(tx, specimen)
    return Specimen(specimen) if state is None else msgspec.convert(state, Specimen)
