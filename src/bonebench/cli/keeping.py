"""Tags, lots and places on the command line."""

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session, who_option

tag_commands = click.Group("tag", help="Tags: issue a block for a roll or a device, see what is left of each.")
lot_commands = click.Group("lot", help="Specimens treated together: join them, split them, see who is in one.")
place_commands = click.Group("place", help="Places: what should be in one, and a count of what is.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(tag_commands, "tag")
    app.add_command(lot_commands, "lot")
    app.add_command(place_commands, "place")


@tag_commands.command("issue")
@click.argument("count", type=int)
@click.option("--roll", "roll", help="What the roll or the device is called; Roll 1, 2, ... unless said.")
@who_option
@book_option
@json_option
def issue_command(count: int, roll: str | None, who: str | None, book: str | None, as_json: bool) -> None:
    """Hand out COUNT tags that nobody else gets, so that intake works where there is no network."""
    from bonebench.cli.partwords import issued_text

    with faults(as_json, "tag.issue/1"), session(book, who) as at:
        answer(at.door.issue_tags(count, roll), as_json=as_json, show=issued_text)


@tag_commands.command("list")
@book_option
@json_option
def tags_command(book: str | None, as_json: bool) -> None:
    """List the rolls: how many tags of each are used, and which is next."""
    from bonebench.cli.partwords import tags_text

    with faults(as_json, "tag.list/1"), session(book) as at:
        answer(at.door.tags(), as_json=as_json, show=lambda c: tags_text(c, at.reader, at.zone))


@lot_commands.command("list")
@book_option
@json_option
def lots_command(book: str | None, as_json: bool) -> None:
    """List the lots and who is in each."""
    from bonebench.cli.partwords import lots_text

    with faults(as_json, "lot.list/1"), session(book) as at:
        answer(at.door.lots(), as_json=as_json, show=lambda c: lots_text(c, at.reader))


@lot_commands.command("show")
@click.argument("name")
@book_option
@json_option
def lot_command(name: str, book: str | None, as_json: bool) -> None:
    """Show one lot."""
    from bonebench.cli.partwords import lot_text

    with faults(as_json, "lot.show/1"), session(book) as at:
        answer(at.door.lot(name), as_json=as_json, show=lambda c: lot_text(c, at.reader))


@lot_commands.command("join")
@click.argument("name")
@click.argument("tags", nargs=-1, required=True)
@who_option
@book_option
@json_option
def join_command(name: str, tags: tuple[str, ...], who: str | None, book: str | None, as_json: bool) -> None:
    """Treat specimens together from now on; a lot of that name takes them in."""
    from bonebench.cli.partwords import lot_text

    with faults(as_json, "lot.show/1"), session(book, who) as at:
        answer(at.door.join_lot(name, tags), as_json=as_json, show=lambda c: lot_text(c, at.reader))


@lot_commands.command("split")
@click.argument("name")
@click.argument("tags", nargs=-1)
@who_option
@book_option
@json_option
def split_command(name: str, tags: tuple[str, ...], who: str | None, book: str | None, as_json: bool) -> None:
    """Take specimens out of a lot, or all of them; each goes its own way again."""
    from bonebench.cli.partwords import lots_text

    with faults(as_json, "lot.list/1"), session(book, who) as at:
        answer(at.door.split_lot(name, tags), as_json=as_json, show=lambda c: lots_text(c, at.reader))


@place_commands.command("list")
@book_option
@json_option
def places_command(book: str | None, as_json: bool) -> None:
    """List the places: how many things should be in each, and when it was counted last."""
    from bonebench.cli.partwords import places_text

    with faults(as_json, "place.list/1"), session(book) as at:
        answer(at.door.places(), as_json=as_json, show=lambda c: places_text(c, at.reader, at.zone))


@place_commands.command("show")
@click.argument("place")
@book_option
@json_option
def place_command(place: str, book: str | None, as_json: bool) -> None:
    """Show what should be in a place, and what its last count found."""
    from bonebench.cli.partwords import place_text

    with faults(as_json, "place.show/1"), session(book) as at:
        answer(at.door.place(place), as_json=as_json, show=lambda c: place_text(c, at.reader, at.zone))


@place_commands.command("count")
@click.argument("place")
@click.argument("tags", nargs=-1)
@click.option("--found", "found", type=int, help="How many are there; a skull with its jaw is one.")
@who_option
@book_option
@json_option
def count_command(place: str, tags: tuple[str, ...], found: int | None, who: str | None, book: str | None, as_json: bool) -> None:
    """Count a place by the TAGS that are there, by how many there are, or both; what is missing is named."""
    from bonebench.cli.partwords import place_text
    from bonebench.services.places.do import Count

    with faults(as_json, "place.show/1"), session(book, who) as at:
        card = at.door.count_place(place, Count(found, tags))
        answer(card, as_json=as_json, show=lambda c: place_text(c, at.reader, at.zone))
