"""The card of one specimen, and the lines of the list, from plain values."""

from collections.abc import Iterable
from datetime import date

import msgspec

from bonebench.figures import Basis, Standing, basis
from bonebench.reference.adhesives import load_adhesives
from bonebench.reference.intake import load_questions
from bonebench.said import Said, said
from bonebench.services.cards import Answer, Caution, EntryCard, Ready
from bonebench.services.known import Known, cautions_for, cautions_for_species
from bonebench.services.parts.flags import part_flags
from bonebench.services.parts.show import condition_card, offered, part_cards, with_parts
from bonebench.services.plans.problem import Subject
from bonebench.services.plans.sentence import sentence_of
from bonebench.services.specimens.answers import answers_to, other_answers, problem_answers, settle_answer
from bonebench.services.specimens.cards import (
    LegCard,
    LegStatus,
    ProblemCard,
    SpecimenCard,
    SpecimenRow,
    StateCard,
    Status,
    TeethCard,
)
from bonebench.services.specimens.names import species_name
from bonebench.services.surroundings import Surroundings
from bonebench.services.teeth.show import odd_teeth
from bonebench.shop.cautions import DEFER, Level
from bonebench.shop.checks import check_specimen
from bonebench.shop.entries import Entry, Void
from bonebench.shop.flags import Flag
from bonebench.shop.fold import telling_order
from bonebench.shop.intake import Answer as HoldAnswer
from bonebench.shop.intake import holds
from bonebench.shop.routes import Leg, days_in_step, main_part
from bonebench.shop.species import Species
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import Step
from bonebench.shop.teeth import tell_marked
from bonebench.shop.telling import told


def names_of(around: Surroundings) -> dict[str, str]:
    """Return what a reader calls the keys that stand in entries."""
    known = around.known
    return {
        **{key: species.common_name for key, species in known.species.items()},
        **{place.key: place.name for place in known.room.places},
        **{method.key: method.name for method in known.methods.values()},
        **{key: glue.name for key, glue in load_adhesives().items()},
        **around.people,
        **around.notes,
    }


def ready_of(subject: Subject, around: Surroundings) -> Ready:
    """Return when a specimen will be ready by the plan that is kept, and the range if all goes quickly or slowly."""
    finish = around.plan.finish.get(subject.specimen.id) if around.plan is not None else None
    rest = around.plan.why_not(subject.specimen.id) if around.plan is not None else None
    legs = [leg for leg in (subject.standing.leg, *subject.standing.ahead) if leg is not None and leg.kind.stay]
    checked = all(leg.known is Standing.ROOM for leg in legs)
    why_not = rest.why if rest is not None else None
    if finish is None or finish.working is None:
        quick, slow = (finish.quick, finish.slow) if finish is not None else (None, None)
        return Ready(None, quick, slow, None, None, None, checked, why_not or _not_planned(subject))
    kept = around.promises.pieces.get(subject.specimen.id) if around.promises is not None else None
    p50, p80, p95 = (kept.p50, kept.p80, kept.p95) if kept is not None else (None, None, None)
    made = around.promises.made_at if kept is not None and around.promises is not None else None
    words = sentence_of(subject.head.species.common_name, kept) if kept is not None else None
    return Ready(finish.working, finish.quick, finish.slow, p50, p80, p95, checked, why_not, made, words)


def _not_planned(subject: Subject) -> Said:
    if subject.specimen.finished:
        return said("ready.through", "nothing more happens to it in this room")
    if subject.standing.next is not None and subject.standing.next.step is Step.HAND_OVER:
        return said("ready.now", "it is ready now")
    return said("ready.no_plan", "the plan has not been made again since it came in")


def late_days(promised: date | None, planned: date | None, today: date, *, finished: bool) -> int:
    """Return by how many days a specimen misses its promise as things stand, 0 if it does not."""
    if promised is None or finished:
        return 0
    return max(0, (max(planned, today) - promised).days if planned is not None else (today - promised).days)


def state_of(subject: Subject, around: Surroundings) -> StateCard:
    """Return where a specimen stands, in a sentence and in values."""
    specimen, standing = subject.specimen, subject.standing
    part = main_part(specimen)
    place = around.known.room.place(part.place) if part is not None else None
    status = _status(subject)
    leg = standing.leg
    return StateCard(
        status=status,
        step=leg.step.value if leg is not None else None,
        visit=leg.visit if leg is not None else (standing.next.visit if standing.next is not None else 1),
        place=place.key if place is not None else None,
        place_name=place.name if place is not None else None,
        since=standing.since,
        days=round(days_in_step(standing, around.now), 2),
        next_step=standing.next.step.value if standing.next is not None else None,
        held=specimen.held,
        summary=_summary(subject, around, status),
    )


