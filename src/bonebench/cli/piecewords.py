"""How a piece with the beetles is told on the command line."""

from typing import TYPE_CHECKING

from bonebench.cli.words import basis_lines, caution_lines, flag_lines, specimen_text
from bonebench.units import Reader, say

if TYPE_CHECKING:
    from bonebench.services.specimens.cards import SpecimenCard
    from bonebench.services.specimens.piececard import PieceCard


def piece_lines(card: "PieceCard", reader: Reader) -> list[str]:
    """Return how a piece fares: when to look, its rot clock, what it rests on."""
    where = f"with the beetles in {card.place_name}" if card.status == "inside" else f"waits for the beetles ({card.place_name})"
    lines = [where, f"  {say(card.title, reader)}", f"  {say(card.rule, reader)} (not checked in your room)"]
    lines += [f"  {say(fact.label, reader):28} {say(fact.value, reader)}" for fact in (*card.facts, *card.readings)]
    return [*lines, *flag_lines(card.flags, reader)]


def piece_or_whole(card: "SpecimenCard", reader: Reader, zone: str) -> str:
    """Return how a piece fares after a look; one that is not with the beetles is shown whole."""
    if card.beetles is None:
        return specimen_text(card, reader, zone)
    lines = [f"{card.tag}  {card.species.common}", *piece_lines(card.beetles, reader), *caution_lines(card.cautions, reader)]
    return "\n".join([*lines, "Rests on:", *basis_lines(card.beetles.basis)])
