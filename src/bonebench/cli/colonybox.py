"""The colony with its box on the command line: its file, and the two led together."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from bonebench.cli.colony import ABOUT, LogNamed, about_colony, asked_of, colony
from bonebench.cli.enclosure import stretch
from bonebench.cli.face import answer, faults, shipped_or_book

if TYPE_CHECKING:
    from bonebench.services.colony.cards import Band
    from bonebench.services.known import Known
    from bonebench.services.season.cards import BoxedCard
    from bonebench.units import Reader


BESIDE = ("days", "ration", "waiting", "first_day")


def register(app: click.Group) -> None:
    """The commands below stand in the group of the colony."""
    del app
    colony.add_command(example)
    colony.add_command(with_box)


@click.command("example")
def example() -> None:
    """Write a complete description of a colony, with words beside each value."""
    from bonebench.files.colony_toml import example as text

    click.echo(text(), nl=False)


def told_by_file(known: "Known", today: str, path: Path, log: LogNamed, options: dict[str, Any]) -> Any:
    """Tell the days ahead of a colony's file, with what the command says beside it."""
    from dataclasses import replace

    from bonebench.files.building_toml import read_building
    from bonebench.files.colony_toml import read_colony
    from bonebench.files.enclosure_toml import read_enclosure
    from bonebench.services.season.by_file import InBox, by_file

    file = read_colony(path)
    about = {name: "yes" if value is True else value for name in ABOUT if (value := options.get(name)) not in (None, False)}
    beside = {name: value for name in (*BESIDE, "seed") if (value := options.get(name)) is not None}
    about.pop("seed", None)
    looks = () if "size" in about else file.looks  # a size said now outweighs older looks
    file = replace(file, about={**file.about, **about}, looks=looks, **beside)
    if "temperature" in about:
        file = replace(file, log=None, box=None)
    if log.file is None and file.log is not None:
        log = LogNamed(file.log.path, file.log.unit, log.zone or file.log.zone)
    if log.file is not None or file.box is None:
        return by_file(known, file, log=log.read(known), today=today)
    room = read_building(file.box.path)
    box = InBox(read_enclosure(file.box.path), room[0] if room else None)
    return by_file(known, file, box=box, today=today)


@click.command("with-box")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--building", help="How warm the building is: 5C; or one value an hour, apart by semicolons (24 make a day).")
@click.option("--building-humidity", help="How damp it is: 80%; 70 % unless said.")
@click.option("--weather", help="Weather instead: an .epw or TMY3 file, a table of hours, or normals:FILE with twelve months.")
@click.option("--held", help="With weather: the building is never colder than this.")
@click.option("--from", "begin", help="First day, month-day: 01-15.")
@click.option("--to", "end", help="Last day, month-day: 02-14.")
@click.option("--days", help="How long: 7d unless said; with weather, all of it.")
@click.option("--water", help="Water in an hour beside the colony's own, of a pad or drying food: 2g.")
@click.option("--feed", "--ration", "ration", help="Food a day: '80 g'; all they can eat unless said.")
@click.option("--set", "settings", multiple=True, help="Change one place of the file: heater.power=80W. As often as you like.")
@about_colony
def with_box(
    file: Path, begin: str | None, end: str | None, days: str | None, building_humidity: str | None, ration: str | None,
    settings: tuple[str, ...], book: str | None, as_json: bool, **options: Any,
) -> None:  # fmt: skip
    """Lead the box in FILE (an enclosure.toml) and the colony in it together: warmth, damp, numbers, appetite, month by month."""
    from bonebench.files.building_toml import read_building
    from bonebench.files.enclosure_toml import read_enclosure
    from bonebench.services.enclosure.around import Surroundings
    from bonebench.services.season.boxed import with_box as work

    around = {name: options.pop(name) for name in ("building", "weather", "held", "water")}
    with faults(as_json, "colony.with-box/1"), shipped_or_book(book) as (door, reader):
        asked = asked_of(options)
        first, length = stretch(begin, end)
        room = read_building(file, settings)
        given = Surroundings(
            **around, humidity=building_humidity, room=room[0] if room else None, first_day=first, days=days or length
        )
        box = read_enclosure(file, settings)
        answer(
            door.work(lambda known: work(known, asked, box=box, given=given, ration=ration)), as_json=as_json,
            show=lambda card: boxed_text(card, reader),
        )  # fmt: skip


def boxed_text(card: "BoxedCard", reader: "Reader") -> str:
    """Return a colony in its box as lines, with its months as a table."""
    from bonebench.cli.words import worked_text
    from bonebench.units import write

    lines = [
        worked_text(card, reader),
        "",
        "month  air, coldest to hottest          damp  larvae           plan with      heat     water",
    ]
    for m in card.months:
        mean, low, high = (write(value, "temperature", reader) for value in (m.t_mean_c, m.t_min_c, m.t_max_c))
        lines.append(
            f"{m.month:>5}  {f'{mean} ({low} to {high})':<30}  {m.rh_mean:>4.0%}  {many(m.larvae):<15}"
            f"  {write(m.appetite_g.plan / 1000, 'feeding', reader):<13}  {m.heat_w.value:>4.1f} W  {m.water_g_h.value:>4.1f} g/h"
        )
    return "\n".join(lines)


def many(band: "Band") -> str:
    """Return a number of animals as its range."""
    from bonebench.services.colony.bands import count

    return f"{count(band.low)} to {count(band.high)}"
