"""Photos on the command line: add, list, take out."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from bonebench.cli.face import answer, book_option, faults, json_option, session, who_option

if TYPE_CHECKING:
    from bonebench.services.photos.cards import PhotoCard, PhotoOutCard, PhotosAddedCard, PhotosCard
    from bonebench.services.photos.colour import CourseCard
    from bonebench.units import Reader

photo = click.Group("photo", help="Photos of a specimen by step, and the colour of bone measured in one.")


def register(app: click.Group) -> None:
    """Add these commands."""
    app.add_command(photo)


@photo.command("add")
@click.argument("tag")
@click.argument("file", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--step", help="Which step they show: whiten. The one it is in unless said.")
@click.option("--part", help="Which part they show: mandible. The whole specimen unless said.")
@click.option("--note", help="What is to be seen.")
@who_option
@book_option
@json_option
def add_command(
    tag: str, file: tuple[Path, ...], step: str | None, part: str | None, note: str | None, who: str | None, book: str | None,
    as_json: bool,
) -> None:  # fmt: skip
    """Add photos (JPEG, PNG, WebP); kept are at most 2048 pixels, without position or anything else the camera wrote."""
    from bonebench.door import About
    from bonebench.errors import FileFault
    from bonebench.services.photos.taking import take_all

    with faults(as_json, "photo.add/1"), session(book, who) as at:
        taken, refused = take_all((path.name, read_file(path)) for path in file)
        if not taken:
            raise FileFault(refused[0].why.key, refused[0].why.template, **refused[0].why.values)
        card = at.door.keep_photos(About(tag, step, part, note), taken, refused)
        answer(card, as_json=as_json, show=lambda c: added_text(c, at.zone, at.reader))
        if card.refused:
            raise click.exceptions.Exit(1)


def read_file(path: Path) -> bytes:
    """Read a picture from disk, never more of it than could be taken in."""
    from bonebench.errors import FileFault
    from bonebench.files.pictures import LARGEST_BYTES

    try:
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as fault:
        raise FileFault("photo.file", "{file} cannot be read: {why}", file=str(path), why=fault.strerror or str(fault)) from fault


@photo.command("list")
@click.argument("tag")
@book_option
@json_option
def list_command(tag: str, book: str | None, as_json: bool) -> None:
    """List the photos of a specimen, by step; each with the file it lies in."""
    with faults(as_json, "photo.list/1"), session(book) as at:
        folder = at.door.book.files
        answer(at.door.photos(tag), as_json=as_json, show=lambda c: list_text(c, folder, at.zone, at.reader))


@photo.command("take-out")
@click.argument("tag")
@click.argument("name")
@click.option("--erase", is_flag=True, help="Delete its file, too: it showed somebody, or the way to the house.")
@who_option
@book_option
@json_option
def out_command(tag: str, name: str, erase: bool, who: str | None, book: str | None, as_json: bool) -> None:
    """Take a photo out of a specimen's; NAME is the entry, or the first four or more letters of the file."""
    with faults(as_json, "photo.take-out/1"), session(book, who) as at:
        answer(at.door.take_photo_out(tag, name, erase=erase), as_json=as_json, show=lambda c: out_text(c, at.reader))


