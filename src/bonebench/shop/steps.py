"""The steps a specimen goes through, in the one order the whole program uses.

A *stay* is a step that takes time in a place (the pot, the tub, the freezer); an *act* is one that hands do (trim, teeth in).
A stay begins when the piece is put there; it is over when the next step begins. An act is over when it is said to be done.
"""

from dataclasses import dataclass
from enum import StrEnum


class PlaceKind(StrEnum):
    """The kinds of place, in the order of the work along the wall, dirty end first."""

    FREEZER = "freezer"
    THAW_SHELF = "thaw shelf"
    TRIM_BENCH = "trim bench"
    ENCLOSURE = "beetle box"
    POT = "pot"
    RACK = "rack"
    GLUE_BENCH = "glue bench"
    TUB = "tub"
    RINSE = "rinse water"
    SHELF = "shelf"


class Step(StrEnum):
    """Every step, in the order of the route."""

    RECEIVE = "receive"
    FROZEN_HOLD = "frozen hold"
    THAW = "thaw to trim"
    TRIM = "trim"
    FREEZE_AGAIN = "freeze again"
    BEETLES = "beetles"
    JUDGE_CLEAN = "judged clean"
    ONE_MORE_DAY = "one more day"
    OUT = "out"
    KILL = "kill what is left"
    DEGREASE = "degrease"
    DRY = "dry"
    TEETH = "teeth in"
    CURE = "cure"
    WHITEN = "whiten"
    RINSE = "rinse"
    DRY_AGAIN = "dry again"
    FINISH = "finish"
    MEASURE = "measure"
    HAND_OVER = "hand over"
    LOOK_BACK_3 = "look back at 3 months"
    LOOK_BACK_6 = "look back at 6 months"
    LOOK_BACK_12 = "look back at 12 months"

    @property
    def position(self) -> int:
        """Where the step stands in the route, from 0."""
        return STEP_ORDER.index(self)


STEP_ORDER: tuple[Step, ...] = tuple(Step)
LOOK_BACKS = (Step.LOOK_BACK_3, Step.LOOK_BACK_6, Step.LOOK_BACK_12)


@dataclass(frozen=True, slots=True)
class StepKind:
    """What a step is: a stay or an act, where it happens, and whether it begins by itself when the one before is done."""

    stay: bool
    place: PlaceKind | None
    begins_itself: bool = False


STEP_KINDS: dict[Step, StepKind] = {
    Step.RECEIVE: StepKind(stay=False, place=None),
    Step.FROZEN_HOLD: StepKind(stay=True, place=PlaceKind.FREEZER),
    Step.THAW: StepKind(stay=True, place=PlaceKind.THAW_SHELF),
    Step.TRIM: StepKind(stay=False, place=PlaceKind.TRIM_BENCH),
    Step.FREEZE_AGAIN: StepKind(stay=True, place=PlaceKind.FREEZER),
    Step.BEETLES: StepKind(stay=True, place=PlaceKind.ENCLOSURE),
    Step.JUDGE_CLEAN: StepKind(stay=False, place=PlaceKind.ENCLOSURE),
    Step.ONE_MORE_DAY: StepKind(stay=True, place=PlaceKind.ENCLOSURE, begins_itself=True),
    Step.OUT: StepKind(stay=False, place=PlaceKind.ENCLOSURE),
    Step.KILL: StepKind(stay=True, place=PlaceKind.FREEZER),
    Step.DEGREASE: StepKind(stay=True, place=PlaceKind.POT),
    Step.DRY: StepKind(stay=True, place=PlaceKind.RACK),
    Step.TEETH: StepKind(stay=False, place=PlaceKind.GLUE_BENCH),
    Step.CURE: StepKind(stay=True, place=PlaceKind.RACK, begins_itself=True),
    Step.WHITEN: StepKind(stay=True, place=PlaceKind.TUB),
    Step.RINSE: StepKind(stay=True, place=PlaceKind.RINSE),
    Step.DRY_AGAIN: StepKind(stay=True, place=PlaceKind.RACK),
    Step.FINISH: StepKind(stay=False, place=PlaceKind.GLUE_BENCH),
    Step.MEASURE: StepKind(stay=False, place=PlaceKind.SHELF),
    Step.HAND_OVER: StepKind(stay=False, place=PlaceKind.SHELF),
    Step.LOOK_BACK_3: StepKind(stay=False, place=None),
    Step.LOOK_BACK_6: StepKind(stay=False, place=None),
    Step.LOOK_BACK_12: StepKind(stay=False, place=None),
}

# Clean work first: the hands that glue teeth must not have held a raw head before.
CLEAN_TO_DIRTY: tuple[PlaceKind, ...] = (
    PlaceKind.GLUE_BENCH,
    PlaceKind.SHELF,
    PlaceKind.RACK,
    PlaceKind.RINSE,
    PlaceKind.TUB,
    PlaceKind.POT,
    PlaceKind.ENCLOSURE,
    PlaceKind.FREEZER,
    PlaceKind.THAW_SHELF,
    PlaceKind.TRIM_BENCH,
)
