"""The door's settings: what the room is, who works there, how it does things. Each is one entry of the room."""

from collections.abc import Callable, Sequence

from bonebench.records.book import Writing
from bonebench.services.costs.prices import PricesTyped, set_prices
from bonebench.services.log.record import Kept, Pen
from bonebench.services.rooms import do as rooms
from bonebench.services.rooms import settings as read
from bonebench.services.rooms.begin import Beginning, begin_room
from bonebench.shop.entries import What


class Settings:
    """Mixed into the door; ``write`` is the door's own."""

    write: Callable[..., Kept]

    def _set(self, reading: Callable[[Writing, Pen], What], who: str | None = None) -> Kept:
        return self.write(lambda tx, pen: rooms.set_up(tx, pen, [reading(tx, pen)]), who)

    def begin(self, beginning: Beginning) -> Kept:
        """Set a real room up in one go: places, people, methods."""
        return self.write(lambda tx, pen: begin_room(tx, pen, beginning))

    def describe_room(self, name: str, zone: str, units: str) -> Kept:
        """Say what the room is called and in which zone its days are counted."""
        return self._set(lambda tx, pen: read.read_room(name, zone, units))

    def set_place(
        self, *, key: str, kind: str, name: str | None = None, holds: float | None = None, volume: str | None = None,
        mass: str | None = None, eats: str | None = None, temperature: str | None = None, order: int | None = None,
        open: bool | None = None,
    ) -> Kept:  # fmt: skip
        """Set up a place, or change one."""
        return self._set(
            lambda tx, pen: read.read_place(
                tx,
                key=key,
                kind=kind,
                name=name,
                holds=holds,
                volume=volume,
                mass=mass,
                eats=eats,
                temperature=temperature,
                order=order,
                open=open,
            )
        )

    def set_person(self, name: str, hours: Sequence[str], trained: str, *, working: bool = True) -> Kept:
        """Say when somebody works and what they are trained for."""
        return self._set(lambda tx, pen: read.read_person(rooms.new_person(tx, pen, name), hours, trained, working=working))

    def choose_method(self, method: str, who: str | None = None) -> Kept:
        """Choose how the room does a step from now on."""
        return self._set(lambda tx, pen: read.read_method(tx, method), who)

    def set_profile(self, name: str, who: str | None = None) -> Kept:
        """Lock the room to a profile, or unlock it."""
        return self._set(lambda tx, pen: read.read_profile(name), who)

    def set_features(self, names: Sequence[str], who: str | None = None) -> Kept:
        """Say what the room has: rounds and the leaving card ask for nothing else."""
        return self._set(lambda tx, pen: read.read_features(names), who)

    def close_on(self, days: Sequence[str]) -> Kept:
        """Say on which days nobody works."""
        return self._set(lambda tx, pen: read.read_closed(tx, days))

    def set_prices(self, typed: PricesTyped, who: str | None = None) -> Kept:
        """Say what things cost from a day on."""
        return self.write(lambda tx, pen: set_prices(tx, pen, typed), who)
