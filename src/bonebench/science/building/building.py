"""A building as people describe it, and what that lets through."""

import math
from dataclasses import dataclass, field

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing

IP_R = 0.1761  # R-value in h ft2 degF/Btu to m2K/W
PERIMETER_W_MK = Figure(1.26, 0.93, 1.45, "W/mK", Standing.PUBLISHED, "slab on grade, WAC 51-11C: bare 1.26, edge foam 0.93")
MASS_J_M2K = Figure(25_000.0, 10_000.0, 120_000.0, "J/m2K", Standing.ESTIMATE, "boards, by floor area; a slab has far more")
INSIDE_W_M2K = Figure(8.0, 6.0, 10.0, "W/m2K", Standing.DERIVED, "film of still indoor air, 0.13 m2K/W (ISO 6946)")
OUTSIDE_W_M2K = Figure(20.0, 17.0, 23.0, "W/m2K", Standing.PRACTICE, "outdoor film, about 0.04 to 0.06 m2K/W")
ABSORBED = Figure(0.6, 0.45, 0.9, "share", Standing.PUBLISHED, "0.45 light to 0.9 dark surfaces (ASHRAE as quoted)")
LEAK_CM2_M2 = Figure(4.0, 1.0, 12.0, "cm2/m2", Standing.ESTIMATE, "by area of wall and roof, an old outbuilding; a guess")
STACK = 0.000145  # (L/s)2/(cm4 K), one storey # from memory of ASHRAE ch. 16
WIND = (0.000319, 0.000246, 0.000174, 0.000104, 0.000032)  # (L/s)2/(cm4 (m/s)2), shelter class 1 to 5 # from memory
SKY_LOSS_K = 4.0  # a roof that sees the sky; 0 for a wall (ASHRAE as quoted)


@dataclass(frozen=True, slots=True)
class Flame:
    """A propane heater: its share of the higher heating value that comes into the room, and whether its gases do too.

    ``sensible_share`` is 0.92 unvented (the rest stays in the vapour) and 0.65 to 0.85 direct-vented.
    """

    unvented: bool
    sensible_share: float


UNVENTED, VENTED = Flame(True, 0.92), Flame(False, 0.75)


@dataclass(frozen=True, slots=True)
class Building:
    """A building of one room.

    Attributes
    ----------
    inside_m : tuple of float, shape (3,)
        Length, width and height of its air. [m]
    wall_r, roof_r : float
        Thermal resistance of wall and roof with their films. [m2K/W]
    floor_w_mk : float
        Heat the floor loses for each metre of its edge. [W/mK]
    leak_cm2 : float or None
        Effective leakage area; by its surface if not told. [cm2]
    shelter : int
        1 open ground to 5 between buildings.
    mass_j_k : float or None
        Heat its fabric holds; by its floor if not told. [J/K]
    absorbed : float
        Share of the sun that walls and roof take up. [1]
    sky_loss_k : float
        How much colder the roof is for seeing the sky. [K]
    heater_w, set_c, hysteresis_k : float
        Its heater (0 for none) and its thermostat. [W], [degC], [K]
    flame : Flame or None
        What the heater burns; None is electric.
    """

    inside_m: tuple[float, float, float]
    wall_r: float
    roof_r: float
    floor_w_mk: float = PERIMETER_W_MK.value
    leak_cm2: float | None = None
    shelter: int = 3
    mass_j_k: float | None = None
    absorbed: float = ABSORBED.value
    sky_loss_k: float = SKY_LOSS_K
    heater_w: float = 0.0
    set_c: float = 5.0
    hysteresis_k: float = 2.0
    flame: Flame | None = field(default=None)

    @property
    def floor_m2(self) -> float:
        """Area of the floor, and of the flat roof. [m2]"""
        return self.inside_m[0] * self.inside_m[1]

    @property
    def edge_m(self) -> float:
        """Length of its edge. [m]"""
        return 2 * (self.inside_m[0] + self.inside_m[1])

    @property
    def walls_m2(self) -> float:
        """Area of the four walls. [m2]"""
        return self.edge_m * self.inside_m[2]

    @property
    def leakage_cm2(self) -> float:
        """Effective leakage area. [cm2]"""
        return self.leak_cm2 if self.leak_cm2 is not None else LEAK_CM2_M2.value * (self.walls_m2 + self.floor_m2)

    @property
    def fabric_j_k(self) -> float:
        """Heat the fabric holds. [J/K]"""
        return self.mass_j_k if self.mass_j_k is not None else MASS_J_M2K.value * self.floor_m2

    @property
    def conductance_w_k(self) -> float:
        """Heat through walls, roof and floor edge. [W/K]"""
        return self.walls_m2 / self.wall_r + self.floor_m2 / self.roof_r + self.floor_w_mk * self.edge_m


def check_building(building: Building) -> None:
    """Refuse a building that cannot be.

    Parameters
    ----------
    building : Building
        The description.

    Raises
    ------
    OutsideRange
        If a size, a resistance or a power lies outside what can be.
    Impossible
        If its thermostat's thresholds cross.
    """
    if not all(0.5 <= side <= 100 for side in building.inside_m):
        raise OutsideRange("building.size", "a building of {a:length} by {b:length} by {c:length} cannot be; 0.5 to 100 m a side",
                           a=building.inside_m[0], b=building.inside_m[1], c=building.inside_m[2])  # fmt: skip
    if not (0.05 <= building.wall_r <= 20 and 0.05 <= building.roof_r <= 20):
        raise OutsideRange("building.r", "walls of {wall} and a roof of {roof} m²K/W cannot be; 0.05 to 20 (R-0.3 to R-114)",
                           wall=f"{building.wall_r:g}", roof=f"{building.roof_r:g}")  # fmt: skip
    if building.leakage_cm2 < 0 or building.fabric_j_k < 0 or building.floor_w_mk < 0 or not 0 <= building.absorbed <= 1:
        raise OutsideRange("building.least", "leaks, mass, floor loss and absorbed sun are 0 or more, the last 1 at most")
    if building.shelter not in (1, 2, 3, 4, 5):
        raise OutsideRange("building.shelter", "shelter is {n}; it is 1 (open ground) to 5 (between buildings)", n=building.shelter)
    if not 0 <= building.heater_w <= 100_000 or not -20 <= building.set_c <= 35:
        raise OutsideRange("building.heater", "a heater of {w:power} set to {t:temperature} cannot be; 0 to 100 kW, -20 to 35 °C",
                           w=building.heater_w, t=building.set_c)  # fmt: skip
    if not 0 < building.hysteresis_k <= 10:
        raise Impossible("building.hysteresis", "the heater's gap between on and off is {k:warming}; it is above 0 to 10 K",
                         k=building.hysteresis_k)  # fmt: skip


def infiltration_kg_s(leak_cm2: float, shelter: int, gap_k: float, wind_m_s: float, density: float = 1.2) -> float:
    """Air that leaks through a building by buoyancy and wind.

    Parameters
    ----------
    leak_cm2 : float
        Effective leakage area. [cm2]
    shelter : int
        1 to 5.
    gap_k, wind_m_s : float
        Difference between in and out, and wind. [K], [m/s]
    density : float, optional
        Of the air. [kg/m3]

    Returns
    -------
    float
        Mass flow. [kg/s]

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals, basic infiltration model of one zone (coefficients from memory, form confirmed).
    """
    litres = leak_cm2 * math.sqrt(STACK * abs(gap_k) + WIND[shelter - 1] * wind_m_s**2)
    return density * litres / 1000
