"""Teeth in an open transaction: show the chart of a specimen, mark teeth on it, count its jar."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from zoneinfo import ZoneInfo

from bonebench.errors import Impossible, InputError, NotAQuantity
from bonebench.records.book import Reading, Writing
from bonebench.science.anatomy import read_tooth
from bonebench.services.gather import known_of, room_of, specimen_by_subject, specimen_by_tag
from bonebench.services.known import Known
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.times import when_of
from bonebench.services.plans.problem import subject_of
from bonebench.services.teeth.cards import TeethChartCard, TeethToldCard
from bonebench.services.teeth.chart import chart_of
from bonebench.services.teeth.names import read_state
from bonebench.services.teeth.show import teeth_card
from bonebench.shop.checks import check_specimen
from bonebench.shop.entries import root_of, specimen_subject
from bonebench.shop.specimen import Specimen
from bonebench.shop.teeth_entries import JarChanged, JarCounted, TeethMarked, ToothState
from bonebench.shop.what import What


@dataclass(frozen=True, slots=True, kw_only=True)
class TeethTold:
    """What somebody says about the teeth of a specimen; text as it was typed.

    ``marks`` are teeth as people name them with their states; ``rest`` is the state of all the others; ``jar`` is a count of the
    jar, ``jar_by`` how many went in (or out, below zero).
    """

    tag: str
    marks: Mapping[str, str] = field(default_factory=dict)
    rest: str | None = None
    jar: str | None = None
    jar_by: str | None = None
    at: str | None = None
    about: str | None = None


# A jar of one skull never holds more; a slip of the finger is refused at the face, what the book holds is only flagged.
MOST_IN_JAR = 260


def show(tx: Reading, tag: str, now: datetime) -> TeethChartCard:
    """Return the teeth of one specimen."""
    return _card(specimen_by_tag(tx, tag), known_of(tx), now)


def _card(specimen: Specimen, known: Known, now: datetime) -> TeethChartCard:
    subject = subject_of(specimen, known)
    rules = check_specimen(specimen, subject.standing, known.room, now)
    return teeth_card(subject, known, (flag for flag in rules if flag.what.key.startswith("flag.teeth.")))


def tell(tx: Writing, pen: Pen, asked: TeethTold) -> Kept:
    """Store what was said; a code nobody can read is refused with those it could be, a tooth the animal lacks is only flagged."""
    specimen = specimen_by_tag(tx, asked.tag)
    found = [*_marked(asked, specimen, known_of(tx)), *_jar(asked)]
    if not found:
        raise InputError(
            "teeth.nothing", "nothing was said about the teeth of {tag}; tap or name a tooth and its state, or count the jar",
            tag=specimen.tag,
        )  # fmt: skip
    when = when_of(at=asked.at, about=asked.about, now=pen.now, zone=ZoneInfo(room_of(tx).zone))
    subjects = (specimen_subject(specimen.id),)
    return record(tx, [write_entry(tx, pen, what, subjects, when) for what in found], pen.now)


def _marked(asked: TeethTold, specimen: Specimen, known: Known) -> list[What]:
    if not asked.marks and not asked.rest:
        return []
    chart = chart_of(specimen, known)
    among = (*chart.shown, *sorted(chart.growing - set(chart.shown), key=lambda tooth: tooth.code))
    marks: dict[str, ToothState] = {}
    for text, state_text in asked.marks.items():
        code, state = read_tooth(text, among).code, read_state(state_text)
        if marks.setdefault(code, state) is not state:
            raise Impossible(
                "teeth.twice", "{code} is said to be {one} and {other} at once; say one of them", code=code, one=marks[code].value,
                other=state.value,
            )  # fmt: skip
    return [TeethMarked(marks, read_state(asked.rest) if asked.rest else None)]


def _jar(asked: TeethTold) -> list[What]:
    found: list[What] = []
    if asked.jar:
        found.append(JarCounted(_whole(asked.jar, 0)))
    if asked.jar_by:
        found.append(JarChanged(_whole(asked.jar_by, -MOST_IN_JAR)))
    return found


def _whole(text: str, least: int) -> int:
    try:
        count = int(text)
    except ValueError:
        raise NotAQuantity("teeth.count", "'{text}' is not a number of teeth; write 0, 1, 2", text=text) from None
    if not least <= count <= MOST_IN_JAR:
        raise NotAQuantity(
            "teeth.many", "{count} is no number of teeth for one jar; write {least} to {most}", count=count, least=least,
            most=MOST_IN_JAR,
        )  # fmt: skip
    return count


def told(tx: Reading, kept: Kept, now: datetime) -> TeethToldCard:
    """Say how it went, and the chart after it."""
    entry = kept.entries[0]
    specimen = specimen_by_subject(tx, root_of(entry.subjects[0]))
    return TeethToldCard(entry.id, kept.how[entry.id], _card(specimen, known_of(tx), now))
