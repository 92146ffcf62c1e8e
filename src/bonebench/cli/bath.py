"""Baths on the command line: mix and convert."""

import click

from bonebench.cli.face import answer, book_option, faults, json_option

commands = click.Group("bath", help="Mix a peroxide bath, or turn a strength into another notation.")


def register(app: click.Group) -> None:
    """Add these commands."""
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
