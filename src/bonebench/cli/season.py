"""The season ahead on the command line."""

from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session

if TYPE_CHECKING:
    from bonebench.services.year.cards import SeasonCard
    from bonebench.units import Reader


def register(app: click.Group) -> None:
    """Add this command."""
    app.add_command(season_command)


@click.command("season")
@click.option("--months", "months", type=int, default=12, show_default=True, help="How many months ahead.")
@click.option("--holiday", "holiday", help="A day by which a piece should be through, such as 2026-12-20.")
@click.option("--species", "species", help="Whose skull that is: common or scientific name.")
@book_option
@json_option
def season_command(months: int, holiday: str | None, species: str | None, book: str | None, as_json: bool) -> None:
    """Show what comes in each month against appetite, places and hands, when the freezer fills, and the last day for a holiday."""
    from bonebench.services.promise.do import for_quote
    from bonebench.services.year.do import AskedSeason, season

    with faults(as_json, "season/1"), session(book) as at:
        at.door.make_current(at.door.now())
        card = season(AskedSeason(months=months, holiday=holiday, species=species), at.door.read(for_quote))
        answer(card, as_json=as_json, show=lambda c: season_text(c, at.reader))


def season_text(card: "SeasonCard", reader: "Reader") -> str:
    """Return the season: the holiday first where one was asked for, then the freezer, then month by month."""
    from bonebench.cli.words import basis_lines, caution_lines, flag_lines
    from bonebench.units import say, write

    lines = [say(one.words, reader) for one in (card.holiday, card.freezer) if one is not None]
    for month in card.months:
        eaten = "" if month.appetite_kg is None else f" of {write(month.appetite_kg, 'mass', reader)} they can eat"
        tissue = f" ({write(month.tissue_kg, 'mass', reader)} of tissue{eaten})" if month.pieces >= 0.5 else ""
        hands = "" if month.hands_words is None else f"; {say(month.hands_words, reader)}"
        lines.append(f"  {month.first:%b %Y}  {say(month.words, reader)}{tissue}{hands}")
    rest = [*flag_lines(card.flags, reader), "Rests on:", *basis_lines(card.basis), *caution_lines(card.cautions, reader)]
    return "\n".join([*lines, "", *rest])
