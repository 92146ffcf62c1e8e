"""Putting two solutions together, and bringing a used bath back up, by mass so that peroxide and water both balance."""

from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths.density import check_strength, density
from bonebench.science.baths.dilution import LARGEST_MIX_L, pearson_parts


@dataclass(frozen=True, slots=True)
class Blend:
    """Two solutions that make a third.

    Attributes
    ----------
    a_w, b_w, strength_w : float
        Mass fractions of the stronger, the weaker and the result. [kg/kg]
    a_kg, b_kg, a_l, b_l : float
        What to put together; the masses add up exactly. [kg], [L]
    total_l, mass_kg, contraction_l : float
        The result, and how much less it takes up than its parts did. [L], [kg], [L]
    """

    a_w: float
    b_w: float
    strength_w: float
    a_kg: float
    b_kg: float
    a_l: float
    b_l: float
    total_l: float
    mass_kg: float
    contraction_l: float


def blend(a_w: float, b_w: float, target_w: float, *, total_l: float, temperature_c: float) -> Blend:
    """Mix two solutions of peroxide to a third.

    Parameters
    ----------
    a_w, b_w : float
        Mass fractions of the two, in any order; one may be water. [kg/kg]
    target_w : float
        Mass fraction wanted, between the two. [kg/kg]
    total_l : float
        How much of it, above 0 to 1000. [L]
    temperature_c : float
        Temperature of everything, 0 to 50. [degC]

    Returns
    -------
    Blend
        What to put together; ``a`` is the stronger of the two.

    Raises
    ------
    Impossible
        If the target does not lie between the two, or they are equal.
    OutsideRange
        If a strength, the amount or the temperature lies outside its range.

    References
    ----------
    .. [1] The crossed-differences rule by mass (alligation), any text on solutions.
    """
    for strength, what in ((a_w, "the first strength"), (b_w, "the second strength"), (target_w, "target strength")):
        check_strength(strength, what)
    if not 0 < total_l <= LARGEST_MIX_L:
        raise OutsideRange(
            "bath.volume",
            "volume is {volume:volume}; one mix is above 0 and at most {most:volume}: check the number and its unit",
            volume=total_l,
            most=LARGEST_MIX_L,
        )
    strong, weak = max(a_w, b_w), min(a_w, b_w)
    share, rest = pearson_parts(strong, weak, target_w)
    mass = total_l * density(target_w, temperature_c) / 1000
    a_kg, b_kg = mass * share, mass * rest
    a_l, b_l = a_kg * 1000 / density(strong, temperature_c), b_kg * 1000 / density(weak, temperature_c)
    return Blend(strong, weak, target_w, a_kg, b_kg, a_l, b_l, total_l, mass, a_l + b_l - total_l)


@dataclass(frozen=True, slots=True)
class TopUp:
    """What brings a used bath back up.

    Attributes
    ----------
    take_out_l, take_out_kg : float
        Bath to take out first, so that the vessel is not overfilled. [L], [kg]
    stock_kg, stock_l : float
        Stock to add then. [kg], [L]
    volume_l, strength_w : float
        The bath afterwards. [L], [kg/kg]
    naive_stock_l : float
        Stock that reckoning with plain volumes would pour, taking nothing out. [L]
    """

    take_out_l: float
    take_out_kg: float
    stock_kg: float
    stock_l: float
    volume_l: float
    strength_w: float
    naive_stock_l: float


def top_up(*, bath_l: float, bath_w: float, stock_w: float, target_w: float, largest_l: float, temperature_c: float) -> TopUp:
    """Bring a used bath back to a strength with stock, without overfilling its vessel.

    Parameters
    ----------
    bath_l : float
        What is in the vessel, above 0. [L]
    bath_w, stock_w, target_w : float
        Mass fractions of the bath as it is, of the stock, and wanted. [kg/kg]
    largest_l : float
        The most the vessel may hold, with the room its skulls and its air need already taken off. [L]
    temperature_c : float
        Temperature of everything, 0 to 50. [degC]

    Returns
    -------
    TopUp
        What to take out and what to add.

    Raises
    ------
    Impossible
        If the target is not above the bath or not below the stock, or the bath is fuller already than its vessel may be.
    OutsideRange
        If a strength, an amount or the temperature lies outside its range.

    Notes
    -----
    With ``m`` kg of bath kept and ``s`` kg of stock added: ``m * bath + s * stock = (m + s) * target``. If bath and stock together
    would pass ``largest_l``, just so much bath is taken out that the vessel ends full to that line. Salts, protein and fat of the
    used bath stay in it: a bath that was topped up three times is mixed anew rather than topped up again (common practice).
    """
    for strength, what in ((bath_w, "the bath"), (stock_w, "stock strength"), (target_w, "target strength")):
        check_strength(strength, what)
    if not 0 < bath_l <= LARGEST_MIX_L:
        raise OutsideRange("bath.volume", "the bath is {volume:volume}; it must be above 0 and at most {most:volume}",
                           volume=bath_l, most=LARGEST_MIX_L)  # fmt: skip
    if not bath_w < target_w:
        raise Impossible(
            "bath.not_weaker",
            "the bath has {bath:strength} and {target:strength} is wanted: stock is not what it needs; thin it with water instead",
            bath=bath_w,
            target=target_w,
        )
    if not target_w < stock_w:
        raise Impossible(
            "bath.upward",
            "target strength {target:strength} is not below the stock's {stock:strength}: no amount of it brings the bath there",
            target=target_w,
            stock=stock_w,
        )
    if bath_l > largest_l:
        raise Impossible(
            "bath.too_full",
            "the bath is {volume:volume}, more than the {most:volume} its vessel may hold: take some out and say how much is left",
            volume=bath_l,
            most=largest_l,
        )
    rho_bath, rho_stock, rho = (density(w, temperature_c) for w in (bath_w, stock_w, target_w))
    bath_kg = bath_l * rho_bath / 1000
    stock_kg = bath_kg * (target_w - bath_w) / (stock_w - target_w)
    out_kg = 0.0
    most_kg = largest_l * rho / 1000
    if bath_kg + stock_kg > most_kg:
        # Full to the line afterwards: the shares of bath and stock are those of the crossed differences.
        share = (target_w - bath_w) / (stock_w - bath_w)
        stock_kg = most_kg * share
        out_kg = bath_kg - most_kg * (1 - share)
    return TopUp(
        take_out_l=out_kg * 1000 / rho_bath,
        take_out_kg=out_kg,
        stock_kg=stock_kg,
        stock_l=stock_kg * 1000 / rho_stock,
        volume_l=(bath_kg - out_kg + stock_kg) * 1000 / rho,
        strength_w=target_w,
        naive_stock_l=bath_l * (target_w - bath_w) / (stock_w - target_w),
    )
