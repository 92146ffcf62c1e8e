"""Get ready for what the dates of a counted colony rest on: the model is compiled before anybody waits for it."""

from datetime import UTC, datetime, timedelta

from bonebench.services.colony.appetite import appetite_of
from bonebench.shop.colony import ColonyLog, SeenAt
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.room import Place
from bonebench.shop.steps import PlaceKind

FEW = 8  # as many colonies as show each way through the model; how many there are changes no code


def warm_up() -> None:
    """Hold one invented look against the model, which compiles what no earlier process has kept."""
    at = datetime(2026, 1, 1, tzinfo=UTC)
    look = SeenAt(at, "", ColonySeen(counted=40.0, part=0.02, fed_kg=0.1))
    box = Place("", "", PlaceKind.ENCLOSURE)
    appetite_of(box, ColonyLog((look,), ()), at + timedelta(days=2), members=FEW)