def _status(subject: Subject) -> Status:
    specimen = subject.specimen
    if specimen.merged_into is not None:
        return "merged"
    if specimen.gone is not None:
        return "gone"
    if specimen.received is None:
        return "not received"
    if specimen.finished:
        return "finished"
    if specimen.held is not None:
        return "held"
    return "running" if subject.standing.running else "waiting"


def _summary(subject: Subject, around: Surroundings, status: str) -> Said:
    specimen, standing = subject.specimen, subject.standing
    days = round(days_in_step(standing, around.now), 2)
    leg, following = standing.leg, standing.next
    if status in ("merged", "gone", "not received"):
        return said(f"state.{status.replace(' ', '_')}", {
            "merged": "the same specimen as another one, which goes on",
            "gone": "not here any more",
            "not received": "nobody has said that it came in",
        }[status])  # fmt: skip
    if status == "finished":
        return said("state.finished", "handed over")
    if status == "held":
        return said("state.held", "on hold: {reason}", reason=specimen.held)
    if leg is not None:
        return said("state.running", "{step}, {days:days} so far", step=leg.step.value, days=days)
    if following is not None:
        return said("state.waiting", "waits for: {step}", step=following.step.value)
    return said("state.through", "through every step")


def leg_cards(subject: Subject, around: Surroundings) -> tuple[LegCard, ...]:
    """Return the whole route, each step with its status and its times."""
    return tuple(_leg_card(index, leg, subject, around) for index, leg in enumerate(subject.standing.route))


def _leg_status(index: int, leg: Leg, subject: Subject) -> LegStatus:
    standing = subject.standing
    if standing.running and index == standing.at:
        return "now"
    ending = subject.specimen.ending(leg.step)
    if ending is not None:
        return "skipped" if ending.skipped else "done"
    if index > standing.at:
        return "ahead"
    return "no record" if leg in standing.unrecorded else "done"


def _leg_card(index: int, leg: Leg, subject: Subject, around: Surroundings) -> LegCard:
    specimen = subject.specimen
    slot = around.plan.ahead(specimen.id, leg.step.value, leg.visit) if around.plan is not None else None
    begun, ended = specimen.beginning(leg.step), specimen.ending(leg.step)
    return LegCard(
        step=leg.step.value,
        visit=leg.visit,
        status=_leg_status(index, leg, subject),
        method=leg.method.key,
        method_name=leg.method.name,
        place=leg.place_kind.value if leg.place_kind is not None else None,
        days_p10=leg.span.p10,
        days_p50=leg.span.p50,
        days_p90=leg.span.p90,
        minutes=leg.minutes,
        standing=leg.known.value,
        pieces=leg.pieces,
        began=begun.at if begun is not None else (subject.standing.since if subject.standing.leg is leg else None),
        ended=ended.at if ended is not None else None,
        planned_start=slot.start if slot is not None else None,
        planned_end=slot.end if slot is not None else None,
    )


def entry_cards(
    entries: Iterable[Entry], voided: frozenset[str], around: Surroundings, of: Specimen | None = None
) -> tuple[EntryCard, ...]:
    """Return the log of one specimen, newest first, with what was taken back marked as such."""
    names = names_of(around)
    return tuple(
        EntryCard(
            id=entry.id,
            kind=entry.kind,
            what=told(entry, names) if of is None else with_parts(told(entry, names), entry, of),
            earliest=entry.when.earliest,
            latest=entry.when.latest,
            recorded=entry.recorded,
            who=around.people.get(entry.who or ""),
            writer=entry.writer,
            counts=entry.id not in voided,
            can_undo=entry.id not in voided and not isinstance(entry.what, Void),
        )
        for entry in sorted(entries, key=telling_order, reverse=True)
    )


