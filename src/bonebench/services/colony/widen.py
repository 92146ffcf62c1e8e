"""Colonies of another kind of beetle: spread wider where it is near the hide beetle, refused where nothing carries over."""

from dataclasses import replace

import numpy as np

from bonebench.errors import Impossible
from bonebench.reference.beetles import Beetle
from bonebench.science.colony.forecast import Draws
from bonebench.science.colony.traits import Trait

WITHHELD = "so their growth, numbers ahead and appetite are not worked out here"


def widened(draws: Draws, kind: Beetle, rng: np.random.Generator) -> Draws:
    """Return a colony whose pace and appetite may be that of another kind; one that nothing is known of is refused."""
    if kind.trust == "own":
        return draws
    if kind.trust == "none":
        raise Impossible(
            "colony.kind.withheld", "the beetles are {kind}: {differs}; {withheld}. Weigh what they eat and set that for the box",
            kind=kind.name, differs="; ".join(kind.differs), withheld=WITHHELD,
        )  # fmt: skip
    traits = draws.traits.copy()
    for trait in (Trait.STRAIN, Trait.APPETITE):
        traits[:, trait] *= np.exp(kind.spread * rng.standard_normal(len(traits)))
    return replace(draws, traits=traits)
