"""Promises on the command line: a quote for a piece that has not come, and how promises turned out."""

from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session

if TYPE_CHECKING:
    from bonebench.services.promise.cards import KeptCard, PromiseCard
    from bonebench.units import Reader


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(promise_command)
    app.add_command(promises_command)


@click.command("promise")
@click.option("--species", "species", required=True, help="Common or scientific name.")
@click.option(
    "--arrives", "arrives", multiple=True, help="The day it comes in, such as 2026-12-05; today unless said. May be repeated."
)
@click.option("--head-mass", "head_mass", help="Of the head: 3.4 kg, 14 oz.")
@click.option("--live-mass", "live_mass", help="Of the live animal: 70 kg, 150 lb.")
@click.option("--finish", "finish", default="white", show_default=True, help="white or natural.")
@click.option("--measure", "measure", is_flag=True, help="It is to be measured for a score.")
@book_option
@json_option
def promise_command(
    species: str, arrives: tuple[str, ...], head_mass: str | None, live_mass: str | None, finish: str, measure: bool,
    book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Say what could be promised for a piece that has not come: dates that hold in half, four of five, nineteen of twenty."""
    from bonebench.services.promise.do import for_quote
    from bonebench.services.promise.quote import AskedQuote, quoted

    asked = AskedQuote(species=species, arrives=arrives, head_mass=head_mass, live_mass=live_mass, finish=finish, measure=measure)
    with faults(as_json, "promise/1"), session(book) as at:
        at.door.make_current(at.door.now())
        answer(quoted(asked, at.door.read(for_quote)), as_json=as_json, show=lambda c: quote_text(c, at.reader))


def quote_text(card: "PromiseCard", reader: "Reader") -> str:
    """Return a quote as plain lines."""
    from bonebench.cli.words import basis_lines, caution_lines, flag_lines
    from bonebench.said import day_text
    from bonebench.units import say

    lines = []
    for one in card.quotes:
        days = [day_text(day) if day is not None else "not within the horizon" for day in (one.p50, one.p80, one.p95)]
        lines += [
            f"{card.species.common}, in on {day_text(one.arrives)}",
            f"  one time in two by     {days[0]}", f"  four times in five by  {days[1]}", f"  nineteen in twenty by  {days[2]}",
            *(f"  waits for {say(limit.what, reader)} in {limit.share:.0%} of the replays" for limit in one.limited_by),
            f"  for the owner: {say(one.sentence, reader)}",
        ]  # fmt: skip
    rest = [*flag_lines(card.flags, reader), "Rests on:", *basis_lines(card.basis), *caution_lines(card.cautions, reader)]
    return "\n".join([*lines, "", *rest])


@click.command("promises")
@book_option
@json_option
def promises_command(book: str | None, as_json: bool) -> None:
    """Show how promises turned out: what owners were told against the day it was handed over."""
    from bonebench.services.promise.do import turned_out

    with faults(as_json, "promise.kept/1"), session(book) as at:
        answer(at.door.read(turned_out), as_json=as_json, show=lambda c: kept_text(c, at.reader))


def kept_text(card: "KeptCard", reader: "Reader") -> str:
    """Return how promises turned out as plain lines."""
    from bonebench.said import day_text
    from bonebench.units import say

    lines = [say(card.words, reader)]
    for one in card.pieces:
        days = f"promised {day_text(one.promised)}, handed over {day_text(one.delivered)}"
        lines.append(f"  {one.specimen} {one.species}: {days}, {_late(one.days_late)}")
    if card.open_late:
        lines.append(f"{card.open_late} pieces in work are past their promise")
    return "\n".join(lines)


def _late(days: int) -> str:
    if days == 0:
        return "on the day"
    return f"{days} days late" if days > 0 else f"{-days} days early"
