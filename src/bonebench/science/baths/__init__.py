"""Baths: density and strength of peroxide, mixing and topping up, testing, decay, covering skulls, what a bath gives off.

`density` knows how heavy a solution is, `strength` turns one notation into another, `reaction` says how much oxygen and heat a
bath holds; `dilution` and `blend` mix by mass, `titration` and `strips` measure, `decay`, `history` and `calibration` follow a bath
through its days, `vessel` and `covering` cover skulls, `lid` says what a tight one would hold, `runaway` and `warming` ask whether
a bath warms itself. Only what is light to import is named here.
"""

from bonebench.science.baths.blend import Blend, Thinned, TopUp, blend, pour_together, thin, top_up
from bonebench.science.baths.covering import Cover, cover
from bonebench.science.baths.density import DENSITY_ERROR, STRONGEST_W, WARMEST_C, density, water_density
from bonebench.science.baths.dilution import BASIS, LARGEST_MIX_L, Dilution, dilute, dilute_by_parts, pearson_parts
from bonebench.science.baths.lid import ClosedLid, closed_lid, closed_lid_bar
from bonebench.science.baths.reaction import HEAT_CAPACITY, HEAT_OF_DECAY, heat_rise_k, oxygen_l
from bonebench.science.baths.runaway import SelfHeating, WarmBath, judge, self_heating
from bonebench.science.baths.strength import MOLAR_MASS, VOLUME_STRENGTH, from_mass_fraction, to_mass_fraction
from bonebench.science.baths.strips import STRIP_FIELDS_MG_L, strip_colours, strip_range, strip_thinning
from bonebench.science.baths.titration import Readings, Titrated, most_used_ml, times_thinned, titrate
from bonebench.science.baths.vessel import (
    BONE_OF_HEAD,
    Skull,
    Vessel,
    bone_of_head_kg,
    displaced_l,
    floating_air_l,
    lies_flat,
    vessel_by_brim,
)
from bonebench.science.baths.warming import Followed, HeatWarning, follow, heat_warning

__all__ = [
    "BASIS",
    "BONE_OF_HEAD",
    "DENSITY_ERROR",
    "HEAT_CAPACITY",
    "HEAT_OF_DECAY",
    "LARGEST_MIX_L",
    "MOLAR_MASS",
    "STRIP_FIELDS_MG_L",
    "STRONGEST_W",
    "VOLUME_STRENGTH",
    "WARMEST_C",
    "Blend",
    "ClosedLid",
    "Cover",
    "Dilution",
    "Followed",
    "HeatWarning",
    "Readings",
    "SelfHeating",
    "Skull",
    "Thinned",
    "Titrated",
    "TopUp",
    "Vessel",
    "WarmBath",
    "blend",
    "bone_of_head_kg",
    "closed_lid",
    "closed_lid_bar",
    "cover",
    "density",
    "dilute",
    "dilute_by_parts",
    "displaced_l",
    "floating_air_l",
    "follow",
    "from_mass_fraction",
    "heat_rise_k",
    "heat_warning",
    "judge",
    "lies_flat",
    "most_used_ml",
    "oxygen_l",
    "pearson_parts",
    "pour_together",
    "self_heating",
    "strip_colours",
    "strip_range",
    "strip_thinning",
    "thin",
    "times_thinned",
    "titrate",
    "to_mass_fraction",
    "top_up",
    "vessel_by_brim",
    "water_density",
]
