"""The room as one plan sees it: its places, its boxes and its people, with everything settled so far."""

from typing import NamedTuple

from bonebench.planning.appetite import Box
from bonebench.planning.calendars import Crew
from bonebench.planning.places import Claims, Kind
from bonebench.planning.prepared import Leg, Prepared, Ready
from bonebench.planning.problem import Limit


class Block(NamedTuple):
    """What keeps a stage from starting. ``ahead`` counts how many stages further on the hindrance is, along a chain of ties."""

    limit: Limit
    name: str | None = None
    code: str = ""
    ahead: int = 0


class Floor:
    """Places, boxes and people of one plan; ``given_up`` counts how often room was given up anywhere."""

    def __init__(self, prepared: Prepared) -> None:
        problem = prepared.problem
        self.calendar = prepared.calendar
        self.horizon = prepared.calendar.horizon
        self.crew = Crew(prepared.calendar)
        self.given_up = [0]
        self.kinds: dict[str, Kind] = {}
        self.places: dict[str, Claims] = {}
        for room in problem.places:
            kind = self.kinds.setdefault(room.kind, Kind(room.kind, self.given_up))
            self.places[room.key] = Claims(room, kind)
            kind.places.append(self.places[room.key])
        self._listed = list(self.places.values())
        self._problem = problem
        self._boxes: dict[str, Box] = {}

    def kind(self, name: str) -> Kind:
        """Return the places of a kind: an empty one when the room has none."""
        return self.kinds.setdefault(name, Kind(name, self.given_up))

    def box(self, key: str) -> Box:
        """Return who eats what in one box."""
        if key not in self._boxes:
            by_day = self._problem.appetite_kg_per_day.get(key, {})
            self._boxes[key] = Box(self.calendar, by_day, self._problem.appetite_otherwise.get(key, 0.0))
        return self._boxes[key]

    def advance(self, now: int) -> None:
        """Bring the places and the people's time up to now."""
        self.settle(now)
        self.crew.forget(now)

    def settle(self, now: int) -> None:
        """Bring the places up to now."""
        for place in self._listed:
            if place.ahead and place.ahead[0][0] <= now:
                place.advance(now)


class Course:
    """One piece on its way through the plan: which stage is next, since when it may begin, and what keeps it."""

    __slots__ = (
        "at",
        "block",
        "dead",
        "fed",
        "hands_key",
        "home",
        "key",
        "next",
        "not_before",
        "number",
        "rank",
        "ready",
        "ready_at",
        "ready_block",
        "seen",
        "watch",
    )

    def __init__(self, number: int, rank: int, ready: Ready) -> None:
        self.number = number
        self.rank = rank
        self.key = rank
        self.ready = ready
        self.next = 0
        self.ready_at = ready.release
        self.ready_block = Block("ready")
        self.at: Claims | None = None
        self.home: Claims | None = None
        self.fed = False
        self.hands_key = ("", 0)
        self.dead = False
        self.block: Block | None = None
        self.not_before = 0
        self.watch: tuple[Kind, ...] = ()
        self.seen = 0

    @property
    def leg(self) -> Leg:
        """The stage to begin next."""
        return self.ready.legs[self.next]

    @property
    def ended(self) -> bool:
        """Whether every stage has been placed."""
        return self.next >= len(self.ready.legs)

    def still_blocked(self, now: int) -> bool:
        """Whether nothing has happened since it was last tried that could let it start."""
        if self.not_before <= now:
            return False
        seen = self.seen
        for kind in self.watch:
            seen -= kind.version
        return seen == 0
