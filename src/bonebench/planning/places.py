"""What sits in a place and what is promised to it: claims that are checked when they are made and never overlap beyond its room."""

from bisect import insort

from bonebench.planning.calendars import NEVER
from bonebench.planning.problem import Load, Room

Amount = tuple[float, float, float]
# Sums of litres and kilograms carry rounding; a thousandth of a millilitre is no overfilling.
SLACK = 1e-9


def amount(load: Load) -> Amount:
    """Return what a load takes of the three limits of a place."""
    return load.count, load.volume_l, load.mass_kg


class Kind:
    """Places of one kind in one plan; ``version`` rises whenever room in one of them is given up, and the room's tally with it."""

    __slots__ = ("_tally", "name", "places", "version")

    def __init__(self, name: str, tally: list[int]) -> None:
        self.name = name
        self.places: list[Claims] = []
        self.version = 0
        self._tally = tally

    def give_up(self) -> None:
        """Note that room was given up."""
        self.version += 1
        self._tally[0] += 1


class Claims:
    """One place in one plan: what is in it now, and every change already settled for later."""

    __slots__ = ("_limits", "_used", "ahead", "key", "kind", "open")

    def __init__(self, room: Room, kind: Kind) -> None:
        self.key = room.key
        self.kind = kind
        self.open = room.open
        self._limits = tuple(NEVER if limit is None else limit + SLACK for limit in (room.count, room.volume_l, room.mass_kg))
        self._used: Amount = (0.0, 0.0, 0.0)
        self.ahead: list[tuple[int, Amount]] = []

    def could_hold(self, load: Amount) -> bool:
        """Whether the load would go in if the place were empty."""
        limits = self._limits
        return load[0] <= limits[0] and load[1] <= limits[1] and load[2] <= limits[2]

    def advance(self, now: int) -> None:
        """Bring what is in it up to now."""
        ahead = self.ahead
        while ahead and ahead[0][0] <= now:
            change = ahead.pop(0)[1]
            self._used = _add(self._used, change)
            if min(change) < 0:
                self.kind.give_up()

    def enter(self, load: Amount, at: int) -> None:
        """Put a load in from then on, checked or not: what is there already may be more than there is room for."""
        insort(self.ahead, (at, load))

    def leave(self, load: Amount, at: int) -> None:
        """Take a load out from then on."""
        insort(self.ahead, (at, (-load[0], -load[1], -load[2])))
        self.kind.give_up()

    def fits(self, load: Amount, start: int, end: int, *, here_already: bool) -> bool:
        """Whether a load has room from start until end; one that sits here already does not stand in its own way."""
        count, volume, mass = self._used if not here_already else _add(self._used, (-load[0], -load[1], -load[2]))
        limits = self._limits
        most_count, most_volume, most_mass = limits[0] - load[0], limits[1] - load[1], limits[2] - load[2]
        for at, change in self.ahead:
            if at > start:
                if at >= end:
                    break
                if count > most_count or volume > most_volume or mass > most_mass:
                    return False
            count, volume, mass = count + change[0], volume + change[1], mass + change[2]
        return count <= most_count and volume <= most_volume and mass <= most_mass

    def earliest(self, load: Amount, start: int, length: int, *, here_already: bool) -> int:
        """Return the first instant from start at which the load has room for so long, as far as is settled, or NEVER."""
        if self.fits(load, start, start + length, here_already=here_already):
            return start
        for at, change in self.ahead:
            if at > start and min(change) < 0 and self.fits(load, at, at + length, here_already=here_already):
                return at
        return NEVER


def _add(one: Amount, other: Amount) -> Amount:
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]
