"""What a tooth is called in words, and how the name of a state is read."""

from bonebench.errors import UnknownName
from bonebench.science.anatomy import Tooth
from bonebench.shop.teeth_entries import ToothState

KINDS = {"I": "incisor", "C": "canine", "P": "premolar", "M": "molar"}
ORDINALS = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")
# What people type for a state beside its own words.
ALSO = {
    "ok": ToothState.IN_PLACE, "in": ToothState.IN_PLACE, "jar": ToothState.IN_JAR, "in jar": ToothState.IN_JAR,
    "reseated": ToothState.GLUED, "missing before": ToothState.MISSING_BEFORE, "never there": ToothState.MISSING_BEFORE,
    "missing": ToothState.MISSING_NOW, "lost": ToothState.MISSING_NOW,
}  # fmt: skip


def tooth_name(tooth: Tooth, *, by_number: bool = True) -> str:
    """Return a tooth in words: upper left fourth premolar; without ``by_number`` only where it stands in its row is meant."""
    milk = "milk " if tooth.milk else ""
    number = "" if tooth.kind == "C" else f"{ORDINALS[tooth.number]} "
    counted = "" if by_number or tooth.kind == "C" else ", counted from the front"
    return f"{tooth.jaw} {tooth.side} {number}{milk}{KINDS[tooth.kind]}{counted}"


def read_state(text: str) -> ToothState:
    """Read a state as people write it."""
    words = " ".join(text.replace("-", " ").split()).casefold()
    if words in tuple(ToothState):
        return ToothState(words)
    if words in ALSO:
        return ALSO[words]
    raise UnknownName("teeth.state", "'{text}' is no state of a tooth; it is one of {known}", could_be=tuple(ToothState), text=text,
                      known=", ".join(ToothState))  # fmt: skip
