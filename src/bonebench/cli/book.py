"""The book on the command line: new, check, backup, restore, rebuild."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_address, book_option, chance, faults, json_option, now

if TYPE_CHECKING:
    from bonebench.services.books import BookCard

commands = click.Group("book", help="Make a book, look whether it is whole, copy it, put a copy back, fold it again.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands, "book")


def _text(card: "BookCard") -> str:
    lines = [f"{card.where}: {card.entries} entries, {'whole' if card.whole else 'NOT WHOLE'}"]
    lines += [f"  fault: {fault}" for fault in card.faults]
    lines += [f"  {name:16} {count}" for name, count in card.counts.items()]
    lines += [f"! {flag.what}\n  -> {flag.next}" for flag in card.flags]
    if card.folded is not None:
        lines.append(f"folded again: {card.folded} subjects")
    return "\n".join(lines)


@commands.command("new")
@click.option("--name", "name", default="Bone room", show_default=True, help="What the room is called.")
@click.option("--zone", "zone", default="UTC", show_default=True, help="IANA time zone of the room, such as America/Chicago.")
@click.option("--units", "units", default="metric", show_default=True, help="metric or us.")
@book_option
@json_option
def new_command(name: str, zone: str, units: str, book: str | None, as_json: bool) -> None:
    """Make a new book, with one place of each kind to begin from."""
    from bonebench.door import Door

    with faults(as_json, "book.check/1"), Door.make(
        book_address(book), name=name, zone=zone, units=units, clock=now, rng=chance(), writer="command line"
    ) as door:  # fmt: skip
        answer(door.check(), as_json=as_json, show=_text)


@commands.command("check")
@book_option
@json_option
def check_command(book: str | None, as_json: bool) -> None:
    """Look whether the book is whole."""
    from bonebench.cli.face import session

    with faults(as_json, "book.check/1"), session(book) as at:
        card = at.door.check()
        answer(card, as_json=as_json, show=_text)
        if not card.whole:
            raise click.exceptions.Exit(1)


@commands.command("backup")
@click.argument("to", type=click.Path(path_type=Path))
@book_option
@json_option
def backup_command(to: Path, book: str | None, as_json: bool) -> None:
    """Copy the book while others may write it, and check the copy."""
    from bonebench.cli.face import session

    with faults(as_json, "book.check/1"), session(book) as at:
        answer(at.door.backup(to), as_json=as_json, show=_text)


@commands.command("restore")
@click.argument("copy", type=click.Path(path_type=Path))
@click.option("--over", "over", is_flag=True, help="Replace the book that is there; it is kept beside.")
@book_option
@json_option
def restore_command(copy: Path, over: bool, book: str | None, as_json: bool) -> None:
    """Put a copy back as the book."""
    from bonebench.cli.face import session
    from bonebench.door import restore

    with faults(as_json, "book.check/1"):
        restore(copy, Path(book_address(book)), over=over)
        with session(book) as at:
            answer(at.door.check(), as_json=as_json, show=_text)


@commands.command("move")
@click.argument("to")
@book_option
@json_option
def move_command(to: str, book: str | None, as_json: bool) -> None:
    """Carry the whole book to another file or postgresql:// address TO; this one stays."""
    from bonebench.cli.face import session

    with faults(as_json, "book.check/1"), session(book) as at:
        answer(at.door.move(to), as_json=as_json, show=_text)


@commands.command("rebuild")
@book_option
@json_option
def rebuild_command(book: str | None, as_json: bool) -> None:
    """Fold the whole log again; the entries stay as they are."""
    from bonebench.cli.face import session

    with faults(as_json, "book.check/1"), session(book) as at:
        answer(at.door.rebuild(), as_json=as_json, show=_text)
