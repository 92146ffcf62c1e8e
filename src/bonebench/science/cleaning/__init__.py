"""What the beetles have to eat on a head, how fast they can, and when it will be clean.

`tissue` and `surface` take and give Figures, so that a guess stays a guess; `eating` counts days with plain numbers; `looking`
learns from looks and weighings; `rot` keeps the clock of a wet piece; `tonight` says how many heads may go in now.
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
from bonebench.science.cleaning.looking import LOOKS, CleanBy, Reading, Skill, by_look, by_weight, clean_by, skill
from bonebench.science.cleaning.rot import BUDGET_H, SMELLS, RotAdvice, RotClock, WetSpell, rot_clock, spoiling_pace, warm_wet_hours
from bonebench.science.cleaning.surface import FLUX, eating_rate_kg_per_day, exposed_area_m2, spheroid_surface_m2
from bonebench.science.cleaning.tissue import head_mass_kg, tissue_kg
from bonebench.science.cleaning.tonight import BoxNow, Head, Limit, Tonight, expected_rot, heads_tonight, thaw_load_w

__all__ = [
    "BUDGET_H",
    "FLUX",
    "LOOKS",
    "SMELLS",
    "TAIL",
    "TAIL_SHARE",
    "TAIL_SLOWNESS",
    "BoxNow",
    "CleanBy",
    "Head",
    "InBox",
    "Limit",
    "Reading",
    "RotAdvice",
    "RotClock",
    "Skill",
    "Stretch",
    "Tonight",
    "WetSpell",
    "by_look",
    "by_weight",
    "clean_by",
    "course",
    "days_in_box",
    "days_range",
    "days_together",
    "eating_rate_kg_per_day",
    "expected_rot",
    "exposed_area_m2",
    "head_mass_kg",
    "heads_tonight",
    "rot_clock",
    "share_appetite",
    "skill",
    "spheroid_surface_m2",
    "spoiling_pace",
    "thaw_load_w",
    "tissue_kg",
    "warm_wet_hours",
]
