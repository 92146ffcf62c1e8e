"""The modified Triadan system: three digits for every tooth, the same for the same tooth in every animal."""

from bonebench.errors import UnknownName
from bonebench.science.anatomy.teeth import Jaw, Kind, Side, Tooth

# Quarters as you face the animal, clockwise from its upper right; milk teeth go on from 5.
QUARTERS: tuple[tuple[Jaw, Side], ...] = (("upper", "right"), ("upper", "left"), ("lower", "left"), ("lower", "right"))
# The place before the first of each kind, and how many the scheme has room for: that of the pig, eleven in each quarter.
PLACES: tuple[tuple[Kind, int, int], ...] = (("I", 0, 3), ("C", 3, 1), ("P", 4, 4), ("M", 8, 3))
MILK = 4


def triadan(tooth: Tooth) -> int | None:
    """Return the three digits of a tooth.

    Parameters
    ----------
    tooth : Tooth
        Its number must be that of the tooth it answers to in a full set: the rule of 4 and 9, canine 04 and first molar 09 in
        every animal, last premolar 08.

    Returns
    -------
    int or None
        101 to 411 for permanent, 501 to 811 for milk teeth; None where the scheme has no place for it, as for a fourth molar.

    References
    ----------
    .. [1] Floyd M.R. (1991) The modified Triadan system: nomenclature for veterinary dentistry. J. Vet. Dent. 8(4), 18-19.
    """
    before, room = next((before, room) for kind, before, room in PLACES if kind == tooth.kind)
    if not 1 <= tooth.number <= room:
        return None
    quarter = QUARTERS.index((tooth.jaw, tooth.side)) + 1 + (MILK if tooth.milk else 0)
    return 100 * quarter + before + tooth.number


def from_triadan(code: int) -> Tooth:
    """Return the tooth of three digits.

    Parameters
    ----------
    code : int
        101 to 411 or 501 to 811.

    Returns
    -------
    Tooth
        The tooth it names.

    Raises
    ------
    UnknownName
        If the first digit is not 1 to 8 or the last two are not 01 to 11.
    """
    quarter, place = divmod(code, 100)
    if not 1 <= quarter <= 2 * MILK or not 1 <= place <= 11:
        raise UnknownName(
            "teeth.triadan",
            "{code} is no Triadan code: the first digit is 1 to 8 (upper right, upper left, lower left, lower right; from 5 milk"
            " teeth), the last two are 01 to 11",
            code=code,
        )
    jaw, side = QUARTERS[(quarter - 1) % MILK]
    kind, before, _ = next(one for one in reversed(PLACES) if place > one[1])
    return Tooth(jaw, side, kind, place - before, milk=quarter > MILK)
