"""What a person can see of a colony, each kind with how far it may be off."""

from dataclasses import dataclass

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing

# By eye, larvae and adults together that show on a good look; the words are ours and the numbers wide: an estimate.
GRADES: dict[str, Figure] = {
    "none": Figure(0, 0, 5, "1", Standing.ESTIMATE, "nothing moves"),
    "a few": Figure(60, 20, 200, "1", Standing.ESTIMATE, "one can count them"),
    "hundreds": Figure(400, 120, 1200, "1", Standing.ESTIMATE, "every piece has some"),
    "thousands": Figure(3000, 1000, 9000, "1", Standing.ESTIMATE, "every piece is covered"),
    "the bedding moves": Figure(12000, 5000, 30000, "1", Standing.ESTIMATE, "bedding and walls are alive"),
}


@dataclass(frozen=True, slots=True)
class Seen:
    """One thing seen on a day (0 is the first): the day's value of `what` (see `calibrate.SHOWS`), and its spread.

    ``value`` is what was counted or weighed; ``part`` the share of the colony looked at; ``spread`` the standard deviation of
    its logarithm apart from the chance of counting. ``until`` closes a span for what was eaten over days.
    """

    day: int
    what: str
    value: float
    spread: float
    part: float = 1.0
    until: int | None = None


def _not_negative(what: str, value: float) -> None:
    if not 0 <= value < float("inf"):
        raise OutsideRange("colony.seen", "{what}: {value}; it must be 0 or more: check what was typed", what=what, value=value)


def scoop(day: int, counted: float, part: float, *, spread: float = 0.35) -> Seen:
    """Larvae and adults counted in a known part of the bedding.

    Parameters
    ----------
    day : int
        Which day of the history, from 0. [days]
    counted : float
        Zero or more; zero is the most telling count there is. [1]
    part : float
        Share of the bedding that was scooped, above 0 to 1. [1]
    spread : float, optional
        How unevenly they sit: standard deviation of the logarithm, an estimate. [1]

    Returns
    -------
    Seen
        For `calibrate.fit`.

    Raises
    ------
    OutsideRange
        If the count is negative or the part not a share.
    """
    _not_negative("a scoop count", counted)
    if not 0 < part <= 1:
        raise OutsideRange(
            "colony.part", "the scoop is {part:percent} of the bedding; it lies above 0 and at most 100 %", part=part
        )
    return Seen(day, "active", counted, spread, part)


def grade(day: int, name: str) -> Seen:
    """How many there seem to be, by one of the `GRADES`.

    Parameters
    ----------
    day : int
        Which day of the history, from 0. [days]
    name : str
        A key of `GRADES`.

    Returns
    -------
    Seen
        For `calibrate.fit`.

    Raises
    ------
    OutsideRange
        If there is no such grade.
    """
    if name not in GRADES:
        raise OutsideRange("colony.grade", "no grade is called {name}; they are {known}", name=name, known=", ".join(GRADES))
    return Seen(day, "active", GRADES[name].value, 0.7)


def pupae_in_blocks(day: int, counted: float, part: float = 1.0, *, spread: float = 0.25) -> Seen:
    """Prepupae and pupae counted in the blocks that were opened.

    Parameters
    ----------
    day : int
        Which day of the history, from 0. [days]
    counted : float
        Zero or more; more than there are sites is kept too. [1]
    part : float, optional
        Share of all blocks that were opened. [1]
    spread : float, optional
        Standard deviation of the logarithm, an estimate. [1]

    Returns
    -------
    Seen
        For `calibrate.fit`.

    Raises
    ------
    OutsideRange
        If the count is negative or the part not a share.
    """
    _not_negative("pupae in the blocks", counted)
    if not 0 < part <= 1:
        raise OutsideRange("colony.part", "{part:percent} of the blocks; it lies above 0 and at most 100 %", part=part)
    return Seen(day, "pupae_in_sites", counted, spread, part)


def weighed(day: int, until: int, before_kg: float, after_kg: float, dried_kg: float = 0.0, *, spread: float = 0.15) -> Seen:
    """A head weighed before and after, as the only food there was.

    Parameters
    ----------
    day, until : int
        From the beginning of one day of the history to the beginning of another. [days]
    before_kg, after_kg : float
        What it weighed. [kg]
    dried_kg : float, optional
        How much of the loss was drying, from one weighed in a box without beetles. [kg]
    spread : float, optional
        Standard deviation of the logarithm, an estimate: drying is guessed in most rooms. [1]

    Returns
    -------
    Seen
        What was eaten, for `calibrate.fit`.

    Raises
    ------
    OutsideRange
        If it became heavier, or the span is not a day at least.
    """
    eaten = before_kg - after_kg - dried_kg
    _not_negative("what was eaten of a weighed head in kg", eaten)
    if until <= day:
        raise OutsideRange("colony.span", "from day {day} to day {until} is no time; weigh on two days", day=day, until=until)
    return Seen(day, "eaten_kg", eaten, spread, until=until)


def heads_gone(day: int, until: int, tissue_kg: float, *, spread: float = 0.35) -> Seen:
    """How fast the last heads went: so much tissue was gone within these days.

    Parameters
    ----------
    day, until : int
        From the beginning of one day of the history to the beginning of another. [days]
    tissue_kg : float
        Of the heads together, by weight or by their kind. [kg]
    spread : float, optional
        Standard deviation of the logarithm, an estimate: the tissue of a head is known to a third. [1]

    Returns
    -------
    Seen
        For `calibrate.fit`.

    Raises
    ------
    OutsideRange
        If the tissue is negative or the span is not a day at least.
    """
    return weighed(day, until, tissue_kg, 0.0, spread=spread)
