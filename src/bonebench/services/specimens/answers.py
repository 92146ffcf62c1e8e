"""The large buttons: which entry each tap stores, about which parts. A tap stores exactly what it showed."""

from bonebench.said import said
from bonebench.services.cards import Answer
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject
from bonebench.shop.checks import DRY_PARTS
from bonebench.shop.entries import specimen_subject
from bonebench.shop.identity import task_id
from bonebench.shop.routes import Leg
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind, Step
from bonebench.shop.words import PROBLEMS, tap

# Where parts that must stay dry do not go along.
KEEPS_DRY_OUT_OF = frozenset({PlaceKind.ENCLOSURE, PlaceKind.POT, PlaceKind.TUB, PlaceKind.RINSE})


def moving_subjects(specimen: Specimen, kind: PlaceKind | None) -> tuple[str, ...]:
    """Return what goes along to a place of this kind: the whole specimen, or its parts without those that stay dry."""
    dry = [part.name for part in specimen.parts if part.name in DRY_PARTS]
    if kind not in KEEPS_DRY_OUT_OF or not dry:
        return (specimen_subject(specimen.id),)
    return tuple(specimen_subject(specimen.id, part.name) for part in specimen.parts if part.name not in dry)


def leg_task(specimen: Specimen, leg: Leg) -> str:
    """Return the id of the task that begins this leg."""
    return task_id(specimen_subject(specimen.id), leg.step.value, leg.visit)


def move_answer(specimen: Specimen, leg: Leg, place: str, place_name: str, *, only: bool) -> Answer:
    """Return the button that puts a specimen in a place and begins a stay there."""
    label = tap(leg.step) if only else said("tap.into", "Into {place}", place=place_name)
    return Answer(
        key=f"move-{place}",
        label=label,
        kind="moved",
        subjects=moving_subjects(specimen, leg.place_kind),
        values={"place": place, "step": leg.step.value, "visit": leg.visit, "method": leg.method.key},
        task=leg_task(specimen, leg),
    )


def done_answer(specimen: Specimen, leg: Leg) -> Answer:
    """Return the button that says an act was done."""
    return Answer(
        key="done",
        label=tap(leg.step),
        kind="done",
        subjects=(specimen_subject(specimen.id),),
        values={"step": leg.step.value, "visit": leg.visit, "method": leg.method.key},
        task=leg_task(specimen, leg),
    )


def look_answer(specimen: Specimen, leg: Leg) -> Answer:
    """Return the button that says somebody looked and it is not ready."""
    return Answer(
        key="not-yet",
        label=said("tap.not_yet", "Not yet") if not leg.kind.stay else said("tap.stays", "Looked: it stays in"),
        kind="looked",
        subjects=(specimen_subject(specimen.id),),
        values={"step": leg.step.value, "visit": leg.visit, "found": "not yet"},
    )


def answers_to(subject: Subject, leg: Leg, known: Known, planned_place: str | None = None) -> tuple[Answer, ...]:
    """Return the buttons that answer the next leg: the planned place alone, or every open place of its kind."""
    specimen = subject.specimen
    if not leg.kind.stay:
        answers = (done_answer(specimen, leg),)
        return (*answers, look_answer(specimen, leg)) if leg.step is Step.JUDGE_CLEAN else answers
    places = [p for p in known.room.places if p.kind is leg.place_kind and p.open]
    planned = known.room.place(planned_place)
    if planned is not None:
        return (move_answer(specimen, leg, planned.key, planned.name, only=True),)
    if not places:
        return (done_answer(specimen, leg),)
    return tuple(move_answer(specimen, leg, p.key, p.name, only=len(places) == 1) for p in places)


def problem_answers(specimen: Specimen) -> tuple[Answer, ...]:
    """Return one button for each thing that can be wrong."""
    return tuple(
        Answer(
            key=f"problem-{key.replace(' ', '-')}",
            label=said(f"tap.problem.{key}", label),
            kind="problem",
            subjects=(specimen_subject(specimen.id),),
            values={"what": key},
        )
        for key, label in PROBLEMS
    )


def other_answers(subject: Subject, known: Known) -> tuple[Answer, ...]:
    """Return the rarer buttons: leave the next step out, go back a step, hold or release, move anywhere, not here."""
    specimen, standing = subject.specimen, subject.standing
    whole = (specimen_subject(specimen.id),)
    answers = []
    if not specimen.holds:
        answers.append(Answer("hold", said("tap.hold", "Put on hold"), "held", whole, {"reason": "waiting for an answer"}))
    answers += [
        Answer(
            f"release-{hold.key}",
            said("tap.release", "Off hold: {reason}", reason=hold.reason),
            "released",
            whole,
            {"key": hold.key},
        )
        for hold in specimen.holds
    ]
    following = standing.next
    if following is not None:
        answers.append(
            Answer(
                "skip", said("tap.skip", "Leave out: {step}", step=following.step.value), "skipped", whole,
                {"step": following.step.value, "visit": following.visit},
            )
        )  # fmt: skip
    answers += [
        Answer(f"back-{leg.step.name.lower()}", said("tap.back", "Back to: {step}", step=leg.step.value), "sent-back", whole,
               {"step": leg.step.value})
        for leg in standing.route[: standing.at + 1]
        if leg.step in (Step.TRIM, Step.BEETLES, Step.DEGREASE, Step.TEETH, Step.WHITEN, Step.RINSE)
    ]  # fmt: skip
    answers += [
        Answer(f"into-{place.key}", said("tap.into", "Into {place}", place=place.name), "moved",
               moving_subjects(specimen, place.kind), {"place": place.key})
        for place in known.room.places
        if place.open
    ]  # fmt: skip
    answers.append(Answer("gone", said("tap.gone", "Not here any more"), "gone", whole, {"why": "not found"}))
    return tuple(answers)


def settle_answer(specimen: Specimen, problem: str) -> Answer:
    """Return the button that settles a problem."""
    return Answer(
        f"settle-{problem}", said("tap.settle", "Settled"), "settled", (specimen_subject(specimen.id),), {"problem": problem}
    )
