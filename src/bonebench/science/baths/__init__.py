"""Baths: density and strength of peroxide, mixing and topping up, testing, decay, covering skulls, what a bath gives off.

`density` knows how heavy a solution is, `strength` turns one notation into another, `reaction` says how much oxygen and heat a
bath holds; `dilution` and `blend` mix by mass, `titration` measures, `decay`, `history` and `calibration` follow a bath through
its days, `vessel` covers skulls, `runaway` asks whether a bath warms itself. Only what is light to import is named here.
"""

from bonebench.science.baths.blend import Blend, TopUp, blend, top_up
from bonebench.science.baths.density import DENSITY_ERROR, STRONGEST_W, WARMEST_C, density, water_density
from bonebench.science.baths.dilution import BASIS, LARGEST_MIX_L, Dilution, dilute, dilute_by_parts, pearson_parts
from bonebench.science.baths.reaction import HEAT_CAPACITY, HEAT_OF_DECAY, heat_rise_k, oxygen_l
from bonebench.science.baths.strength import MOLAR_MASS, VOLUME_STRENGTH, from_mass_fraction, to_mass_fraction
from bonebench.science.baths.titration import Readings, Titrated, strip_range, titrate
from bonebench.science.baths.vessel import Cover, Skull, Vessel, cover, displaced_l

__all__ = [
    "BASIS",
    "DENSITY_ERROR",
    "HEAT_CAPACITY",
    "HEAT_OF_DECAY",
    "LARGEST_MIX_L",
    "MOLAR_MASS",
    "STRONGEST_W",
    "VOLUME_STRENGTH",
    "WARMEST_C",
    "Blend",
    "Cover",
    "Dilution",
    "Readings",
    "Skull",
    "Titrated",
    "TopUp",
    "Vessel",
    "blend",
    "cover",
    "density",
    "dilute",
    "dilute_by_parts",
    "displaced_l",
    "from_mass_fraction",
    "heat_rise_k",
    "oxygen_l",
    "pearson_parts",
    "strip_range",
    "titrate",
    "to_mass_fraction",
    "top_up",
    "water_density",
]
