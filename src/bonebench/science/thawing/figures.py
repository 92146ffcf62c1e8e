"""What is taken for granted about a head, its skin and the air round it, each with its range and where it was read."""

from bonebench.figures import Figure, Standing

FILM = Figure(
    7.7, 4.0, 12.0, "W/(m2 K)", Standing.ESTIMATE,
    "still air at an upright indoor face, 0.13 m2 K/W (ISO 6946), on a head instead of a wall; low for a crowded shelf, "
    "high for a draught or for dew that settles on the cold skin",
)  # fmt: skip

# 4.2 clo per inch (1 clo is 0.155 m2 K/W) is 25.6 m K/W; so a face with 4 to 8 mm of coat has 0.1 to 0.2, a thick winter coat 0.5.
COAT = Figure(
    0.15, 0.0, 0.5, "m2 K/W", Standing.ESTIMATE,
    "fresh pelts of ten northern mammals measured 4.2 clo per inch (Thermal properties of fur, Am. J. Physiol. 182, 1955, "
    "abstract read); how deep the coat of a face is, and how wet, is a guess",
)  # fmt: skip

BAG = Figure(
    0.03, 0.0, 0.15, "m2 K/W", Standing.ESTIMATE, "a plastic bag and the few millimetres of air in it; a guess"
)  # fmt: skip

ASPECT = Figure(
    1.5, 1.0, 2.2, "m/m", Standing.ESTIMATE, "a head with its flesh is longer than wide by about half; a guess"
)  # fmt: skip

DENSITY = Figure(
    1050.0, 950.0, 1120.0, "kg/m3", Standing.ESTIMATE, "near that of meat; bone makes it heavier, air in the nose lighter; a guess"
)  # fmt: skip

WATER = Figure(
    0.64, 0.52, 0.72, "kg/kg", Standing.ESTIMATE,
    "muscle about three quarters water (published), bone a quarter at most (from memory); the shares in a head are a guess",
)  # fmt: skip

FREEZABLE = Figure(
    0.9, 0.8, 1.0, "kg/kg", Standing.DERIVED,
    "all of the water (ASHRAE Refrigeration, latent heats in the table of foods) or about 80 % of it (the other convention); "
    "the middle is taken",
)  # fmt: skip

FREEZING_POINT = Figure(
    -1.7, -2.2, -1.0, "degC", Standing.PUBLISHED, "ASHRAE Refrigeration, table of foods: lean sirloin -1.7, beef carcass -2.2"
)  # fmt: skip

# While the core still thaws the flesh outside it warms. This share of what it could take up (times Bi / (1 + Bi)) agrees with a
# fine numerical solution of a sphere (tests/science/thawing); none and all of it are the limits.
SHELL = Figure(
    0.5, 0.0, 1.0, "kg/kg", Standing.DERIVED, "between nothing and all it could take up; held against a numerical solution"
)

WARM_HOURS = Figure(
    4.0, 4.0, 4.0, "h", Standing.PRACTICE,
    "raw meat that thaws may be above 5 °C for four hours (US FDA Food Code 3-501.13, read as WAC 246-215-03510); "
    "a kitchen's rule, used here for a head",
)  # fmt: skip

COLD_DAYS = Figure(
    3.0, 1.0, 5.0, "days", Standing.PRACTICE,
    "thawed in the refrigerator, cuts of meat keep 3-5 days and small or minced ones 1-2 (University of Illinois Extension "
    "after USDA); a kitchen's rule, used here for a head",
)  # fmt: skip

WARM_C = 5.0  # the same rule: what lies at or below this is cold
