"""Take a specimen in: what was said at the door becomes one entry, or two when it was put somewhere at once."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from bonebench.errors import InputError, NotAQuantity, OutsideRange, UnknownName
from bonebench.reference.intake import load_questions
from bonebench.services.parts.do import part_name
from bonebench.shop.entries import Received
from bonebench.shop.intake import Answer
from bonebench.units import read_mass

PARTS = ("skull", "mandible")
ASK = "ask "  # what the fields of the questions at the door begin with
HEAVIEST_KG = 8000.0  # a bull elephant; a typing slip above that is refused, because this is a plan, not history


@dataclass(frozen=True, slots=True)
class Intake:
    """What was said when it came in; text as it was typed, quantities still with their units."""

    species: str
    owner: str | None = None
    live_mass: str | None = None
    head_mass: str | None = None
    sex: str | None = None
    age: str | None = None
    condition: str | None = None
    finish: str = "white"
    measure: bool = False
    permit: str | None = None
    promised: str | None = None
    parts: str | None = None
    arrived: str | None = None
    tag: str | None = None  # one in hand, of a printed roll; None takes the next
    answers: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def from_form(cls, form: Mapping[str, str]) -> "Intake":
        """Read a plain form, where an empty field says nothing."""
        said = {name: value for name, value in form.items() if value and name in cls.__dataclass_fields__ and name != "measure"}
        said.setdefault("species", "")
        asked = {name.removeprefix(ASK): value for name, value in form.items() if name.startswith(ASK)}
        # The page asks every question; one left open counts as nobody knows.
        answers = {key: value or "unknown" for key, value in asked.items() if value or load_questions()[key].must_ask}
        return cls(**said, measure=form.get("measure", "") not in ("", "no", "0"), answers=answers)


def _mass(text: str | None, what: str) -> float | None:
    if not text:
        return None
    mass = read_mass(text)
    if not 0 < mass <= HEAVIEST_KG:
        raise OutsideRange("intake.mass", "{what} is {text}; no animal weighs that", what=what, text=text)
    return mass


def read_day(text: str | None) -> date | None:
    """Read a day as people write it down: 2026-05-09."""
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise NotAQuantity("intake.day", "'{text}' is not a day; write it like 2026-05-09", text=text) from None


def _finish(text: str) -> Literal["white", "natural"]:
    if text == "white":
        return "white"
    if text == "natural":
        return "natural"
    raise InputError("intake.finish", "'{text}' is no finish; it is white or natural", text=text)


def read_answers(answers: Mapping[str, str]) -> dict[str, Answer]:
    """Read the answers to the questions at the door."""
    known = load_questions()
    read: dict[str, Answer] = {}
    for key, text in answers.items():
        if key not in known:
            raise UnknownName(
                "intake.question", "'{key}' is no question at the door; there are: {known}", could_be=tuple(known), key=key,
                known=", ".join(known),
            )  # fmt: skip
        read[key] = _answer(key, text)
    return read


def _answer(key: str, text: str) -> Answer:
    answers: tuple[Answer, ...] = ("yes", "no", "unknown")
    for answer in answers:
        if text == answer:
            return answer
    raise InputError("intake.answer", "'{answer}' is no answer to {key}; it is yes, no or unknown", key=key, answer=text)


def received_of(intake: Intake, *, tag: str, species: str, owner: str | None) -> Received:
    """Return the entry of an arrival; refuses what cannot be read, before anything is stored."""
    live, head = _mass(intake.live_mass, "the live animal"), _mass(intake.head_mass, "the head")
    if live is not None and head is not None and head >= live:
        raise OutsideRange(
            "intake.head", "the head is {head:mass} and the whole animal {live:mass}; a head weighs less", head=head, live=live
        )
    # In small letters: "Antlers" are antlers, and stay dry.
    named = tuple(part_name(part) for part in (intake.parts or "").split(",") if part.strip())
    return Received(
        tag=tag,
        species=species,
        owner=owner,
        live_mass_kg=live,
        head_mass_kg=head,
        sex=intake.sex,
        age=intake.age,
        condition=intake.condition,
        finish=_finish(intake.finish),
        measure=intake.measure,
        permit=intake.permit,
        promised=read_day(intake.promised),
        answers=dict(intake.answers),
        parts=(*PARTS, *(part for part in named if part not in PARTS)),
    )
