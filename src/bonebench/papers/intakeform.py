"""The intake form: filled in by pencil at the door with the person who brought it, typed in later in the same order."""

from collections.abc import Sequence
from functools import partial

from reportlab.lib.units import mm

from bonebench.errors import OutsideRange
from bonebench.papers.flow import LEADING, Flow, Frame, Words, on_pages
from bonebench.papers.qr import draw_qr
from bonebench.papers.sheets import MOST_LABELS, Box
from bonebench.papers.type import BOLD, PLAIN, largest, lines_of
from bonebench.services.prints.cards import AskedCard, IntakeFormCard
from bonebench.shop.cautions import DEFER
from bonebench.shop.identity import read_tag
from bonebench.units import Reader, say

LINE = 9.5 * mm
TAG_WIDE, TAG_HIGH = 58 * mm, 40 * mm
TICK = 3.6 * mm
THREE = ("No", "Yes", "Nobody knows")
THREE_WIDE = (14 * mm, 14 * mm, 28 * mm)
THREE_HIGH = 6.5 * mm
MOST_FORMS = MOST_LABELS // 10
SIGNED = "What is written here is what I know. The room may keep it with the piece."


def intake_forms_pdf(
    card: IntakeFormCard, reader: Reader, paper: str = "a4", *, copies: int = 1, tags: Sequence[str] = (), demo: bool = False
) -> bytes:
    """Return so many forms, or one for each of the new tags, which then stands on it with its code."""
    if not 1 <= max(copies, len(tags)) <= MOST_FORMS:
        raise OutsideRange(
            "print.copies", "{count} forms are asked for; it can be 1 to {most}", count=max(copies, len(tags)), most=MOST_FORMS
        )
    wanted = [read_tag(tag) for tag in tags] or [""] * copies
    frame = Frame("Intake form", f"{card.room} · for one piece; by pencil, at the door", demo=demo)

    return on_pages(frame, paper, *(partial(_form, card=card, reader=reader, tag=tag) for tag in wanted))


def _form(flow: Flow, card: IntakeFormCard, reader: Reader, tag: str) -> None:
    _tag_box(flow, tag)
    narrow = flow.width - TAG_WIDE - 5 * mm
    _blanks(flow, narrow, ("Came in on", 0.6), ("at", 0.4))
    _blanks(flow, narrow, ("Species", 1.0))
    _blanks(flow, narrow, ("Owner", 1.0))
    _blanks(flow, narrow, ("How to reach them", 1.0))
    flow.at -= 2 * mm
    _blanks(flow, flow.width, ("Head as it came in, with its unit", 0.5), ("Whole animal, if told", 0.5))
    _ticks(flow, "Sex", ("female", "male", "not known"), ("Age", 0.3))
    _ticks(flow, "Came in as", ("fresh", "frozen", "going off", "dried"), ("other", 0.3))
    _ticks(flow, "Parts", ("skull", "mandible", "antlers", "horn sheaths", "beak sheath", "skeleton"))
    _ticks(flow, "", ("tissue sample, taken before any bath",), ("loose teeth in a jar, how many", 0.45))
    _ticks(flow, "Finish", ("white", "natural", "measure it before it leaves"), ("promised for", 0.3))
    _blanks(flow, flow.width, ("Papers: licence, tag, seal or permit number", 0.7), ("seen by", 0.3))
    _blanks(flow, flow.width, ("Shot or found on", 0.3), ("where (county)", 0.35), ("of what did it die", 0.35))
    _questions(flow, card.questions, reader)
    _signatures(flow)
    _cautions(flow, card, reader)


def _tag_box(flow: Flow, tag: str) -> None:
    canvas, left, bottom = flow.canvas, flow.left + flow.width - TAG_WIDE, flow.at - TAG_HIGH
    canvas.setLineWidth(1.2)
    canvas.rect(left, bottom, TAG_WIDE, TAG_HIGH)
    canvas.setFont(PLAIN, 8)
    if not tag:
        canvas.drawString(left + 2 * mm, bottom + TAG_HIGH - 10, "Tag (stick its label here):")
        return
    code = 28 * mm
    draw_qr(canvas, tag, left + 1 * mm, bottom + (TAG_HIGH - code) / 2, code)
    canvas.setFont(BOLD, largest(tag, BOLD, TAG_WIDE - code - 4 * mm, 30.0))
    canvas.drawString(left + code + 2 * mm, bottom + TAG_HIGH / 2 - 6, tag)


