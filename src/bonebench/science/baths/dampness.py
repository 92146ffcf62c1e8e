"""What the air does to bone: the water it holds, and what cracks, splits, crumbles or moulds it while it dries."""

from dataclasses import dataclass
from typing import Literal

from bonebench.figures import Figure, Standing
from bonebench.science.baths.drying import CRACKS_BELOW_RH, TOO_WARM_C, check_air, water_left

MOULDS_ABOVE_RH = Figure(0.70, 0.65, 0.75, "share", Standing.PRACTICE, "mould grows above it: common practice, no source")
# Water that bone holds in balance with air of 50 %, against its dry mass, and how it rises towards damp air.
HELD_AT_HALF = Figure(
    0.045, 0.03, 0.08, "kg/kg", Standing.ESTIMATE,
    "a guess within what human cortical bone took up, 0 to 65 mg/g, 37-48 of them bound (Phys. Med. Biol. 1967, 12:367)",
)  # fmt: skip
HELD_POWER = Figure(0.3, 0.2, 0.4, "1", Standing.ESTIMATE, "rise of water held with humidity, Oswin's form; a guess")
# From the bath, pores and all.
WET = Figure(0.35, 0.20, 0.60, "kg/kg", Standing.ESTIMATE, "water of a skull just out of the bath against its dry mass; a guess")


@dataclass(frozen=True, slots=True)
class Harm:
    """What harms bone or teeth while they dry.

    Attributes
    ----------
    key : {"dry", "warm", "teeth", "swings", "damp"}
        Which.
    what, why : str
        What it does, and what is known of it.
    standing : Standing
        How well it is known.
    source : str
        Where it was read.
    """

    key: Literal["dry", "warm", "teeth", "swings", "damp"]
    what: str
    why: str
    standing: Standing
    source: str


HARMS: tuple[Harm, ...] = (
    Harm("dry", "air below 40 % cracks bone and teeth",
         "at 26 °C and 24 % it cracked 64 % of femora and 5 % of humeri: keep above 40 %",
         Standing.DERIVED, "R116, 40 bones of deer"),
    Harm("warm", "heat above 35 °C splits teeth", "no oven, sun or hot air", Standing.PRACTICE, "common practice, no source"),
    Harm("teeth", "large canines, tusks and rodents' teeth split when they dry fast",
         "enamel and dentine shrink differently: in a bag with a small opening for the first two days",
         Standing.PRACTICE, "common practice; R104"),
    Harm("swings", "swings of humidity crumble bone in the end", "each swells and shrinks it: store at 45 to 55 %, slowly changing",
         Standing.PRACTICE, "R117, R118, both weak"),
    Harm("damp", "bone that stays damp moulds", "move the air, or find drier air", Standing.PRACTICE, "common practice, no source"),
)  # fmt: skip


def harms_at(temperature_c: float, humidity: float) -> tuple[Harm, ...]:
    """Pick what harms bone and teeth in such air.

    Parameters
    ----------
    temperature_c, humidity : float
        Of the air. [degC], [1]

    Returns
    -------
    tuple of Harm
        Those that apply now; "teeth" and "swings" always do.
    """
    now = {"teeth", "swings"}
    now |= {"dry"} if humidity < CRACKS_BELOW_RH.value else set()
    now |= {"warm"} if temperature_c > TOO_WARM_C.value else set()
    now |= {"damp"} if humidity > MOULDS_ABOVE_RH.value else set()
    return tuple(harm for harm in HARMS if harm.key in now)


def held_water(humidity: float) -> Figure:
    """Water that bone holds in balance with the air.

    Parameters
    ----------
    humidity : float
        Relative humidity, 0 to 0.95. [1]

    Returns
    -------
    Figure
        Against dry mass. [kg/kg]

    Raises
    ------
    OutsideRange
        If the humidity lies outside 0..0.95.

    Notes
    -----
    ``half * (RH / (1 - RH)) ** power``: Oswin's form through the water held at 50 %.
    """
    check_air(20.0, humidity)
    ratio = humidity / (1 - humidity)
    ends = [half * ratio**power for half in (HELD_AT_HALF.low, HELD_AT_HALF.high) for power in (HELD_POWER.low, HELD_POWER.high)]
    value = HELD_AT_HALF.value * ratio**HELD_POWER.value
    return Figure(value, min(*ends, value), max(*ends, value), "kg/kg", HELD_POWER.standing, HELD_AT_HALF.source)


def water_kg_per_kg(days: float, constant_days: float, humidity: float, start_kg_per_kg: float = WET.value) -> float:
    """Water of drying bone against its dry mass.

    Parameters
    ----------
    days : float
        Drying so far, 0 or more. [days]
    constant_days : float
        Time constant, above 0. [days]
    humidity : float
        Relative humidity of the air, 0 to 0.95. [1]
    start_kg_per_kg : float, optional
        What it had at first. [kg/kg]

    Returns
    -------
    float
        Between what it had and what it holds in such air. [kg/kg]

    Raises
    ------
    OutsideRange
        If the humidity lies outside its range.
    """
    end = held_water(humidity).value
    return end + (start_kg_per_kg - end) * water_left(days, constant_days)
