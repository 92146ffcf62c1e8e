"""The room on the command line: show it, and set it up."""

from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session, who_option

if TYPE_CHECKING:
    from bonebench.door import PricesTyped
    from bonebench.services.costs.cards import PricesCard
    from bonebench.units import Reader


@click.group("room", invoke_without_command=True)
@book_option
@json_option
@click.pass_context
def commands(context: click.Context, book: str | None, as_json: bool) -> None:
    """Show the room: what sits where, its people and methods; or set it up."""
    if context.invoked_subcommand is not None:
        return
    _show(book, as_json)


def _show(book: str | None, as_json: bool, who: str | None = None, settings: object = None) -> None:
    from bonebench.cli.words import room_text

    with faults(as_json, "room/1"), session(book, who) as at:
        if callable(settings):
            settings(at.door)
        answer(at.door.room(), as_json=as_json, show=lambda c: room_text(c, at.reader))


@commands.command("name")
@click.argument("name")
@click.option("--zone", "zone", required=True, help="IANA time zone, such as America/Chicago.")
@click.option("--units", "units", default="metric", show_default=True, help="metric or us.")
@who_option
@book_option
@json_option
def name_command(name: str, zone: str, units: str, who: str | None, book: str | None, as_json: bool) -> None:
    """Name the room and say in which zone its days are counted."""
    _show(book, as_json, who, lambda door: door.describe_room(name, zone, units))


@commands.command("place")
@click.argument("key")
@click.option(
    "--kind",
    "kind",
    required=True,
    help="freezer, thaw shelf, trim bench, beetle box, pot, rack, glue bench, tub, rinse water, shelf.",
)
@click.option("--name", "name", help="What people call it.")
@click.option("--holds", "holds", type=click.FloatRange(min=0), help="How many pieces.")
@click.option("--volume", "volume", help="10 L, 5 gal.")
@click.option("--mass", "mass", help="20 kg.")
@click.option("--temperature", "temperature", help="How warm it is there, such as 45F; a thaw shelf's thaw times follow from it.")
@click.option("--eats", "eats", help="A beetle box only: what the colony eats in a day, such as 200 g.")
@click.option("--order", "order", type=int, help="Where it stands along the wall.")
@click.option("--in-use/--out-of-use", "in_use", default=None, help="Whether it takes anything; as it was, unless said.")
@who_option
@book_option
@json_option
def place_command(
    key: str,
    kind: str,
    name: str | None,
    holds: float | None,
    volume: str | None,
    mass: str | None,
    temperature: str | None,
    eats: str | None,
    order: int | None,
    in_use: bool | None,
    who: str | None,
    book: str | None,
    as_json: bool,
) -> None:
    """Set up a place, or change one; KEY is a short name such as big-pot."""
    _show(
        book, as_json, who,
        lambda door: door.set_place(
            key=key, kind=kind, name=name, holds=holds, volume=volume, mass=mass, eats=eats, temperature=temperature,
            order=order, open=in_use,
        ),
    )  # fmt: skip


@commands.command("person")
@click.argument("name")
@click.option("--hours", "hours", multiple=True, help="mon 09:00-12:00; once for each stretch.")
@click.option(
    "--trained", "trained", default="all", show_default=True, help="raw heads, beetles, hot baths, peroxide, teeth; or all."
)
@click.option("--left", "left", is_flag=True, help="Does not work here any more.")
@who_option
@book_option
@json_option
def person_command(
    name: str, hours: tuple[str, ...], trained: str, left: bool, who: str | None, book: str | None, as_json: bool
) -> None:
    """Say when somebody works and what they are trained for."""
    _show(book, as_json, who, lambda door: door.set_person(name, hours or [], trained, working=not left))


@commands.command("method")
@click.argument("method")
@who_option
@book_option
@json_option
def method_command(method: str, who: str | None, book: str | None, as_json: bool) -> None:
    """Choose how this room does a step from now on; METHOD is a key from `room --json`."""
    _show(book, as_json, who, lambda door: door.choose_method(method))


@commands.command("profile")
@click.argument("name", default="")
@who_option
@book_option
@json_option
def profile_command(name: str, who: str | None, book: str | None, as_json: bool) -> None:
    """Lock the room to a profile, such as museum (no heat, no whitening); without a NAME, unlock it."""
    _show(book, as_json, who, lambda door: door.set_profile(name))


@commands.command("has")
@click.argument("features", nargs=-1)
@who_option
@book_option
@json_option
def has_command(features: tuple[str, ...], who: str | None, book: str | None, as_json: bool) -> None:
    """Say all that the room has, such as "gas heater" "co alarm": rounds and the leaving card ask for nothing else."""
    _show(book, as_json, who, lambda door: door.set_features(features))


@commands.command("closed")
@click.argument("days", nargs=-1, required=True)
@who_option
@book_option
@json_option
def closed_command(days: tuple[str, ...], who: str | None, book: str | None, as_json: bool) -> None:
    """Say on which days nobody works."""
    _show(book, as_json, who, lambda door: door.close_on(days))


@commands.command("price")
@click.argument("what")
@click.argument("price")
@click.option("--currency", "currency", help="Three letters, such as EUR; as the room has it unless said.")
@click.option("--since", "since", help="The day from which it counts; today unless said.")
@who_option
@book_option
@json_option
def price_command(
    what: str, price: str, currency: str | None, since: str | None, who: str | None, book: str | None, as_json: bool
) -> None:
    """Say what something costs here: WHAT as `room prices` lists it, PRICE such as 0.32; none takes it back."""
    from bonebench.door import PricesTyped

    typed = PricesTyped(currency=currency, since=since, prices={what: price})
    _prices(book, who, as_json=as_json, typed=typed)


@commands.command("prices")
@book_option
@json_option
def prices_command(book: str | None, as_json: bool) -> None:
    """Show what things cost here: a what-if lays plans side by side in these."""
    _prices(book, None, as_json=as_json)


def _prices(book: str | None, who: str | None, *, as_json: bool, typed: "PricesTyped | None" = None) -> None:
    from bonebench.services.costs.prices import prices

    with faults(as_json, "prices/1"), session(book, who) as at:
        if typed is not None:
            at.door.set_prices(typed, who)
        answer(at.door.read(prices), as_json=as_json, show=lambda card: prices_text(card, at.reader))


def prices_text(card: "PricesCard", reader: "Reader") -> str:
    """Return the prices one a line."""
    from bonebench.cli.words import day, flag_lines
    from bonebench.units import say

    lines = [f"prices in {card.currency}" if card.currency else "prices"]
    for one in card.prices:
        ahead = f"; from {day(one.next_on, reader)} {one.next_price or 'none'}" if one.next_on is not None else ""
        since = f" since {day(one.since, reader)}" if one.since is not None else ""
        lines.append(f"  {one.key:12} {one.name:28} {say(one.words, reader)}{since}{ahead}")
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


@commands.command("erase")
@click.argument("name")
@book_option
@json_option
def erase_command(name: str, book: str | None, as_json: bool) -> None:
    """Blank a person and the notes about them; the log keeps only an id. Copies made before still hold the name."""
    _show(book, as_json, None, lambda door: door.erase_person(name))


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(commands, "room")
