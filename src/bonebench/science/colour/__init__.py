"""The colour of bone in a photo that also shows a card of known reflectance, and whether it still changes.

`space` turns the pixels of an sRGB picture into light and into CIELAB, `difference` says how far two colours lie apart, `card`
measures a region against a card in the same picture, and `change` tells a series of looks from its noise.
"""

from bonebench.science.colour.card import Box, Measured, measure
from bonebench.science.colour.change import ASSUMED_REPEAT, Progress, Repeats, progress, repeats
from bonebench.science.colour.difference import delta_e_76, delta_e_2000
from bonebench.science.colour.space import linear_to_lab, srgb_to_linear

__all__ = [
    "ASSUMED_REPEAT", "Box", "Measured", "Progress", "Repeats", "delta_e_76", "delta_e_2000", "linear_to_lab", "measure",
    "progress", "repeats", "srgb_to_linear",
]  # fmt: skip
