"""Hide beetles that are not *Dermestes maculatus*: which of this program's rules differ for each, and how far its figures go.

Everything here is from the collected figures on the biology of the hide beetle, parts 1.1, 1.3 and 5.1, with their sources.
"""

from dataclasses import dataclass
from typing import Literal

OWN = "Dermestes maculatus"


@dataclass(frozen=True, slots=True)
class Beetle:
    """One kind: how far the figures of the hide beetle carry, and what differs.

    ``trust``: own, near (ranges are widened by ``spread``, the standard deviation of the logarithm of pace and appetite) or none
    (growth, numbers ahead and appetite are withheld).
    """

    name: str
    trust: Literal["own", "near", "none"]
    spread: float = 0.0
    differs: tuple[str, ...] = ()
    source: str = ""


BEETLES: tuple[Beetle, ...] = (
    Beetle(OWN, "own"),
    Beetle(
        "Dermestes frischii", "near", 0.35,
        (
            "much slower where it is cool or dry: about 225 days to adult at 20 °C and 60 % humidity, where the hide beetle takes "
            "about 127; about even with it near 28 °C",
            "best near 33 °C rather than 30, and damper air speeds it up more",
            "it eats about as much: 51 of 100 g of dried fish in 90 days against 53",
        ),
        "rate curves at four temperatures and humidities, stage not stated; a 90-day feeding trial of three repeats",
    ),
    Beetle(
        "Dermestes haemorrhoidalis", "near", 0.25,
        (
            "it grows on from 13.2 °C (664 degree-days): about 98 days at 20 °C against 127, 56 at 25 °C against 64",
            "food per larva is known: 0.13 g of dry meat, the very figure that is used here for the hide beetle",
            "nothing was found on its eggs, its heat limit or how it bears crowding",
        ),
        "a straight-line fit after Coombs 1979; a feeding study",
    ),
    Beetle(
        "Dermestes peruvianus", "near", 0.30,
        (
            "it grows on from 12.1 °C but needs more warmth in all (882 degree-days): about 112 days at 20 °C, 68 at 25 °C",
            "nothing was found on its appetite, eggs or heat limit",
        ),
        "a straight-line fit after Coombs 1979",
    ),
    Beetle(
        "Dermestes lardarius", "none", 0.0,
        (
            "it lays at 20 and 25 °C only, and not at all at 30 °C or above: a box kept warm for hide beetles dies out",
            "many die at 32.5 °C; about 48 days from hatching to adult at 25 °C, about 145 and mostly deformed at 15 °C",
            "laying begins about 100 days after the adult hatches and lasts about 90, so it takes far longer to become many",
        ),
        "rearing at five temperatures and several humidities (Coombs 1978)",
    ),
)  # fmt: skip
UNKNOWN = ("nothing is known here of its pace, its appetite or the warmth it bears",)
# Names the same beetle goes by; the older scientific one is from memory.
SAME = {"hide beetle": OWN, "dermestes vulpinus": OWN, "larder beetle": "Dermestes lardarius"}


def beetle_named(text: str | None) -> Beetle:
    """Return what is known of beetles as somebody named them; nobody named them: the hide beetle."""
    name = " ".join((text or OWN).split())
    wanted = SAME.get(name.casefold(), name).casefold()
    if wanted.startswith("d. "):
        wanted = "dermestes " + wanted.removeprefix("d. ")
    found = next((beetle for beetle in BEETLES if beetle.name.casefold() == wanted), None)
    return found or Beetle(name, "none", 0.0, UNKNOWN, "")