def specimen_card(subject: Subject, entries: Iterable[Entry], voided: frozenset[str], around: Surroundings) -> SpecimenCard:
    """Return one specimen, whole."""
    specimen, head, known = subject.specimen, subject.head, around.known
    ready = ready_of(subject, around)
    return SpecimenCard(
        id=specimen.id,
        tag=specimen.tag,
        species=species_name(specimen.species, known),
        owner=around.people.get(specimen.owner or ""),
        received=specimen.received,
        finish=specimen.finish,
        measure=specimen.measure,
        sex=specimen.sex,
        age=specimen.age,
        condition=specimen.condition,
        permit=specimen.permit,
        promised=specimen.promised,
        late_days=late_days(specimen.promised, ready.planned, known.room.day(around.now), finished=specimen.finished),
        lot=specimen.lot_name,
        live_mass_kg=specimen.live_mass_kg,
        head_mass_kg=specimen.head_mass_kg,
        tissue_kg=head.tissue_kg.value,
        tissue_low_kg=head.tissue_kg.low,
        tissue_high_kg=head.tissue_kg.high,
        state=state_of(subject, around),
        parts=part_cards(specimen, known.room),
        teeth=_teeth(head.species, specimen),
        route=leg_cards(subject, around),
        ready=ready,
        next_answers=_next_answers(subject, around),
        problem_answers=problem_answers(specimen),
        other_answers=other_answers(subject, known),
        problems=tuple(ProblemCard(p.entry, p.what, p.at, settle_answer(specimen, p.entry)) for p in specimen.problems),
        entries=entry_cards(entries, voided, around, specimen),
        fragile=head.species.fragile.text,
        basis=_basis(subject),
        flags=(
            *specimen.flags,
            *hold_flags(specimen),
            *check_specimen(specimen, subject.standing, known.room, around.now),
            *odd_teeth(specimen, known),
            *part_flags(specimen, subject.standing, known.room),
        ),
        cautions=_cautions(subject, known),
        looks=condition_card(specimen, around.notes),
        offered=offered(known.room),
        former_tags=specimen.former_tags,
        marked=specimen.marked,
    )


def hold_flags(specimen: Specimen) -> tuple[Flag, ...]:
    """Say for each hold of the questions at the door whom to ask, and what to do meanwhile."""
    open_ones = {hold.key for hold in specimen.holds}
    answers = {key: text for key, text in specimen.answers.items() if text in ("yes", "no", "unknown")}
    flags = []
    for hold in holds(msgspec.convert(answers, dict[str, HoldAnswer]), load_questions()):
        if hold.question in open_ones:
            then = said("hold.next", "{ask}; until then: {route}", ask=hold.ask.text.rstrip("."), route=hold.route.text)
            flags.append(Flag(hold.reason, then))
    return tuple(flags)


def _teeth(species: Species, specimen: Specimen) -> TeethCard:
    teeth = species.teeth
    return TeethCard(teeth.written, species.total_teeth, teeth.standing.value, teeth.source, tell_marked(specimen.teeth))


def _next_answers(subject: Subject, around: Surroundings) -> tuple[Answer, ...]:
    if subject.specimen.finished or subject.specimen.received is None:
        return ()
    following = next((leg for leg in subject.standing.ahead if not leg.kind.begins_itself), None)
    return () if following is None else answers_to(subject, following, around.known)


def louder_first(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Return cautions from several rules as one list: the loudest first, the one that defers last."""
    return tuple(sorted(cautions, key=lambda c: (c.key == DEFER, list(Level).index(c.level) * -1)))


def _basis(subject: Subject) -> tuple[Basis, ...]:
    head = subject.head
    lines = [
        basis("head mass", head.head_kg),
        basis("tissue for the beetles", head.tissue_kg),
        basis("most they can take in a day", head.eating_kg_per_day),
    ]
    for leg in subject.standing.route[max(subject.standing.at, 0) :]:
        if leg.kind.stay:
            name = f"{leg.step.value}, {leg.method.name}"
            source = f"{leg.pieces} pieces here; {leg.method.source}" if leg.pieces else leg.method.source
            lines.append(Basis(name, leg.span.p10, leg.span.p90, "days", leg.known, source))
    return tuple(lines)


def _cautions(subject: Subject, known: Known) -> tuple[Caution, ...]:
    legs = [leg for leg in (subject.standing.leg, subject.standing.next) if leg is not None]
    seen = {c.key: c for leg in legs for c in cautions_for(subject.specimen, leg, known)}
    if all(leg.step.position < Step.DEGREASE.position for leg in legs):
        seen |= {c.key: c for c in cautions_for_species(subject.head.species, known)}
    return louder_first(seen.values())


def specimen_row(subject: Subject, around: Surroundings) -> SpecimenRow:
    """Return one line of the list."""
    specimen = subject.specimen
    ready, state = ready_of(subject, around), state_of(subject, around)
    return SpecimenRow(
        id=specimen.id,
        tag=specimen.tag,
        species=species_name(specimen.species, around.known),
        owner=around.people.get(specimen.owner or ""),
        step=state.step or state.next_step,
        status=state.status,
        summary=state.summary,
        place=state.place,
        place_name=state.place_name,
        received=specimen.received,
        planned=ready.planned,
        promised=specimen.promised,
        late_days=late_days(specimen.promised, ready.planned, around.known.room.day(around.now), finished=specimen.finished),
        problems=len(specimen.problems),
    )
