"""What can be looked at where there is no book: what is shipped."""

from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from bonebench.door.door import Surface
from bonebench.services.baths import working
from bonebench.services.baths.workcards import DegreaseCard
from bonebench.services.known import Known, known_in
from bonebench.services.species.cards import SpeciesCard, SpeciesListCard
from bonebench.services.species.show import species_card, species_list
from bonebench.shop.room import Room
from bonebench.units import Reader

T = TypeVar("T")


class NoBook:
    """The shipped species, read in metric units."""

    def __init__(self, *, clock: Callable[[], datetime]) -> None:
        self._today = clock().date()
        self._known = known_in(Room())

    def reader(self) -> Reader:
        """Return metric units."""
        return Reader("metric", self._today)

    def surface(self) -> Surface:
        """Return what a paper says of the room, where there is none."""
        return Surface("", "UTC", False, {}, self.reader())

    def work(self, act: Callable[[Known], T]) -> T:
        """Do one calculation with what is shipped."""
        return act(self._known)

    def degrease(self, *, species: str, temperature: str | None = None, head: str | None = None) -> DegreaseCard:
        """Say how long a head stays in the pot, by the class table alone."""
        return working.degrease(self._known, species=species, temperature=temperature, head=head)

    def species(self, query: str) -> SpeciesCard:
        """Return one shipped species."""
        return species_card(query, self._known, self.reader())

    def species_list(self, query: str) -> SpeciesListCard:
        """Return the shipped species that answer to a word."""
        return species_list(query, self._known)
