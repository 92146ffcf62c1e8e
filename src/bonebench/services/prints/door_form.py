"""The form that is filled in by pencil at the door: the questions, and what can hurt as an animal comes in."""

from bonebench.reference.intake import load_questions
from bonebench.services.known import Known
from bonebench.services.prints.cards import AskedCard, IntakeFormCard
from bonebench.shop.cautions import for_step
from bonebench.shop.steps import Step


def intake_form(known: Known) -> IntakeFormCard:
    """Return what the form says; which animal it will be nobody knows yet, so the cautions are those of any."""
    questions = tuple(
        AskedCard(q.text, q.must_ask, q.say("yes.route", q.yes.route), q.say("unknown.route", q.unknown.route))
        for q in load_questions().values()
    )
    return IntakeFormCard(known.room.name, questions, for_step(known.caution_rows, step=Step.RECEIVE))
