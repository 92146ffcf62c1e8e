"""What every command shares: its options, how an answer is printed, and how a fault becomes one line."""

import json
import os
import random
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from bonebench.errors import BonebenchError, InputError

if TYPE_CHECKING:
    from bonebench.door import Door, NoBook
    from bonebench.said import Said
    from bonebench.units import Reader

DEFAULT_BOOK = "bonebench.db"

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON document on standard output.")
book_option = click.option(
    "--book", help=f"The book: a file or a postgresql:// address. Default {DEFAULT_BOOK} here, or BONEBENCH_BOOK."
)
who_option = click.option("--who", help="Who did it, by name. Or BONEBENCH_WHO.")
at_option = click.option("--at", "at_time", help="When it happened, such as 2026-05-04T14:30 (the room's wall time).")
about_option = click.option("--about", help="About when: 2d ago, yesterday, this-morning, or a day such as 2026-05-04.")


def now() -> datetime:
    """Read the clock; only faces do."""
    return datetime.now(UTC)  # noqa: TID251  a face may read the clock


def book_address(named: str | None) -> str:
    """Return which book is meant."""
    return named or os.environ.get("BONEBENCH_BOOK") or DEFAULT_BOOK


@dataclass(frozen=True, slots=True)
class Session:
    """One command at work: the open book, the reader's units, the room's zone."""

    door: "Door"
    reader: "Reader"
    zone: str


def chance() -> random.Random:
    """Return the dice that ids are made with."""
    return random.Random(int.from_bytes(os.urandom(16), "big"))


@contextmanager
def shipped_or_book(book: str | None) -> Iterator["tuple[Door | NoBook, Reader]"]:
    """Open the book, or show what is shipped where there is none and none was named."""
    from bonebench.door import NoBook

    if book is None and "BONEBENCH_BOOK" not in os.environ and not Path(DEFAULT_BOOK).exists():
        nothing = NoBook(clock=now)
        yield nothing, nothing.reader()
    else:
        with session(book) as at:
            yield at.door, at.reader


@contextmanager
def session(book: str | None, who: str | None = None) -> Iterator[Session]:
    """Open the book for one command."""
    from bonebench.door import Door

    named = who or os.environ.get("BONEBENCH_WHO")
    with Door.open(book_address(book), clock=now, rng=chance(), writer="command line", who=named) as door:
        surface = door.surface()
        yield Session(door, surface.reader, surface.zone)


def read_day(text: str | None) -> date | None:
    """Read a day as it is written on the command line."""
    from bonebench.services.specimens.intake import read_day as read

    return read(text)


@contextmanager
def faults(as_json: bool, schema: str) -> Iterator[None]:
    """Turn what we raise on purpose into one line on standard error and exit 1; anything else is a bug and keeps its trace."""
    try:
        yield
    except BonebenchError as fault:
        if as_json:
            body = {"schema": schema, "error": {"key": fault.said.key, "text": fault.said.text, "path": fault.path}}
            print(json.dumps(body, ensure_ascii=False))
        print(" ".join(fault.said.text.split()), file=sys.stderr)
        raise click.exceptions.Exit(1) from None


def write_paper(where: Path, pdf: bytes) -> None:
    """Write a paper to a file, and say so where it does not get into the way of an answer."""
    try:
        where.write_bytes(pdf)
    except OSError as fault:
        raise InputError(
            "paper.unwritten", "{where} cannot be written: {why}; name a file in a folder that is there",
            where=str(where), why=fault.strerror or str(fault),
        ) from fault  # fmt: skip
    print(f"the sheet is in {where}", file=sys.stderr)


def how_far(share: float, words: "Said", partial: object = None) -> None:
    """Tell on standard error how far long work is."""
    del partial
    click.echo(f"{share:4.0%} {words.text}", err=True)


def answer(card: Any, *, as_json: bool, show: Callable[[Any], str]) -> None:
    """Print a card: as JSON for programs, as text for people."""
    if as_json:
        from bonebench.services.cards import as_json as plain

        print(json.dumps(plain(card), ensure_ascii=False))
    else:
        print(show(card))
