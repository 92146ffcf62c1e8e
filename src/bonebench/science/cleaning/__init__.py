"""What the beetles have to eat on a head, how fast they can, and when it will be clean.

`tissue` and `surface` take and give Figures, so that a guess stays a guess; `eating` counts days with plain numbers; `looking`
learns from looks and weighings; `flow` and `among` do so for pieces that share an appetite; `rot` keeps the clock of a wet piece,
`worn` that of one that was smelled; `tonight` says how many heads may go in now; `skill` how good the dates were.
"""

from bonebench.science.cleaning.among import Expected, by_scale, clean_among
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
from bonebench.science.cleaning.flow import Flow, Lying, Meal, by_day, eat, for_the_last, left_over, steady
from bonebench.science.cleaning.looking import LOOKS, CleanBy, Reading, by_look, by_weight, clean_by
from bonebench.science.cleaning.rot import BUDGET_H, SMELLS, RotAdvice, RotClock, WetSpell, rot_clock, spoiling_pace, warm_wet_hours
from bonebench.science.cleaning.skill import FEW, Kept, Skill, kept, skill
from bonebench.science.cleaning.surface import FLUX, eating_rate_kg_per_day, exposed_area_m2, spheroid_surface_m2
from bonebench.science.cleaning.tissue import head_mass_kg, tissue_kg
from bonebench.science.cleaning.tonight import DRYING, BoxNow, Head, Limit, Tonight, expected_rot, heads_tonight, thaw_load_w
from bonebench.science.cleaning.worn import Worn, until_worn, worn

__all__ = [
    "BUDGET_H",
    "DRYING",
    "FEW",
    "FLUX",
    "LOOKS",
    "SMELLS",
    "TAIL",
    "TAIL_SHARE",
    "TAIL_SLOWNESS",
    "BoxNow",
    "CleanBy",
    "Expected",
    "Flow",
    "Head",
    "InBox",
    "Kept",
    "Limit",
    "Lying",
    "Meal",
    "Reading",
    "RotAdvice",
    "RotClock",
    "Skill",
    "Stretch",
    "Tonight",
    "WetSpell",
    "Worn",
    "by_day",
    "by_look",
    "by_scale",
    "by_weight",
    "clean_among",
    "clean_by",
    "course",
    "days_in_box",
    "days_range",
    "days_together",
    "eat",
    "eating_rate_kg_per_day",
    "expected_rot",
    "exposed_area_m2",
    "for_the_last",
    "head_mass_kg",
    "heads_tonight",
    "kept",
    "left_over",
    "rot_clock",
    "share_appetite",
    "skill",
    "spheroid_surface_m2",
    "spoiling_pace",
    "steady",
    "thaw_load_w",
    "tissue_kg",
    "until_worn",
    "warm_wet_hours",
    "worn",
]
