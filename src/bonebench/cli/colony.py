"""The colony on the command line: each question is one calculation and needs no book."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from bonebench.cli.face import (
    about_option,
    answer,
    at_option,
    book_option,
    faults,
    json_option,
    session,
    shipped_or_book,
    who_option,
    write_paper,
)

if TYPE_CHECKING:
    from bonebench.door import Door, NoBook
    from bonebench.files.airlog import AirLog
    from bonebench.services.colony.asked import Asked
    from bonebench.services.colony.book import ColoniesCard
    from bonebench.services.colony.cards import AwayCard, Neighbour
    from bonebench.services.known import Known
    from bonebench.units import Reader

ABOUT = ("size", "temperature", "humidity", "floor", "sites", "bare", "dry", "dried", "beetles", "pests", "seed")
Command = Callable[..., Any]


def register(app: click.Group) -> None:
    """Add the group of commands about the colony."""
    app.add_command(colony)


@click.group("colony")
def colony() -> None:
    """The beetles: how many, what they can eat, what to do about it, and how the pieces in the box fare."""


def about_colony(command: Command) -> Command:
    """Add what every question about a colony asks."""
    for option in reversed(
        (
            click.option("--size", help="Larvae and adults: 3000; or thousands; or a scoop: '40 in 2%'."),
            click.option("--temperature", help="Where they sit: 27 C unless said; or one value an hour, apart by semicolons."),
            click.option("--humidity", help="Of the box: 55% unless said; or one value an hour."),
            click.option("--floor", help="Floor they walk on: 0.5 m2."),
            click.option("--sites", help="Pupation sites: 3000, or the blocks' volume: '20 L'."),
            click.option("--bare", is_flag=True, help="There is no fibre or fur to hide in."),
            click.option("--dry", is_flag=True, help="There is no water and no moist food."),
            click.option("--dried", is_flag=True, help="The food is dried meat; masses are as it lies there."),
            click.option("--beetles", help="What they were determined as; Dermestes maculatus unless said."),
            click.option("--pests", help="Pests that were seen, apart by commas: mites."),
            click.option("--seed", type=click.IntRange(0, 2**32 - 1), help="Of the dice; 6 unless said."),
        )
    ):
        command = option(command)
    return json_option(book_option(command))


def log_options(command: Command) -> Command:
    """Add what asks for a log of the box."""
    for option in reversed(
        (
            click.option(
                "--log", "log_file", type=click.Path(path_type=Path), help="A log of the box: CSV of times, warmth and damp."
            ),
            click.option(
                "--log-unit", type=click.Choice(["C", "F"], case_sensitive=False), help="If its names do not say: C or F."
            ),
            click.option("--zone", help="Of its wall times: America/Chicago; the room's unless said, UTC without a book."),
        )
    ):
        command = option(command)
    return command


@dataclass(frozen=True, slots=True)
class LogNamed:
    """A log as the command line names it: its file, the unit of its warmth, the zone of its wall times."""

    file: Path | None
    unit: str | None
    zone: str | None

    def read(self, known: "Known") -> "AirLog | None":
        """Read it, in the room's zone unless another was said."""
        from bonebench.files.airlog import read_air_log
        from bonebench.files.logtimes import zone_named

        return read_air_log(self.file, zone_named(self.zone or known.room.zone), self.unit) if self.file is not None else None


def asked_of(options: dict[str, Any]) -> "Asked":
    """Take what is about the colony out of a command's options."""
    from bonebench.services.colony.asked import Asked

    said = {name: value for name in ABOUT if (value := options.pop(name)) not in (None, False)}
    about: dict[str, Any] = {name: "yes" if value is True else value for name, value in said.items()}
    return Asked(**about)


def _work(as_json: bool, book: str | None, schema: str, act: "Callable[[Known, str], Any]") -> None:
    """Ask one question; the second argument of ``act`` is today."""
    from bonebench.cli.words import worked_text

    with faults(as_json, schema), shipped_or_book(book) as (door, reader):
        today = reader.today.isoformat() if reader.today else ""
        answer(door.work(lambda known: act(known, today)), as_json=as_json, show=lambda card: worked_text(card, reader))


