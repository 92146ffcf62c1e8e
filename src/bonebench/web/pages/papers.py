"""Print: what goes on paper, and the pencil sheet that comes back from it."""

from collections.abc import Callable, Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from bonebench.door import Choice
from bonebench.door.printing import care_card_at, intake_form_at, labels_at, pencil_sheet_at, worksheet_at
from bonebench.errors import BonebenchError, NotAQuantity
from bonebench.papers.advice import LABEL_ADVICE
from bonebench.papers.prints import HOLES, KINDS, LabelJob, Printed, usual_stock
from bonebench.papers.sheets import Printing, read_nudge_mm
from bonebench.papers.stocks import PAPERS_MM, STOCKS
from bonebench.said import Said
from bonebench.services.prints.cards import TypedBackCard
from bonebench.services.specimens.intake import read_day
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, show

router = APIRouter(include_in_schema=False)


def _page(request: Request, form: Mapping[str, str], error: Said | None = None, could_be: tuple[str, ...] = ()) -> Response:
    door = door_of(request)
    reader = door.reader()
    context: dict[str, Any] = {
        "form": dict(form), "error": error, "could_be": could_be, "kinds": KINDS, "stocks": tuple(STOCKS.values()), "holes": HOLES,
        "papers": tuple(PAPERS_MM), "usual": usual_stock(form.get("kind") or "specimen", reader), "advice": LABEL_ADVICE,
        "places": [(place.key, place.name) for place in door.room().places], "sheets": door.last_sheets(),
        "rolls": [(roll.roll, f"{roll.roll}: {roll.count} tags, {roll.used} used") for roll in door.tags().rolls],
        "cautions": door.print_cautions(),
    }  # fmt: skip
    return show(request, "print", "print.html", status=200 if error is None else 422, **context)


