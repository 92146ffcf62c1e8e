"""How warmth and moisture set the pace of a beetle: the one temperature curve of the whole program.

Plain numbers on purpose: the compiled colony and the plain cleaning times use the very same functions.
"""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

import math

# Gaussian fitted to egg-to-adult times at 20, 24, 28 and 32 degC: within 0.3 day of all four.
RATE_PER_DAY = 0.02072
BEST_C = 30.3
WIDTH_K = 7.41
LOWER_C = 14.5
UPPER_C = 40.0
USUAL_C = 28.0
# A cut-off is a range over animals, so the curve goes to nothing over one kelvin rather than at a point.
RAMP_K = 0.5
RESTING_Q10 = 2.1

_HUMIDITIES = (0.45, 0.60, 0.75, 0.90)
_DRY_FOOD = (0.66, 0.81, 1.00, 1.23)
_MOIST_FOOD = (0.85, 0.92, 1.00, 1.08)


def development_rate(
    temperature_c: float,
    rate: float = RATE_PER_DAY,
    best_c: float = BEST_C,
    width_k: float = WIDTH_K,
    lower_c: float = LOWER_C,
    upper_c: float = UPPER_C,
) -> float:
    """Share of the way from egg to adult that is gone in a day.

    Parameters
    ----------
    temperature_c : float
        Temperature where the animal sits. [degC]
    rate, best_c, width_k : float
        Height, place and width of the curve. [1/day], [degC], [K]
    lower_c, upper_c : float
        Where development stops. [degC]

    Returns
    -------
    float
        Zero or more, at 75 % relative humidity for a strain of speed 1. [1/day]

    Notes
    -----
    ``rate * exp(-((T - best) / width)**2 / 2)``, brought down to 0 over one kelvin at either cut-off. Above 32 degC and below
    20 degC it is extrapolated; another strain was still fast at 35 degC.

    References
    ----------
    .. [1] Li et al. 2021, J. Forensic Med. 37(2):175-180 (abstract): 126.7, 69.4, 50.4, 49.6 days at 20, 24, 28, 32 degC.
    """
    within = min((temperature_c - lower_c) / (2 * RAMP_K) + 0.5, (upper_c - temperature_c) / (2 * RAMP_K) + 0.5, 1.0)
    if not within > 0.0:
        return 0.0
    return within * rate * math.exp(-0.5 * ((temperature_c - best_c) / width_k) ** 2)


def relative_pace(temperature_c: float) -> float:
    """Pace against that at 28 degC: of development, of feeding and of laying.

    Parameters
    ----------
    temperature_c : float
        Temperature where the animals sit. [degC]

    Returns
    -------
    float
        1 at 28 degC. [1]
    """
    return development_rate(temperature_c) / development_rate(USUAL_C)


def resting_pace(temperature_c: float) -> float:
    """How fast a beetle burns itself at rest, and ages, against 28 degC.

    Parameters
    ----------
    temperature_c : float
        Temperature. [degC]

    Returns
    -------
    float
        1 at 28 degC; a factor of 2.1 for ten kelvin. [1]

    Notes
    -----
    The factor is from memory (1.8-2.5 between 15 and 33 degC). It goes on below the cut-off, where nobody grows but all still
    breathe.
    """
    return float(RESTING_Q10 ** ((temperature_c - USUAL_C) / 10.0))


def humidity_pace(humidity: float, moist: float) -> float:
    """Pace of development against that at 75 % relative humidity.

    Parameters
    ----------
    humidity : float
        Relative humidity, 0 to 1. [1]
    moist : float
        1 with moist food or drinking water, 0 with dry food only, between them for part of the time. [1]

    Returns
    -------
    float
        Above 0. [1]

    Notes
    -----
    Straight lines between the published humidities; carried on below 45 % (extrapolated, never under 0.2) and held above 90 %.
    The values with moist food are an estimate: damped.

    References
    ----------
    .. [1] Taylor 1981, Am. Nat., curves of *Dermestes frischii* (another species) as in the devRate data set, ratios at 30 degC.
    """
    place = 0
    while place < 2 and humidity > _HUMIDITIES[place + 1]:
        place += 1
    share = (min(humidity, 0.90) - _HUMIDITIES[place]) / (_HUMIDITIES[place + 1] - _HUMIDITIES[place])
    dry = _DRY_FOOD[place] + share * (_DRY_FOOD[place + 1] - _DRY_FOOD[place])
    wet = _MOIST_FOOD[place] + share * (_MOIST_FOOD[place + 1] - _MOIST_FOOD[place])
    return max(0.2, moist * wet + (1.0 - moist) * dry)


def deaths_by_cold_or_heat(temperature_c: float) -> float:
    """Rate at which eggs, larvae and pupae die of cold or heat alone.

    Parameters
    ----------
    temperature_c : float
        Temperature of the animals themselves, not of the air about a thick specimen. [degC]

    Returns
    -------
    float
        Zero or more, at most 5000. [1/day]

    Notes
    -----
    An estimate between two ends that were read: eggs and young are said to fade within weeks at 5 degC, and all die within an
    hour or two at -20 degC unprotected; 60 degC for 30 minutes kills all, 45 degC for a day most. Nothing was found for this
    species between 0 and 10 degC or 36 and 50 degC. Never a proof that a piece is free of beetles.
    """
    if temperature_c < LOWER_C:
        cold = 0.03 * (math.exp(0.32 * (5.0 - temperature_c)) - math.exp(0.32 * (5.0 - LOWER_C)))
        return min(cold, 5000.0)
    if temperature_c > 36.0:
        return min(2.3 * (math.exp(0.487 * (temperature_c - 45.0)) - math.exp(0.487 * (36.0 - 45.0))), 5000.0)
    return 0.0
