"""What the room says of a beetle box: the kind of entry that sets it."""

from dataclasses import dataclass
from typing import ClassVar

from bonebench.shop.what import What


@dataclass(frozen=True)
class BoxSet(What):
    """A beetle box as the room says it is, all of it; None is not said.

    ``holding_w`` is what its heater draws in the coldest hour that is expected; ``spare_w`` what it then has left, if somebody
    knows that better than the difference of the two.
    """

    KIND: ClassVar[str] = "box-set"
    key: str
    floor_m2: float | None = None
    sites: float | None = None
    beetles: str | None = None
    heater_w: float | None = None
    holding_w: float | None = None
    spare_w: float | None = None

    @property
    def heat_to_spare_w(self) -> float | None:
        """Power left for frozen heads: as stated, else the heater's less what holds the box; None where nobody said."""
        if self.spare_w is not None:
            return max(0.0, self.spare_w)
        if self.heater_w is None or self.holding_w is None:
            return None
        return max(0.0, self.heater_w - self.holding_w)


BOX_KINDS: tuple[type[What], ...] = (BoxSet,)
