"""What each step is called when it is to be done, and what its buttons say. Words for a person in gloves."""

from dataclasses import dataclass

from bonebench.said import Said, said
from bonebench.shop.steps import Step


@dataclass(frozen=True, slots=True)
class StepWords:
    """``do`` tells what hands do at the start of a step; ``tap`` is the button; ``look`` what to look for before it."""

    do: str
    tap: str
    look: str = ""


WORDS: dict[Step, StepWords] = {
    Step.RECEIVE: StepWords("Take {tag} in", "Came in"),
    Step.FROZEN_HOLD: StepWords("Bag {tag} and put it in {place}", "In the freezer", "tag inside the bag and outside"),
    Step.THAW: StepWords("Take {tag} out to thaw on {place}", "Thawing"),
    Step.TRIM: StepWords("Trim {tag}: skin, eyes, tongue, brain", "Trimmed", "soft enough to cut, still cold"),
    Step.FREEZE_AGAIN: StepWords("Put {tag} back in {place}, trimmed", "Frozen again", "flesh mites and fly eggs die there"),
    Step.BEETLES: StepWords("Put {tag} in {place}", "In with the beetles", "thawed on the outside, not dripping"),
    Step.JUDGE_CLEAN: StepWords("Look at {tag} in the box: is it clean?", "Clean", "nose, ears, brain case, behind the eyes"),
    Step.ONE_MORE_DAY: StepWords("Leave {tag} in the box a little longer", "Left in"),
    Step.OUT: StepWords("Take {tag} out, shake it over the box, bag it", "Out of the box", "count the loose teeth into the jar"),
    Step.KILL: StepWords("Put {tag}, bagged, in {place}", "In the cold", "a live beetle here ends in the collection"),
    Step.DEGREASE: StepWords("Put {tag} in {place}", "In the pot", "jar at hand for teeth"),
    Step.DRY: StepWords("Take {tag} out of the pot and put it on {place}", "On the rack", "pour through a sieve: teeth"),
    Step.TEETH: StepWords("Put the teeth of {tag} back in", "Teeth in", "dry, and no yellow or see-through patches of grease"),
    Step.CURE: StepWords("Let the glue of {tag} cure", "Glue is curing"),
    Step.WHITEN: StepWords("Put {tag} in {place}", "In the tub", "clean and degreased, no blood or brain left inside"),
    Step.RINSE: StepWords(
        "Take {tag} out of the peroxide, into {place}", "Rinsing", "sieve the bath for teeth before it is poured"
    ),
    Step.DRY_AGAIN: StepWords("Take {tag} out of the water and put it on {place}", "On the rack"),
    Step.FINISH: StepWords("Finish {tag}: jaw, loose pieces, label", "Finished", "every tooth accounted for"),
    Step.MEASURE: StepWords("Measure {tag}", "Measured", "dry for sixty days first, jaw off"),
    Step.HAND_OVER: StepWords("Hand {tag} over", "Handed over", "tag, papers, care card"),
    Step.LOOK_BACK_3: StepWords("Ask how {tag} looks after 3 months: grease, yellow?", "Looked"),
    Step.LOOK_BACK_6: StepWords("Ask how {tag} looks after 6 months: grease, yellow?", "Looked"),
    Step.LOOK_BACK_12: StepWords("Ask how {tag} looks after a year: grease, yellow?", "Looked"),
}

# What can be wrong, as large buttons; typing is optional.
PROBLEMS: tuple[tuple[str, str], ...] = (
    ("grease", "Grease shows"),
    ("not clean", "Meat is left"),
    ("smell", "It smells"),
    ("loose tooth", "Tooth loose"),
    ("lost tooth", "Tooth missing"),
    ("broken", "Broken or cracked"),
    ("chalky", "Chalky or pitted"),
    ("insects", "Live insects"),
    ("mould", "Mould"),
    ("mixed up", "Tag or part in doubt"),
)


def action(step: Step, tag: str, place: str | None) -> Said:
    """Say what hands do to begin a step."""
    where = place or "its place"
    return said(f"do.{step.name.lower()}", WORDS[step].do, tag=tag, place=where)


def tap(step: Step) -> Said:
    """Say what the button of a step says."""
    return said(f"tap.{step.name.lower()}", WORDS[step].tap)
