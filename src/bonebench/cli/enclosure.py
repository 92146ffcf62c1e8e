"""The box as physics on the command line; it needs no book."""

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_option, faults, json_option, shipped_or_book

if TYPE_CHECKING:
    from bonebench.services.enclosure.cards import AdviseCard, BlackoutCard, SimulateCard, SizeCard
    from bonebench.units import Reader

file_option = click.argument("file", type=click.Path(path_type=Path))
set_option = click.option(
    "--set", "settings", multiple=True, help="Change one place of the file: heater.power=80W. As often as you like."
)


def register(app: click.Group) -> None:
    """Add the group of commands about the box."""
    app.add_command(enclosure)


@click.group("enclosure")
def enclosure() -> None:
    """The heated box: its warmth, damp and power, and a power cut."""


@enclosure.command("example")
def example() -> None:
    """Write a complete description of a box, with words beside each value."""
    from bonebench.files.enclosure_toml import example as text

    click.echo(text(), nl=False)


@enclosure.command("begin")
@click.option("--starter", help="Beetles and larvae of the starter colony: 300 unless said.")
@click.option("--on", "first_day", help="Day on which the empty box first stands in band, such as 2026-05-04.")
@book_option
@json_option
def begin(starter: str | None, first_day: str | None, book: str | None, as_json: bool) -> None:
    """Say how to make a box from an old freezer, and when the first mouse, squirrel and deer can go in."""
    from bonebench.cli.face import read_day
    from bonebench.cli.words import worked_text
    from bonebench.services.enclosure.begin import begin as work

    with faults(as_json, "enclosure.begin/1"), shipped_or_book(book) as (door, reader):
        day = read_day(first_day)
        answer(
            door.work(lambda known: work(known, starter=starter, first_day=day)), as_json=as_json,
            show=lambda card: worked_text(card, reader),
        )  # fmt: skip


@enclosure.command("simulate")
@file_option
@click.option("--building", help="How warm the building is: 5C; or one value an hour, apart by semicolons (24 make a day).")
@click.option("--humidity", help="How damp it is: 80%; 70 % unless said.")
@click.option("--weather", help="Weather instead: an .epw or TMY3 file, a table of hours, or normals:FILE with twelve months.")
@click.option("--held", help="With weather: the building is never colder than this.")
@click.option("--from", "begin", help="First day, month-day: 01-15.")
@click.option("--to", "end", help="Last day, month-day: 02-14.")
@click.option("--days", help="How long: 7d unless said; with weather, all of it.")
@click.option("--water", help="Water that heads and colony give off in an hour: 5g.")
@click.option("--colony", help="Heat the colony gives: 2W.")
@click.option("--heads", help="Frozen heads that go in, evenly spread.")
@click.option("--head", help="Mass of one: 1 kg unless said.")
@click.option("--price", help="Money for a kWh: 0.15.")
@click.option("--step", help="Step of the reckoning: 10s.")
@set_option
@book_option
@json_option
def simulate(
    file: Path, begin: str | None, end: str | None, days: str | None, price: str | None, step: str | None,
    settings: tuple[str, ...], book: str | None, as_json: bool, **around: str | None,
) -> None:  # fmt: skip
    """Run a box through hours: temperature, humidity, how often heater and fan run, what it costs, whether they fight."""
    from bonebench.files.building_toml import read_building
    from bonebench.files.enclosure_toml import read_enclosure
    from bonebench.services.enclosure.around import Surroundings
    from bonebench.services.enclosure.run import simulate_box

    with faults(as_json, "enclosure.simulate/1"), shipped_or_book(book) as (door, reader):
        first, length = stretch(begin, end)
        room = read_building(file, settings)
        given = Surroundings(**around, room=room[0] if room else None, first_day=first, days=days or length)
        box = read_enclosure(file, settings)
        answer(
            door.work(lambda known: simulate_box(known, box=box, given=given, step=step, price=price)),
            as_json=as_json, show=lambda card: run_text(card, reader),
        )  # fmt: skip


