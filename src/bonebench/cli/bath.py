"""Baths on the command line: mix and convert; baths as things in the book."""

import click

from bonebench.cli.bathwork import register_on
from bonebench.cli.face import about_option, answer, at_option, book_option, faults, json_option, session, who_option

commands = click.Group("bath", help="Mix a bath, keep track of the baths that stand in the room, test them.")


def register(app: click.Group) -> None:
    """Add these commands."""
    register_on(commands)
    app.add_command(commands, "bath")


@commands.command("mix")
@click.option("--stock", "stock", required=True, help="Strength on the bottle: 35%, '9.1% w/v', '10 vol', '0.9 mol/L'.")
@click.option("--volume", "volume", required=True, help="How much bath: 10 L, 2 gal.")
@click.option("--target", "target", help="Strength wanted: 3%.")
@click.option("--parts", "parts", help="Or parts of stock and water by volume: 1:1.")
@click.option("--temperature", "temperature", help="Of both, 20 C unless said.")
@book_option
@json_option
def mix_command(
    stock: str, volume: str, target: str | None, parts: str | None, temperature: str | None, book: str | None, as_json: bool
) -> None:
    """Say what to pour for a bath, in the order to pour it, with what can hurt."""
    from bonebench.cli.words import mix_text, reader_for
    from bonebench.services.baths.mix import mix

    with faults(as_json, "bath.mix/1"):
        card = mix(stock=stock, target=target, parts=parts, volume=volume, temperature=temperature)
        answer(card, as_json=as_json, show=lambda c: mix_text(c, reader_for(book, volume)))


@commands.command("convert")
@click.option("--from", "strength", required=True, help="A strength: 35%, '9.1% w/v', '10 vol', '0.9 mol/L'.")
@click.option("--to", "to", required=True, help="w/w, w/v, vol or mol/L.")
@click.option("--temperature", "temperature", help="20 C unless said.")
@json_option
def convert_command(strength: str, to: str, temperature: str | None, as_json: bool) -> None:
    """Turn a strength into another notation."""
    from bonebench.cli.words import convert_text
    from bonebench.services.baths.mix import convert, read_notation

    with faults(as_json, "bath.convert/1"):
        card = convert(strength=strength, to=read_notation(to), temperature=temperature)
        answer(card, as_json=as_json, show=convert_text)


@commands.command("new")
@click.argument("place")
@click.option("--recipe", "recipe", help="peroxide, detergent, rinse water, ...; what its place is for unless said.")
@click.option("--name", "name", help="What people call it.")
@click.option("--stock", "stock", help="Strength on the bottle it was mixed from.")
@click.option("--strength", "strength", help="Strength it was mixed to: 3%.")
@click.option("--volume", "volume", help="How much: 10 L.")
@click.option("--dose", "dose", help="Detergent by volume: 1%.")
@click.option("--temperature", "temperature", help="How warm it stands.")
@click.option("--vessel", "vessel", help="What the vessel is made of, such as HDPE.")
@click.option("--vessel-volume", "vessel_volume", help="The vessel to its brim; the place's volume unless said.")
@click.option("--stock-opened", "stock_opened", help="The day the bottle was opened: 2026-05-04.")
@at_option
@about_option
@who_option
@book_option
@json_option
def new_command(
    place: str, recipe: str | None, name: str | None, stock: str | None, strength: str | None, volume: str | None,
    dose: str | None, temperature: str | None, vessel: str | None, vessel_volume: str | None, stock_opened: str | None,
    at_time: str | None, about: str | None, who: str | None, book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Say that a bath was made in a pot or tub."""
    from bonebench.cli.bathwords import bath_text
    from bonebench.door import NewBath

    new = NewBath(
        place=place, recipe=recipe, name=name, stock=stock, strength=strength, volume=volume, dose=dose, temperature=temperature,
        vessel=vessel, vessel_volume=vessel_volume, stock_opened=stock_opened, at=at_time, about=about,
    )  # fmt: skip
    with faults(as_json, "bath.show/1"), session(book, who) as at:
        answer(at.door.make_bath(new), as_json=as_json, show=lambda c: bath_text(c, at.reader, at.zone))


@commands.command("list")
@click.option("--all", "everything", is_flag=True, help="Those that were thrown away too.")
@book_option
@json_option
def list_command(everything: bool, book: str | None, as_json: bool) -> None:
    """List the baths that stand in the room."""
    from bonebench.cli.bathwords import bath_list_text

    with faults(as_json, "bath.list/1"), session(book) as at:
        answer(at.door.baths(everything=everything), as_json=as_json, show=lambda c: bath_list_text(c, at.reader))


@commands.command("show")
@click.argument("bath")
@book_option
@json_option
def show_command(bath: str, book: str | None, as_json: bool) -> None:
    """Show one bath: by its name, or the pot or tub it stands in."""
    from bonebench.cli.bathwords import bath_text

    with faults(as_json, "bath.show/1"), session(book) as at:
        answer(at.door.bath(bath), as_json=as_json, show=lambda c: bath_text(c, at.reader, at.zone))


@commands.command("record")
@click.argument("bath")
@click.argument("what")
@click.option("--set", "pairs", multiple=True, help="A value: strength=2.8%, volume=1L, clarity=cloudy, sieved=yes, teeth=0.")
@at_option
@about_option
@who_option
@book_option
@json_option
def record_command(
    bath: str, what: str, pairs: tuple[str, ...], at_time: str | None, about: str | None, who: str | None, book: str | None,
    as_json: bool,
) -> None:  # fmt: skip
    """Say what happened to a bath: added, taken, tested, looked, changed, discarded."""
    from bonebench.cli.bathwords import bath_text
    from bonebench.door import Happened
    from bonebench.services.rooms.settings import read_pairs

    with faults(as_json, "bath.show/1"), session(book, who) as at:
        values = {name: str(value) for name, value in read_pairs(pairs).items()}
        _, card = at.door.note_bath(Happened(bath=bath, what=what, values=values, at=at_time, about=about))
        answer(card, as_json=as_json, show=lambda c: bath_text(c, at.reader, at.zone))
