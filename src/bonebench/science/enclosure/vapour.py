"""One step of the box, part one, compiled: what air passes, and what its water does."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

import math

from bonebench.science.air.moist import FloatArray
from bonebench.science.air.network import air_change
from bonebench.science.air.scalar import density, saturated_ratio, saturation_pa
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.sorption import wood_moisture_and_slope
from bonebench.science.kernel import compiled

# What is worked out now and then and used until something has moved: three saturation points (temperature, pressure, relative
# rise for a degree), then the air that passes, and the humidity ratios at which glass and duct sweat.
NEAR_AIR, NEAR_BED, NEAR_PORE = 0, 3, 6
FLOW, LEAN, BY_DUCT, GLASS, DUCT, KEY_T, KEY_ROOM, KEY_FAN, PA_PER_K = range(9, 18)
NEAR = 18
LEAST_GAP_K = 2.0
# What becomes of a wet surface in a step.
DRY, EXCHANGES, DRIES_UP = 0.0, 1.0, 2.0


@compiled
def renew_saturation(t: float, near: FloatArray, slot: int) -> None:
    """Work out a saturation pressure and its rise, for `near_saturation` to use close by."""
    pressure = saturation_pa(t)
    near[slot], near[slot + 1] = t, pressure
    near[slot + 2] = (saturation_pa(t + 1e-3) / pressure - 1.0) * 1e3


@compiled
def near_saturation(t: float, near: FloatArray, slot: int) -> float:
    """Saturation pressure from the last exact one close by, to 1e-5. [degC] -> [Pa]

    Small and apart from `renew_saturation`, which the caller asks for first: so the compiler sets it into the loop.
    """
    x = (t - near[slot]) * near[slot + 2]
    found: float = near[slot + 1] * (1.0 + x * (1.0 + 0.5 * x))
    return found


@compiled
def renew_air(c: FloatArray, state: FloatArray, near: FloatArray, paths: FloatArray, t: float, tb: float, fan: float) -> None:
    """Work out the air that passes, and where it sweats; asked for when a temperature or the fan has moved."""
    fan_on, pressure = fan > 0.0, c[at.PRESSURE_PA]
    near[KEY_T], near[KEY_ROOM], near[KEY_FAN] = t, tb, fan
    gap, near[LEAN] = t - tb, 0.0
    fixed = c[at.FLOW_ON_KG_S] if fan_on else c[at.FLOW_OFF_KG_S]
    if fixed >= 0.0:
        near[FLOW], near[BY_DUCT] = fixed, 0.0
    elif paths.shape[0] > 0:
        # A search begins where the last with the fan as it is ended: without one the pressure goes with the difference.
        guess = state[at.GUESS_PA] if fan_on else near[PA_PER_K] * gap
        near[FLOW], near[BY_DUCT], found = air_change(paths, density(t, pressure), density(tb, pressure), fan_on, guess)
        if fan_on:
            state[at.GUESS_PA] = found
        elif gap != 0.0:
            near[PA_PER_K] = found / gap
        # Between two looks buoyant air goes as the root of the difference, here its tangent; a fan does not mind the difference.
        if not fan_on and abs(gap) > LEAST_GAP_K:
            near[LEAN] = 0.5 / gap
    near[GLASS] = saturated_ratio(t - c[at.FILM_SHARE] * gap, pressure)
    near[DUCT] = math.inf
    if near[BY_DUCT] > 0.0 and c[at.DUCT_W_K] > 0.0:
        end = tb + gap * math.exp(-c[at.DUCT_W_K] / (near[BY_DUCT] * at.CP_AIR))
        near[DUCT] = saturated_ratio(end, pressure)


@compiled
def settle(top: float, under: float, w: float, dt: float, wet: FloatArray, lo: int, hi: int) -> float:
    """Humidity ratio after a step with every wet surface that takes or gives water; none gives more than lies on it.

    Row 0 of ``wet`` is the coldest wall, rows lo to hi the heads that are in. ``top / under`` is the ratio without them.
    """
    active = False
    for n in range(lo - 1, hi + 1):
        i = n if n >= lo else 0
        short = wet[i, at.SATURATED] - w
        wet[i, at.FATE] = DRY
        wet[i, at.FLUX] = 0.0
        if wet[i, at.EXCHANGE] > 0.0 and (wet[i, at.WATER] > 0.0 or short < 0.0):
            active = True
            if short > 0.0 and wet[i, at.EXCHANGE] * short * dt >= wet[i, at.WATER]:
                wet[i, at.FATE] = DRIES_UP
                top += wet[i, at.WATER] / dt
            else:
                wet[i, at.FATE] = EXCHANGES
                under += wet[i, at.EXCHANGE]
                top += wet[i, at.EXCHANGE] * wet[i, at.SATURATED]
    new_w = top / under
    while active:
        active = False
        for n in range(lo - 1, hi + 1):
            i = n if n >= lo else 0
            if wet[i, at.FATE] == EXCHANGES and wet[i, at.EXCHANGE] * (wet[i, at.SATURATED] - new_w) * dt > wet[i, at.WATER]:
                wet[i, at.FATE] = DRIES_UP
                under -= wet[i, at.EXCHANGE]
                top += wet[i, at.WATER] / dt - wet[i, at.EXCHANGE] * wet[i, at.SATURATED]
                active = True
        new_w = top / under
    for n in range(lo - 1, hi + 1):
        i = n if n >= lo else 0
        if wet[i, at.FATE] == EXCHANGES:
            wet[i, at.FLUX] = wet[i, at.EXCHANGE] * (new_w - wet[i, at.SATURATED])
            wet[i, at.WATER] += wet[i, at.FLUX] * dt
        elif wet[i, at.FATE] == DRIES_UP:
            wet[i, at.FLUX] = -wet[i, at.WATER] / dt
            wet[i, at.WATER] = 0.0
    return new_w


@compiled
def bed_to_air(c: FloatArray, near: FloatArray, bed_t: float, vapour: float, held: float, rate: float) -> tuple[float, float]:
    """Water the bedding gives, and how much less it gives as the air's ratio rises; the bedding's own change is counted in.

    ``vapour`` is the air's vapour pressure [Pa], ``held`` the bedding's water [kg/kg], ``rate`` the bedding over its time and the
    step's [kg/s]. Gives [kg/s] and [kg/s for each kg/kg].
    """
    if not abs(bed_t - near[NEAR_BED]) < c[at.REFRESH_K]:
        renew_saturation(bed_t, near, NEAR_BED)
    full = 1.0 / near_saturation(bed_t, near, NEAR_BED)
    rh = vapour * full
    settled, slope = wood_moisture_and_slope(bed_t, min(rh, 1.0))
    # d vapour / d ratio is 0.621945 p / (0.621945 + w)^2, and p - vapour is 0.621945 p / (0.621945 + w).
    dry = c[at.PRESSURE_PA] - vapour
    less = rate * slope * full * dry * dry / (0.621945 * c[at.PRESSURE_PA]) if rh < 1.0 else 0.0
    return rate * (held - settled), less


@compiled
def stone_to_air(c: FloatArray, state: FloatArray, near: FloatArray, stone_t: float, dt: float) -> tuple[float, float]:
    """Water the skin of bare stone gives to air without any, and how much less for each kg/kg in the air. [kg/s]

    It holds water in proportion to the degree of saturation, the air's ratio over that of saturated air.
    """
    if not abs(stone_t - near[NEAR_PORE]) < c[at.REFRESH_K]:
        renew_saturation(stone_t, near, NEAR_PORE)
    full = near_saturation(stone_t, near, NEAR_PORE)
    lean = 0.621945 * full / ((c[at.PRESSURE_PA] - full) * c[at.PORE_KG])
    less = c[at.PORE_KG_S] / (1.0 + c[at.PORE_KG_S] * dt * lean)
    return less * lean * state[at.STONE_KG], less
