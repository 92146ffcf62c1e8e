"""What the beetles have to eat on a head, how fast they can, and when it will be clean.

`tissue` and `surface` take and give Figures, so that a guess stays a guess; `eating` counts days with plain numbers.
"""

from bonebench.science.cleaning.eating import (
    TAIL,
    TAIL_SHARE,
    TAIL_SLOWNESS,
    InBox,
    Stretch,
    course,
    days_in_box,
    days_range,
    days_together,
    share_appetite,
)
from bonebench.science.cleaning.surface import FLUX, eating_rate_kg_per_day, exposed_area_m2, spheroid_surface_m2
from bonebench.science.cleaning.tissue import head_mass_kg, tissue_kg

__all__ = [
    "FLUX",
    "TAIL",
    "TAIL_SHARE",
    "TAIL_SLOWNESS",
    "InBox",
    "Stretch",
    "course",
    "days_in_box",
    "days_range",
    "days_together",
    "eating_rate_kg_per_day",
    "exposed_area_m2",
    "head_mass_kg",
    "share_appetite",
    "spheroid_surface_m2",
    "tissue_kg",
]
