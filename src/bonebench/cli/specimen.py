"""Specimens on the command line: add, list, show, log, undo."""

import click

from bonebench.cli.face import about_option, answer, at_option, book_option, faults, json_option, session, who_option

commands = click.Group("specimen", help="Add a specimen, list them, show one, log what happened, take it back.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands, "specimen")


@commands.command("add")
@click.option("--species", "species", required=True, help="Common or scientific name.")
@click.option("--owner", "owner", help="Whose it is.")
@click.option("--live-mass", "live_mass", help="Of the live animal: 70 kg, 150 lb.")
@click.option("--head-mass", "head_mass", help="Of the head as it came in: 3.4 kg, 14 oz.")
@click.option("--sex", "sex")
@click.option("--age", "age")
@click.option("--condition", "condition", help="What was seen when it came in.")
@click.option("--finish", "finish", default="white", show_default=True, help="white or natural.")
@click.option("--measure", "measure", is_flag=True, help="It is to be measured for a score.")
@click.option("--permit", "permit", help="Number of the permit or tag.")
@click.option("--promised", "promised", help="Day it was promised for, such as 2026-06-01.")
@click.option("--tag", "tag", help="A tag in hand, off a printed roll; the next one is issued unless said.")
@click.option("--parts", "parts", help="Parts beside skull and mandible: antlers, horn sheaths.")
@click.option("--ask", "asked", multiple=True, help="An answer to a question at the door: bite=no, drug=unknown, salted=yes.")
@click.option("--arrived", "arrived", help="When it came in, if not now: yesterday, 2d, 2026-05-03.")
@who_option
@book_option
@json_option
def add_command(
    species: str,
    owner: str | None,
    live_mass: str | None,
    head_mass: str | None,
    sex: str | None,
    age: str | None,
    condition: str | None,
    finish: str,
    measure: bool,
    permit: str | None,
    promised: str | None,
    tag: str | None,
    parts: str | None,
    arrived: str | None,
    asked: tuple[str, ...],
    who: str | None,
    book: str | None,
    as_json: bool,
) -> None:
    """Take a specimen in: it gets a tag, a route and a date."""
    from bonebench.cli.words import added_text
    from bonebench.door import Intake

    intake = Intake(
        species=species, owner=owner, live_mass=live_mass, head_mass=head_mass, sex=sex, age=age, condition=condition,
        finish=finish, measure=measure, permit=permit, promised=promised, tag=tag, parts=parts, arrived=arrived,
        answers={key: text for key, _, text in (pair.partition("=") for pair in asked)},
    )  # fmt: skip
    with faults(as_json, "specimen.add/1"), session(book, who) as at:
        answer(at.door.add(intake), as_json=as_json, show=lambda c: added_text(c, at.reader))


@commands.command("list")
@click.option("--step", "step", help="Only those in or before this step.")
@click.option("--place", "place", help="Only those in this place.")
@click.option("--owner", "owner", help="Only those of this owner.")
@click.option("--late", "late", is_flag=True, help="Only those that will miss their promise.")
@book_option
@json_option
def list_command(step: str | None, place: str | None, owner: str | None, late: bool, book: str | None, as_json: bool) -> None:
    """List the specimens."""
    from bonebench.cli.words import list_text

    with faults(as_json, "specimen.list/1"), session(book) as at:
        card = at.door.specimens(step=step, place=place, owner=owner, late=late)
        answer(card, as_json=as_json, show=lambda c: list_text(c, at.reader))


@commands.command("find")
@click.argument("words", nargs=-1, required=True)
@book_option
@json_option
def find_command(words: tuple[str, ...], book: str | None, as_json: bool) -> None:
    """Find specimens by words of a tag, owner, species, place or note; every word must fit."""
    from bonebench.cli.words import found_text

    with faults(as_json, "specimen.find/1"), session(book) as at:
        answer(at.door.find(" ".join(words)), as_json=as_json, show=found_text)


@commands.command("show")
@click.argument("tag")
@book_option
@json_option
def show_command(tag: str, book: str | None, as_json: bool) -> None:
    """Show one specimen, whole."""
    from bonebench.cli.words import specimen_text

    with faults(as_json, "specimen.show/1"), session(book) as at:
        answer(at.door.specimen(tag), as_json=as_json, show=lambda c: specimen_text(c, at.reader, at.zone))


@commands.command("log")
@click.argument("tag")
@click.argument("kind")
@click.option("--set", "pairs", multiple=True, help="A value: place=big-pot, step=degrease, mass_kg=0.4.")
@click.option("--part", "part", multiple=True, help="Only this part, such as antlers.")
@at_option
@about_option
@click.option("--id", "entry_id", help="The entry's own id, for sending the same one again.")
@who_option
@book_option
@json_option
def log_command(
    tag: str,
    kind: str,
    pairs: tuple[str, ...],
    part: tuple[str, ...],
    at_time: str | None,
    about: str | None,
    entry_id: str | None,
    who: str | None,
    book: str | None,
    as_json: bool,
) -> None:
    """Log what happened to a specimen: moved, done, looked, problem, held, released, weighed, skipped, sent-back, gone, ..."""
    from bonebench.cli.words import logged_text

    with faults(as_json, "specimen.log/1"), session(book, who) as at:
        card = at.door.log(tag, kind, pairs or [], parts=part or [], at=at_time, about=about, entry_id=entry_id)
        answer(card, as_json=as_json, show=lambda c: logged_text(c, at.reader))


@commands.command("undo")
@click.argument("tag")
@click.option("--id", "entry_id", help="Which entry; the last one unless said.")
@who_option
@book_option
@json_option
def undo_command(tag: str, entry_id: str | None, who: str | None, book: str | None, as_json: bool) -> None:
    """Take the last entry about a specimen back."""
    from bonebench.cli.words import logged_text

    with faults(as_json, "specimen.log/1"), session(book, who) as at:
        answer(at.door.undo_last(tag, entry_id), as_json=as_json, show=lambda c: logged_text(c, at.reader))
