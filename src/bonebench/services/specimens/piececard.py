"""The card of one piece with the beetles, as it stands on the specimen's own card."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from bonebench.services.cards import Answer, Basis, Fact, Flag, Said


@dataclass(frozen=True)
class PieceCard:
    """One piece that is with the beetles, or waits for them as if it went in now.

    Shares and kilograms are what is left of its tissue, nine chances in ten between low and high. Look by ``look_by_50`` at an even
    chance and by ``look_by_80`` four times in five; None where the colony does not get through it. ``rot_used`` is the share of its
    rot clock, 1 where it runs out; ``appetite`` says whose: counted, set or estimate.
    """

    status: Literal["inside", "waiting"]
    place: str
    place_name: str
    since: datetime | None
    days: float
    standing: str
    left_low: float
    left: float
    left_high: float
    left_kg_low: float
    left_kg: float
    left_kg_high: float
    days_50: float | None
    days_80: float | None
    look_by_50: date | None
    look_by_80: date | None
    rule: Said
    rot_hours: float
    rot_budget_hours_low: float
    rot_budget_hours: float
    rot_budget_hours_high: float
    rot_used_low: float
    rot_used: float
    rot_used_high: float
    rot_runs_out: datetime | None
    rot_advice: str
    smell: int | None
    smelled: datetime | None
    appetite: Literal["counted", "set", "estimate"]
    share_kg_per_day: float
    appetite_kg_per_day_low: float
    appetite_kg_per_day: float
    appetite_kg_per_day_high: float
    readings: tuple[Fact, ...]
    title: Said
    facts: tuple[Fact, ...]
    steps: tuple[Said, ...]
    looks: tuple[Answer, ...]
    smells: tuple[Answer, ...]
    flags: tuple[Flag, ...]
    basis: tuple[Basis, ...]
