"""Fat through the fillings of a pot: why water is changed, what a rhythm of changes does, and when the next change is due.

Fat goes from bone to water and back until both are in balance, so a filling takes up only a part of what is left and the next one,
clean, goes on. How much a filling can take and how fast are set so that a class comes to the days and changes of the class table
when each filling is changed once it has taken four fifths of what it could: that four fifths is a choice, not a measurement.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.degreasing import (
    CHANGE_EVERY_DAYS,
    CHANGES,
    CLEAN_SHARE,
    Z90,
    Room,
    class_days,
    rate_spread,
    speed,
    table_spread,
)

TAKEN = 0.8
SOONEST_DAYS = 0.5


@dataclass(frozen=True, slots=True)
class Bath:
    """How fat goes between bone and one filling, at 45 degC.

    Attributes
    ----------
    holds : float
        Fat in the water against fat in the bone when they are in balance. [1]
    leaves_per_day : float
        Rate at which fat leaves into clean water. [1/day]
    every_days : float
        Rhythm of changes that the class table stands for. [days]
    """

    holds: float
    leaves_per_day: float
    every_days: float

    def stays(self, days: float) -> float:
        """Share of the fat that is still in the bone after so long in one filling."""
        balance = 1 / (1 + self.holds)
        return balance + (1 - balance) * math.exp(-self.leaves_per_day * (1 + 1 / self.holds) * days)

    def reaches_days(self, share: float) -> float:
        """Days in one filling until only this share is in the bone; infinite where the filling cannot take so much."""
        balance = 1 / (1 + self.holds)
        if share >= 1:
            return 0.0
        if share <= balance:
            return math.inf
        return -math.log((share - balance) / (1 - balance)) / (self.leaves_per_day * (1 + 1 / self.holds))


def bath(grease: int, quickness: float = 1.0) -> Bath:
    """How fat of a class goes into one filling.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    quickness : float, optional
        How many times easier this piece is than its class's middle, above 0. [1]

    Returns
    -------
    Bath
        Set so that the class table's days and changes leave a twentieth.

    Raises
    ------
    Impossible
        If the class is none.
    OutsideRange
        If the quickness is not above 0.

    Notes
    -----
    With n changes each filling leaves ``r = 0.05**(1/n)``. In a filling ``(1 + h e)/(1 + h)`` stays, ``e`` being what still lacks
    to the balance, 1 - 0.8: so ``h = (1 - r)/(r - e)``, and the rate follows from the days of a filling. An easier piece loses its
    fat faster and has less of it, so a filling holds more of what it has: both go with the quickness, by which the range of the
    class table's days is met within a tenth.
    """
    if not quickness > 0:
        raise OutsideRange(
            "degrease.quickness", "a piece cannot be {quickness} times as quick as its class", quickness=f"{quickness:g}"
        )
    every = class_days(grease).value / CHANGES[grease].value
    stays = CLEAN_SHARE ** (1 / CHANGES[grease].value)
    holds = (1 - stays) / (stays - (1 - TAKEN))
    leaves = -math.log(1 - TAKEN) / (every * (1 + 1 / holds))
    return Bath(holds * quickness, leaves * quickness, every)


def fat_left(grease: int, fillings_days: Sequence[float], quickness: float = 1.0) -> list[float]:
    """Share of the fat that is left at the end of each filling.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    fillings_days : sequence of float, shape (n,)
        Days of each filling, counted at 45 degC by `speed`, 0 or more. [days]
    quickness : float, optional
        As for `bath`. [1]

    Returns
    -------
    list of float, shape (n,)
        Shares of what there was at first, never rising. [1]

    Raises
    ------
    Impossible
        If the class is none.
    OutsideRange
        If a time is below 0.
    """
    if min(fillings_days, default=0.0) < 0:
        raise OutsideRange("degrease.filling", "a filling lasts 0 days or more: check the days")
    one, left, found = bath(grease, quickness), 1.0, []
    for days in fillings_days:
        left *= one.stays(days)
        found.append(left)
    return found


def days_to_clean(
    grease: int, every_days: float, *, quickness: float = 1.0, left: float = 1.0, into_days: float = 0.0
) -> tuple[float, int]:
    """Days until a twentieth of the fat is left, and changes on the way, when the water is changed in a rhythm.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    every_days : float
        Rhythm of changes, counted at 45 degC, above 0. [days]
    quickness : float, optional
        As for `bath`. [1]
    left : float, optional
        Share that was in the bone when the present filling went in. [1]
    into_days : float, optional
        How long the present filling has been in. [days]

    Returns
    -------
    tuple of float and int
        Days from now at 45 degC, and fillings that are poured away, the last one with them.

    Raises
    ------
    Impossible
        If the class is none.
    OutsideRange
        If the rhythm is not above 0.
    """
    if not every_days > 0:
        raise OutsideRange("degrease.every", "water changed every {days} days is no rhythm: it must be above 0",
                           days=f"{every_days:g}")  # fmt: skip
    one = bath(grease, quickness)
    needs = one.reaches_days(CLEAN_SHARE / left)
    if needs <= max(every_days, into_days):
        return max(needs - into_days, 0.0), 1
    gone = max(every_days - into_days, 0.0)
    left *= one.stays(max(every_days, into_days))
    stays = one.stays(every_days)
    # All but the last filling run their whole time; a hair is taken off so that a filling that just suffices is the last one.
    whole = max(math.ceil(math.log(CLEAN_SHARE / left) / math.log(stays) - 1e-9) - 1, 0)
    last = one.reaches_days(min(CLEAN_SHARE / (left * stays**whole), 1.0))
    return gone + whole * every_days + min(last, every_days), whole + 2


@dataclass(frozen=True, slots=True)
class Course:
    """Days and changes of a piece in a rhythm.

    Attributes
    ----------
    days : Figure
        In the pot; one time in ten outside each end. [days]
    changes : Figure
        Fillings poured away. [changes]
    every_days : float
        The rhythm. [days]
    """

    days: Figure
    changes: Figure
    every_days: float


def rhythm_days(grease: int, temperature_c: float) -> float:
    """Days between changes: the class's rhythm at this temperature, at most a week.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    temperature_c : float
        Of the water, 20 to 100. [degC]

    Returns
    -------
    float
        Days. [days]

    Raises
    ------
    Impossible
        If the class is none.
    """
    return min(max(bath(grease).every_days / speed(temperature_c).value, SOONEST_DAYS), CHANGE_EVERY_DAYS.high)


def course(grease: int, temperature_c: float, every_days: float | None = None, learned: Room | None = None) -> Course:
    """Days and changes until a piece is clean, for a rhythm of changes.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    temperature_c : float
        Of the water, 20 to 100. [degC]
    every_days : float, optional
        Days between changes; `rhythm_days` unless given. [days]
    learned : Room, optional
        What the room's own pieces say.

    Returns
    -------
    Course
        Days and changes with their ends.

    Raises
    ------
    Impossible
        If the class is none.
    OutsideRange
        If the water is below 20 degC or above 100, or the rhythm not above 0.

    Notes
    -----
    It ends by a dry-spot test, never by the calendar.
    """
    if temperature_c < 20:
        raise OutsideRange("degrease.cold", "at {temperature:temperature} fat does not leave: warm the pot to 40 to 50 °C",
                           temperature=temperature_c)  # fmt: skip
    room = learned or Room()
    every = rhythm_days(grease, temperature_c) if every_days is None else every_days
    factor, middle = speed(temperature_c).value, room.middle * table_spread(grease)
    reach = Z90 * rate_spread(grease, temperature_c, room)
    quick, usual, slow = (days_to_clean(grease, every * factor, quickness=math.exp(middle + side)) for side in (reach, 0.0, -reach))
    source = "class table through fillings that take four fifths of what they can"
    days = Figure(usual[0] / factor, quick[0] / factor, slow[0] / factor, "days", Standing.ESTIMATE, source)
    return Course(days, Figure(usual[1], quick[1], slow[1], "changes", Standing.ESTIMATE, source), every)


@dataclass(frozen=True, slots=True)
class NextChange:
    """When the water is changed next.

    Attributes
    ----------
    in_days : float
        From now; 0 is now. [days]
    why : {"cloudy", "full", "a week"}
        It looks cloudy; it has taken most of what it can; or it goes foul.
    """

    in_days: float
    why: Literal["cloudy", "full", "a week"]


def next_change(
    grease: int, temperature_c: float, *, filled_days_ago: float, looked: int | None = None, quickness: float = 1.0
) -> NextChange:
    """When to change the water next, by its look or by its days, whichever comes first.

    Parameters
    ----------
    grease : int
        Class, 1 to 5.
    temperature_c : float
        Of the water, 20 to 100. [degC]
    filled_days_ago : float
        How long this filling has been in, 0 or more. [days]
    looked : int or None, optional
        How it looks: 0 clear, 1 hazy, 2 cloudy, 3 fat on top; None if nobody looked.
    quickness : float, optional
        As for `bath`. [1]

    Returns
    -------
    NextChange
        When and why.

    Raises
    ------
    Impossible
        If the class is none.
    OutsideRange
        If the days are below 0, or the look is none of 0 to 3.
    """
    if filled_days_ago < 0 or (looked is not None and looked not in range(4)):
        raise OutsideRange("degrease.look", "water looks 0 clear, 1 hazy, 2 cloudy or 3 with fat on top, and stands 0 days or more")
    if looked is not None and looked >= 2:
        return NextChange(0.0, "cloudy")
    one = bath(grease, quickness)
    balance = 1 / (1 + one.holds)
    full = max(one.reaches_days(1 - TAKEN * (1 - balance)) / speed(temperature_c).value, SOONEST_DAYS)
    foul = CHANGE_EVERY_DAYS.high
    return NextChange(max(min(full, foul) - filled_days_ago, 0.0), "full" if full <= foul else "a week")