def _ask(
    as_json: bool, book: str | None, schema: str, options: dict[str, Any], act: "Callable[[Known, Asked, str], Any]", **how: Any
) -> None:
    """Ask one question of a colony: the one that was typed, else today's by the log of its box."""
    from bonebench.cli.words import worked_text

    box, asked = options.pop("box", None), asked_of(options)
    show, by_log = how.get("show"), how.get("by_log", True)
    with faults(as_json, schema), shipped_or_book(book) as (door, reader):
        today = reader.today.isoformat() if reader.today else ""
        card = _by_log(door, asked, lambda known, colony: act(known, colony, today), box, how.get("first_day"), by_log=by_log)
        if "then" in how:
            how["then"](card, door, reader)
        answer(card, as_json=as_json, show=lambda card: (show or worked_text)(card, reader))


def _by_log(
    door: "Door | NoBook", asked: "Asked", act: "Callable[[Known, Asked], Any]", box: str | None, day: str | None, *, by_log: bool
) -> Any:
    from bonebench.door import Door

    if asked.size or not by_log or not isinstance(door, Door):
        return door.work(lambda known: act(known, asked))
    from bonebench.services.colony.own import ask

    return door.read(lambda tx, now: ask(tx, now, asked, act, box=box, first_day=day))


held_option = click.option("--held", help="Food a day until feeding-up begins: '20 g'; what the log tells unless said.")
box_option = click.option("--box", help="Whose log to begin from where no --size is given, if there are several.")


@colony.command("numbers")
@click.option("--scoop-count", help="Larvae and adults alive in a scoop: 40. Write 0 where none are.")
@click.option("--scoop-part", help="Which share of the bedding that scoop was: 2%.")
@click.option("--pupae", help="Prepupae and pupae in the blocks that were opened.")
@click.option("--pupae-part", help="Which share of the blocks was opened: 100% unless said.")
@click.option("--before", help="A weighed head, the only food there was: before.")
@click.option("--after", help="And after.")
@click.option("--apart", help="How far apart the weighings were: 2d.")
@click.option("--dried-off", help="How much of it was drying: 20 g.")
@click.option("--heads-eaten", help="The last heads that went: '3 raccoon', or their tissue: '500 g'.")
@click.option("--heads-days", help="In how long: 6d.")
@click.option("--frozen-in", help="When something frozen last went in: 3d ago is 3d.")
@about_colony
def numbers(book: str | None, as_json: bool, **options: Any) -> None:
    """Say how many there probably are, by age, and what they can eat today."""
    from bonebench.services.colony.numbers import numbers as work

    asked = asked_of(options)
    _work(as_json, book, "colony.numbers/1", lambda known, _: work(known, asked, **options))


@colony.command("count")
@click.argument("place", default="")
@click.option("--counted", help="Larvae and adults alive in a scoop; write 0 where none are.")
@click.option("--part", help="Which share of the bedding it was: 2%.")
@click.option("--grade", help="Or by eye: none, a few, hundreds, thousands, the bedding moves.")
@click.option("--pupae", help="Pupae in the blocks that were opened.")
@click.option("--pupae-part", help="Which share of the blocks that was.")
@click.option("--sites", help="Blocks there: 20 L, or a number of holes.")
@click.option("--fed", help="Food put in: 200 g.")
@click.option("--dried", is_flag=True, help="That food was dried.")
@click.option("--temperature", help="The thermometer there read: 26 C.")
@click.option("--humidity", help="And the damp: 55%.")
@click.option("--smell", help="0 none, 1 faint, 2 strong, 3 foul.")
@click.option("--pests", help="Pests seen, apart by commas.")
@click.option("--hunger", help="How hungry they look: food left, hungry or starved.")
@click.option("--beetles", help="What they were determined as.")
@about_option
@at_option
@who_option
@book_option
@json_option
def count(
    place: str, dried: bool, at_time: str | None, who: str | None, book: str | None, as_json: bool, **seen: str | None
) -> None:  # fmt: skip
    """Write down what was seen in a box, and show what follows from all that was."""
    from bonebench.door import Look
    from bonebench.services.colony.book import colonies

    with faults(as_json, "colony/1"), session(book, who) as at:
        at.door.note_colony(Look(place=place, at=at_time, dried="yes" if dried else None, **seen))
        answer(at.door.read(colonies), as_json=as_json, show=lambda card: colonies_text(card, at.reader, at.zone))


