"""What a face prints in one call: gather through the door, draw, and say what was printed.

A module of its own that nothing of the door imports: what draws PDFs is loaded by those who print, and by nobody else.
"""

from collections.abc import Sequence
from datetime import date

from bonebench.door.door import Door
from bonebench.errors import Impossible
from bonebench.papers.carecard import care_card_pdf
from bonebench.papers.intakeform import intake_forms_pdf
from bonebench.papers.pencilsheet import pencil_sheet_pdf
from bonebench.papers.prints import USUAL_PAPER, LabelJob, Printed, known_kind, pages_of, print_labels, printed_card, unset_flags
from bonebench.papers.worksheet import worksheet_pdf
from bonebench.services.prints.choose import Choice
from bonebench.shop.identity import tag_from_number
from bonebench.units import Reader

NOBODY = Choice()


def labels_at(
    door: Door, job: LabelJob, reader: Reader, *, choice: Choice = NOBODY, places: Sequence[str] = (), count: int = 0,
    roll: str = "", who: str | None = None,
) -> Printed:  # fmt: skip
    """Print labels: of the specimens chosen, of places, or of ``count`` new tags, which are issued by it."""
    cautions, kind = door.print_cautions(), known_kind(job.kind)
    if kind == "place":
        if choice.tags:
            raise Impossible("print.place_tags", "{tags} are tags of specimens; for the label of a place name the place",
                             tags=" ".join(choice.tags))  # fmt: skip
        return print_labels(job, reader, cautions, places=door.places_labelled(places))
    if kind in ("test", "guide"):
        return print_labels(job, reader, cautions)
    if kind == "blank" or (kind == "strip" and (count or roll)):
        if choice.tags and not count:
            # Tags of a block that is lost: the same ones once more, whether somebody uses them yet or not.
            return print_labels(job, reader, cautions, tags=choice.tags)
        if roll and not count:
            return print_labels(job, reader, cautions, tags=door.tags_of_roll(roll))
        if not count:
            raise Impossible("print.count", "say how many new tags there are to be, or which roll or tags to print again")
        # What cannot be printed is refused before a tag is given out for it.
        print_labels(job, reader, cautions, tags=(_any_tag(),))
        return print_labels(job, reader, cautions, tags=door.issue_tags(count, roll or None, who).tags)
    return print_labels(job, reader, cautions, specimens=door.labelled(choice))


def _any_tag() -> str:
    return next(tag for tag in map(tag_from_number, range(100)) if tag is not None)


def worksheet_at(
    door: Door, reader: Reader, *, on: date | None = None, minutes: float | None = None, paper: str = "", who: str | None = None
) -> Printed:
    """Print the day's work."""
    card = door.today(on=on, minutes=minutes, who=who)
    pdf = worksheet_pdf(card, reader, paper or USUAL_PAPER[reader.system])
    tags = tuple(task.specimen for task in card.tasks if task.specimen is not None)
    return Printed(pdf, printed_card("worksheet", pages_of(pdf), card.cautions, tags=tags, demo=card.demo))


def pencil_sheet_at(
    door: Door, reader: Reader, *, on: date | None = None, minutes: float | None = None, paper: str = "", who: str | None = None
) -> Printed:
    """Keep and print the day's work as a sheet to be typed back."""
    demo, paper = door.surface().demo, paper or USUAL_PAPER[reader.system]
    kept = door.pencil_sheet(on=on, minutes=minutes, who=who)
    pdf = pencil_sheet_pdf(kept.card, kept.tasks, reader, paper, demo=demo)
    tags = tuple(task.specimen for task in kept.tasks if task.specimen is not None)
    card = printed_card("pencil-sheet", pages_of(pdf), door.print_cautions()[-1:], tags=tags, sheet=kept.card.number, demo=demo)
    return Printed(pdf, card)


def intake_form_at(door: Door, reader: Reader, *, copies: int = 1, new_tags: int = 0, paper: str = "") -> Printed:
    """Print forms for the door, empty ones or one for each of so many new tags."""
    demo, card, paper = door.surface().demo, door.intake_form(), paper or USUAL_PAPER[reader.system]
    # What cannot be printed is refused before a tag is given out for it.
    pdf = intake_forms_pdf(card, reader, paper, copies=new_tags or copies, demo=demo)
    tags = door.issue_tags(new_tags).tags if new_tags else ()
    if tags:
        pdf = intake_forms_pdf(card, reader, paper, tags=tags, demo=demo)
    return Printed(pdf, printed_card("intake-form", pages_of(pdf), card.cautions, tags=tags, demo=demo))


def care_card_at(door: Door, reader: Reader, tag: str, *, room_copy: bool = False, paper: str = "") -> Printed:
    """Print what the owner of a specimen takes home."""
    demo, card = door.surface().demo, door.care_card(tag)
    pdf = care_card_pdf(card, reader, paper or USUAL_PAPER[reader.system], room_copy=room_copy, demo=demo)
    flags = unset_flags(card.owner, card.permit or "", card.room)
    return Printed(pdf, printed_card("care-card", pages_of(pdf), card.cautions, tags=(card.tag,), demo=demo, flags=flags))
