"""Condition, repairs, marks and retagging: more commands about one specimen."""

from collections.abc import Callable
from typing import Literal, Unpack

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session, who_option
from bonebench.cli.part import Face, note, writes
from bonebench.cli.specimen import commands

part_option = click.option("--part", "part", help="Which part; the whole unless said.")
where_option = click.option("--where", "where", default="", help="Where on it: left cheek, tip of the nose.")
note_option = click.option("--note", "text", help="A note of your own.")
photo_option = click.option("--photo", "photos", multiple=True, help="SHA-256 of a picture.")


def looks(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of what is seen on a piece: which part, where on it, a note, pictures."""
    for option in (writes, photo_option, note_option, where_option, part_option):
        command = option(command)
    return command


@commands.command("condition")
@click.argument("tag")
@click.argument("what")
@click.option("--as", "stage", type=click.Choice(["came", "here", "goes"]), default="here", show_default=True)
@looks
def condition_command(
    tag: str,
    what: str,
    stage: Literal["came", "here", "goes"],
    part: str | None,
    where: str,
    text: str | None,
    photos: tuple[str, ...],
    **face: Unpack[Face],
) -> None:
    """Say how a piece looks: whole, broken, cracked, chipped, hole, sawn, greasy, old glue, ... or a word of your own."""
    from bonebench.services.parts.do import Seen, condition

    seen = Seen(what, part, stage, where, text, photos)
    note(lambda tx: condition(tx, tag, seen), face)


@commands.command("repair")
@click.argument("tag")
@click.argument("how")
@click.option("--with", "adhesive", help="The glue: acrylic-in-acetone, epoxy, wax, ... or words of your own.")
@looks
def repair_command(
    tag: str,
    how: str,
    adhesive: str | None,
    part: str | None,
    where: str,
    text: str | None,
    photos: tuple[str, ...],
    **face: Unpack[Face],
) -> None:
    """Say what was mended: glued, filled, strengthened, pinned, wired, taken apart."""
    from bonebench.services.parts.do import Seen, repair

    seen = Seen(how, part, "here", where, text, photos, adhesive)
    note(lambda tx: repair(tx, tag, seen), face)


@commands.command("mark")
@click.argument("tag")
@click.argument("how")
@writes
def mark_command(tag: str, how: str, **face: Unpack[Face]) -> None:
    """Say what tells a piece from others in one vessel: bag, jar, "tag on"; or nothing."""
    from bonebench.services.parts.do import mark

    note(lambda tx: mark(tx, tag, how), face)


@commands.command("retag")
@click.argument("tag")
@click.option("--to", "to", help="The tag in hand; the next one is issued unless said.")
@who_option
@book_option
@json_option
def retag_command(tag: str, to: str | None, who: str | None, book: str | None, as_json: bool) -> None:
    """Put another tag on a specimen whose tag was lost or spoiled; the old one still leads to it."""
    from bonebench.cli.words import specimen_text

    with faults(as_json, "specimen.show/1"), session(book, who) as at:
        kept = at.door.retag(tag, to)
        card = at.door.specimen(kept.entries[0].what.tag)  # type: ignore[attr-defined]
        answer(card, as_json=as_json, show=lambda c: f"it carries {c.tag} now\n\n{specimen_text(c, at.reader, at.zone)}")
