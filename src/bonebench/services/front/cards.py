"""The cards of the front of the route."""

from dataclasses import dataclass
from datetime import date

from bonebench.figures import Figure
from bonebench.services.cards import Worked


@dataclass(frozen=True, kw_only=True)
class OutdoorsCard(Worked):
    """How long pieces may stay outdoors. ``last_day`` is None where not even today is cold enough, ``bring_in`` where it stays cold
    as far as the forecast goes."""

    last_day: date | None
    bring_in: date | None
    warmest_c: tuple[float, ...]
    below_c: float
    schema: str = "front.outdoors/1"


@dataclass(frozen=True, kw_only=True)
class ThawCard(Worked):
    """One head on the thaw shelf, in days; of ``look_by`` the low end counts."""

    head_mass_kg: Figure
    shelf_c: float
    freezer_c: float
    thaw: Figure
    look_by: Figure
    freeze: Figure
    schema: str = "front.thaw/1"
