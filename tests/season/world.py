"""A made season: heads whose true weights and days only this file knows, and somebody who taps what Today offers."""

import math
import random
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from bonebench.door import Door, Intake
from bonebench.services.cards import Answer
from bonebench.services.today.cards import TaskCard
from tests.conftest import Clock

SPECIES = ("raccoon", "red fox", "coyote", "bobcat")
USUAL_HEAD_KG = {"raccoon": 0.595, "red fox": 0.375, "coyote": 0.975, "bobcat": 0.54}
# What the program itself expects of a usual head, so that in this world only the weight is unknown: no check of its level.
USUAL_BOX_DAYS = {"raccoon": 7.9, "red fox": 3.7, "coyote": 5.2, "bobcat": 5.1}
# The room of this world is slower at the pot than the class says, so that there is something to learn.
POT_DAYS = {"raccoon": 45.0, "red fox": 13.0, "coyote": 13.0, "bobcat": 13.0}
WEIGHT_SPREAD = 0.35  # of heads of one species, on the logarithm
NOISE = 0.10  # what a weight does not tell of the days in the box


@dataclass
class Head:
    """One head as it truly is."""

    tag: str
    species: str
    mass_kg: float
    box_days: float
    pot_days: float
    in_box: datetime | None = None
    in_pot: datetime | None = None
    told_box_days: float | None = None
    arrived: datetime | None = None
    told_ready: datetime | None = None
    through: datetime | None = None


@dataclass
class Season:
    """The season as it goes: a door, a clock, and the heads."""

    door: Door
    clock: Clock
    rng: random.Random
    weighs: bool
    heads: dict[str, Head] = field(default_factory=dict)

    def arrive(self) -> None:
        """A head comes in; the same world throws the same head, weighed or not."""
        species = self.rng.choice(SPECIES)
        off = self.rng.gauss(0, WEIGHT_SPREAD)
        mass = USUAL_HEAD_KG[species] * math.exp(off)
        # Tissue goes with the weight, the surface the beetles eat from hardly does: the days go with the weight.
        box = USUAL_BOX_DAYS[species] * math.exp(off + self.rng.gauss(0, NOISE))
        pot = POT_DAYS[species] * math.exp(self.rng.gauss(0, 0.15))
        weighed = f"{mass:.3f} kg" if self.weighs else None
        card = self.door.add(Intake(species, head_mass=weighed, answers={"bite": "no", "drug": "no"}))
        self.heads[card.tag] = Head(card.tag, species, mass, box, pot, arrived=self.clock.now)

    def work(self) -> None:
        """Do what Today offers, as far as the world lets it: a head that is not clean is not called clean."""
        for _ in range(40):
            answer = next((a for task in self.door.today().tasks if (a := self._answer(task)) is not None), None)
            if answer is None:
                return
            self.door.tap(kind=answer.kind, subjects=answer.subjects, values=answer.values, task=answer.task)

    def _answer(self, task: TaskCard) -> Answer | None:
        head = self.heads.get(task.specimen or "")
        if head is None:
            return None
        step = task.answers[0].values.get("step", "")
        now = self.clock.now
        if step == "judged clean" and head.in_box is not None and now - head.in_box < timedelta(days=head.box_days):
            return None
        if task.answers[0].kind == "looked" or (
            step == "dry" and head.in_pot and now - head.in_pot < timedelta(days=head.pot_days)
        ):
            return None
        if step == "beetles":
            head.in_box = now
        if step == "degrease":
            head.in_pot = now
        if step == "finish":
            head.through = now
        return task.answers[0]

    def look_at_the_box(self) -> None:
        """Note what the plan said of the days in the box on the day a head went in."""
        for head in self.heads.values():
            if head.in_box is None or head.told_box_days is not None:
                continue
            leg = next(leg for leg in self.door.specimen(head.tag).route if leg.step == "beetles")
            if leg.planned_end is not None:
                head.told_box_days = (leg.planned_end - head.in_box).total_seconds() / 86400

    def live(self, days: int, arrivals: int) -> None:
        """Live through so many days; one head comes every other day until all are there."""
        for day in range(days):
            if day % 2 == 0 and len(self.heads) < arrivals:
                self.arrive()
            self.work()
            self.look_at_the_box()
            self.clock.advance(days=1)


def miss(heads: list[Head]) -> float:
    """The mean miss of the days in the box, as a share of what they truly took."""
    told = [abs(h.told_box_days - h.box_days) / h.box_days for h in heads if h.told_box_days is not None]
    return sum(told) / len(told)
