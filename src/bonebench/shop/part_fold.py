"""How entries about parts, marks, condition and counts change a specimen while it is told. Never raises; odd ones are flagged."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, Protocol

from bonebench.shop import part_entries as log
from bonebench.shop.part import Condition, Part, Repair, Sample
from bonebench.shop.steps import Step


class Draft(Protocol):
    """A specimen while it is told, as much of it as these rules touch."""

    subject: str
    now: dict[str, Any]
    parts: dict[str, Part]
    unsaid: dict[str, str]
    conditions: dict[str, Condition]
    repairs: dict[str, Repair]

    def named_parts(self, entry: Any) -> list[str]:
        """The parts an entry is about."""
        ...

    def flag(self, key: str, template: str, next_key: str, next_template: str, **values: str | int | None) -> None:
        """Say what is odd."""
        ...


def move_parts(draft: Draft, entry: Any, place: str, step: Step | None) -> None:
    """Put the named parts in a place; what is on one of them goes along; a part nobody spoke of before is kept and flagged."""
    whole = draft.subject in entry.subjects
    named = [name for name in spoken_of(draft, entry) if not (whole and keeps_its_place(draft.parts[name]))]
    at = entry.when.latest
    for name in named:
        before = draft.parts.get(name, Part(name))
        # A part that is moved by itself is on nothing any more; one that goes along with the whole stays on it.
        alone = before.joined_to is not None and before.joined_to not in named
        joined = None if alone else before.joined_to
        been = before.been if joined is not None else {**before.been, place: before.been.get(place, at)}
        draft.parts[name] = replace(
            before, place=place, since=at, step=step, been=been, seen=at, joined_to=joined, sent_to=None, missing=None
        )
    follow(draft, named)


def keeps_its_place(part: Part) -> bool:
    """Whether a part stays where it is when the whole specimen is moved: a vial, and what is out of the room."""
    return part.sent_to is not None or part.sample is not None


def spoken_of(draft: Draft, entry: Any) -> list[str]:
    """Return the parts an entry is about; those nobody said it has are marked for a flag."""
    named = draft.named_parts(entry)
    draft.unsaid.update({name: entry.id for name in named if name not in draft.parts})
    return named


def follow(draft: Draft, moved: list[str]) -> None:
    """Take along what is on a part that moved, and what is on that."""
    ahead, taken = list(moved), set(moved)
    while ahead:
        host = draft.parts[ahead.pop()]
        for part in list(draft.parts.values()):
            if part.joined_to == host.name and part.name not in taken:
                draft.parts[part.name] = replace(part, place=host.place, since=host.since, seen=host.seen, missing=host.missing)
                taken.add(part.name)
                ahead.append(part.name)


def see_parts(draft: Draft, entry: Any, place: str) -> None:
    """Seen in its place: moves nothing; seen elsewhere than recorded is said."""
    at = entry.when.latest
    for name in draft.named_parts(entry):
        part = draft.parts.get(name)
        if part is None:
            continue
        if part.place not in (place, None):
            draft.flag(
                "flag.seen_elsewhere", "{part} was seen in {seen}, but is recorded in {place}",
                "flag.seen_elsewhere.next", "record where it was moved to",
                part=name, seen=place, place=part.place,
            )  # fmt: skip
        elif part.place is None:
            draft.parts[name] = replace(part, place=place, since=at, seen=at, missing=None)
        else:
            draft.parts[name] = replace(part, seen=at, missing=None)


def found_part(draft: Draft, name: str) -> None:
    """Keep track of a part from here on."""
    draft.unsaid.pop(name, None)
    draft.parts.setdefault(name, Part(name))


def weigh_parts(draft: Draft, entry: Any, mass_kg: float) -> bool:
    """Keep the mass of the parts that were weighed by themselves; returns whether it was only about parts."""
    if draft.subject in entry.subjects:
        return False
    for name in spoken_of(draft, entry):
        draft.parts[name] = replace(draft.parts.get(name, Part(name)), mass_kg=mass_kg)
    return True


def _joined_to(draft: Draft, entry: Any, what: log.PartJoined) -> None:
    named = [name for name in spoken_of(draft, entry) if name != what.to]
    host = draft.parts.get(what.to)
    if host is None or draft.subject in entry.subjects or not named:
        draft.flag(
            "flag.join_to_nothing", "a part was joined to '{to}', which it has not, or to itself",
            "flag.join_to_nothing.next", "take the entry back, and say which part is on which", to=what.to, entry=entry.id,
        )  # fmt: skip
        return
    for name in named:
        if _on(draft, what.to, name):
            draft.flag(
                "flag.join_ring", "{part} was joined to {to}, which is on it",
                "flag.join_ring.next", "take one of the two entries back", part=name, to=what.to, entry=entry.id,
            )  # fmt: skip
            continue
        before = draft.parts.get(name, Part(name))
        draft.parts[name] = replace(
            before, joined_to=what.to, place=host.place, since=entry.when.latest, seen=entry.when.latest, step=None,
            sent_to=None, missing=None,
        )  # fmt: skip
        follow(draft, [name])


def _on(draft: Draft, part: str, host: str) -> bool:
    """Whether one part is on another, over however many between."""
    at: str | None = part
    while at is not None and at in draft.parts:
        if at == host:
            return True
        at = draft.parts[at].joined_to
    return False


def _sample_taken(draft: Draft, entry: Any, what: log.SampleTaken) -> None:
    if what.vial in draft.parts and draft.parts[what.vial].sample is not None:
        draft.flag(
            "flag.vial_twice", "a vial called '{vial}' was filled twice; the later one counts",
            "flag.vial_twice.next", "give each vial a name of its own, such as {vial} 2", vial=what.vial, entry=entry.id,
        )  # fmt: skip
    sample = Sample(what.of, what.purpose, entry.when.latest, entry.when.earliest, entry.id)
    found_part(draft, what.vial)
    before = draft.parts[what.vial]
    place = what.place if what.place is not None else before.place
    draft.parts[what.vial] = replace(
        before, sample=sample, place=place, since=entry.when.latest, seen=entry.when.latest, sent_to=None, missing=None,
        been={place: entry.when.latest, **before.been} if place is not None else before.been,
    )  # fmt: skip


def _sent(draft: Draft, entry: Any, what: log.PartSent) -> None:
    if draft.subject in entry.subjects:
        draft.flag(
            "flag.sent_whole", "the whole specimen was written down as sent to '{to}' like a part",
            "flag.sent_whole.next", "hand it over instead, or name the part that went", to=what.to, entry=entry.id,
        )  # fmt: skip
        return
    for name in spoken_of(draft, entry):
        before = draft.parts.get(name, Part(name))
        draft.parts[name] = replace(before, place=None, since=entry.when.latest, sent_to=what.to, joined_to=None, missing=None)


def _marked(draft: Draft, entry: Any, what: log.Marked) -> None:
    del entry
    draft.now["marked"] = None if what.how == log.UNMARKED else what.how


def _part_word(draft: Draft, entry: Any) -> str:
    return "" if draft.subject in entry.subjects else ", ".join(spoken_of(draft, entry))


def _condition(draft: Draft, entry: Any, what: log.ConditionNoted) -> None:
    part = _part_word(draft, entry)
    draft.conditions[entry.id] = Condition(
        entry.id, what.stage, what.what, what.where, part, entry.when.latest, what.note, what.photos
    )


def _repaired(draft: Draft, entry: Any, what: log.Repaired) -> None:
    part = _part_word(draft, entry)
    draft.repairs[entry.id] = Repair(entry.id, what.how, what.where, part, what.adhesive, entry.when.latest, what.note, what.photos)


def _counted(draft: Draft, entry: Any, what: log.Counted) -> None:
    """What was seen is seen; what was missed is missing until it is seen or moved again."""
    mine = {s for s in (*what.seen, *what.missing) if s.split("/", 1)[0] == draft.subject}
    for subject in sorted(mine & set(what.missing)):
        name = subject.split("/", 1)[1] if "/" in subject else None
        for part in list(draft.parts.values()):
            if part.place == what.place and name in (None, part.name):
                draft.parts[part.name] = replace(part, missing=entry.when.latest)
    seen = tuple(sorted(mine & set(what.seen)))
    if seen:
        see_parts(draft, replace(entry, subjects=seen), what.place)


PART_APPLY: Mapping[type[Any], Callable[[Any, Any, Any], None]] = {
    log.PartJoined: _joined_to,
    log.SampleTaken: _sample_taken,
    log.PartSent: _sent,
    log.Marked: _marked,
    log.ConditionNoted: _condition,
    log.Repaired: _repaired,
    log.Counted: _counted,
}


def unsaid_flags(draft: Draft) -> None:
    """Say which parts were moved, joined or sent though nobody said that it has them."""
    for name, entry in draft.unsaid.items():
        draft.flag(
            "flag.unsaid_part", "{part} was written about, and nobody said that it has one",
            "flag.unsaid_part.next", "if it has, add the part; else take the entry back", part=name, entry=entry,
        )  # fmt: skip