@enclosure.command("blackout")
@file_option
@click.option("--outdoor", help="How cold it is outside: -10C.")
@click.option("--building", help="How warm the building is when the power goes: 5C; it then falls towards outdoors.")
@click.option("--start", help="How warm the box is then; its set point unless said.")
@click.option("--help-water", multiple=True, help="Hot water in closed bottles, volume@warmth: 10L@60C.")
@click.option("--hours", help="How long to look: 48 unless said.")
@set_option
@book_option
@json_option
def blackout(
    file: Path, outdoor: str | None, building: str | None, start: str | None, help_water: tuple[str, ...], hours: str | None,
    settings: tuple[str, ...], book: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Say how long the box stays warm without power, and what hot water buys."""
    from bonebench.cli.words import worked_text
    from bonebench.files.enclosure_toml import read_enclosure
    from bonebench.services.enclosure.cut import cut_power

    with faults(as_json, "enclosure.blackout/1"), shipped_or_book(book) as (door, reader):
        box = read_enclosure(file, settings)

        def show(card: "BlackoutCard") -> str:
            return worked_text(card, reader)

        answer(
            door.work(
                lambda known: cut_power(
                    known, box=box, outdoor=outdoor, building=building, start=start, help_water=help_water, hours=hours
                )
            ),
            as_json=as_json, show=show,
        )  # fmt: skip


weather_option = click.option("--weather", required=True, help="An .epw or TMY3 file, a table of hours, or normals:FILE (months).")
held_option = click.option("--held", help="Without [building] in the file: the building is never colder than this.")
water_option = click.option("--water", help="Water that heads and colony give off in an hour: 5g.")
price_option = click.option("--price", help="Money for a kWh: 0.15.")


@enclosure.command("advise")
@file_option
@weather_option
@held_option
@water_option
@price_option
@click.option("--fan-may-move", is_flag=True, help="Let the fan's set point change from month to month too.")
@set_option
@book_option
@json_option
def advise(
    file: Path, weather: str, held: str | None, water: str | None, price: str | None, settings: tuple[str, ...], book: str | None,
    fan_may_move: bool, as_json: bool,
) -> None:  # fmt: skip
    """Say how many holes to leave open in each month, why, and what box and building cost."""
    from bonebench.files.building_toml import read_building
    from bonebench.files.enclosure_toml import read_enclosure
    from bonebench.services.enclosure.around import Surroundings
    from bonebench.services.enclosure.year import advise as work

    with faults(as_json, "enclosure.advise/1"), shipped_or_book(book) as (door, reader):
        box, room = read_enclosure(file, settings), read_building(file, settings)
        given = Surroundings(weather=weather, held=held, water=water, room=room[0] if room else None)
        answer(
            door.work(
                lambda known: work(
                    known, box=box, given=given, tank_kg=room[1] if room else 0.0, price=price, fan_may_move=fan_may_move
                )
            ),
            as_json=as_json, show=lambda card: advice_text(card, reader),
        )  # fmt: skip


@enclosure.command("size")
@file_option
@weather_option
@held_option
@water_option
@click.option("--hold", help="Hours it is to stay above 15 C without power: 4 unless said.")
@set_option
@book_option
@json_option
def size(
    file: Path, weather: str, held: str | None, water: str | None, hold: str | None, settings: tuple[str, ...], book: str | None,
    as_json: bool,
) -> None:  # fmt: skip
    """Find the smallest heater and pavers that hold the box in its coldest weather; Ctrl-C stops and shows what was tried."""
    from bonebench.cli.words import worked_text
    from bonebench.files.building_toml import read_building
    from bonebench.files.enclosure_toml import read_enclosure
    from bonebench.services.enclosure.around import Surroundings
    from bonebench.services.enclosure.size import size as work

    with faults(as_json, "enclosure.size/1"), shipped_or_book(book) as (door, reader), stoppable() as go_on:
        box, room = read_enclosure(file, settings), read_building(file, settings)
        given = Surroundings(weather=weather, held=held, water=water, room=room[0] if room else None)

        def show(card: "SizeCard") -> str:
            return "\n".join([worked_text(card, reader), "", *grid_lines(card)])

        answer(door.work(lambda known: work(known, box=box, given=given, hold=hold, progress=go_on)), as_json=as_json, show=show)


@contextmanager
def stoppable() -> Iterator[Callable[[int, int], bool]]:
    """Count on the error output; the first Ctrl-C asks to stop instead of breaking off."""
    asked = False

    def stop(_signal: int, _frame: object) -> None:
        nonlocal asked
        asked = True

    def go_on(done: int, whole: int) -> bool:
        if sys.stderr.isatty():
            click.echo(f"\r{done} of {whole}" + ("\n" if done == whole else ""), nl=False, err=True)
        return not asked

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield go_on
    finally:
        signal.signal(signal.SIGINT, before)


def stretch(begin: str | None, end: str | None) -> tuple[int, str | None]:
    """Return the first day of the year, counted from 0, and the length between two days, if both were said."""
    first = _day(begin) if begin else 0
    if end is None:
        return first, None
    last = _day(end)
    return first, f"{last - first + 1 if last >= first else last - first + 366}d"


def _day(text: str) -> int:
    """Read month-day as a day of a year without a leap day."""
    from bonebench.errors import NotAQuantity

    try:
        month, day = (int(part) for part in text.split("-"))
        return (date(2001, month, day) - date(2001, 1, 1)).days
    except ValueError:
        raise NotAQuantity("enclosure.day", "'{text}' is no day; write month and day like 01-15", text=text) from None


def advice_text(card: "AdviseCard", reader: "Reader") -> str:
    """Return advice as lines, a month each."""
    from bonebench.cli.words import worked_text
    from bonebench.units import say

    lines = [worked_text(card, reader), "", "month  holes  outside the band      humidity  heater     building  propane"]
    for m in card.months:
        span = f"{m.hours_outside_band:>4.0f} h ({m.hours_outside_low:.0f} to {m.hours_outside_high:.0f})"
        lines.append(
            f"{m.month:>5}  {m.holes:>5}  {span:<22}  {m.rh_mean:>6.0%}  {m.heater_kwh:6.1f} kWh  {m.building_kwh:6.0f} kWh"
            f"  {m.propane_kg:5.1f} kg"
        )
        moved = f"fan on at {m.fan_on_rh:.0%}; " if m.fan_on_rh is not None else ""
        lines.append(f"       {moved}{say(m.why, reader)}")
    return "\n".join(lines)


def grid_lines(card: "SizeCard") -> list[str]:
    """Return the grid as a table: what each heater does with each mass of pavers."""
    lines = ["heater   pavers    coldest   runs   holds without power   enough"]
    for each in card.grid:
        hold = "48 h or more" if each.hold_h is None else f"{each.hold_h:.1f} h"
        size, enough = f"{each.watts:>5.0f} W  {each.pavers_kg:>4.0f} kg", "yes" if each.enough else "no"
        lines.append(f"{size}  {each.t_min_c:>6.1f} C  {each.heater_share:>5.0%}   {hold:>15}       {enough}")
    return lines


def run_text(card: "SimulateCard", reader: "Reader") -> str:
    """Return a run as lines, with its months as a table."""
    from bonebench.cli.words import worked_text
    from bonebench.units import write

    lines = [worked_text(card, reader), "", "month   air in the box              humidity   heater     fan"]
    for month in card.months:
        mean, low, high = (write(value, "temperature", reader) for value in (month.t_mean_c, month.t_min_c, month.t_max_c))
        lines.append(
            f"{month.month:>5}   {mean:>9} ({low} to {high})   {month.rh_mean:>6.0%}"
            f"   {month.heater_kwh:6.1f} kWh   {month.fan_hours:5.1f} h"
        )
    lines.append(
        f"balances close to {card.balance_error.heat:.0e} (heat) and {card.balance_error.water:.0e} (water) of what passed"
    )
    return "\n".join(lines)
