"""What the faces print: from what was chosen to a PDF, and the card that says what was printed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from bonebench.errors import UnknownName
from bonebench.papers.advice import LABEL_ADVICE, NO_METAL, ONE_SKULL, PUNCH_ADVICE, TEST_STRIP
from bonebench.papers.labels import TEST_STRIPS, BlankTag, JarLabel, Label, PlaceLabel, SpecimenLabel, labels_pdf
from bonebench.papers.punchsheet import BARE, GLOVED, Holes, Strip, punch_guide, punch_strips
from bonebench.papers.sheets import Printing, sheets_needed
from bonebench.papers.stocks import Stock, stock_of
from bonebench.papers.type import unset
from bonebench.said import Said, said
from bonebench.services.cards import Caution
from bonebench.services.prints.cards import Labelled, PlaceLabelled, PrintedCard
from bonebench.services.prints.scan import code_of_place
from bonebench.shop.flags import Flag
from bonebench.shop.steps import PlaceKind
from bonebench.units import Reader

Kind = Literal["specimen", "jar", "place", "blank", "strip", "test", "guide"]
# What each kind of label is for, in the order they are offered.
KINDS: Mapping[str, str] = {
    "specimen": "for the bag or tray of a specimen",
    "jar": "for its jar of teeth, with how many are expected",
    "place": "for pots, tubs, racks and the rest of the room",
    "blank": "new tags, given out now and used later",
    "strip": "the same tag as holes to punch, which a finger can read",
    "test": "three strips to try a label stock with: pot, tub, shelf",
    "guide": "the page that says how to read the holes",
}
WET = (PlaceKind.POT, PlaceKind.TUB, PlaceKind.RINSE)
HOLES: Mapping[str, Holes] = {"bare": BARE, "gloved": GLOVED}
MAIN_PART = "skull"
USUAL_STOCK = {"metric": "a4-3x7-63.5x38.1", "us": "letter-3x10"}
USUAL_PLACE_STOCK = {"metric": "a4-2x4-99.1x67.7", "us": "letter-2x3"}
USUAL_PAPER = {"metric": "a4", "us": "letter"}


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelJob:
    """One print of labels: which kind, on which stock or paper, and how the sheet lies in the printer."""

    kind: str = "specimen"
    stock: str = ""
    paper: str = ""
    holes: str = "bare"
    parts: bool = False
    printing: Printing = field(default_factory=Printing)


def usual_stock(kind: str, reader: Reader) -> str:
    """Return the stock that is taken where none is named: a place's label is larger."""
    return (USUAL_PLACE_STOCK if kind == "place" else USUAL_STOCK)[reader.system]


