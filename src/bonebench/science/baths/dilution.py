"""Mixing a bath from a stock and water. By mass the rule is exact; by volume it overdoses, because stock is denser."""

from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Basis, basis
from bonebench.science.baths.density import DENSITY_ERROR, check_strength, density, water_density
from bonebench.science.baths.reaction import HEAT_CAPACITY, HEAT_OF_DECAY, OXYGEN_L_PER_MOL, heat_rise_k, oxygen_l
from bonebench.science.baths.strength import MOLAR_MASS

LARGEST_MIX_L = 1000.0
BOILING_C = 100.0

BASIS: tuple[Basis, ...] = (
    basis("peroxide.density_error", DENSITY_ERROR),
    basis("peroxide.molar_mass", MOLAR_MASS),
    basis("peroxide.oxygen_volume", OXYGEN_L_PER_MOL),
    basis("peroxide.heat_of_decay", HEAT_OF_DECAY),
    basis("peroxide.heat_capacity", HEAT_CAPACITY),
)


@dataclass(frozen=True, slots=True)
class Dilution:
    """A mix that makes ``volume_l`` of a bath of mass fraction ``strength_w``.

    Attributes
    ----------
    strength_w, stock_w : float
        Mass fraction of the bath and of its stock. [kg/kg]
    temperature_c : float
        Temperature of everything. [degC]
    volume_l, mass_kg : float
        The bath. [L], [kg]
    stock_kg, stock_l, water_kg, water_l : float
        What to put together; the masses add up exactly, the volumes do not.
    contraction_l : float
        How much less the bath takes up than its parts did. [L]
    density_kg_m3 : float
        Density of the bath. [kg/m3]
    naive_stock_l : float
        Stock that reckoning with plain volumes would take. [L]
    naive_strength : float
        For a mix to a target: the mass fraction that reckoning really gives. For a mix by parts: the mass fraction a person
        would wrongly believe to have. [kg/kg]
    oxygen_l : float
        Oxygen on full breakdown, at 20 degC and one atmosphere. [L]
    heat_rise_k : float
        Warming on full breakdown if no heat got away and nothing boiled. [K]
    boils : bool
        Whether that warming would reach the boiling point of water (at sea level).
    """

    strength_w: float
    stock_w: float
    temperature_c: float
    volume_l: float
    mass_kg: float
    stock_kg: float
    stock_l: float
    water_kg: float
    water_l: float
    contraction_l: float
    density_kg_m3: float
    naive_stock_l: float
    naive_strength: float
    oxygen_l: float
    heat_rise_k: float
    boils: bool


def pearson_parts(high: float, low: float, target: float) -> tuple[float, float]:
    """Parts of two solutions that make a third, by the crossed differences.

    Parameters
    ----------
    high, low, target : float
        Strengths of the stronger, the weaker and the wanted solution, all in one notation. [any]

    Returns
    -------
    tuple of float, shape (2,)
        Shares of the stronger and of the weaker; they add up to one. Shares by mass if the strengths are mass fractions.

    Raises
    ------
    Impossible
        If the target does not lie between the two, or they are equal.
    """
    if not low <= target <= high or low == high:
        raise Impossible(
            "bath.between",
            "target strength {target:strength} does not lie between {low:strength} and {high:strength}: "
            "no mix of the two can give it",
            target=target,
            low=low,
            high=high,
        )
    share = (target - low) / (high - low)
    return share, 1 - share


def _check_stock(stock_w: float) -> None:
    check_strength(stock_w, "stock strength")
    if stock_w == 0:
        raise Impossible("bath.no_stock", "stock strength is 0 %: that is plain water; read the bottle's label again")


def _check_volume(volume_l: float) -> None:
    if not 0 < volume_l <= LARGEST_MIX_L:
        raise OutsideRange(
            "bath.volume",
            "volume is {volume:volume}; one mix is above 0 and at most {most:volume}: check the number and its unit",
            volume=volume_l,
            most=LARGEST_MIX_L,
        )


