"""Water held by what lies in the box: wood by the Wood Handbook, and the skin of bare stone."""

from bonebench.figures import Figure, Standing
from bonebench.science.kernel import compiled

BED_TAU_S = Figure(
    7200.0, 3600.0, 14400.0, "s", Standing.PRACTICE, "a few centimetres of loose shavings, 1-4 h: common practice, no source"
)
# Adsorption of concrete 0.0122 kg/kg at 44.7 % and 0.0268 at 79.8 % (IEA annex material data): 0.30 g/kg for each per cent.
STONE_KG_KG = Figure(0.030, 0.02, 0.04, "kg/kg", Standing.DERIVED, "concrete, adsorption read at 45-80 % (IEA annex material data)")
STONE_PERMEABILITY = Figure(
    1.3e-12, 1.2e-12, 1.4e-12, "kg/(m s Pa)", Standing.PUBLISHED, "concrete at 3-50 % (IEA annex material data)"
)
# How deep a swing of a day reaches; what lies deeper only drifts with the season and is left out.
STONE_DEPTH_M = Figure(0.0014, 0.001, 0.002, "m", Standing.DERIVED, "square root of diffusivity 7e-11 m2/s times a day over pi")


@compiled
def wood_moisture(t: float, rh: float) -> float:
    """Water in wood that has come to rest with the air, as a share of the dry wood. [degC], [1] -> [kg/kg]

    USDA Wood Handbook (2021), equation 4-5, in degC; midway between taking up and giving off. It is held against the handbook's
    table from -1 to 38 degC.
    """
    return wood_moisture_and_slope(t, rh)[0]


@compiled
def wood_moisture_and_slope(t: float, rh: float) -> tuple[float, float]:
    """The same, and how it rises with the humidity. [degC], [1] -> [kg/kg], [kg/kg for each 1 of RH]"""
    w = 349.0 + t * (1.29 + 0.0135 * t)
    k = 0.805 + t * (0.000736 - 0.00000273 * t)
    k1 = 6.27 - t * (0.00938 + 0.000303 * t)
    k2 = 1.91 + t * (0.0407 - 0.000293 * t)
    kh = k * rh
    dry = 1.0 / (1.0 - kh)
    a, b = k1 * kh, k1 * k2 * kh * kh
    whole = 1.0 / (1.0 + a + b)
    bound = (a + 2.0 * b) * whole
    # d/d(kh) of kh/(1-kh) and of (a+2b)/(1+a+b), then times k.
    rise = dry * dry + (k1 + 4.0 * k1 * k2 * kh) * whole - bound * (k1 + 2.0 * k1 * k2 * kh) * whole
    scale = 18.0 / w
    return scale * (kh * dry + bound), scale * k * rise