@photo.command("colour")
@click.argument("tag")
@click.argument("name")
@click.option("--card", required=True, help="Where the card is: left, top, width, height in percent: '10 20 8 8'.")
@click.option("--bone", required=True, help="And the bone, the same way.")
@click.option("--against", default="grey", show_default=True, help="grey, white, paper, or how much the card reflects: 85%.")
@click.option("--setting", default="", help="Phone and light: 'bench lamp, room phone'; only looks called the same are compared.")
@click.option("--keep", is_flag=True, help="Write it down, for the next look to be compared with.")
@who_option
@book_option
@json_option
def colour_command(
    tag: str, name: str, card: str, bone: str, against: str, setting: str, keep: bool, who: str | None, book: str | None,
    as_json: bool,
) -> None:  # fmt: skip
    """Measure how white the bone in a photo is against a card in it; NAME as for take-out. To compare with its like only."""
    from bonebench.cli.words import worked_text
    from bonebench.services.photos.colour import ColourAsked, colour_in

    with faults(as_json, "photo.colour/1"), session(book, who) as at:
        door, shown = at.door, at.door.photos(tag)
        one, looks = shown.named(name), door.colour_looks(tag)
        asked = ColourAsked(card, bone, against, setting)
        file = door.photo_file(one.sha256)
        found = door.work(lambda known: colour_in(known, file, one, tag=shown.tag, asked=asked, looks=looks))
        if keep:
            door.keep_colour(shown.tag, one.entry, found.entry())
        both = [found, *([found.progress] if found.progress is not None else [])]
        answer(found, as_json=as_json, show=lambda _: "\n\n".join(worked_text(card, at.reader) for card in both))


@photo.command("progress")
@click.argument("tag")
@book_option
@json_option
def progress_command(tag: str, book: str | None, as_json: bool) -> None:
    """Say how the measured colour of a specimen went, and since when no change is seen beyond the noise."""
    from bonebench.services.photos.colour import courses_of, whole_course

    with faults(as_json, "photo.course/1"), session(book) as at:
        looks, shown = at.door.colour_looks(tag), at.door.photos(tag).tag
        courses = at.door.work(lambda known: courses_of(known, looks, shown))
        answer(whole_course(shown, courses), as_json=as_json, show=lambda card: course_text(card, at.reader))


def _line(photo: "PhotoCard", zone: str, reader: "Reader") -> str:
    from bonebench.cli.words import moment

    size = f"{photo.width_px} x {photo.height_px}" if photo.width_px else "size not known"
    about = "; ".join(text for text in (photo.part, photo.note) if text)
    return f"{moment(photo.at, zone, reader)}  {photo.sha256[:10]}  {size}{f'  {about}' if about else ''}"


def added_text(card: "PhotosAddedCard", zone: str, reader: "Reader") -> str:
    """Return what came of adding photos."""
    from bonebench.cli.words import flag_lines
    from bonebench.units import say

    lines = [f"{card.tag}, {card.step}: {len(card.kept)} kept"]
    lines += [f"  {_line(photo, zone, reader)}" for photo in card.kept]
    lines += [f"  {_line(photo, zone, reader)}  (it was there already)" for photo in card.already]
    lines += [f"not kept: {say(one.why, reader)}" for one in card.refused]
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


def list_text(card: "PhotosCard", folder: Path, zone: str, reader: "Reader") -> str:
    """Return the photos of a specimen, step by step."""
    from bonebench.cli.words import flag_lines

    lines = [
        f"{card.tag}  {card.species}: {len(card.photos)} photos in {folder}" if card.photos else f"{card.tag} has no photos yet"
    ]
    step = ""
    for photo in card.photos:
        heading = f"{photo.step or 'no step'}{f', visit {photo.visit}' if photo.visit > 1 else ''}"
        lines += [f"\n{heading}"] if heading != step else []
        step = heading
        lines.append(f"  {_line(photo, zone, reader)}{'' if photo.here else '  FILE MISSING'}  {photo.entry}")
    return "\n".join([*lines, *flag_lines(card.flags, reader)])


def course_text(card: "CourseCard", reader: "Reader") -> str:
    """Return how the colour went, setting by setting."""
    from bonebench.cli.words import worked_text

    if not card.courses:
        return f"no colour of {card.tag} was measured yet; `photo colour --keep` writes one down"
    return "\n\n".join(f"{one.setting or 'no setting named'}\n{worked_text(one, reader)}" for one in card.courses)


def out_text(card: "PhotoOutCard", reader: "Reader") -> str:
    """Return what came of taking a photo out."""
    from bonebench.cli.words import flag_lines

    gone = "and its file deleted" if card.erased else "its file stays"
    return "\n".join([f"taken out of {card.tag}: {card.sha256[:10]}, {gone}", *flag_lines(card.flags, reader)])
