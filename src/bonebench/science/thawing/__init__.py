"""How long a frozen head takes to thaw until it can be trimmed, when to look at it at the latest, and how long it takes to freeze.

`flesh` says what has to be warmed, `phase` how fast heat goes in or out, `durations` gives days with their range.
"""

from bonebench.science.thawing.durations import freeze_days, look_by_days, thaw_days
from bonebench.science.thawing.figures import ASPECT, BAG, COAT, FILM, WARM_HOURS
from bonebench.science.thawing.flesh import Flesh
from bonebench.science.thawing.phase import dimensionality, front_share, pham_freezing_s, plank_s

__all__ = [
    "ASPECT",
    "BAG",
    "COAT",
    "FILM",
    "WARM_HOURS",
    "Flesh",
    "dimensionality",
    "freeze_days",
    "front_share",
    "look_by_days",
    "pham_freezing_s",
    "plank_s",
    "thaw_days",
]