@colony.command("fit")
@book_option
@json_option
def fit(book: str | None, as_json: bool) -> None:
    """Show the colonies of the room: last looks, and numbers and strain fitted to them."""
    _show_colonies(book, as_json)


def _show_colonies(book: str | None, as_json: bool) -> None:
    from bonebench.services.colony.book import colonies

    with faults(as_json, "colony/1"), session(book) as at:
        answer(at.door.read(colonies), as_json=as_json, show=lambda card: colonies_text(card, at.reader, at.zone))


colony.add_command(fit, "show")


@colony.command("feed")
@click.option("--until", required=True, help="The day the season begins: 2026-10-01.")
@click.option("--target", required=True, help="What they should be able to eat a day by then: 300 g.")
@held_option
@box_option
@about_colony
def feed(book: str | None, as_json: bool, until: str, target: str, held: str | None, **options: Any) -> None:
    """Say when to begin to feed up so that they are hungry enough on a day."""
    from datetime import date

    from bonebench.services.colony.ahead import read_first_day
    from bonebench.services.colony.food import ramp_up as work

    def act(known: "Known", asked: "Asked", today: str) -> Any:
        day = read_first_day(until)
        days = (day - date.fromisoformat(today)).days if day and today else 0
        return work(known, asked, season=f"{max(days, 0)}d", target=target, first_day=today, held=held)

    _ask(as_json, book, "colony.ramp-up/1", options, act)


def colonies_text(card: "ColoniesCard", reader: "Reader", zone: str) -> str:
    """Return the colonies of the room as lines."""
    from bonebench.cli.words import caution_lines, flag_lines, moment
    from bonebench.units import say

    lines = [*caution_lines(card.cautions, reader)]
    for box in card.boxes:
        lines.append(f"\n{box.name}")
        if box.numbers is not None:
            lines += [say(box.numbers.title, reader)]
            lines += [f"  {say(fact.label, reader):40} {say(fact.value, reader)}" for fact in box.numbers.facts]
        elif box.why_not is not None:
            lines.append(say(box.why_not, reader))
        if box.tonight is not None:
            rests = "; ".join(say(words, reader) for words in box.tonight.taken)
            lines.append(f"  tonight: {say(box.tonight.words, reader)} ({rests})")
        lines += flag_lines((*box.flags, *(box.numbers.flags if box.numbers else ())), reader)
        lines += [f"  {moment(look.at, zone, reader)}  {say(look.what, reader)}" for look in box.looks]
    return "\n".join(lines if card.boxes else [*lines, "this room has no beetle box; set one up as a place first"])


@colony.command("forecast")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--days", help="How far: 90d unless said.")
@click.option("--feed", "--ration", "ration", help="Food a day: '80 g'; all they can eat unless said.")
@click.option("--waiting", help="The queue in the freezer: '20 raccoon, 4 coyote', or its tissue: '4 kg'.")
@click.option("--first-day", help="Today unless said, or the first whole day of a log: 2026-05-04. The size is that of this day.")
@log_options
@box_option
@about_colony
def forecast(book: str | None, as_json: bool, file: Path | None, **options: Any) -> None:
    """Tell the days ahead as bands, and whether the queue fits; a log of the box, or the box in FILE, drives them.

    FILE is a colony.toml (`colony example` writes one); what is said beside it goes before what it says.
    """
    from bonebench.cli.colonybox import told_by_file
    from bonebench.services.colony.ahead import ahead

    log = LogNamed(*(options.pop(name) for name in ("log_file", "log_unit", "zone")))
    if file is not None:
        _work(as_json, book, "colony.forecast/1", lambda known, today: told_by_file(known, today, file, log, options))
        return
    more = {name: options.pop(name) for name in ("days", "ration", "waiting", "first_day")}

    def act(known: "Known", asked: "Asked", today: str) -> Any:
        return ahead(known, asked, today=today, log=log.read(known), **more)

    _ask(as_json, book, "colony.forecast/1", options, act, by_log=log.file is None, first_day=more["first_day"])