def known_kind(kind: str) -> str:
    """Return a kind of label, and say which there are where it is not one."""
    if kind not in KINDS:
        raise UnknownName(
            "print.kind", "there are no labels called {kind}; there are: {known}", could_be=tuple(KINDS), kind=kind,
            known=", ".join(KINDS),
        )  # fmt: skip
    return kind


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF, and what it is."""

    pdf: bytes
    card: PrintedCard


def print_labels(
    job: LabelJob,
    reader: Reader,
    cautions: tuple[Caution, ...],
    *,
    specimens: Sequence[Labelled] = (),
    places: Sequence[PlaceLabelled] = (),
    tags: Sequence[str] = (),
) -> Printed:
    """Print labels of one kind: of specimens, of places, or of new tags."""
    kind = known_kind(job.kind)
    if kind in ("strip", "guide"):
        return _punched(job, reader, cautions, specimens, tags)
    stock = stock_of(job.stock or usual_stock(kind, reader))
    labels = _labels(kind, specimens, places, tags, parts=job.parts)
    pdf = labels_pdf(labels, stock, job.printing, reader)
    named = tuple(dict.fromkeys(label.tag for label in labels if isinstance(label, SpecimenLabel | JarLabel | BlankTag)))
    card = printed_card(
        kind, _pages(stock, len(labels), job.printing), cautions, advice=_advice(kind, places), labels=len(labels),
        stock=stock, printing=job.printing, tags=named,
        flags=unset_flags(*(f"{s.species} {s.owner}" for s in specimens), *(p.name for p in places)),
    )  # fmt: skip
    return Printed(pdf, card)


def _pages(stock: Stock, count: int, printing: Printing) -> int:
    return sheets_needed(stock, count, printing.start)


def _labels(
    kind: str, specimens: Sequence[Labelled], places: Sequence[PlaceLabelled], tags: Sequence[str], *, parts: bool
) -> list[Label]:
    if kind == "place":
        return [_of_place(p) for p in places]
    if kind == "blank":
        return [BlankTag(tag) for tag in tags]
    if kind == "test":
        return list(TEST_STRIPS)
    if kind == "jar":
        return [JarLabel(tag=s.tag, species=s.species, expected=s.teeth) for s in specimens]
    return [label for one in specimens for label in _of_specimen(one, parts=parts)]


def _of_place(one: PlaceLabelled) -> PlaceLabel:
    code = code_of_place(one.key)
    return PlaceLabel(name=one.name, kind=one.kind, code=code, peroxide=one.peroxide, wet=one.kind in WET)


def _of_specimen(one: Labelled, *, parts: bool) -> list[Label]:
    """One label, or one for each part; the skull itself needs no word beside its tag."""
    names = one.parts if parts else ("",)
    return [
        SpecimenLabel(tag=one.tag, species=one.species, owner=one.owner, part="" if name == MAIN_PART else name) for name in names
    ]


def _advice(kind: str, places: Sequence[PlaceLabelled]) -> tuple[Said, ...]:
    if kind == "place":
        metal = (NO_METAL,) if any(p.peroxide for p in places) else ()
        return (*metal, *((ONE_SKULL,) if any(p.kind in WET for p in places) else ()), TEST_STRIP)
    return LABEL_ADVICE


def _punched(
    job: LabelJob, reader: Reader, cautions: tuple[Caution, ...], specimens: Sequence[Labelled], tags: Sequence[str]
) -> Printed:
    paper = job.paper or USUAL_PAPER[reader.system]
    if job.kind == "guide":
        return Printed(punch_guide(paper, reader, demo=job.printing.demo), printed_card("guide", 1, cautions, advice=PUNCH_ADVICE))
    if job.holes not in HOLES:
        raise UnknownName(
            "print.holes", "there are no holes for {holes} hands; there are: {known}", could_be=tuple(HOLES), holes=job.holes,
            known=", ".join(HOLES),
        )  # fmt: skip
    strips = [Strip(tag=s.tag, species=s.species) for s in specimens] + [Strip(tag=tag) for tag in tags]
    pdf = punch_strips(strips, paper, HOLES[job.holes], demo=job.printing.demo)
    named = tuple(strip.tag for strip in strips)
    card = printed_card("strip", pages_of(pdf), cautions, advice=PUNCH_ADVICE, labels=len(strips), tags=named)
    return Printed(pdf, card)


def pages_of(pdf: bytes) -> int:
    """Return how many pages a PDF of ours has: its writer names each once, outside what it packs."""
    return pdf.count(b"/Type /Page\n")


def unset_flags(*texts: str) -> tuple[Flag, ...]:
    """Say which signs come out as boxes."""
    signs = unset(" ".join(texts))
    if not signs:
        return ()
    return (
        Flag(
            said("print.unset", "the typeface has no {signs}; boxes stand for them on paper", signs=" ".join(signs[:12])),
            said("print.unset.next", "write the name a second time in letters that it has, or by hand on the print"),
        ),
    )


def printed_card(
    what: str,
    pages: int,
    cautions: tuple[Caution, ...],
    *,
    advice: tuple[Said, ...] = (),
    labels: int = 0,
    stock: Stock | None = None,
    printing: Printing | None = None,
    tags: tuple[str, ...] = (),
    sheet: str | None = None,
    demo: bool = False,
    flags: tuple[Flag, ...] = (),
) -> PrintedCard:
    """Return the card of a print; a sheet of labels that is not full says where the next print goes on."""
    start = printing.start if printing is not None and stock is not None else None
    following = (start - 1 + labels) % stock.a_sheet + 1 if start is not None and stock is not None else None
    return PrintedCard(
        what=what, file=None, pages=pages, labels=labels, stock=stock.key if stock is not None else None, starts_at=start,
        next_start=following, tags=tags, sheet=sheet, demo=demo or (printing is not None and printing.demo), advice=advice,
        basis=(), flags=flags, cautions=cautions,
    )  # fmt: skip
