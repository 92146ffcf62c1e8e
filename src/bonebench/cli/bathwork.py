"""The arithmetic of the wet bench on the command line; each is one calculation and needs no book."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from bonebench.cli.face import answer, book_option, faults, json_option, shipped_or_book

if TYPE_CHECKING:
    from bonebench.services.known import Known

temperature_option = click.option("--temperature", "temperature", help="20 C unless said.")


def _work(as_json: bool, book: str | None, schema: str, act: "Callable[[Known], Any]") -> None:
    from bonebench.cli.words import worked_text

    with faults(as_json, schema), shipped_or_book(book) as (door, reader):
        answer(door.work(act), as_json=as_json, show=lambda c: worked_text(c, reader))


def register_on(commands: click.Group) -> None:
    """Add these commands to the group of baths."""
    for command in (blend, top_up, titrate, decay, heat, cover, whiten, degrease, dry, bench):
        commands.add_command(command)


@click.command("blend")
@click.option("--a", "a", required=True, help="One solution: 35%, 10 vol.")
@click.option("--b", "b", required=True, help="The other: 3%, or 0% for water.")
@click.option("--target", "target", required=True, help="Strength wanted, between the two.")
@click.option("--total", "total", required=True, help="How much of it: 10 L.")
@temperature_option
@book_option
@json_option
def blend(a: str, b: str, target: str, total: str, temperature: str | None, book: str | None, as_json: bool) -> None:
    """Mix two solutions of peroxide to a third."""
    from bonebench.services.baths import working

    _work(as_json, book, "bath.blend/1", lambda k: working.blend(k, a=a, b=b, target=target, total=total, temperature=temperature))


@click.command("top-up")
@click.option("--volume", "volume", required=True, help="What is in the tub: 10 L.")
@click.option("--strength", "strength", required=True, help="Its strength now, as tested.")
@click.option("--stock", "stock", required=True, help="Strength on the bottle.")
@click.option("--target", "target", required=True, help="Strength wanted.")
@click.option("--largest", "largest", required=True, help="The most the tub may hold.")
@temperature_option
@book_option
@json_option
def top_up(
    volume: str, strength: str, stock: str, target: str, largest: str, temperature: str | None, book: str | None, as_json: bool
) -> None:
    """Bring a used bath back up without overfilling its vessel."""
    from bonebench.services.baths import working

    asked = {"volume": volume, "strength": strength, "stock": stock, "target": target, "largest": largest}
    _work(as_json, book, "bath.top-up/1", lambda k: working.top_up(k, **asked, temperature=temperature))


@click.command("titrate")
@click.option("--sample", "sample", required=True, help="Bath drawn, in mL.")
@click.option("--normality", "normality", required=True, help="Of the permanganate or thiosulfate: 0.1.")
@click.option("--used", "used", required=True, help="Used, in mL.")
@click.option("--dilution", "dilution", help="How many times the bath was thinned before: 25 for 10 mL made up to 250.")
@click.option("--blank", "blank", help="Used by a boiled bath, in mL.")
@click.option("--by", "by", help="permanganate (unless said) or iodometric.")
@click.option("--stock", "stock", help="Strength of the stock, to see whether the result can be.")
@click.option("--record", "record", help="Write it down as a test of this bath.")
@temperature_option
@book_option
@json_option
def titrate(
    sample: str, normality: str, used: str, dilution: str | None, blank: str | None, by: str | None, stock: str | None,
    record: str | None, temperature: str | None, book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Say how strong a bath is by a titration, with the arithmetic shown."""
    from bonebench.cli.face import session
    from bonebench.cli.words import worked_text
    from bonebench.services.baths import working

    def work(known: "Known") -> Any:
        return working.titrate(
            known, sample=sample, normality=normality, used=used, dilution=dilution, blank=blank, by=by, stock=stock,
            temperature=temperature,
        )  # fmt: skip

    if record is None:
        _work(as_json, book, "bath.titrate/1", work)
        return
    with faults(as_json, "bath.titrate/1"), session(book) as at:
        card = at.door.work(work)
        at.door.note_titration(record, card, {"sample_ml": sample, "normality": normality, "used_ml": used})
        answer(card, as_json=as_json, show=lambda c: worked_text(c, at.reader))


@click.command("decay")
@click.option("--strength", "strength", required=True, help="Strength at the start: 3%.")
@click.option("--days", "days", required=True, help="How long it has stood: 5d.")
@click.option("--load", "load", help="clean, bone (unless said) or tissue.")
@click.option("--volume", "volume", help="How much: 10 L unless said.")
@click.option("--stock", "stock", help="What it was mixed from, to hear what each skull takes: 35%.")
@click.option("--at-once", "at_once", help="Skulls in it together: 2; one unless said.")
@click.option("--stay", "stay", help="Days each stays: 2d unless said.")
@click.option("--price", "price", help="Money for a kilogram of stock: 4.50.")
@temperature_option
@book_option
@json_option
def decay(book: str | None, as_json: bool, **asked: str | None) -> None:
    """Say how strong a bath probably is after some days, what it serves and costs, and how it goes out."""
    from bonebench.services.baths import working

    _work(as_json, book, "bath.decay/1", lambda k: working.decay(k, **asked))  # type: ignore[arg-type]