@colony.command("ramp-up")
@click.option("--season", required=True, help="Days to the season: 120d.")
@click.option("--target", required=True, help="What they should be able to eat a day by then: 300 g.")
@click.option("--first-day", help="Today unless said.")
@held_option
@box_option
@about_colony
def ramp_up(
    book: str | None, as_json: bool, season: str, target: str, first_day: str | None, held: str | None, **options: Any
) -> None:  # fmt: skip
    """Say when to begin to feed up for a season, and with how much; from today's colony by the log, unless a size is given."""
    from bonebench.services.colony.food import ramp_up as work

    def act(known: "Known", asked: "Asked", today: str) -> Any:
        return work(known, asked, season=season, target=target, first_day=first_day or today, held=held)

    _ask(as_json, book, "colony.ramp-up/1", options, act, first_day=first_day)


@colony.command("least")
@click.option("--days", help="How long the quiet time is: 60d unless said.")
@click.option("--keep", help="Which share of them must be there at its end: 50% unless said.")
@click.option("--begins", help="In how long it begins: 30d; now unless said.")
@box_option
@about_colony
def least(
    book: str | None, as_json: bool, days: str | None, keep: str | None, begins: str | None, **options: Any
) -> None:  # fmt: skip
    """Say the least food that keeps them through a quiet time; today's colony by the log, unless a size is given."""
    from bonebench.services.colony.food import least as work

    _ask(as_json, book, "colony.least/1", options, lambda known, asked, _: work(known, asked, days=days, keep=keep, begins=begins))


@colony.command("away")
@click.option("--days", help="How long: 7d unless said.")
@click.option("--first-day", help="Today unless said.")
@click.option("--pdf", type=click.Path(dir_okay=False, path_type=Path), help="Write the neighbour's sheet to this file.")
@box_option
@about_colony
def away(
    book: str | None, as_json: bool, days: str | None, first_day: str | None, pdf: Path | None, **options: Any
) -> None:  # fmt: skip
    """Say what to load before days away, with a sheet for a neighbour."""
    from bonebench.cli.words import worked_text
    from bonebench.services.colony.food import away as work

    def print_sheet(card: "AwayCard", door: "Door | NoBook", reader: "Reader") -> None:
        from bonebench.papers.awaywords import away_pdf

        if pdf is not None:
            surface = door.surface()
            write_paper(pdf, away_pdf(card, reader, room=surface.room_name, demo=surface.demo))

    _ask(
        as_json, book, "colony.away/1", options,
        lambda known, asked, today: work(known, asked, days=days, first_day=first_day or today or None),
        first_day=first_day, then=print_sheet,
        show=lambda card, reader: f"{worked_text(card, reader)}\n\n{sheet_text(card.sheet, reader)}",
    )  # fmt: skip


def sheet_text(sheet: "Neighbour", reader: "Reader") -> str:
    """Return the neighbour's sheet as lines."""
    from bonebench.units import say

    parts = (("Each time", sheet.daily), ("By what they see", sheet.call), ("Never", sheet.never))
    lines = ["For the neighbour (--pdf FILE prints it):"]
    for head, told in parts:
        lines += [f"{head}:", *(f"  - {say(line, reader)}" for line in told)]
    return "\n".join(lines)


@colony.command("thin")
@click.option("--needed", required=True, help="What they will have to eat a day: 50 g.")
@click.option("--counted", help="When a scoop was last counted: 3d ago is 3d.")
@click.option("--days", help="How far ahead to look: 30d unless said.")
@box_option
@about_colony
def thin(
    book: str | None, as_json: bool, needed: str, counted: str | None, days: str | None, **options: Any
) -> None:  # fmt: skip
    """Say what may be thinned, sold or given away: never more than a quarter, and only after a count."""
    from bonebench.services.colony.sparing import thin as work

    def act(known: "Known", asked: "Asked", _: str) -> Any:
        return work(known, asked, needed=needed, counted=counted, days=days)

    _ask(as_json, book, "colony.thin/1", options, act)


