"""Peroxide baths: density, strength in its four notations, mixing, and what a bath can give off.

`density` knows how heavy a solution is, `strength` turns one notation into another, `reaction` says how much oxygen and heat
a bath holds, and `dilution` mixes by mass with these three.
"""

from bonebench.science.baths.density import DENSITY_ERROR, STRONGEST_W, WARMEST_C, density, water_density
from bonebench.science.baths.dilution import BASIS, LARGEST_MIX_L, Dilution, dilute, dilute_by_parts, pearson_parts
from bonebench.science.baths.reaction import HEAT_CAPACITY, HEAT_OF_DECAY, heat_rise_k, oxygen_l
from bonebench.science.baths.strength import MOLAR_MASS, VOLUME_STRENGTH, from_mass_fraction, to_mass_fraction

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
    "Dilution",
    "density",
    "dilute",
    "dilute_by_parts",
    "from_mass_fraction",
    "heat_rise_k",
    "oxygen_l",
    "pearson_parts",
    "to_mass_fraction",
    "water_density",
]
