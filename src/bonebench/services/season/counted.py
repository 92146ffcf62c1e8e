"""What a search for a better plan needs to run the counted colonies on what comes of it. No model is loaded here."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from bonebench.records.book import Reading
from bonebench.services.colony.appetite import day_begun
from bonebench.services.colony.looks import in_use
from bonebench.services.colony.night import fed_to
from bonebench.services.colony.weighed import Eaten, eaten_of
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.better import Searching
from bonebench.services.plans.problem import Subject
from bonebench.shop.box_entries import BoxSet
from bonebench.shop.colony import SeenAt, fold_colony
from bonebench.shop.rounds import place_subject


@dataclass(frozen=True, slots=True)
class Counted:
    """What a counted colony is held against the model by; plain data, so that it can travel."""

    looks: tuple[SeenAt, ...]
    box: BoxSet | None
    eaten: tuple[Eaten, ...]
    at: datetime


@dataclass(frozen=True, slots=True)
class SearchingFed(Searching):
    """A search with the counted colonies of the room by their boxes."""

    counted: Mapping[str, Counted] = field(default_factory=dict)


def counted_in(tx: Reading, known: Known, subjects: Sequence[Subject], now: datetime) -> dict[str, Counted]:
    """Return the counted colonies: those whose appetites the plan goes by."""
    found: dict[str, Counted] = {}
    for key in known.appetites.boxes if known.appetites is not None else ():
        place = known.room.place(key)
        looks = in_use(fold_colony(story_of(tx, place_subject(key))[0]), now)
        if place is not None and looks:
            eaten = eaten_of(fed_to(known, place, subjects), now, looks[0].at)
            found[key] = Counted(looks, place.box, eaten, day_begun(looks, now))
    return found