def _pdf(request: Request, form: Mapping[str, str], make: Callable[[], Printed]) -> Response:
    """Answer with the paper, or with the page again and what is wrong on it; nothing typed is lost."""
    try:
        printed = make()
    except BonebenchError as fault:
        return _page(request, form, fault.said, getattr(fault, "could_be", ()))
    name = f"{printed.card.what}-{printed.card.sheet or 'bonebench'}.pdf"
    return Response(printed.pdf, media_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'})


@router.get("/print")
def print_page(request: Request) -> Response:
    """Show what can be printed; a link brings along which specimens or which place."""
    return _page(request, dict(request.query_params))


def _whole(form: Mapping[str, str], name: str, otherwise: int) -> int:
    text = form.get(name, "").strip()
    if not text:
        return otherwise
    try:
        return int(text)
    except ValueError:
        raise NotAQuantity("print.whole", "'{text}' is not a whole number; write it like 12", text=text) from None


def _job(request: Request, form: Mapping[str, str]) -> LabelJob:
    printing = Printing(
        start=_whole(form, "start", 1), nudge_right_mm=read_nudge_mm(form.get("right", "")),
        nudge_down_mm=read_nudge_mm(form.get("down", "")),
        outlines=bool(form.get("outlines")), demo=door_of(request).surface().demo,
    )  # fmt: skip
    return LabelJob(
        kind=form.get("kind") or "specimen", stock=form.get("stock", ""), paper=form.get("paper", ""),
        holes=form.get("holes") or "bare", parts=bool(form.get("parts")), printing=printing,
    )  # fmt: skip


def _labels(request: Request, form: Mapping[str, str], count: int) -> Printed:
    job, place = _job(request, form), form.get("place", "")
    tags = tuple(form.get("tags", "").replace(",", " ").split())
    choice = Choice(tags=tags, place=place or None, waiting=bool(form.get("waiting")), arrived=bool(form.get("arrived")))
    door = door_of(request)
    return labels_at(
        door, job, door.reader(), choice=choice, places=(place,) if place else (), count=count, roll=form.get("roll", ""),
        who=who_of(request),
    )  # fmt: skip


@router.get("/print/labels.pdf")
def labels(request: Request) -> Response:
    """Return labels of what there is: specimens, places, tags that were given out before, strips to try."""
    form = dict(request.query_params)
    return _pdf(request, form, lambda: _labels(request, form, 0))


# New tags are issued, and a sheet is kept: that is asked for by a form that is sent, never by a link.
@router.post("/print/new-tags")
async def new_tags(request: Request) -> Response:
    """Give out new tags and return their labels, their strips to punch, or intake forms that carry them."""
    form = {name: str(value) for name, value in (await request.form()).items()}
    return await run_in_threadpool(_pdf, request, form, lambda: _new_tags(request, form))


def _new_tags(request: Request, form: Mapping[str, str]) -> Printed:
    count = _whole(form, "count", 0)
    if form.get("kind") == "form":
        door = door_of(request)
        return intake_form_at(door, door.reader(), new_tags=count, paper=form.get("paper", ""))
    return _labels(request, form, count)


def _minutes(form: Mapping[str, str]) -> float | None:
    return float(_whole(form, "minutes", 0)) or None


@router.get("/print/worksheet.pdf")
def worksheet(request: Request) -> Response:
    """Return the day's work."""
    form, door = dict(request.query_params), door_of(request)

    def make() -> Printed:
        on = read_day(form.get("on"))
        return worksheet_at(door, door.reader(), on=on, minutes=_minutes(form), paper=form.get("paper", ""), who=who_of(request))

    return _pdf(request, form, make)


@router.post("/print/pencil-sheet")
async def pencil_sheet(request: Request) -> Response:
    """Keep the day's work as a sheet to be typed back, and return it."""
    form = {name: str(value) for name, value in (await request.form()).items()}
    door = door_of(request)

    def make() -> Printed:
        on = read_day(form.get("on"))
        return pencil_sheet_at(door, door.reader(), on=on, minutes=_minutes(form), paper=form.get("paper", ""), who=who_of(request))

    return await run_in_threadpool(_pdf, request, form, make)


@router.get("/print/intake-form.pdf")
def intake_form(request: Request) -> Response:
    """Return empty forms for the door."""
    form, door = dict(request.query_params), door_of(request)
    return _pdf(
        request, form, lambda: intake_form_at(door, door.reader(), copies=_whole(form, "copies", 1), paper=form.get("paper", ""))
    )


@router.get("/print/care-card.pdf")
def care_card(request: Request) -> Response:
    """Return what the owner of a specimen takes home."""
    form, door = dict(request.query_params), door_of(request)
    both = bool(form.get("room_copy"))
    return _pdf(
        request, form,
        lambda: care_card_at(door, door.reader(), form.get("tag", ""), room_copy=both, paper=form.get("paper", "")),
    )  # fmt: skip


def _typed_page(request: Request, sheet: str, text: str, card: TypedBackCard | None = None, error: Said | None = None) -> Response:
    door = door_of(request)
    printed = None
    if sheet and error is None:
        try:
            printed = door.sheet(sheet)
        except BonebenchError as fault:
            error = fault.said
    return show(
        request, "typed-back", "typed_back.html", status=200 if error is None else 422, sheet=sheet, text=text, card=card,
        printed=printed, error=error, sheets=door.last_sheets(),
    )  # fmt: skip


@router.get("/typed-back")
def typed_back_page(request: Request, sheet: str = "") -> Response:
    """Show where a pencil sheet is typed back, with what its letters mean."""
    return _typed_page(request, sheet.strip(), "")


@router.post("/typed-back")
def typed_back(request: Request, sheet: Annotated[str, Form()] = "", rows: Annotated[str, Form()] = "") -> Response:
    """Store what a pencil sheet says; what cannot be read stays in the field, in words why."""
    try:
        card = door_of(request).typed_back(sheet, rows, who_of(request))
    except BonebenchError as fault:
        return _typed_page(request, sheet, rows, error=fault.said)
    return _typed_page(request, card.sheet, card.again, card)
