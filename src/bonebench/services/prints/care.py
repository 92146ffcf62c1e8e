"""What goes home with a skull: what it is and what was done to it, as far as somebody wrote it down."""

from collections.abc import Iterator
from zoneinfo import ZoneInfo

from bonebench.records.book import Reading
from bonebench.reference.adhesives import load_adhesives
from bonebench.said import Said, said
from bonebench.services.cards import Fact
from bonebench.services.facts import fact
from bonebench.services.gather import known_of, names_of_people, specimen_by_tag
from bonebench.services.known import Known, cautions_for_species
from bonebench.services.plans.problem import subject_of
from bonebench.services.prints.cards import CareCard
from bonebench.shop.part_entries import REPAIRS
from bonebench.shop.specimen import Mark, Specimen
from bonebench.shop.steps import STEP_KINDS, Step

# What an owner wants to know of, in the owner's words.
TOLD = {
    Step.BEETLES: "Cleaned by hide beetles",
    Step.DEGREASE: "Degreased",
    Step.TEETH: "Teeth put back in",
    Step.WHITEN: "Whitened",
    Step.RINSE: "Rinsed",
    Step.DRY_AGAIN: "Dried",
    Step.FINISH: "Finished",
    Step.MEASURE: "Measured",
}


def care_card(tx: Reading, tag: str) -> CareCard:
    """Return the care card of one specimen."""
    known = known_of(tx)
    specimen = specimen_by_tag(tx, tag)
    subject = subject_of(specimen, known)
    species = subject.head.species
    handed = specimen.ending(Step.HAND_OVER)
    return CareCard(
        tag=specimen.tag,
        species=species.common_name,
        scientific=species.scientific_name,
        owner=names_of_people(tx).get(specimen.owner or "", ""),
        room=known.room.name,
        zone=known.room.zone,
        received=specimen.received,
        handed_over=handed.at if handed is not None else None,
        finish=specimen.finish,
        permit=specimen.permit,
        done=_done(specimen, known),
        glued=_mark(specimen, Step.TEETH) is not None,
        glues=tuple(_glues(specimen)),
        fragile=species.fragile.text,
        cautions=tuple(c for c in cautions_for_species(species, known) if c.key.startswith(("law.", "defer"))),
    )


def _glues(specimen: Specimen) -> Iterator[Said]:
    """What was mended with which glue; how it comes off is what whoever mends it next must know."""
    shipped = load_adhesives()
    for one in specimen.repairs:
        glue = shipped.get(one.adhesive or "")
        name = glue.name if glue is not None else one.adhesive
        undone = glue.undone_by if glue is not None else "not known; ask the room"
        what = ", ".join(words for words in (dict(REPAIRS).get(one.how, one.how), one.where, one.part) if words)
        if name is None:
            yield said("care.mended", "Mended: {what}; with what is not written down.", what=what)
        else:
            yield said("care.glued", "Mended: {what}; with {glue}. Comes off with: {undone}.", what=what, glue=name, undone=undone)


def _mark(specimen: Specimen, step: Step) -> Mark | None:
    """When a step was last begun, or done where hands do it; one left out was not done."""
    marks = [m for m in (specimen.begun if STEP_KINDS[step].stay else specimen.ended) if m.step is step and not m.skipped]
    return max(marks, key=lambda mark: mark.visit, default=None)


def _done(specimen: Specimen, known: Known) -> tuple[Fact, ...]:
    zone = ZoneInfo(known.room.zone)
    facts = []
    for step, words in TOLD.items():
        mark = _mark(specimen, step)
        if mark is None:
            continue
        day = mark.at.astimezone(zone).date()
        method = known.methods.get(mark.method or "")
        how = f"{method.name}, " if method is not None and method.name.casefold() != step.value else ""
        facts.append(Fact(said(f"care.{step.value}", words), said("care.day", "{how}{day:day}", how=how, day=day)))
    white = next((f for f in facts if f.label.text == TOLD[Step.WHITEN]), None)
    return (*facts, *(() if white is not None else (fact("care.natural", TOLD[Step.WHITEN], "no record of it"),)))
