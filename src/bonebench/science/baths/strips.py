"""What a test strip says of a bath: never a number, only between which two of its colours the thinned bath lies."""

import math
from collections.abc import Sequence
from itertools import pairwise

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths.strength import from_mass_fraction, to_mass_fraction

# Colour fields of common strips: milligrams of peroxide in a litre. Generic; read the scale on the strip's own tube.
STRIP_FIELDS_MG_L = (0.0, 1.0, 3.0, 10.0, 30.0, 100.0)
# Thinning in steps of ten with a measured flask and pipette.
THINNINGS = (1.0, 10.0, 100.0, 1000.0, 10_000.0)
MOST_THINNED = 1e5
_SAME_COLOUR = 1e-9


def strip_range(low_mg_l: float, high_mg_l: float, dilution: float, temperature_c: float) -> tuple[float, float]:
    """What a strip between two of its colours says of the bath.

    Parameters
    ----------
    low_mg_l, high_mg_l : float
        The colours on either side; 0 is "no colour". [mg/L]
    dilution : float
        How many times the bath was thinned before the strip, 1 or more.
    temperature_c : float
        Of the bath, 0 to 50. [degC]

    Returns
    -------
    tuple of float, shape (2,)
        Mass fractions between which it lies. [kg/kg]

    Raises
    ------
    Impossible
        If the two colours do not rise.
    OutsideRange
        If the thinning is below 1 or the upper end passes what peroxide there is.

    Notes
    -----
    The strip's own tolerance, a strip past its date, other oxidisers and chlorine in tap water are left out. A bath too strong
    for a strip can bleach it and read as none: thin it and dip again before "none" is believed.
    """
    if not 0 <= low_mg_l < high_mg_l:
        raise Impossible("strip.order", "a strip lies between two colours that rise; {low} and {high} mg/L do not",
                         low=f"{low_mg_l:g}", high=f"{high_mg_l:g}")  # fmt: skip
    if not 1 <= dilution <= MOST_THINNED:
        raise OutsideRange("titration.dilution", "the bath was thinned {times} times; it is 1 or more",
                           times=f"{dilution:g}")  # fmt: skip
    ends = [to_mass_fraction(mg * dilution / 1e6, "w/v", temperature_c) for mg in (low_mg_l, high_mg_l)]
    return ends[0], ends[1]


def strip_colours(reading_mg_l: float, fields_mg_l: Sequence[float] = STRIP_FIELDS_MG_L) -> tuple[float, float]:
    """Between which two colours a reading really lies.

    Parameters
    ----------
    reading_mg_l : float
        What the eye says, 0 or more. [mg/L]
    fields_mg_l : sequence of float, optional
        Every colour of the strip's own scale, rising from 0. [mg/L]

    Returns
    -------
    tuple of float, shape (2,)
        The colours on either side. On a colour itself these are its two neighbours, for the eye tells no closer; on the first, the
        first two. [mg/L]

    Raises
    ------
    Impossible
        If the scale does not rise from 0, or the reading is the strip's last colour or past it: that says only "at least so much".
    OutsideRange
        If the reading is below 0 or no number.
    """
    fields = tuple(fields_mg_l)
    if len(fields) < 2 or fields[0] != 0 or any(not a < b for a, b in pairwise(fields)):
        raise Impossible("strip.scale", "a strip's scale rises from 0; {fields} does not: read it off the strip's own tube",
                         fields=", ".join(f"{field:g}" for field in fields))  # fmt: skip
    if not 0 <= reading_mg_l < math.inf:
        raise OutsideRange("strip.reading", "the strip reads {reading} mg/L; it is 0 or more", reading=f"{reading_mg_l:g}")
    if reading_mg_l >= fields[-1] * (1 - _SAME_COLOUR):
        raise Impossible(
            "strip.last",
            "{reading} mg/L is the strip's last colour or past it, which says only at least {last} mg/L: thin the bath ten times "
            "more and dip again",
            reading=f"{reading_mg_l:g}", last=f"{fields[-1]:g}",
        )  # fmt: skip
    below = max(n for n, field in enumerate(fields) if field <= reading_mg_l * (1 + _SAME_COLOUR))
    on_it = math.isclose(fields[below], reading_mg_l, rel_tol=_SAME_COLOUR)
    return fields[max(below - 1, 0) if on_it else below], fields[below + 1]


def strip_thinning(expected_w: float, temperature_c: float, fields_mg_l: Sequence[float] = STRIP_FIELDS_MG_L) -> float:
    """How often to thin a bath so that a strip reads within its scale.

    Parameters
    ----------
    expected_w : float
        Mass fraction it probably has, 0 to 0.70. [kg/kg]
    temperature_c : float
        Of the bath, 0 to 50. [degC]
    fields_mg_l : sequence of float, optional
        Every colour of the strip's own scale, rising from 0. [mg/L]

    Returns
    -------
    float
        The least of 1, 10, 100, 1000 and 10 000 times that brings it to the strip's last colour but one or below. [1]

    Raises
    ------
    OutsideRange
        If the strength or the temperature lies outside its range.
    Impossible
        If no thinning does: the strip is too fine for this bath.
    """
    mg_l = from_mass_fraction(expected_w, "w/v", temperature_c) * 1e6
    found = next((times for times in THINNINGS if mg_l / times <= fields_mg_l[-2]), None)
    if found is None:
        raise Impossible("strip.fine", "this strip is too fine for a bath of {strength:strength}: take one with a longer scale",
                         strength=expected_w)  # fmt: skip
    return found
