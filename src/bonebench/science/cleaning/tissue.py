"""How much a head weighs and how much of it the beetles have to eat."""

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, weakest


def _check_share(name: str, share: Figure) -> None:
    if not 0 < share.low <= share.high <= 1:
        raise OutsideRange(
            "cleaning.share",
            "the {name} share of the body runs from {low:percent} to {high:percent}; a share lies above 0 and at most 100 %: "
            "check the species",
            name=name,
            low=share.low,
            high=share.high,
        )


def _check_mass(name: str, mass: Figure) -> None:
    if not 0 < mass.low <= mass.high < float("inf"):
        raise OutsideRange(
            "cleaning.mass", "the {name} mass is {mass:mass}; it must be above 0: weigh it again", name=name, mass=mass.low
        )


def head_mass_kg(body_mass: Figure, head_share: Figure) -> Figure:
    """Mass of a head as it comes in, from the mass of the live animal.

    Parameters
    ----------
    body_mass : Figure
        Live mass, above 0. [kg]
    head_share : Figure
        Head, skin on and without antlers or horns, as a share of the live mass, above 0 to 1. [kg/kg]

    Returns
    -------
    Figure
        Head mass; the ends multiply, the weaker standing is kept. [kg]

    Raises
    ------
    OutsideRange
        If a mass or share lies outside its range.
    """
    _check_mass("body", body_mass)
    _check_share("head", head_share)
    return body_mass.times(head_share, "kg")


def tissue_kg(body_mass: Figure, head_share: Figure, tissue_share: Figure, head_mass: Figure | None = None) -> Figure:
    """Fresh tissue left on a trimmed head: skin, eyes, brain and tongue are off.

    Parameters
    ----------
    body_mass : Figure
        Live mass, above 0; used when the head was not weighed. [kg]
    head_share : Figure
        Head, skin on and without antlers or horns, as a share of the live mass; used when it was weighed. [kg/kg]
    tissue_share : Figure
        Tissue left after trimming as a share of the live mass, above 0 to 1. [kg/kg]
    head_mass : Figure, optional
        Mass of this head as it came in, skin on, without antlers or horns. [kg]

    Returns
    -------
    Figure
        Fresh tissue. Not weighed: ``body_mass * tissue_share``. Weighed: ``head_mass * tissue_share / head_share``, which does
        without the body mass. The standing is the weakest of what was used. [kg]

    Raises
    ------
    OutsideRange
        If a mass or share that is used lies outside its range.

    Notes
    -----
    The two shares are taken as independent, which gives the widest honest range; no head is more tissue than head. How well
    it was trimmed matters more than the species: a piece weighed after trimming and again when clean is worth more than this.
    """
    _check_share("tissue", tissue_share)
    if head_mass is None:
        _check_mass("body", body_mass)
        return body_mass.times(tissue_share, "kg")
    _check_mass("head", head_mass)
    _check_share("head", head_share)
    return head_mass.times(_ratio(tissue_share, head_share), "kg")


def _ratio(tissue: Figure, head: Figure) -> Figure:
    return Figure(
        min(1.0, tissue.value / head.value),
        min(1.0, tissue.low / head.high),
        min(1.0, tissue.high / head.low),
        "kg/kg",
        weakest((tissue.standing, head.standing)),
        tissue.source if tissue.source == head.source else f"{tissue.source}; {head.source}",
    )
