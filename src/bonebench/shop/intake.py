"""The questions at the door: what may be wrong with an animal that comes in, and what follows from each answer.

An answer of yes or "nobody knows" holds the piece until somebody has asked; a no is somebody's word and nothing more. Two
questions must be asked (``must_ask``), because silence there can kill a person or the colony: bite or odd behaviour, and drug or
poison. Left unanswered they count as unknown. The others can mostly be seen or smelt later, and silence there holds nothing, so
that a piece can be taken in with two taps. Whoever reads in old records without any answers need not call these rules.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from bonebench.figures import Standing
from bonebench.said import Plain, Said, said

Answer = Literal["yes", "no", "unknown"]
Answers = Mapping[str, str]  # as the log keeps them; what is none of the three counts as unknown


@dataclass(frozen=True, slots=True)
class Outcome:
    """What follows from yes or unknown: why it waits, whom to ask, what to do meanwhile.

    ``freezes``: what to do meanwhile is the freezer. ``no_freezer``: it must not be frozen before somebody has been asked.
    """

    hold: str
    ask: str
    route: str
    treated: bool = False
    freezes: bool = False
    no_freezer: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question at the door; ``yes`` is always the answer that worries."""

    key: str
    text: str
    why: str
    must_ask: bool
    yes: Outcome
    unknown: Outcome
    source: str
    standing: Standing
    values: Mapping[str, Plain] = field(default_factory=dict)

    def outcome(self, answers: Answers) -> tuple[Answer, Outcome] | None:
        """Return what follows, if anything does; an answer nobody can read counts as unknown."""
        answer = answers.get(self.key, "unknown" if self.must_ask else "no")
        if answer == "no":
            return None
        return ("yes", self.yes) if answer == "yes" else ("unknown", self.unknown)

    def say(self, part: str, template: str) -> Said:
        """Fill one of the question's sentences."""
        return said(f"intake.{self.key}.{part}", template, **self.values)


Questions = Mapping[str, Question]


@dataclass(frozen=True, slots=True)
class Hold:
    """Why a piece waits; ``asked`` is false when nobody answered."""

    question: str
    answer: Answer
    asked: bool
    reason: Said
    ask: Said
    route: Said


def holds(answers: Answers, questions: Questions) -> tuple[Hold, ...]:
    """Return a hold for every question whose answer, or lack of one, worries, in the order of the questions."""
    worries = [(question, found) for question in questions.values() if (found := question.outcome(answers)) is not None]
    first = next((question for question, (_, outcome) in worries if outcome.no_freezer), None)
    known = [_hold(question, *found, answers=answers, first=first) for question, found in worries]
    return (*known, *_unread(answers, questions))


def _hold(question: Question, answer: Answer, outcome: Outcome, *, answers: Answers, first: Question | None) -> Hold:
    asked = question.key in answers
    reason = question.say(f"{answer}.hold", outcome.hold)
    if not asked:
        reason = said("intake.not_asked", "nobody asked at the door: {hold}", hold=reason.text)
    route = question.say(f"{answer}.route", outcome.route)
    if outcome.freezes and first is not None:
        # A laboratory wants the head cold but not frozen, and a person may depend on its answer.
        route = said(
            "intake.no_freezer",
            "not into the freezer yet; first the answer to: {question} Two sealed bags, kept cold, away from the box",
            question=first.text,
        )
    return Hold(question.key, answer, asked, reason, question.say(f"{answer}.ask", outcome.ask), route)


def _unread(answers: Answers, questions: Questions) -> tuple[Hold, ...]:
    """A worry about a question this version does not ask is not dropped."""
    return tuple(
        Hold(
            key, "yes" if answer == "yes" else "unknown", True,
            said("intake.other", "'{key}' was answered with {answer}; this version does not ask that", key=key, answer=answer),
            said("intake.other.ask", "ask whoever took it in"),
            said("intake.other.route", "leave it where it is, bagged and cold, until somebody has asked"),
        )
        for key, answer in answers.items()
        if key not in questions and answer != "no"
    )  # fmt: skip


def keeps_out_of_freezer(answers: Answers, questions: Questions) -> Iterator[str]:
    """Yield the questions whose answer keeps a piece out of the freezer until somebody was asked."""
    for question in questions.values():
        found = question.outcome(answers) if answers else None
        if found is not None and found[1].no_freezer:
            yield question.key


def treated(answers: Answers, questions: Questions) -> bool:
    """Whether it may carry a drug, salt, borax or poison, as the caution rules take it."""
    found = (question.outcome(answers) for question in questions.values())
    return any(outcome.treated for _, outcome in (one for one in found if one is not None))


def hold_reason(found: tuple[Hold, ...]) -> str | None:
    """Return all the reasons in one line, as the log keeps them; None when nothing holds it."""
    return "; ".join(hold.reason.text for hold in found) or None
