"""Putting two solutions together, and bringing a used bath up or down, by mass so that peroxide and water both balance."""

import math
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
    naive_a_l : float
        Litres of the stronger that reckoning with plain volumes would take for the same total. [L]
    naive_strength_w : float
        From `blend`: the mass fraction that reckoning really gives. From `pour_together`: the mass fraction a person would
        wrongly believe to have. [kg/kg]
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
    naive_a_l: float
    naive_strength_w: float


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
    _check_litres(total_l, "volume")
    strong, weak = max(a_w, b_w), min(a_w, b_w)
    share, rest = pearson_parts(strong, weak, target_w)
    mass = total_l * density(target_w, temperature_c) / 1000
    a_kg, b_kg = mass * share, mass * rest
    a_l, b_l = a_kg * 1000 / density(strong, temperature_c), b_kg * 1000 / density(weak, temperature_c)
    return Blend(
        a_w=strong,
        b_w=weak,
        strength_w=target_w,
        a_kg=a_kg,
        b_kg=b_kg,
        a_l=a_l,
        b_l=b_l,
        total_l=total_l,
        mass_kg=mass,
        contraction_l=a_l + b_l - total_l,
        naive_a_l=total_l * share,
        naive_strength_w=_together_w(total_l * share, strong, total_l * rest, weak, temperature_c=temperature_c),
    )


def pour_together(a_l: float, a_w: float, b_l: float, b_w: float, *, temperature_c: float) -> Blend:
    """Say what two measured amounts make when poured together.

    Parameters
    ----------
    a_l, b_l : float
        How much of each, above 0; together at most 1000. [L]
    a_w, b_w : float
        Their mass fractions, in any order; one may be water. [kg/kg]
    temperature_c : float
        Temperature of everything, 0 to 50. [degC]

    Returns
    -------
    Blend
        What they make; ``a`` is the stronger of the two.

    Raises
    ------
    OutsideRange
        If a strength, an amount or the temperature lies outside its range.
    """
    for strength, what in ((a_w, "the first strength"), (b_w, "the second strength")):
        check_strength(strength, what)
    for litres, what in ((a_l, "the first volume"), (b_l, "the second volume"), (a_l + b_l, "the two together")):
        _check_litres(litres, what)
    (strong, strong_l), (weak, weak_l) = sorted(((a_w, a_l), (b_w, b_l)), reverse=True)
    a_kg, b_kg = strong_l * density(strong, temperature_c) / 1000, weak_l * density(weak, temperature_c) / 1000
    mass = a_kg + b_kg
    strength = _together_w(strong_l, strong, weak_l, weak, temperature_c=temperature_c)
    total = mass * 1000 / density(strength, temperature_c)
    return Blend(
        a_w=strong,
        b_w=weak,
        strength_w=strength,
        a_kg=a_kg,
        b_kg=b_kg,
        a_l=strong_l,
        b_l=weak_l,
        total_l=total,
        mass_kg=mass,
        contraction_l=a_l + b_l - total,
        naive_a_l=strong_l,
        naive_strength_w=(strong_l * strong + weak_l * weak) / (strong_l + weak_l),
    )


def _together_w(a_l: float, a_w: float, b_l: float, b_w: float, *, temperature_c: float) -> float:
    """Mass fraction of two amounts poured together, held between the two against the last digit."""
    a_kg, b_kg = a_l * density(a_w, temperature_c), b_l * density(b_w, temperature_c)
    mixed = (a_kg * a_w + b_kg * b_w) / (a_kg + b_kg)
    return min(max(mixed, min(a_w, b_w)), max(a_w, b_w))


