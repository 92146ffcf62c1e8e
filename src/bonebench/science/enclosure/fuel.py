"""What burning propane leaves in the air, by stoichiometry: C3H8 + 5 O2 -> 3 CO2 + 4 H2O."""

from bonebench.figures import Figure, Standing

# Standard atomic weights: C 12.011, H 1.008, O 15.999. [g/mol]
PROPANE, WATER, CARBON_DIOXIDE = 3 * 12.011 + 8 * 1.008, 2 * 1.008 + 15.999, 12.011 + 2 * 15.999
WATER_KG_KG = 4 * WATER / PROPANE
CO2_KG_KG = 3 * CARBON_DIOXIDE / PROPANE
LOWER_J_KG = Figure(46.35e6, 46.3e6, 46.4e6, "J/kg", Standing.PUBLISHED, "lower heating value of propane, 46.4 MJ/kg")
# 40 CFR 98 Table NN-1: 3.84 MMBtu a barrel of 42 gallons, 62.87 kg CO2 a MMBtu.
BTU_GALLON = 3.84e6 / 42
CO2_KG_GALLON = 62.87 * 3.84 / 42
WATER_KG_KWH = WATER_KG_KG * 3.6e6 / LOWER_J_KG.value
