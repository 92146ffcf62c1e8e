"""The teeth of a specimen as text for people: each quarter on a line, from the middle of the mouth to the back."""

from collections.abc import Iterable
from itertools import groupby
from typing import TYPE_CHECKING

from bonebench.cli.words import basis_lines, caution_lines, flag_lines
from bonebench.units import Reader, say

if TYPE_CHECKING:
    from bonebench.services.teeth.cards import TeethChartCard, TeethToldCard, ToothCard

NOT_SAID = "not looked at"


def teeth_text(card: "TeethChartCard", reader: Reader) -> str:
    """Return the chart, the counts, the jar and what to look at."""
    expected = "no fixed number" if card.expected is None else f"{card.expected} when complete"
    lines = [
        f"{card.tag}  {card.species.common}" + (f", {card.age}" if card.age else ""),
        f"formula    {card.formula} ({card.standing})",
        f"teeth      {expected}; {_counts(card)}",
        f"jar        {say(card.agreement, reader)}",
        "",
        *_quarters(card.teeth, young=card.dentition == "changing"),
        "",
        *(say(note, reader) for note in card.notes),
        *flag_lines(card.flags, reader),
        *(("Rests on:", *basis_lines(card.basis)) if card.basis else ()),
        *caution_lines(card.cautions, reader),
    ]
    return "\n".join(lines)


def told_text(card: "TeethToldCard", reader: Reader) -> str:
    """Return how it went, and the chart after it."""
    return "\n".join([f"{card.stored} as {card.entry_id}", teeth_text(card.chart, reader)])


def _counts(card: "TeethChartCard") -> str:
    counted = (
        (card.in_place, "in place"), (card.loose, "loose"), (card.in_jar, "in the jar"), (card.reseated, "glued"),
        (card.chipped, "chipped"), (card.missing_before, "missing before intake"), (card.missing, "missing now"),
        (card.not_looked, NOT_SAID),
    )  # fmt: skip
    return ", ".join(f"{count} {words}" for count, words in counted if count) or "none marked"


def _quarters(teeth: Iterable["ToothCard"], *, young: bool) -> Iterable[str]:
    ordered = sorted(teeth, key=lambda tooth: (tooth.jaw != "upper", tooth.side != "right", tooth.milk))
    for (jaw, side, milk), row in groupby(ordered, key=lambda tooth: (tooth.jaw, tooth.side, tooth.milk)):
        where = f"{jaw} jaw, animal's {side}{', milk teeth' if milk else ''}" if jaw else "codes nobody can read"
        yield f"{where}:"
        yield "  " + "  ".join(_tooth(tooth, young=young) for tooth in row)


def _tooth(tooth: "ToothCard", *, young: bool) -> str:
    digits = "" if tooth.triadan is None else f"/{tooth.triadan}"
    odd = "?" if tooth.on_chart == "may be there" and not young else "!" if tooth.on_chart == "not of this species" else ""
    return f"{tooth.code}{digits}{odd}" + ("" if tooth.state in (NOT_SAID, "in place") else f" [{tooth.state}]")