def _check_litres(litres: float, what: str) -> None:
    if not 0 < litres <= LARGEST_MIX_L:
        raise OutsideRange(
            "bath.volume",
            "{what} is {volume:volume}; one mix is above 0 and at most {most:volume}: check the number and its unit",
            what=what,
            volume=litres,
            most=LARGEST_MIX_L,
        )


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
    naive_strength_w : float
        What that would really give. [kg/kg]
    """

    take_out_l: float
    take_out_kg: float
    stock_kg: float
    stock_l: float
    volume_l: float
    strength_w: float
    naive_stock_l: float
    naive_strength_w: float


@dataclass(frozen=True, slots=True)
class Thinned:
    """What brings a bath that is too strong down.

    Attributes
    ----------
    take_out_l, take_out_kg : float
        Bath to take out first, so that the vessel is not overfilled. [L], [kg]
    added_kg, added_l : float
        Water or weaker bath to add then. [kg], [L]
    volume_l, strength_w : float
        The bath afterwards. [L], [kg/kg]
    naive_added_l : float
        What reckoning with plain volumes would pour, taking nothing out. [L]
    naive_strength_w : float
        What that would really give. [kg/kg]
    """

    take_out_l: float
    take_out_kg: float
    added_kg: float
    added_l: float
    volume_l: float
    strength_w: float
    naive_added_l: float
    naive_strength_w: float


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
    _check_bath(bath_l, largest_l, ((bath_w, "the bath"), (stock_w, "stock strength"), (target_w, "target strength")))
    _check_wanted(bath_w, target_w)
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
    made = _brought(bath_l, bath_w, stock_w, target_w, largest_l=largest_l, temperature_c=temperature_c)
    return TopUp(
        take_out_l=made.take_out_l,
        take_out_kg=made.take_out_kg,
        stock_kg=made.added_kg,
        stock_l=made.added_l,
        volume_l=made.volume_l,
        strength_w=target_w,
        naive_stock_l=made.naive_added_l,
        naive_strength_w=made.naive_strength_w,
    )


def thin(*, bath_l: float, bath_w: float, target_w: float, largest_l: float, temperature_c: float, with_w: float = 0.0) -> Thinned:
    """Bring a bath that is too strong down with water or a weaker bath, without overfilling its vessel.

    Parameters
    ----------
    bath_l : float
        What is in the vessel, above 0. [L]
    bath_w, target_w : float
        Mass fractions of the bath as it is, and wanted. [kg/kg]
    largest_l : float
        The most the vessel may hold, with the room its skulls and its air need already taken off. [L]
    temperature_c : float
        Temperature of everything, 0 to 50. [degC]
    with_w : float, optional
        Mass fraction of what is added; left out, water. [kg/kg]

    Returns
    -------
    Thinned
        What to take out and what to add.

    Raises
    ------
    Impossible
        If the target is not below the bath or not above what is added, or the bath is fuller already than its vessel may be.
    OutsideRange
        If a strength, an amount or the temperature lies outside its range.

    Notes
    -----
    The balance of `top_up`. What is taken out is as strong as the bath was and is kept or let stand like one.
    """
    _check_bath(bath_l, largest_l, ((bath_w, "the bath"), (with_w, "what is added"), (target_w, "target strength")))
    _check_wanted(bath_w, target_w)
    if not target_w < bath_w:
        raise Impossible(
            "bath.not_stronger",
            "the bath has {bath:strength} and {target:strength} is wanted: thinning does not get it there; top it up with stock",
            bath=bath_w,
            target=target_w,
        )
    if not with_w < target_w:
        raise Impossible(
            "bath.not_thinner",
            "what is added has {added:strength}, not less than the {target:strength} wanted: no amount of it brings the bath "
            "there; take water or a weaker one",
            added=with_w,
            target=target_w,
        )
    return _brought(bath_l, bath_w, with_w, target_w, largest_l=largest_l, temperature_c=temperature_c)


def _check_bath(bath_l: float, largest_l: float, strengths: tuple[tuple[float, str], ...]) -> None:
    for strength, what in strengths:
        check_strength(strength, what)
    if not 0 < bath_l <= LARGEST_MIX_L:
        raise OutsideRange("bath.volume", "the bath is {volume:volume}; it must be above 0 and at most {most:volume}",
                           volume=bath_l, most=LARGEST_MIX_L)  # fmt: skip
    if not 0 < largest_l < math.inf:
        raise OutsideRange("bath.largest", "the vessel may hold {most:volume}; it must be above 0: say how much goes in at most",
                           most=largest_l)  # fmt: skip
    if bath_l > largest_l:
        raise Impossible(
            "bath.too_full",
            "the bath is {volume:volume}, more than the {most:volume} its vessel may hold: take some out and say how much is left",
            volume=bath_l,
            most=largest_l,
        )


def _check_wanted(bath_w: float, target_w: float) -> None:
    if bath_w == target_w:
        raise Impossible("bath.same", "the bath has the {target:strength} that is wanted: nothing is to be added", target=target_w)


def _brought(bath_l: float, bath_w: float, added_w: float, target_w: float, *, largest_l: float, temperature_c: float) -> Thinned:
    """Bring a bath to a strength with something weaker or stronger: the same balance either way."""
    rho_bath, rho_added, rho = (density(w, temperature_c) for w in (bath_w, added_w, target_w))
    bath_kg = bath_l * rho_bath / 1000
    ratio = (target_w - bath_w) / (added_w - target_w)
    added_kg, out_kg = bath_kg * ratio, 0.0
    most_kg = largest_l * rho / 1000
    if bath_kg + added_kg > most_kg:
        # Full to the line afterwards: the shares of bath and addition are those of the crossed differences.
        share = (target_w - bath_w) / (added_w - bath_w)
        added_kg = most_kg * share
        out_kg = max(bath_kg - most_kg * (1 - share), 0.0)
    naive_l = bath_l * ratio
    return Thinned(
        take_out_l=out_kg * 1000 / rho_bath,
        take_out_kg=out_kg,
        added_kg=added_kg,
        added_l=added_kg * 1000 / rho_added,
        volume_l=(bath_kg - out_kg + added_kg) * 1000 / rho,
        strength_w=target_w,
        naive_added_l=naive_l,
        naive_strength_w=_together_w(bath_l, bath_w, naive_l, added_w, temperature_c=temperature_c),
    )
