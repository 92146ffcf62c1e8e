"""Species on the command line."""

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session, shipped_or_book, who_option

commands = click.Group("species", help="List species, show one with the standing of every value, or set the room's own.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands, "species")


@commands.command("list")
@click.argument("query", default="")
@book_option
@json_option
def list_command(query: str, book: str | None, as_json: bool) -> None:
    """List species; with QUERY those whose name holds it."""
    from bonebench.cli.words import species_list_text

    with faults(as_json, "species.list/1"), shipped_or_book(book) as (door, _):
        answer(door.species_list(query), as_json=as_json, show=species_list_text)


@commands.command("show")
@click.argument("name")
@book_option
@json_option
def show_command(name: str, book: str | None, as_json: bool) -> None:
    """Show one species."""
    from bonebench.cli.words import species_text

    with faults(as_json, "species.show/1"), shipped_or_book(book) as (door, reader):
        answer(door.species(name), as_json=as_json, show=lambda c: species_text(c, reader))


@commands.command("set")
@click.argument("name")
@click.option(
    "--set", "pairs", multiple=True, required=True, help="body_mass_kg=60, grease_class=3; for a new one also like=coyote."
)
@who_option
@book_option
@json_option
def set_command(name: str, pairs: tuple[str, ...], who: str | None, book: str | None, as_json: bool) -> None:
    """Set the room's own figures for a species NAME, or add one that is like a known one."""
    from bonebench.cli.words import species_text

    with faults(as_json, "species.show/1"), session(book, who) as at:
        answer(at.door.set_species(name, pairs), as_json=as_json, show=lambda c: species_text(c, at.reader))
