"""From a dental formula to the list of teeth: both jaws, both sides, permanent or milk."""

from collections.abc import Mapping
from dataclasses import dataclass

from bonebench.errors import OutsideRange
from bonebench.science.anatomy.teeth import JAWS, KINDS, MOST, SIDES, Jaw, Kind, Side, Tooth

Numbers = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """The teeth on one side of one jaw: for each kind the numbers that are there, from the front to the back.

    Parameters
    ----------
    incisors, canines, premolars, molars : tuple of int, each 1 to ``MOST`` of its kind
        Their numbers; an empty tuple where the kind is missing.
    """

    incisors: Numbers = ()
    canines: Numbers = ()
    premolars: Numbers = ()
    molars: Numbers = ()

    def of(self, kind: Kind) -> Numbers:
        """Return the numbers of one kind."""
        return {"I": self.incisors, "C": self.canines, "P": self.premolars, "M": self.molars}[kind]


@dataclass(frozen=True, slots=True)
class Dentition:
    """The teeth of both jaws; the two sides are alike.

    Parameters
    ----------
    upper, lower : Row
        One side of each jaw.
    milk : bool
        Whether these are milk (deciduous) teeth.
    """

    upper: Row
    lower: Row
    milk: bool = False

    def row(self, jaw: Jaw) -> Row:
        """Return one side of a jaw."""
        return self.upper if jaw == "upper" else self.lower


def numbered(formula: Mapping[str, tuple[int, int]], *, milk: bool = False) -> Dentition:
    """Number the teeth of a formula by the common rule.

    Parameters
    ----------
    formula : mapping of kind to (upper, lower)
        Counts on one side, 0 to ``MOST`` of the kind.
    milk : bool
        Whether it is the formula of milk teeth.

    Returns
    -------
    Dentition
        Incisors, canines and molars counted from the front; premolars counted so that the last one is the fourth.

    Raises
    ------
    OutsideRange
        If a count is negative or more than any animal has on one side of a jaw.

    Notes
    -----
    The rule of the modified Triadan system [1]_. It leaves out what it cannot know: animals that lost a premolar from the middle
    of the row (some bats), and marsupials, whose premolars are counted from the front.

    References
    ----------
    .. [1] Floyd M.R. (1991) The modified Triadan system: nomenclature for veterinary dentistry. J. Vet. Dent. 8(4), 18-19.
    """
    rows = {jaw: Row(*(_count(kind, formula.get(kind, (0, 0))[at]) for kind in KINDS)) for at, jaw in enumerate(JAWS)}
    return Dentition(rows["upper"], rows["lower"], milk)


def _count(kind: Kind, count: int) -> Numbers:
    if not 0 <= count <= MOST[kind]:
        raise OutsideRange(
            "teeth.count", "{count} of {kind} on one side of a jaw: no animal here has more than {most}; write 0 to {most}",
            count=count, kind=kind, most=MOST[kind],
        )  # fmt: skip
    last = MOST["P"] if kind == "P" else count
    return tuple(range(last - count + 1, last + 1))


def quadrants(dentition: Dentition) -> tuple[tuple[tuple[Jaw, Side], tuple[Tooth, ...]], ...]:
    """Return the four quarters of a mouth.

    Parameters
    ----------
    dentition : Dentition
        The teeth of both jaws.

    Returns
    -------
    tuple of ((jaw, side), teeth)
        Upper right, upper left, lower right, lower left; the teeth of each from the middle of the mouth to the back.
    """
    return tuple(((jaw, side), _quarter(dentition, jaw, side)) for jaw in JAWS for side in SIDES)


def _quarter(dentition: Dentition, jaw: Jaw, side: Side) -> tuple[Tooth, ...]:
    row = dentition.row(jaw)
    return tuple(Tooth(jaw, side, kind, number, dentition.milk) for kind in KINDS for number in row.of(kind))


def teeth_of(dentition: Dentition) -> tuple[Tooth, ...]:
    """Return every tooth, in the order of ``quadrants``.

    Parameters
    ----------
    dentition : Dentition
        The teeth of both jaws.

    Returns
    -------
    tuple of Tooth
        Twice the sum of the formula's counts.
    """
    return tuple(tooth for _, teeth in quadrants(dentition) for tooth in teeth)


def counts(dentition: Dentition) -> dict[str, tuple[int, int]]:
    """Return the formula of a dentition.

    Parameters
    ----------
    dentition : Dentition
        The teeth of both jaws.

    Returns
    -------
    dict of kind to (upper, lower)
        Counts on one side.
    """
    return {kind: (len(dentition.upper.of(kind)), len(dentition.lower.of(kind))) for kind in KINDS}
