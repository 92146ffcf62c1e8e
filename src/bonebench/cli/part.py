"""Parts on the command line: list, add, move, join, take a sample, send away; and which baths a part may enter."""

from collections.abc import Callable
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from bonebench.cli.face import about_option, answer, at_option, book_option, faults, json_option, session, who_option

if TYPE_CHECKING:
    from bonebench.records.book import Reading
    from bonebench.services.parts.do import ToWrite

commands = click.Group("part", help="Parts of a specimen: where each is, put it elsewhere or back, take samples.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands, "part")


class Face(TypedDict):
    """What every command that writes an entry is given beside its own words."""

    at_time: str | None
    about: str | None
    who: str | None
    book: str | None
    as_json: bool


def writes(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of one that writes an entry: when, who, which book, JSON."""
    for option in (json_option, book_option, who_option, about_option, at_option):
        command = option(command)
    return command


def note(asked: "Callable[[Reading], ToWrite]", face: Face) -> None:
    """Store one entry about a part, the condition or a mark, and say how it went."""
    from bonebench.cli.words import logged_text

    with faults(face["as_json"], "specimen.log/1"), session(face["book"], face["who"]) as at:
        card = at.door.note_part(asked, at=face["at_time"], about=face["about"])
        answer(card, as_json=face["as_json"], show=lambda c: logged_text(c, at.reader))


@commands.command("list")
@click.argument("tag")
@book_option
@json_option
def list_command(tag: str, book: str | None, as_json: bool) -> None:
    """List the parts of a specimen, each with its place."""
    from bonebench.cli.partwords import parts_text

    with faults(as_json, "part.list/1"), session(book) as at:
        answer(at.door.parts(tag), as_json=as_json, show=lambda c: parts_text(c, at.reader))


@commands.command("may")
@click.argument("part")
@click.option("--into", "place", help="A place of this room: refused in words where the part stays out of it.")
@book_option
@json_option
def may_command(part: str, place: str | None, book: str | None, as_json: bool) -> None:
    """Say which baths a part may enter, why, and what to do instead."""
    from bonebench.cli.partwords import ways_text
    from bonebench.services.parts.do import ways

    with faults(as_json, "part.may/1"):
        if place is None:
            answer(ways(part), as_json=as_json, show=ways_text)
            return
        with session(book) as at:
            answer(at.door.part_ways(part, place), as_json=as_json, show=ways_text)


@commands.command("add")
@click.argument("tag")
@click.argument("part")
@writes
def add_command(tag: str, part: str, **face: Unpack[Face]) -> None:
    """Keep track of a part from now on: antlers taken off, loose teeth in a jar, a whole skeleton."""
    from bonebench.services.parts.do import add

    note(lambda tx: add(tx, tag, part), face)


@commands.command("move")
@click.argument("tag")
@click.argument("part")
@click.option("--to", "place", required=True, help="The place it was put in, by key or name.")
@writes
def move_command(tag: str, part: str, place: str, **face: Unpack[Face]) -> None:
    """Say that a part was put somewhere by itself; a bath it stays out of is flagged, never refused."""
    from bonebench.services.parts.do import move

    note(lambda tx: move(tx, tag, part, place), face)


@commands.command("join")
@click.argument("tag")
@click.argument("part")
@click.option("--to", "host", help="The part it is on; the skull unless said.")
@writes
def join_command(tag: str, part: str, host: str | None, **face: Unpack[Face]) -> None:
    """Say that a part is back with the rest: from now on it goes where that goes."""
    from bonebench.services.parts.do import join

    note(lambda tx: join(tx, tag, part, host), face)


@commands.command("sample")
@click.argument("tag")
@click.option("--for", "purpose", default="", help="What it is for: DNA, isotopes, a disease test.")
@click.option("--of", "tissue", default="", help="Which tissue: muscle, tongue, tooth root.")
@click.option("--in", "place", help="Where the vial was put.")
@click.option("--vial", "vial", help="What the vial is called; sample, sample 2, ... unless said.")
@click.option("--note", "text")
@writes
def sample_command(
    tag: str,
    purpose: str,
    tissue: str,
    place: str | None,
    vial: str | None,
    text: str | None,
    **face: Unpack[Face],
) -> None:
    """Say that a sample was taken into a vial; one taken after a bath is flagged."""
    from bonebench.services.parts.do import Vial, sample

    taken = Vial(purpose, tissue, place, vial, text)
    note(lambda tx: sample(tx, tag, taken), face)


@commands.command("send")
@click.argument("tag")
@click.argument("part")
@click.option("--to", "to", required=True, help="Where it went: a laboratory, the owner.")
@click.option("--note", "text")
@writes
def send_command(
    tag: str,
    part: str,
    to: str,
    text: str | None,
    **face: Unpack[Face],
) -> None:
    """Say that a part left the room, and where it went."""
    from bonebench.services.parts.do import send

    note(lambda tx: send(tx, tag, part, to, text), face)
