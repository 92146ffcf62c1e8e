"""Today on the command line."""

import click

from bonebench.cli.face import answer, book_option, faults, json_option, read_day, session


@click.command("today")
@click.option("--on", "on", help="Another day, such as 2026-05-09.")
@click.option("--minutes", "minutes", type=click.FloatRange(min=1), help="The best of the work that fits into so many minutes.")
@book_option
@json_option
def today_command(on: str | None, minutes: float | None, book: str | None, as_json: bool) -> None:
    """Say what to do today, in which order, and why."""
    from bonebench.cli.words import today_text

    with faults(as_json, "today/1"), session(book) as at:
        card = at.door.today(on=read_day(on), minutes=minutes)
        answer(card, as_json=as_json, show=lambda c: today_text(c, at.reader))


def register(app: click.Group) -> None:
    """Add this command."""
    app.add_command(today_command)
