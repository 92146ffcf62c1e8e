"""Forty invented specimens of sixteen species, in every state: where each stands, and how it came there.

A story says where a piece stands today and for how many days; the way there is told backwards with plausible days, thrown by the
demo's own dice. Nothing here is measured anywhere.
"""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from bonebench.demo.teeth import AT_THE_GLUE, IN_THE_JAR, ONE_MISSING
from bonebench.shop.entries import Weighed
from bonebench.shop.piece_entries import PieceSeen
from bonebench.shop.steps import Step
from bonebench.shop.what import What

# Days each step took before the next began, low and high; the pot's are by grease class.
WAY: tuple[tuple[Step, float, float], ...] = (
    (Step.FROZEN_HOLD, 4, 10),
    (Step.THAW, 0.8, 1.3),
    (Step.TRIM, 0.02, 0.02),
    (Step.FREEZE_AGAIN, 3.5, 6),
    (Step.BEETLES, 3, 9),
    (Step.JUDGE_CLEAN, 0.9, 1.1),
    (Step.OUT, 0.02, 0.02),
    (Step.KILL, 7, 9),
    (Step.DEGREASE, 0, 0),
    (Step.DRY, 2, 4),
    (Step.TEETH, 1, 2),
    (Step.WHITEN, 0.9, 1.4),
    (Step.RINSE, 1, 1.3),
    (Step.DRY_AGAIN, 2, 4),
    (Step.FINISH, 1, 3),
    (Step.HAND_OVER, 0, 0),
)
POT_DAYS = {1: (1.5, 4), 2: (4, 9), 3: (12, 20), 4: (24, 34), 5: (60, 80)}
PLACE_OF = {
    Step.FROZEN_HOLD: "chest-freezer",
    Step.THAW: "thaw-shelf",
    Step.FREEZE_AGAIN: "chest-freezer",
    Step.BEETLES: "dairy-box",
    Step.KILL: "chest-freezer",
    Step.DRY: "drying-rack",
    Step.WHITEN: "white-tub",
    Step.RINSE: "rinse-tub",
    Step.DRY_AGAIN: "drying-rack",
}
FINISHED_ON = "ready-shelf"


@dataclass(frozen=True, slots=True)
class Story:
    """One invented specimen: what it is, where it stands, for how many days, and what is odd about it."""

    species: str
    grease: int
    step: Step
    days: float
    owner: int
    pot: str = "small-pot"
    promised_in: int | None = None
    head_kg: float | None = None
    sex: str | None = None
    finish: Literal["white", "natural"] = "white"
    measure: bool = False
    parts: tuple[str, ...] = ("skull", "mandible")
    lot: str | None = None
    held: tuple[str, str] | None = None
    problem: str | None = None
    seen: tuple[tuple[float, What], ...] = ()  # days ago, and what was seen of it in the box
    scale_kg: tuple[float, float] | None = None  # trimmed before the box, and clean after it
    teeth: tuple[tuple[float, What], ...] = ()


TRAY = "Tray of mice"
ANTLERED = ("skull", "mandible", "antlers")

