"""What is taken for granted about a box until somebody measures it, each with its range, its standing and where it was read.

The keys are places in `enclosure.toml`; `box.to_sharpen` lists those that a description leaves open.
"""

from collections.abc import Mapping

from bonebench.figures import Figure, Standing
from bonebench.science.air.paths import CLOGGED, DISCHARGE, SCREEN_LOSS
from bonebench.science.enclosure.conductance import FILM_R
from bonebench.science.enclosure.sorption import BED_TAU_S

FOAM_W_MK = Figure(
    0.024, 0.020, 0.030, "W/mK", Standing.PRACTICE, "closed-cell foam 0.020-0.024 new, 0.024-0.028 aged; CIBSE lists 0.028-0.030"
)
FOAM_M = Figure(0.065, 0.050, 0.090, "m", Standing.PRACTICE, "wall of a chest freezer, 50-90 mm: common practice, no source")
LINER_J_M2K = Figure(
    2000.0, 1000.0, 6000.0, "J/m2K", Standing.ESTIMATE, "1.5 mm of plastic liner and a little foam behind it; a guess"
)
RADIANT = Figure(
    0.60, 0.50, 0.72, "share", Standing.DERIVED, "ceramic emitter of 80 mm at 150-400 degC: 55-71 % by its surface temperature"
)
SEEN_STONE = Figure(0.5, 0.2, 0.8, "share", Standing.ESTIMATE, "how much of the emitter's rays pavers round it catch; a guess")
SEEN_BED = Figure(0.25, 0.1, 0.5, "share", Standing.ESTIMATE, "how much of the emitter's rays the bedding catches; a guess")
FOIL_TAKES = Figure(0.1, 0.03, 0.2, "share", Standing.MEMORY, "aluminium foil takes up 3-10 % of heat rays, more when dull")
HYSTERESIS_K = Figure(1.0, 0.3, 3.0, "K", Standing.PRACTICE, "plug-in thermostats: common practice, no source")
SET_C = Figure(26.5, 26.0, 27.0, "degC", Standing.PRACTICE, "about 80 F: common practice, no source")
LAG_S = Figure(60.0, 30.0, 120.0, "s", Standing.ESTIMATE, "small probe in still air, 30-120 s; a guess")
RUN_S = Figure(0.0, 0.0, 120.0, "s", Standing.ESTIMATE, "a plain thermostat has no least run; a guess")
FAN_RUN_S = Figure(120.0, 0.0, 300.0, "s", Standing.ESTIMATE, "a guess")
FAN_ON_RH = Figure(0.50, 0.45, 0.60, "share", Standing.PRACTICE, "fan on at 50 %: common practice, no source")
FAN_OFF_RH = Figure(0.47, 0.42, 0.57, "share", Standing.PRACTICE, "set point about 47 %: common practice, no source")
FAN_W = Figure(2.0, 0.5, 6.0, "W", Standing.PUBLISHED, "catalogues of 80-120 mm axial fans, 1.6-6 W")
BED_KG = Figure(3.0, 1.0, 6.0, "kg", Standing.ESTIMATE, "a few centimetres of shavings over the floor of a chest freezer; a guess")
BED_W_M2K = Figure(5.0, 3.0, 8.0, "W/m2K", Standing.ESTIMATE, "still air and rays over a loose bed; a guess")
STONE_W_M2K = Figure(8.0, 6.0, 10.0, "W/m2K", Standing.DERIVED, "film of still indoor air, 0.13 m2K/W (ISO 6946)")
FOIL_W_M2K = Figure(4.0, 3.0, 6.0, "W/m2K", Standing.PRACTICE, "still air alone, 3-5 W/m2K: common practice, no source")
STONE_M = Figure(0.05, 0.03, 0.08, "m", Standing.PRACTICE, "a garden paver: common practice, no source")
STONE_KG_M3 = Figure(2200.0, 2100.0, 2300.0, "kg/m3", Standing.PUBLISHED, "concrete, IEA annex material data")
STONE_J_KG_K = Figure(880.0, 840.0, 940.0, "J/kgK", Standing.PUBLISHED, "concrete, IEA annex material data")
STONE_W_MK = Figure(1.4, 1.2, 2.0, "W/mK", Standing.MEMORY, "dense concrete 1.2-2.0")
WATER_M2_L = Figure(0.045, 0.02, 0.08, "m2/L", Standing.DERIVED, "a bottle of 2 L, 10 cm wide and 25 cm high; large jugs have less")
WATER_W_M2K = Figure(8.0, 6.0, 10.0, "W/m2K", Standing.DERIVED, "film of still indoor air, 0.13 m2K/W (ISO 6946)")
WINDOW_U = Figure(
    2.4, 2.2, 5.9, "W/m2K", Standing.DERIVED, "two panes of 6 mm acrylic with 12 mm of air; a single pane 5.5-5.9 (maker)"
)
FILM_W_M2K = Figure(3.0, 2.0, 5.0, "W/m2K", Standing.PRACTICE, "still air along a wall, 3-5 W/m2K: common practice, no source")
DUCT_W_M2K = Figure(5.0, 3.0, 8.0, "W/m2K", Standing.ESTIMATE, "thin hose in still air, both faces; a guess")
BAND_T = Figure(27.5, 26.0, 29.0, "degC", Standing.ESTIMATE, "26-29 degC keeps speed and stays near the flight threshold")
BAND_RH = Figure(0.50, 0.40, 0.65, "share", Standing.ESTIMATE, "above 65 % mites and mould come nearer; below 40 % bone cracks")
ROOM_CO2_PPM = Figure(420.0, 400.0, 1000.0, "ppm", Standing.MEMORY, "outdoor air; a closed building with a flame has more")

DEFAULTS: Mapping[str, Figure] = {
    "box.walls.conductivity": FOAM_W_MK,
    "box.walls.thickness": FOAM_M,
    "box.liner": LINER_J_M2K,
    "box.film": FILM_R,
    "window.u": WINDOW_U,
    "holes.discharge": DISCHARGE,
    "holes.screen_loss": SCREEN_LOSS,
    "holes.open_share": CLOGGED,
    "fan.power": FAN_W,
    "heater.radiant_share": RADIANT,
    "heater.set": SET_C,
    "heater.hysteresis": HYSTERESIS_K,
    "heater.sensor_lag": LAG_S,
    "heater.least_run": RUN_S,
    "humidistat.on": FAN_ON_RH,
    "humidistat.off": FAN_OFF_RH,
    "humidistat.sensor_lag": LAG_S,
    "humidistat.least_run": FAN_RUN_S,
    "bedding.dry_mass": BED_KG,
    "bedding.time": BED_TAU_S,
    "stores.thickness": STONE_M,
    "band.temperature": BAND_T,
    "band.humidity": BAND_RH,
}