@colony.command("second")
@click.option("--needed", required=True, help="What must be eaten a day at the height of the season: 300 g.")
@click.option("--days", help="Days to then: 120d unless said.")
@click.option("--has-spare", is_flag=True, help="A spare colony lives in another place.")
@box_option
@about_colony
def second(
    book: str | None, as_json: bool, needed: str, days: str | None, has_spare: bool, **options: Any
) -> None:  # fmt: skip
    """Say whether to start or split a second colony."""
    from bonebench.services.colony.sparing import second as work

    spare = "yes" if has_spare else None

    def act(known: "Known", asked: "Asked", _: str) -> Any:
        return work(known, asked, needed=needed, days=days, has_spare=spare)

    _ask(as_json, book, "colony.second/1", options, act)


@colony.command("harm")
@click.option("--fell-to", help="How cold or hot it was where they sit: 5 C.")
@click.option("--lasted", help="How long: 18h.")
@click.option("--days", help="How many days after to look at: 14d unless said.")
@log_options
@about_colony
def harm(book: str | None, as_json: bool, **options: Any) -> None:
    """Say what a cold snap, heat or a dead heater did; by how cold and how long, or by a log that shows it."""
    from bonebench.services.colony.harm import harm as work

    log = LogNamed(*(options.pop(name) for name in ("log_file", "log_unit", "zone")))
    asked = asked_of(options)
    _work(as_json, book, "colony.harm/1", lambda known, _: work(known, asked, log=log.read(known), **options))


@colony.command("tonight")
@click.option("--waiting", help="Heads that wait, in their order: '2 raccoon, 1 coyote'; the room's own unless said.")
@click.option("--free-floor", help="Floor still free in the box; by what lies inside unless said.")
@click.option("--spare-heat", help="Power the heater has to spare: 60 W.")
@click.option("--inside", help="Heads that lie in it: '1 coyote'.")
@click.option("--inside-left", help="Share of tissue still on them: 40%.")
@about_colony
def tonight(book: str | None, as_json: bool, **options: Any) -> None:
    """Say which heads may go in now, and which limit binds; without --waiting for each box of the room, by its own log."""
    if not options["waiting"]:
        _show_colonies(book, as_json)
        return
    from bonebench.services.colony.pieces import tonight as work

    asked = asked_of(options)
    _work(as_json, book, "colony.tonight/1", lambda known, _: work(known, asked, **options))


@colony.command("rot")
@click.option("--hours", required=True, help="How long it has lain warm: 30h.")
@click.option("--temperature", help="How warm: 27 C unless said.")
@click.option("--left", help="Share of tissue on it, on average: 80%; all unless said.")
@click.option("--wet", help="Share of that which is wet: 70%; all unless said.")
@click.option("--smell", help="0 none, 1 faint, 2 strong, 3 foul.")
@book_option
@json_option
def rot(book: str | None, as_json: bool, **options: Any) -> None:
    """Read the rot clock of one wet piece."""
    from bonebench.services.colony.pieces import rot as work

    _work(as_json, book, "colony.rot/1", lambda known, _: work(known, **options))


@colony.command("clean-by")
@click.option("--species", required=True, help="Whose head: raccoon.")
@click.option("--inside", required=True, help="How long it is in: 3d.")
@click.option("--look", help="hardly touched, eaten into, half gone, crevices left or bare.")
@click.option("--tissue", help="Tissue it went in with, if it was weighed: 200 g.")
@click.option("--lost", help="What it has lost on the scale by eating: 90 g.")
@click.option("--appetite", help="What the colony can give it a day: 30 g; enough unless said.")
@click.option("--first-day", help="Today unless said.")
@book_option
@json_option
def clean_by(book: str | None, as_json: bool, first_day: str | None, **options: Any) -> None:
    """Say when a piece will be clean, at even chance and four times in five."""
    from bonebench.services.colony.pieces import clean_by as work

    _work(as_json, book, "colony.clean-by/1", lambda known, today: work(known, first_day=first_day or today, **options))
