"""Papers on the command line: labels, the day's work, the pencil sheet and its way back, forms and cards."""

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from bonebench.cli.face import Session, answer, book_option, faults, json_option, read_day, session, who_option

if TYPE_CHECKING:
    from bonebench.papers.prints import Printed
    from bonebench.services.prints.cards import PrintedCard, TypedBackCard, TypedRow
    from bonebench.units import Reader

commands = click.Group("print", help="Print labels, the day's work, a pencil sheet, an intake form, a care card: a PDF file.")
STDOUT = "-"

_OPTIONS = (
    click.option("--paper", "paper", default="", help="a4 or letter; what the room's units suggest, unless said."),
    click.option("--out", "out", required=True, help="The PDF file to write; - for standard output."),
    click.option("--replace", "over", is_flag=True, help="Write over a file of that name."),
    who_option,
    book_option,
    json_option,
)
_DAY = (
    click.option("--on", "on", help="Another day, such as 2026-05-09."),
    click.option("--minutes", "minutes", type=click.FloatRange(min=1), help="The best of the work that fits into so many minutes."),
)
Command = TypeVar("Command", bound=Callable[..., Any])


def _with(*options: Callable[[Command], Command]) -> Callable[[Command], Command]:
    """Give a command several options, in this order."""

    def give(command: Command) -> Command:
        for option in reversed(options):
            command = option(command)
        return command

    return give


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands, "print")
    app.add_command(typed_back_command)


def _keep(printed: "Printed", out: str, *, over: bool, as_json: bool, reader: "Reader") -> None:
    """Write the file, and say what was printed; the words go to standard error where the file goes to standard output."""
    card = replace(printed.card, file=None if out == STDOUT else str(out))
    if out == STDOUT:
        sys.stdout.buffer.write(printed.pdf)
        sys.stdout.buffer.flush()
        click.echo(_text(card, reader), err=True)
        return
    _write(Path(out), printed.pdf, over=over)
    answer(card, as_json=as_json, show=lambda c: _text(c, reader))


def _write(path: Path, pdf: bytes, *, over: bool) -> None:
    from bonebench.errors import FileFault

    try:
        with path.open("wb" if over else "xb") as file:
            file.write(pdf)
    except FileExistsError:
        raise FileFault("print.exists", "{path} is there already; choose another name, or say --replace", path=str(path)) from None
    except OSError as fault:
        raise FileFault(
            "print.unwritable", "{path} cannot be written: {why}", path=str(path), why=fault.strerror or "no reason given"
        ) from None


def _check_out(out: str, *, over: bool, as_json: bool) -> None:
    """Refuse before a tag is used up or a sheet is kept."""
    from bonebench.errors import FileFault

    if not out.strip():
        raise click.UsageError("--out wants the name of a file, or - for standard output")
    if out == STDOUT and as_json:
        raise click.UsageError("--json and --out - both want standard output; name a file")
    if out != STDOUT and not over and Path(out).exists():
        raise FileFault("print.exists", "{path} is there already; choose another name, or say --replace", path=out)


def _text(card: "PrintedCard", reader: "Reader") -> str:
    from bonebench.cli.words import flag_lines
    from bonebench.units import say

    pages = "1 page" if card.pages == 1 else f"{card.pages} pages"
    labels = f", {card.labels} labels on {card.stock}" if card.stock else ""
    lines = [f"{card.what}: {pages}{labels}" + (f", {card.file}" if card.file else "")]
    if card.next_start is not None and card.next_start > 1:
        lines.append(f"the last sheet goes on at label {card.next_start}: --start {card.next_start}")
    if card.sheet is not None:
        lines.append(f'sheet {card.sheet}; type it back with: bonebench typed-back {card.sheet} "3 b, 5 a at 14:30"')
    lines += flag_lines(card.flags, reader)
    lines += [say(line, reader) for line in card.advice]
    return "\n".join(lines)


