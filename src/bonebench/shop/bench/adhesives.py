"""Glues by their chemistry, never by a brand."""

from dataclasses import dataclass
from typing import Literal

from bonebench.figures import Standing

Use = Literal["tooth", "jaw", "chip", "consolidation", "antler plate"]
USES: tuple[Use, ...] = ("tooth", "jaw", "chip", "consolidation", "antler plate")


@dataclass(frozen=True, slots=True)
class Adhesive:
    """One kind of glue.

    ``solvent`` is what leaves it as it sets; ``carries_acetone`` bars it from peroxide until it has aired for ``airs_hours``.
    ``cures_hours`` are quick and slow. ``reversible`` says whether it comes off without harm, ``undone_by`` how.
    """

    key: str
    name: str
    solvent: str
    carries_acetone: bool
    cures_hours: tuple[float, float]
    airs_hours: float
    bears_water: bool
    bears_peroxide: bool
    reversible: bool
    undone_by: str
    uses: tuple[Use, ...]
    use: str
    caution: str
    standing: Standing
    source: str

    @property
    def bath_after_hours(self) -> float:
        """How long it waits before it may meet a bath: set by the slow figure, and aired."""
        return max(self.cures_hours[1], self.airs_hours)
