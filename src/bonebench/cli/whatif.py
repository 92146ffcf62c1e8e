"""What would be otherwise, on the command line: changes of a file beside the room as it is."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, faults, how_far, session

if TYPE_CHECKING:
    from bonebench.services.what_if.cards import SideCard, WhatIfCard
    from bonebench.units import Reader

commands = click.Group("what-if", help="Changes of the room to plan for: `plan --what-if FILE` lays them side by side.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands)


@commands.command("example")
def example_command() -> None:
    """Write a complete what-if file with words beside each line."""
    from bonebench.files.whatif_toml import example

    click.echo(example(), nl=False)


def lay_side_by_side(file: Path, moves: int | None, book: str | None, *, as_json: bool) -> None:
    """Plan the room as it is and once for each change of a file, and print them side by side."""
    from bonebench.files.whatif_toml import read_what_if
    from bonebench.services.what_if.do import MOVES
    from bonebench.services.what_if.long import as_asked, for_long, work_out

    with faults(as_json, "plan.what-if/1"), session(book) as at:
        asked = as_asked(read_what_if(file), MOVES if moves is None else moves)
        at.door.make_current(at.door.now())
        long = at.door.read(lambda tx, now: for_long(tx, now, asked))
        answer(work_out(long, how_far), as_json=as_json, show=lambda c: what_if_text(c, at.reader))


def what_if_text(card: "WhatIfCard", reader: "Reader") -> str:
    """Return the sides as a table, then each change in words with the pieces it moves."""
    from bonebench.cli.words import basis_lines, caution_lines, flag_lines
    from bonebench.units import say

    head = ("", "late", "late days", "no time", "last through", "mean days", "cost from now on")
    rows = [head, *(_row(side, reader) for side in card.sides)]
    widths = [max(len(row[n]) for row in rows) for n in range(len(head))]
    lines = ["  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    for side in card.sides[1:]:
        lines += ["", f"{side.name}: {'; '.join(say(one, reader) for one in side.changes)}"]
        lines += [f"  {say(side.verdict, reader)}"] if side.verdict is not None else []
        lines += [f"  {say(side.cost.compared, reader)}"] if side.cost.compared is not None else []
        lines += [f"  {say(one.words, reader)}" for one in side.moved]
        if side.moved_pieces > len(side.moved):
            lines.append(f"  and {side.moved_pieces - len(side.moved)} more move less")
    lines += ["", "What each uses from now on:"]
    for side in card.sides:
        lines += [f"  {side.name}: {'; '.join(say(one.words, reader) for one in side.cost.lines) or 'nothing'}"]
    lines += ["", f"{card.pieces} pieces in work, {card.expected} more expected meanwhile as in the last year"]
    return "\n".join([*lines, *flag_lines(card.flags, reader), "Rests on:", *basis_lines(card.basis),
                      *caution_lines(card.cautions, reader)])  # fmt: skip


def _row(side: "SideCard", reader: "Reader") -> tuple[str, ...]:
    from bonebench.cli.words import day
    from bonebench.units import say

    mean = "-" if side.mean_days is None else f"{side.mean_days:.1f}"
    return (
        side.name, str(side.late_pieces), f"{side.late_days:g}", str(side.no_time), day(side.last_through, reader), mean,
        say(side.cost.words, reader),
    )  # fmt: skip