def _mix(*, stock_w: float, strength_w: float, volume_l: float, temperature_c: float, naive: tuple[float, float]) -> Dilution:
    """Fill in everything about a mix whose strength is known to be possible."""
    rho = density(strength_w, temperature_c)
    mass_kg = volume_l * rho / 1000
    stock_kg = mass_kg * pearson_parts(stock_w, 0.0, strength_w)[0]
    water_kg = mass_kg - stock_kg
    stock_l = stock_kg * 1000 / density(stock_w, temperature_c)
    water_l = water_kg * 1000 / water_density(temperature_c)
    rise_k = heat_rise_k(strength_w)
    return Dilution(
        strength_w=strength_w,
        stock_w=stock_w,
        temperature_c=temperature_c,
        volume_l=volume_l,
        mass_kg=mass_kg,
        stock_kg=stock_kg,
        stock_l=stock_l,
        water_kg=water_kg,
        water_l=water_l,
        contraction_l=stock_l + water_l - volume_l,
        density_kg_m3=rho,
        naive_stock_l=naive[0],
        naive_strength=naive[1],
        oxygen_l=oxygen_l(strength_w, mass_kg),
        heat_rise_k=rise_k,
        boils=temperature_c + rise_k >= BOILING_C,
    )


def _by_volume(stock_w: float, parts_stock: float, parts_water: float, temperature_c: float) -> float:
    """Mass fraction that so many litres of stock and of water really give."""
    stock_kg = parts_stock * density(stock_w, temperature_c)
    return stock_w * stock_kg / (stock_kg + parts_water * water_density(temperature_c))


def dilute(stock_w: float, target_w: float, volume_l: float, temperature_c: float) -> Dilution:
    """Mix a bath of a wanted strength from a stock and water.

    Parameters
    ----------
    stock_w : float
        Mass fraction of the stock, above 0 to 0.70. [kg/kg]
    target_w : float
        Mass fraction wanted, above 0 to ``stock_w``. [kg/kg]
    volume_l : float
        Volume of bath wanted, above 0 to 1000. [L]
    temperature_c : float
        Temperature of everything, 0 to 50. [degC]

    Returns
    -------
    Dilution
        What to put together and what the bath is like.

    Raises
    ------
    OutsideRange
        If a strength, the volume or the temperature lies outside its range.
    Impossible
        If the target is zero, or above the stock.

    Notes
    -----
    The plain-volume reckoning it compares with is ``volume_l * target_w / stock_w`` litres of stock and water for the rest of
    the litres. A bath at high altitude boils earlier than ``boils`` assumes.

    References
    ----------
    .. [1] Mass balance, any text on solutions; the crossed-differences rule by mass.
    """
    _check_stock(stock_w)
    check_strength(target_w, "target strength")
    if target_w == 0:
        raise Impossible("bath.no_target", "target strength is 0 %: that is plain water; give the strength the bath should have")
    if target_w > stock_w:
        raise Impossible(
            "bath.upward",
            "target strength {target:strength} is above the stock's {stock:strength}: a bath cannot be diluted upward",
            target=target_w,
            stock=stock_w,
        )
    _check_volume(volume_l)
    naive_l = volume_l * target_w / stock_w
    naive = (naive_l, _by_volume(stock_w, naive_l, volume_l - naive_l, temperature_c))
    return _mix(stock_w=stock_w, strength_w=target_w, volume_l=volume_l, temperature_c=temperature_c, naive=naive)


def dilute_by_parts(stock_w: float, parts_stock: float, parts_water: float, *, volume_l: float, temperature_c: float) -> Dilution:
    """Mix so many parts of stock with so many parts of water, by volume.

    Parameters
    ----------
    stock_w : float
        Mass fraction of the stock, above 0 to 0.70. [kg/kg]
    parts_stock : float
        Parts of stock, above 0. [L or any volume]
    parts_water : float
        Parts of water in the same measure, 0 or more. [same]
    volume_l : float
        Volume of bath wanted, above 0 to 1000. [L]
    temperature_c : float
        Temperature of everything, 0 to 50. [degC]

    Returns
    -------
    Dilution
        What to put together and what the bath is like. ``strength_w`` is what the parts really give; ``naive_strength`` is
        what reckoning with plain volumes would make one believe, which is lower.

    Raises
    ------
    OutsideRange
        If the stock, the parts, the volume or the temperature lies outside its range.
    Impossible
        If the stock has no strength.
    """
    _check_stock(stock_w)
    if not (0 < parts_stock < float("inf") and 0 <= parts_water < float("inf")):
        raise OutsideRange(
            "bath.parts",
            "parts are {stock} of stock to {water} of water; it takes some stock and no negative water: write them like 1:1",
            stock=f"{parts_stock:g}",
            water=f"{parts_water:g}",
        )
    _check_volume(volume_l)
    share = parts_stock / (parts_stock + parts_water)
    real_w = min(_by_volume(stock_w, parts_stock, parts_water, temperature_c), stock_w)
    naive = (volume_l * share, stock_w * share)
    return _mix(stock_w=stock_w, strength_w=real_w, volume_l=volume_l, temperature_c=temperature_c, naive=naive)
