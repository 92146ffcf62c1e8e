"""The front of the route on the command line: the outdoors as a freezer, the thaw shelf and the freezer after it."""

import click

from bonebench.cli.face import answer, book_option, faults, json_option, now, shipped_or_book


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(outdoors_command)
    app.add_command(thaw_command)


@click.command("outdoors")
@click.option("--warmest", "warmest", required=True, help="The warmest of each day of the forecast, today first: '-7, -9, -4 C'.")
@book_option
@json_option
def outdoors_command(warmest: str, book: str | None, as_json: bool) -> None:
    """Say until when outdoors is a freezer, by a forecast you type in."""
    from bonebench.cli.words import worked_text
    from bonebench.services.front.outdoors import outdoors

    with faults(as_json, "front.outdoors/1"), shipped_or_book(book) as (door, reader):
        card = door.work(lambda known: outdoors(known, today=reader.today or now().date(), warmest=warmest))
        answer(card, as_json=as_json, show=lambda c: worked_text(c, reader))


@click.command("thaw")
@click.option("--species", "species", help="Common or scientific name.")
@click.option("--head-mass", "head_mass", help="Of the head: 1.2 kg, 3 lb; what its kind usually weighs if left out.")
@click.option("--shelf", "shelf", help="How warm the thaw shelf is: 6 C, 43 F; as the room has it unless said.")
@click.option("--freezer", "freezer", help="How cold the freezer is; as the room has it, or -20 C, unless said.")
@book_option
@json_option
def thaw_command(
    species: str | None, head_mass: str | None, shelf: str | None, freezer: str | None, book: str | None, as_json: bool
) -> None:
    """Say how long a head takes on the thaw shelf, when to look at it, and how long to freeze it again."""
    from bonebench.cli.words import worked_text
    from bonebench.services.front.shelf import thaw

    with faults(as_json, "front.thaw/1"), shipped_or_book(book) as (door, reader):
        card = door.work(lambda known: thaw(known, species=species, head_mass=head_mass, shelf=shelf, freezer=freezer))
        answer(card, as_json=as_json, show=lambda c: worked_text(c, reader))