STORIES: tuple[Story, ...] = (
    # In the cold, as they came
    Story("white-tailed-deer", 2, Step.FROZEN_HOLD, 2.1, 0, "big-pot", 70, 3.1, "male", parts=ANTLERED),
    Story("white-tailed-deer", 2, Step.FROZEN_HOLD, 2.2, 1, "big-pot", 75, sex="male", parts=ANTLERED),
    Story("white-tailed-deer", 2, Step.FROZEN_HOLD, 4.1, 3, "big-pot", 60, sex="female"),
    Story("elk", 3, Step.FROZEN_HOLD, 5.3, 4, "bear-pot", 110, sex="male", parts=ANTLERED),
    Story("coyote", 2, Step.FROZEN_HOLD, 3.0, 1, promised_in=55, sex="male"),
    Story("gray-fox", 2, Step.FROZEN_HOLD, 6.0, 2),
    Story("raccoon", 4, Step.FROZEN_HOLD, 8.0, 2),
    Story("gray-wolf", 2, Step.FROZEN_HOLD, 15.0, 3, "big-pot", held=("papers", "its tag papers are missing")),
    Story("striped-skunk", 4, Step.FROZEN_HOLD, 9.0, 2, held=("bite", "nobody knows whether it bit anybody")),
    Story("eastern-cottontail", 1, Step.FROZEN_HOLD, 1.2, 2, finish="natural"),
    # On the shelf and back in the cold, trimmed
    Story("white-tailed-deer", 2, Step.THAW, 1.1, 4, "big-pot", 50, 3.4, "male", parts=ANTLERED),
    Story("coyote", 2, Step.THAW, 0.9, 1, promised_in=45, sex="female"),
    Story("bobcat", 2, Step.FREEZE_AGAIN, 2.4, 3, promised_in=60),
    Story("raccoon", 4, Step.FREEZE_AGAIN, 4.5, 2),
    # In the box
    Story(
        "red-fox",
        2,
        Step.BEETLES,
        6.0,
        3,
        promised_in=32,
        head_kg=0.41,
        seen=(
            (6.05, Weighed(0.33)),
            (3.2, PieceSeen("eaten into", 0)),
            (1.1, PieceSeen("half gone", 1)),
            (1.1, Weighed(0.245)),
        ),
    ),
    Story("american-mink", 3, Step.BEETLES, 2.0, 2, seen=((0.7, PieceSeen("half gone", 0)),)),
    Story("virginia-opossum", 4, Step.BEETLES, 4.0, 2, seen=((2.0, PieceSeen("eaten into", 1)), (0.6, PieceSeen(None, 2)))),
    Story("house-mouse", 1, Step.BEETLES, 1.4, 2, lot=TRAY),
    Story("house-mouse", 1, Step.BEETLES, 1.4, 2, lot=TRAY),
    Story("house-mouse", 1, Step.BEETLES, 1.4, 2, lot=TRAY),
    Story("house-mouse", 1, Step.BEETLES, 1.4, 2, lot=TRAY),
    Story("coyote", 2, Step.JUDGE_CLEAN, 0.9, 0, promised_in=25, seen=((2.0, PieceSeen("crevices left", 0)),)),
    # Bagged in the cold after the box
    Story("red-fox", 2, Step.KILL, 5.0, 4, promised_in=24),
    Story("eastern-gray-squirrel", 1, Step.KILL, 7.5, 2),
    # In the pots
    Story("black-bear", 5, Step.DEGREASE, 41.0, 0, "bear-pot", 90, 5.9, "male", measure=True),
    Story("american-beaver", 4, Step.DEGREASE, 23.0, 1, "big-pot", -2),
    Story("raccoon", 4, Step.DEGREASE, 15.0, 2, "big-pot", problem="grease", teeth=ONE_MISSING),
    Story("coyote", 2, Step.DEGREASE, 8.5, 3, promised_in=14, teeth=IN_THE_JAR, scale_kg=(0.58, 0.38)),
    Story("bobcat", 2, Step.DEGREASE, 5.0, 4, promised_in=21, scale_kg=(0.36, 0.24)),
    # On the rack, at the bench, in the tubs
    Story("bobcat", 2, Step.DRY, 6.0, 3, promised_in=18, scale_kg=(0.35, 0.23)),
    Story("american-mink", 3, Step.DRY, 1.0, 2, finish="natural"),
    Story("red-fox", 2, Step.TEETH, 0.5, 0, promised_in=12, teeth=AT_THE_GLUE, scale_kg=(0.31, 0.22)),
    Story("virginia-opossum", 4, Step.WHITEN, 2.1, 2),
    Story("white-tailed-deer", 2, Step.WHITEN, 0.8, 4, "big-pot", 16, sex="male", parts=ANTLERED, scale_kg=(1.45, 1.09)),
    Story("coyote", 2, Step.RINSE, 0.8, 1, promised_in=10),
    Story("striped-skunk", 4, Step.DRY_AGAIN, 4.0, 1, promised_in=9),
    Story("eastern-cottontail", 1, Step.DRY_AGAIN, 1.0, 2, problem="loose tooth"),
    # Ready, and gone out
    Story("gray-fox", 2, Step.FINISH, 2.0, 2, promised_in=3),
    Story("eastern-gray-squirrel", 1, Step.HAND_OVER, 6.0, 2),
    Story("white-tailed-deer", 2, Step.HAND_OVER, 3.0, 0, "big-pot", 0, sex="female"),
)


def way_there(story: Story, rng: random.Random) -> Iterator[tuple[float, Step]]:
    """Yield how many days ago each step began or was done, the oldest first, ending where the piece stands today."""
    steps = [(step, low, high) for step, low, high in WAY if story.finish == "white" or step not in _WHITENING]
    at = next(index for index, (step, _, _) in enumerate(steps) if step is story.step)
    ago = story.days
    backwards = [(ago, story.step)]
    for step, low, high in reversed(steps[:at]):
        low, high = POT_DAYS[story.grease] if step is Step.DEGREASE else (low, high)  # noqa: PLW2901  the pot's days are by grease
        ago += rng.uniform(low, high)
        backwards.append((ago, step))
    yield from reversed(backwards)


def seen_of(story: Story, way: Sequence[tuple[float, Step]]) -> Iterator[tuple[float, What]]:
    """Yield how many days ago it was looked at, smelled or weighed in the box, the oldest first."""
    ago = {step: days for days, step in way}
    if story.scale_kg is not None:
        yield ago[Step.BEETLES] + 0.03, Weighed(story.scale_kg[0])
        yield ago[Step.JUDGE_CLEAN] - 0.01, Weighed(story.scale_kg[1])
    yield from story.seen


_WHITENING = frozenset({Step.WHITEN, Step.RINSE, Step.DRY_AGAIN})