def _run(out: str, *, over: bool, as_json: bool, book: str | None, who: str | None, make: Callable[[Session], "Printed"]) -> None:
    with faults(as_json, "print/1"):
        _check_out(out, over=over, as_json=as_json)
        with session(book, who) as at:
            _keep(make(at), out, over=over, as_json=as_json, reader=at.reader)


@commands.command("labels")
@click.argument("tags", nargs=-1)
@click.option("--kind", "kind", default="specimen", show_default=True, help="specimen, jar, place, blank, strip, test or guide.")
@click.option("--place", "place", multiple=True, help="All that sits in this place; for --kind place, which places.")
@click.option("--waiting", is_flag=True, help="All that waits: in the freezer, on hold, or between two steps.")
@click.option("--today", "arrived", is_flag=True, help="All that came in today.")
@click.option("--count", "count", type=int, default=0, help="How many new tags: for blank and strip.")
@click.option("--roll", "roll", default="", help="With --count, its name for the new tags; without, which one to print again.")
@click.option("--parts", "parts", is_flag=True, help="One label for each part.")
@click.option("--stock", "stock", default="", help="Which label sheet or roll; `print stocks` lists them.")
@click.option("--start", "start", type=int, default=1, show_default=True, help="The first free label of a used sheet.")
@click.option("--right", "right", default="0 mm", show_default=True, help="Nudge the print to the right; -1 mm is to the left.")
@click.option("--down", "down", default="0 mm", show_default=True, help="Nudge the print down; -1 mm is up.")
@click.option("--outlines", is_flag=True, help="Draw the labels' edges, to hold a print on plain paper against the sheet.")
@click.option("--holes", "holes", default="bare", show_default=True, help="For strip: read with a bare or a gloved finger.")
@_with(*_OPTIONS)
def labels_command(
    tags: tuple[str, ...], kind: str, place: tuple[str, ...], waiting: bool, arrived: bool, count: int, roll: str, parts: bool,
    stock: str, start: int, right: str, down: str, outlines: bool, holes: str, paper: str, out: str, over: bool, who: str | None,
    book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Print labels of specimens by their TAGS, a place, all that waits or came in today; of places; of new tags."""
    from bonebench.door import Choice
    from bonebench.door.printing import labels_at
    from bonebench.papers.prints import LabelJob
    from bonebench.papers.sheets import Printing, read_nudge_mm

    def make(at: Session) -> "Printed":
        printing = Printing(
            start=start,
            nudge_right_mm=read_nudge_mm(right),
            nudge_down_mm=read_nudge_mm(down),
            outlines=outlines,
            demo=at.door.surface().demo,
        )
        job = LabelJob(kind=kind, stock=stock, paper=paper, holes=holes, parts=parts, printing=printing)
        choice = Choice(tags=tags, place=place[0] if place else None, waiting=waiting, arrived=arrived)
        return labels_at(at.door, job, at.reader, choice=choice, places=place, count=count, roll=roll)

    _run(out, over=over, as_json=as_json, book=book, who=who, make=make)


@commands.command("stocks")
@json_option
def stocks_command(as_json: bool) -> None:
    """List the label sheets and rolls there are."""
    from bonebench.papers.stocks import STOCKS

    if as_json:
        import json

        rows = [{"key": s.key, "title": s.title, "labels": s.a_sheet, "width_mm": s.width_mm, "height_mm": s.height_mm}
                for s in STOCKS.values()]  # fmt: skip
        click.echo(json.dumps({"schema": "print.stocks/1", "rows": rows, "basis": [], "flags": [], "cautions": []}))
        return
    click.echo("\n".join(f"{stock.key:24} {stock.title}, {stock.a_sheet} a sheet" for stock in STOCKS.values()))


@commands.command("worksheet")
@_with(*_DAY, *_OPTIONS)
def worksheet_command(
    on: str | None, minutes: float | None, paper: str, out: str, over: bool, who: str | None, book: str | None, as_json: bool
) -> None:
    """Print the day's work: in order, a box to tick, the cautions where the hand is."""
    from bonebench.door.printing import worksheet_at

    _run(out, over=over, as_json=as_json, book=book, who=who,
         make=lambda at: worksheet_at(at.door, at.reader, on=read_day(on), minutes=minutes, paper=paper))  # fmt: skip


@commands.command("pencil-sheet")
@_with(*_DAY, *_OPTIONS)
def pencil_sheet_command(
    on: str | None, minutes: float | None, paper: str, out: str, over: bool, who: str | None, book: str | None, as_json: bool
) -> None:
    """Print the day's work as numbered rows to circle, which `typed-back` takes: "3 b, 5 a at 14:30"."""
    from bonebench.door.printing import pencil_sheet_at

    _run(out, over=over, as_json=as_json, book=book, who=who,
         make=lambda at: pencil_sheet_at(at.door, at.reader, on=read_day(on), minutes=minutes, paper=paper))  # fmt: skip


@commands.command("intake-form")
@click.option("--copies", "copies", type=int, default=1, show_default=True)
@click.option("--new-tags", "new_tags", type=int, default=0, help="One form for each of so many new tags, which stand on them.")
@_with(*_OPTIONS)
def intake_form_command(
    copies: int, new_tags: int, paper: str, out: str, over: bool, who: str | None, book: str | None, as_json: bool
) -> None:
    """Print the form that is filled in by pencil at the door."""
    from bonebench.door.printing import intake_form_at

    _run(out, over=over, as_json=as_json, book=book, who=who,
         make=lambda at: intake_form_at(at.door, at.reader, copies=copies, new_tags=new_tags, paper=paper))  # fmt: skip


@commands.command("care-card")
@click.argument("tag")
@click.option("--room-copy", "room_copy", is_flag=True, help="A second page for the room to keep.")
@_with(*_OPTIONS)
def care_card_command(
    tag: str, room_copy: bool, paper: str, out: str, over: bool, who: str | None, book: str | None, as_json: bool
) -> None:
    """Print what the owner of a specimen takes home."""
    from bonebench.door.printing import care_card_at

    _run(out, over=over, as_json=as_json, book=book, who=who,
         make=lambda at: care_card_at(at.door, at.reader, tag, room_copy=room_copy, paper=paper))  # fmt: skip


@click.command("typed-back")
@click.argument("sheet")
@click.argument("rows", nargs=-1)
@who_option
@book_option
@json_option
def typed_back_command(sheet: str, rows: tuple[str, ...], who: str | None, book: str | None, as_json: bool) -> None:
    """Store what a pencil SHEET says: ROWS such as "3 b, 5 d4, 7 a at 14:30"; without ROWS, show what its letters mean."""
    with faults(as_json, "typed-back/1" if rows else "sheet/1"), session(book, who) as at:
        if rows:
            card = at.door.typed_back(sheet, " ".join(rows))
            answer(card, as_json=as_json, show=lambda c: _typed_text(c, at))
        else:
            answer(at.door.sheet(sheet), as_json=as_json, show=_sheet_text)


def _sheet_text(card: Any) -> str:
    lines = [f"sheet {card.number} of {card.day}"]
    for row in card.rows:
        lines.append(f"{row.row:3} {row.about}")
        lines.append("    " + ", ".join(f"{mark.code} {mark.label}" for mark in row.marks))
    return "\n".join(lines)


def _typed_text(card: "TypedBackCard", at: Session) -> str:
    from bonebench.units import say

    lines = [f"sheet {card.sheet} of {card.day}: {len(card.rows)} read, {len(card.unread)} not"]
    lines += [f"{row.row:3} {row.code:3} {row.stored:14} {_when(row, at):18} {row.label}: {row.about}" for row in card.rows]
    lines += [f"not stored: {one.text}: {say(one.why, at.reader)}" for one in card.unread]
    return "\n".join(lines)


def _when(row: "TypedRow", at: Session) -> str:
    from zoneinfo import ZoneInfo

    first, last = (moment.astimezone(ZoneInfo(at.zone)) for moment in (row.earliest, row.latest))
    return f"{last:%Y-%m-%d %H:%M}" if first == last else f"{last:%Y-%m-%d}, about"
