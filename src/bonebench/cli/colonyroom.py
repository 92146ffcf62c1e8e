"""The room's own box on the command line: its settings."""

from typing import TYPE_CHECKING

import click

from bonebench.cli.colony import colony
from bonebench.cli.face import answer, book_option, faults, json_option, session, who_option

if TYPE_CHECKING:
    from bonebench.services.colony.boxes import BoxesCard
    from bonebench.services.colony.dates import DatesCard
    from bonebench.units import Reader


@colony.command("box")
@click.argument("place", default="")
@click.option("--floor", help="Floor they walk on: 0.6 m2. For each of these, none takes it back.")
@click.option("--sites", help="Pupation sites: 3000, or the blocks' volume: '20 L'.")
@click.option("--beetles", help="What they were determined as: 'Dermestes maculatus'.")
@click.option("--heater", help="The heater's power: '150 W'.")
@click.option("--holding", help="What it draws in the coldest hour that is expected: '90 W'.")
@click.option("--spare", help="Or power to spare for frozen heads, if known better: '60 W'.")
@who_option
@book_option
@json_option
def box_command(place: str, who: str | None, book: str | None, as_json: bool, **typed: str | None) -> None:
    """Set a beetle box, or show what is set: tonight's heads are the least of appetite, floor and the heater's spare power."""
    from bonebench.door import BoxTyped
    from bonebench.services.colony.boxes import boxes

    with faults(as_json, "colony.box/1"), session(book, who) as at:
        if any(typed.values()):
            at.door.set_box(BoxTyped(place=place, **typed))
        answer(at.door.read(lambda tx, _: boxes(tx)), as_json=as_json, show=lambda card: boxes_text(card, at.reader))


@colony.command("skill")
@book_option
@json_option
def skill_command(book: str | None, as_json: bool) -> None:
    """Say how good the dates were: what would have been said of each piece when it went in, against what happened."""
    from bonebench.services.colony.dates import dates

    with faults(as_json, "colony.skill/1"), session(book) as at:
        answer(at.door.read(dates), as_json=as_json, show=lambda card: dates_text(card, at.reader))


def dates_text(card: "DatesCard", reader: "Reader") -> str:
    """Return how good the dates were, one piece a line, the latest first."""
    from bonebench.cli.words import day, flag_lines
    from bonebench.units import say

    lines = [say(card.title, reader)]
    lines += [f"  {say(fact.label, reader):34} {say(fact.value, reader)}" for fact in card.facts]
    lines += [
        f"  {one.tag:8} {one.species:24.24} in {day(one.went_in.date(), reader):12} look by {day(one.look_by_50, reader)},"
        f" {day(one.look_by_80, reader)}; {one.ended_by} after {one.days:.1f} days ({one.error_days:+.1f})"
        for one in card.pieces
    ]
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


def boxes_text(card: "BoxesCard", reader: "Reader") -> str:
    """Return the boxes as lines."""
    from bonebench.cli.words import flag_lines
    from bonebench.units import say

    lines = []
    for box in card.boxes:
        lines += [f"{box.name} ({box.place})"]
        lines += [f"  {say(fact.label, reader):30} {say(fact.value, reader)}" for fact in box.facts]
        lines += flag_lines(box.flags, reader)
    return "\n".join(lines or ["this room has no beetle box; set one up as a place first"])
