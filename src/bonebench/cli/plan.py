"""The plan on the command line: the weeks ahead, and the calendar file."""

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_option, faults, how_far, json_option, session

if TYPE_CHECKING:
    from bonebench.door import Door
    from bonebench.services.calendar.cards import PlanCard
    from bonebench.units import Reader

export_group = click.Group("export", help="Write what other programs read.")
_DAYS = re.compile(r"\s*(\d+)\s*(d|days?|w|weeks?)?\s*", re.IGNORECASE)


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(plan_command)
    app.add_command(export_group)


def read_horizon(text: str) -> int:
    """Read a number of days as people write it: 90d, 6 weeks, 28."""
    from bonebench.errors import NotAQuantity

    shape = _DAYS.fullmatch(text)
    if shape is None:
        raise NotAQuantity("plan.horizon", "'{text}' is no number of days; write it like 90d or 6 weeks", text=text)
    return int(shape[1]) * (7 if (shape[2] or "d")[0].lower() == "w" else 1)


@click.command("plan")
@click.option("--horizon", "horizon", default="28d", show_default=True, help="How far ahead: 90d, 6 weeks.")
@click.option("--seconds", "seconds", type=click.FloatRange(min=0), help="Look for a better plan, for so many seconds at most.")
@click.option("--moves", "moves", type=click.IntRange(min=0), help="Look for a better plan, with so many orders tried.")
@click.option("--what-if", "what_if", type=click.Path(dir_okay=False), help="A file of changes to lay beside the room as it is.")
@click.option("--seed", "seed", type=int, default=1, show_default=True, help="The same book, seed and moves give the same plan.")
@book_option
@json_option
def plan_command(
    horizon: str, seconds: float | None, moves: int | None, what_if: str | None, seed: int, book: str | None, as_json: bool
) -> None:  # fmt: skip
    """Show the weeks ahead: who is where when, what is late, what found no time and why.

    With --seconds or --moves a better order is looked for first and kept, and promises are worked out by it. With --what-if nothing
    is kept: the room as it is and each change of the file stand side by side, with --moves orders tried for each.
    """
    if what_if is not None:
        from bonebench.cli.whatif import lay_side_by_side

        lay_side_by_side(Path(what_if), moves, book, as_json=as_json)
        return
    with faults(as_json, "plan/1"), session(book) as at:
        days = read_horizon(horizon)
        if seconds is not None or moves is not None:
            _look(at.door, {"seconds": seconds, "moves": moves, "seed": seed})
        answer(at.door.plan(days), as_json=as_json, show=lambda c: plan_text(c, at.reader, at.zone))


def _look(door: "Door", asked: dict[str, float | None]) -> None:
    """Look for a better plan here and now; how far it is goes to standard error."""
    from bonebench.door.kinds import better_plan
    from bonebench.services.promise.do import for_search, keep_found

    door.make_current(door.now())
    searching = door.read(lambda tx, now: for_search(tx, now, asked))
    found = better_plan(searching, how_far)
    with door.book.writing() as tx:
        kept = keep_found(tx, door.now(), searching, found)
    cut = ", cut short by the seconds given" if found.cut_short else ""
    click.echo(f"{found.tried} orders tried{cut}; {kept['gain_late_days']:g} late days fewer", err=True)


def plan_text(card: "PlanCard", reader: "Reader", zone: str) -> str:
    """Return a plan as plain lines: what is late first, then day by day."""
    from zoneinfo import ZoneInfo

    from bonebench.cli.words import caution_lines, flag_lines
    from bonebench.said import day_text
    from bonebench.units import say

    made = card.made_at.astimezone(ZoneInfo(zone))
    lines = [f"{day_text(card.first)} to {day_text(card.last)}, planned {day_text(made.date())} {made:%H:%M}, {card.status}"]
    lines += [f"LATE {say(one.words, reader)}" for one in card.late]
    lines += [f"NO TIME {one.specimen} {one.species}, {one.step}: {say(one.why, reader)}" for one in card.unplaced]
    lines += [f"moved: {say(one, reader)}" for one in card.moved]
    for day in card.days:
        if not (day.begins or day.ready or day.closed):
            continue
        lines += ["", f"{day.day:%A} {day_text(day.day)}" + (", closed" if day.closed else "")]
        for task in day.begins:
            at = task.start.astimezone(ZoneInfo(zone))
            where = f" ({task.place_name})" if task.place_name else ""
            limited = f"; {say(task.limited, reader)}" if task.limited is not None else ""
            lines.append(f"  {at:%H:%M} {task.specimen} {task.species}: {task.step}{where}{limited}")
        if day.ready:
            lines.append(f"  ready by the plan: {', '.join(day.ready)}")
    return "\n".join([*lines, "", *flag_lines(card.flags, reader), *caution_lines(card.cautions, reader)])


@export_group.command("calendar")
@click.argument("out", type=click.Path(dir_okay=False))
@click.option("--horizon", "horizon", default="90d", show_default=True, help="How far ahead: 90d, 6 weeks.")
@click.option("--replace", "over", is_flag=True, help="Write over a file of that name.")
@book_option
def calendar_command(out: str, horizon: str, over: bool, book: str | None) -> None:
    """Write the weeks ahead as an iCalendar file."""
    from bonebench.errors import FileFault
    from bonebench.papers.calendar import icalendar_bytes

    with faults(False, "export.calendar/1"), session(book) as at:
        card, surface = at.door.plan(read_horizon(horizon)), at.door.surface()
        if Path(out).exists() and not over:
            raise FileFault("export.exists", "{path} is there already; choose another name, or say --replace", path=out)
        data = icalendar_bytes(card, room=surface.room_name, book=at.door.book_id(), demo=surface.demo, reader=at.reader)
        Path(out).write_bytes(data)
        click.echo(f"{out}: {data.count(b'BEGIN:VEVENT')} events; what it says is the plan with working durations, no promise")
