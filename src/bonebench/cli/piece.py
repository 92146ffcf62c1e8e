"""A piece with the beetles on the command line: write down how it looks, smells and what it weighs."""

import click

from bonebench.cli.face import about_option, answer, at_option, book_option, faults, json_option, session, who_option
from bonebench.cli.specimen import commands


@commands.command("look")
@click.argument("tag")
@click.option("--grade", help="hardly touched, eaten into, half gone, crevices left or bare.")
@click.option("--smell", help="0 none, 1 faint, 2 strong, 3 foul.")
@click.option("--mass", help="What it weighs now: 412 g; before it goes in, trimmed, and whenever it comes out.")
@at_option
@about_option
@who_option
@book_option
@json_option
def look_command(
    tag: str, grade: str | None, smell: str | None, mass: str | None, at_time: str | None, about: str | None, who: str | None,
    book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Write down how a piece with the beetles looks, smells or weighs, and show when to look again."""
    from bonebench.cli.piecewords import piece_or_whole

    with faults(as_json, "specimen.show/1"), session(book, who) as at:
        at.door.note_piece(tag, grade=grade, smell=smell, mass=mass, at=at_time, about=about)
        answer(at.door.specimen(tag), as_json=as_json, show=lambda c: piece_or_whole(c, at.reader, at.zone))
