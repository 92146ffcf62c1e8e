"""What a code on a label or a sheet means: a tag, a place, a bath, a pencil sheet."""

from collections.abc import Iterable
from urllib.parse import unquote, urlsplit

from bonebench.errors import BonebenchError, InputError
from bonebench.records.book import Reading
from bonebench.said import Said, said
from bonebench.services.baths.keep import all_baths
from bonebench.services.gather import known_of, specimen_by_tag
from bonebench.services.known import Known
from bonebench.services.prints.cards import FoundCode, ScanCard
from bonebench.services.prints.sheets import sheet_card
from bonebench.services.specimens.names import species_name
from bonebench.shop.identity import read_tag
from bonebench.shop.rounds import place_subject
from bonebench.shop.sheet_entries import SHEET, sheet_subject

PLACE = "place:"
LONGEST_CODE = 400

# What helps where no code is found; common practice, no source.
TEACH: tuple[Said, ...] = (
    said("scan.nearer", "Go nearer until the code fills a third of the picture, and hold still."),
    said("scan.light", "Light from the side: no flash on wet or shiny labels. Wipe the label."),
    said("scan.flat", "Hold the label flat and the phone straight above it. Any one of its corner codes is enough."),
    said("scan.typed", "Or type the tag: it stands in large letters beside the code."),
    said("scan.holes", "Nothing left to read? Feel the punched strip and type the numbers of its holes, a space after each block."),
)


def code_of_place(key: str) -> str:
    """Return what the code on a place's label says."""
    return place_subject(key)


def code_of_sheet(number: str) -> str:
    """Return what the code on a pencil sheet says."""
    return sheet_subject(number)


def scanned(tx: Reading, texts: Iterable[str]) -> ScanCard:
    """Say what each code is, each once; a text that is nothing of this room is shown as it is."""
    known = known_of(tx)
    found: dict[tuple[str, str], FoundCode] = {}
    for text in texts:
        one = _found(tx, text.strip()[:LONGEST_CODE], known)
        found.setdefault((one.kind, one.key), one)
    return ScanCard(tuple(found.values()), () if found else TEACH, cautions=(known.defer,))


def _found(tx: Reading, text: str, known: Known) -> FoundCode:
    # A label may carry the address of a page of another day's host: what counts is the end of it.
    path = unquote(urlsplit(text).path) if text.startswith(("http://", "https://")) else ""
    kind, _, last = path.strip("/").rpartition("/")
    if kind == "baths":
        bath = next((b for b in all_baths(tx) if b.id == last), None)
        return FoundCode(text, "bath", last, bath.name) if bath is not None else FoundCode(text, "unknown", text, text)
    plain = last if kind == "specimens" else text
    if plain.startswith(PLACE):
        place = known.room.place(plain.removeprefix(PLACE))
        return FoundCode(text, "place", place.key, place.name) if place is not None else FoundCode(text, "unknown", text, text)
    if plain.startswith(SHEET):
        return _sheet(tx, text, plain.removeprefix(SHEET))
    return _specimen(tx, text, plain, known)


def _sheet(tx: Reading, text: str, number: str) -> FoundCode:
    try:
        return FoundCode(text, "sheet", sheet_card(tx, number).number, f"pencil sheet {number}")
    except InputError:
        return FoundCode(text, "unknown", text, text)


def _specimen(tx: Reading, text: str, plain: str, known: Known) -> FoundCode:
    try:
        tag = read_tag(plain)
        specimen = specimen_by_tag(tx, tag)
    except BonebenchError:
        return FoundCode(text, "unknown", text, text)
    return FoundCode(text, "specimen", tag, species_name(specimen.species, known).common)