def _blanks(flow: Flow, width: float, *fields: tuple[str, float]) -> None:
    flow.needs(LINE)
    flow.at -= LINE
    left = flow.left
    for label, share in fields:
        flow.blank(label, Box(left, flow.at, width * share, LINE), 9)
        left += width * share


def _ticks(flow: Flow, label: str, choices: Sequence[str], *fields: tuple[str, float]) -> None:
    flow.needs(LINE)
    flow.at -= LINE
    canvas, x = flow.canvas, flow.left
    canvas.setFont(BOLD, 9)
    canvas.drawString(x, flow.at + 1.5, label)
    x += max(canvas.stringWidth(label, BOLD, 9) + 3 * mm, 20 * mm)
    canvas.setFont(PLAIN, 9)
    for choice in choices:
        flow.box(x, flow.at + 0.5, TICK)
        canvas.drawString(x + TICK + 1.2 * mm, flow.at + 1.5, choice)
        x += TICK + 1.2 * mm + canvas.stringWidth(choice, PLAIN, 9) + 4.5 * mm
    for name, _ in fields[:1]:
        flow.blank(name, Box(x, flow.at, flow.left + flow.width - x, LINE), 9)


def _questions(flow: Flow, questions: Sequence[AskedCard], reader: Reader) -> None:
    flow.space(4 * mm)
    flow.write(Words("Ask whoever brought it", 12, BOLD), keep=30 * mm)
    lede = "The two marked ASK must be asked: silence there can kill a person or the colony. No tick counts as nobody knows."
    flow.write(Words(lede, 8.5))
    flow.rule(0.6)
    for question in questions:
        _question(flow, question, reader)


def _question(flow: Flow, question: AskedCard, reader: Reader) -> None:
    wide = flow.width - sum(THREE_WIDE) - 3 * mm
    text = f"ASK  {question.text}" if question.must_ask else question.text
    face = BOLD if question.must_ask else PLAIN
    asked = [(face, 9.5, part) for part in lines_of(text, face, 9.5, wide)]
    notes = [f"Yes: {say(question.if_yes, reader)}.", f"Nobody knows: {say(question.if_unknown, reader)}."]
    below = [(PLAIN, 7.0, part) for note in notes for part in lines_of(note, PLAIN, 7.0, flow.width - 4 * mm)]
    flow.needs(THREE_HIGH + sum(size * LEADING for _, size, _ in (*asked, *below)) + 3 * mm)
    x, y = flow.left + wide + 3 * mm, flow.at - 5 * mm
    least = flow.at - THREE_HIGH
    for words, across in zip(THREE, THREE_WIDE, strict=True):
        flow.box(x, y, TICK)
        flow.canvas.setFont(PLAIN, 8.5)
        flow.canvas.drawString(x + TICK + 1 * mm, y + 1.5, words)
        x += across
    for number, (face, size, part) in enumerate((*asked, *below)):
        if number == len(asked):
            flow.at = min(flow.at, least)
        flow.at -= size * LEADING
        flow.canvas.setFont(face, size)
        flow.canvas.drawString(flow.left + (4 * mm if size < 8 else 0), flow.at + 2, part)
    flow.at -= 1 * mm
    flow.rule(0.3)


def _signatures(flow: Flow) -> None:
    flow.space(2 * mm)
    flow.write(Words(SIGNED, 8.5), keep=LINE * 1.5)
    flow.at -= 3 * mm
    _blanks(flow, flow.width, ("Brought by (signature)", 0.5), ("Taken in by", 0.5))


def _cautions(flow: Flow, card: IntakeFormCard, reader: Reader) -> None:
    flow.space(4 * mm)
    lines = [Words(f"{say(c.hazard, reader)} {say(c.do, reader)}", 8) for c in card.cautions if c.key != DEFER]
    flow.write(Words("Before you touch it", 10, BOLD), keep=12 * mm)
    for line in lines:
        flow.write(line)
        flow.space(0.6 * mm)
