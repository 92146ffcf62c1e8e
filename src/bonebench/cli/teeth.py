"""Teeth on the command line: the chart of a specimen, single teeth, the jar."""

import click

from bonebench.cli.face import about_option, answer, at_option, book_option, faults, json_option, session, who_option
from bonebench.cli.specimen import commands

HELP_OF_CODES = (
    "Codes: U or L for the jaw, R or L for the animal's own side, then the tooth. ULP4 is the upper left fourth premolar, LRC the"
    " lower right canine, URdI1 a milk tooth. Triadan digits (208) are read too."
)


def register(app: click.Group) -> None:
    """Add these commands to those of specimens."""
    del app
    for command in (teeth_command, tooth_command, jar_command):
        commands.add_command(command)


@click.command("teeth")
@click.argument("tag")
@book_option
@json_option
def teeth_command(tag: str, book: str | None, as_json: bool) -> None:
    """Show the teeth of a specimen: its formula, each tooth, the jar, and what does not add up."""
    from bonebench.cli.toothwords import teeth_text

    with faults(as_json, "specimen.teeth/1"), session(book) as at:
        answer(at.door.teeth(tag), as_json=as_json, show=lambda c: teeth_text(c, at.reader))


@click.command("tooth", epilog=HELP_OF_CODES)
@click.argument("tag")
@click.argument("codes", nargs=-1)
@click.option("--state", help="in place, loose, in the jar, glued, chipped, missing before intake, missing now.")
@click.option("--rest", help="The state of all the others, such as 'in place'.")
@at_option
@about_option
@who_option
@book_option
@json_option
def tooth_command(
    tag: str,
    codes: tuple[str, ...],
    state: str | None,
    rest: str | None,
    at_time: str | None,
    about: str | None,
    who: str | None,
    book: str | None,
    as_json: bool,
) -> None:
    """Say how one tooth is, or several, or all the others."""
    from bonebench.cli.toothwords import told_text
    from bonebench.door import TeethTold

    if codes and not state:
        raise click.UsageError("say how they are: --state loose")
    if not codes and not rest:
        raise click.UsageError("name the teeth, such as ULP4, or say --rest 'in place'")
    asked = TeethTold(tag=tag, marks=dict.fromkeys(codes, state or ""), rest=rest, at=at_time, about=about)
    with faults(as_json, "specimen.tooth/1"), session(book, who) as at:
        answer(at.door.tell_teeth(asked), as_json=as_json, show=lambda c: told_text(c, at.reader))


@click.command("jar")
@click.argument("tag")
@click.option("--count", "count", help="How many teeth were counted in the jar.")
@click.option("--in", "put_in", help="How many were put in.")
@click.option("--out", "taken_out", help="How many were taken out.")
@at_option
@about_option
@who_option
@book_option
@json_option
def jar_command(
    tag: str,
    count: str | None,
    put_in: str | None,
    taken_out: str | None,
    at_time: str | None,
    about: str | None,
    who: str | None,
    book: str | None,
    as_json: bool,
) -> None:
    """Count the teeth in the jar of a specimen, or say how many went in or out."""
    from bonebench.cli.toothwords import told_text
    from bonebench.door import TeethTold

    if sum(one is not None for one in (count, put_in, taken_out)) != 1:
        raise click.UsageError("say one of --count, --in and --out")
    by = put_in if taken_out is None else f"-{taken_out.strip()}"
    asked = TeethTold(tag=tag, jar=count, jar_by=by, at=at_time, about=about)
    with faults(as_json, "specimen.tooth/1"), session(book, who) as at:
        answer(at.door.tell_teeth(asked), as_json=as_json, show=lambda c: told_text(c, at.reader))
