"""What the cards of the wet bench share: a line of a result, a range, a warmth that was not said."""

from bonebench.services.baths.keep import ROOM_TEMPERATURE_C
from bonebench.services.facts import fact, reach
from bonebench.units import (
    read_temperature,
)

__all__ = ["fact", "reach", "warm_or_room"]


def warm_or_room(text: str | None) -> float:
    """Return a warmth that was said, or the room's."""
    return read_temperature(text) if text else ROOM_TEMPERATURE_C
