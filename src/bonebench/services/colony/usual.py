"""What is taken of a box and its colony where nobody said otherwise. Light: it loads no model."""

from bonebench.figures import Figure, Standing

WARM_C, HUMIDITY = 27.0, 0.55
FLOOR = Figure(0.5, 0.3, 0.8, "m2", Standing.ESTIMATE, "the floor of a middling chest freezer or foam box; a guess")
SITES = Figure(3000, 750, 7500, "1", Standing.ESTIMATE, "five to fifty litres of blocks at 150 sites a litre; a guess")
# A hundred heads a year of a quarter of a kilogram, half of them in a season of three months, on half a square metre.
KNOWN_TO_EAT = Figure(
    0.3, 0.1, 1.0, "kg/(m2 day)", Standing.PRACTICE, "about a hundred heads a year in one chest freezer; common practice, no source"
)
