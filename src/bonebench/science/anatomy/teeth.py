"""One tooth: which jaw, which side of the animal, which kind, which number, milk or permanent."""

from dataclasses import dataclass
from typing import Literal

Jaw = Literal["upper", "lower"]
Side = Literal["right", "left"]
Kind = Literal["I", "C", "P", "M"]

JAWS: tuple[Jaw, ...] = ("upper", "lower")
# The animal's own right stands first, because on a chart that faces you it is on your left.
SIDES: tuple[Side, ...] = ("right", "left")
KINDS: tuple[Kind, ...] = ("I", "C", "P", "M")
# The most of a kind on one side of a jaw: five incisors and four molars in opossums, nine pegs in armadillos.
MOST: dict[Kind, int] = {"I": 5, "C": 1, "P": 4, "M": 9}


@dataclass(frozen=True, slots=True)
class Tooth:
    """One tooth of one animal.

    Parameters
    ----------
    jaw : "upper" or "lower"
        The jaw it stands in.
    side : "right" or "left"
        The side, always the animal's own.
    kind : "I", "C", "P" or "M"
        Incisor, canine, premolar or molar.
    number : int
        Its number within the kind, 1 to ``MOST``: that of the tooth it answers to in a full set, so that a cat's last upper
        premolar is 4 although it has three.
    milk : bool
        Whether it is a milk (deciduous) tooth.

    Notes
    -----
    ``code`` is written as anatomists write it: U or L for the jaw, R or L for the side, then kind and number (upper right fourth
    premolar: URP4 [1]_); milk teeth carry a d before the kind. A canine has no number, because there is one of it.

    References
    ----------
    .. [1] SAEVA Proceedings (2014), Dental Wetlab, Dental Terminology and Identification: "upper right fourth premolar (URP4)".
    """

    jaw: Jaw
    side: Side
    kind: Kind
    number: int = 1
    milk: bool = False

    @property
    def place(self) -> str:
        """Where it stands within its quarter: P4, C, dI2."""
        number = "" if self.kind == "C" else str(self.number)
        return f"{'d' if self.milk else ''}{self.kind}{number}"

    @property
    def code(self) -> str:
        """What it is called in this program, such as ULP4 or LRdC."""
        return f"{self.jaw[0].upper()}{self.side[0].upper()}{self.place}"