@click.command("heat")
@click.option("--volume", "volume", required=True, help="Water in it: 20 L.")
@click.option("--open-area", "open_area", required=True, help="Open water: 0.07 m2.")
@click.option("--wall-area", "wall_area", required=True, help="Wetted wall with the floor: 0.35 m2.")
@click.option("--temperature", "temperature", required=True, help="Held at: 45 C.")
@click.option("--lid/--no-lid", "lid", default=True, help="Whether a lid lies on it.")
@click.option("--foam", "foam", is_flag=True, help="Whether its walls are wrapped in foam.")
@click.option("--room", "room", help="Air of the room: 20 C unless said.")
@click.option("--humidity", "humidity", help="Of the room: 50% unless said.")
@click.option("--watts", "watts", help="The heater: 200 W.")
@click.option("--over-heater", "over", help="How far the water may sink: 5 cm unless said.")
@click.option("--price", "price", help="Money for a kilowatt-hour.")
@book_option
@json_option
def heat(
    volume: str, open_area: str, wall_area: str, temperature: str, lid: bool, foam: bool, room: str | None, humidity: str | None,
    watts: str | None, over: str | None, price: str | None, book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Say what a warm pot takes in power and water, and when its heater stands bare."""
    from bonebench.services.baths import working

    _work(
        as_json, book, "bath.heat/1",
        lambda k: working.heat(
            k, volume=volume, open_area=open_area, wall_area=wall_area, temperature=temperature, lid=lid, foam=foam, room=room,
            humidity=humidity, watts=watts, water_over_heater=over, price=price,
        ),
    )  # fmt: skip


@click.command("cover")
@click.option("--species", "species", required=True, help="Whose skulls: raccoon.")
@click.option("--count", "count", help="How many: 1 unless said.")
@click.option("--length", "length", required=True, help="Inside length, or diameter of a round one: 60 cm.")
@click.option("--width", "width", default="", help="Inside width.")
@click.option("--depth", "depth", required=True, help="Inside depth to the brim.")
@click.option("--round", "round_", is_flag=True, help="It is round.")
@book_option
@json_option
def cover(
    species: str, count: str | None, length: str, width: str, depth: str, round_: bool, book: str | None, as_json: bool
) -> None:
    """Say how much bath covers so many skulls in a vessel."""
    from bonebench.services.baths import working

    _work(
        as_json, book, "bath.cover/1",
        lambda k: working.cover(k, length=length, width=width, depth=depth, species=species, count=count, round=round_),
    )  # fmt: skip


@click.command("whiten")
@click.option("--species", "species", required=True, help="Whose skull: raccoon.")
@click.option("--strength", "strength", help="Of the bath; the way's own unless said.")
@click.option("--method", "method", help="Which way; the room's unless said.")
@temperature_option
@book_option
@json_option
def whiten(
    species: str, strength: str | None, method: str | None, temperature: str | None, book: str | None, as_json: bool
) -> None:
    """Say how long to whiten, when to look and when to stop, with what is known of harm."""
    from bonebench.services.baths import working

    asked = {"species": species, "strength": strength, "method": method, "temperature": temperature}
    _work(as_json, book, "bath.whiten/1", lambda k: working.whiten(k, **asked))  # type: ignore[arg-type]


@click.command("degrease")
@click.option("--species", "species", required=True, help="Whose head: black bear.")
@click.option("--temperature", "temperature", help="Of the pot: 45 C unless said.")
@click.option("--head", "head", help="What the head weighs: 3 lb.")
@book_option
@json_option
def degrease(species: str, temperature: str | None, head: str | None, book: str | None, as_json: bool) -> None:
    """Say how long in the pot, with how many changes, and what the temperature does."""
    from bonebench.cli.words import worked_text

    with faults(as_json, "bath.degrease/1"), shipped_or_book(book) as (door, reader):
        card = door.degrease(species=species, temperature=temperature, head=head)
        answer(card, as_json=as_json, show=lambda c: worked_text(c, reader))


@click.command("dry")
@click.option("--species", "species", required=True, help="Whose skull: white-tailed deer.")
@click.option("--use", "use", required=True, help="For what: glue, whiten, seal, measure.")
@click.option("--humidity", "humidity", help="Of the air: 50% unless said.")
@click.option("--weighings", "weighings", help="'0d 810 g, 1d 780 g, 3d 765 g'.")
@click.option("--step", "step", help="The scale's smallest step: 1 g unless said.")
@temperature_option
@book_option
@json_option
def dry(
    species: str, use: str, humidity: str | None, weighings: str | None, step: str | None, temperature: str | None,
    book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Say when a skull is dry enough for what comes next, and what its weighings tell."""
    from bonebench.services.baths import working

    asked = {"humidity": humidity, "weighings": weighings, "step": step, "temperature": temperature}
    _work(as_json, book, "bath.dry/1", lambda k: working.dry(k, species=species, use=use, **asked))


@click.command("bench")
@book_option
@json_option
def bench(book: str | None, as_json: bool) -> None:
    """List the bench's chemicals, what vessels may be made of, and glues: what must not meet what."""
    from bonebench.cli.bathwords import bench_text
    from bonebench.services.baths.bench import bench as bench_of

    with faults(as_json, "bath.bench/1"), shipped_or_book(book) as (door, reader):
        answer(door.work(bench_of), as_json=as_json, show=lambda c: bench_text(c, reader))
