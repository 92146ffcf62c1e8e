"""Beetles of another kind: near ones are spread wider, others are withheld, and both say what differs."""

import numpy as np
import pytest

from bonebench.door import BoxTyped, Look
from bonebench.errors import Impossible
from bonebench.reference.beetles import beetle_named
from bonebench.science.colony.traits import Trait
from bonebench.services.colony.asked import Asked, told
from bonebench.services.colony.book import colonies


def spread(beetles):
    traits = told(Asked(size="3000", beetles=beetles)).draws.traits
    return {trait: float(np.std(np.log(traits[:, trait]))) for trait in (Trait.STRAIN, Trait.APPETITE)}


def test_a_near_kind_spreads_pace_and_appetite_as_far_as_is_said():
    own, near = spread(None), spread("Dermestes frischii")
    more = beetle_named("Dermestes frischii").spread
    # Independent spreads add in quadrature; 200 draws leave the standard deviation open by 5 %, taken three times.
    for trait in own:
        assert near[trait] == pytest.approx(np.hypot(own[trait], more), rel=0.15)


def test_a_question_about_beetles_nothing_carries_over_to_is_refused_with_what_differs():
    with pytest.raises(Impossible, match="not at all at 30 °C or above"):
        told(Asked(size="3000", beetles="larder beetle"))


def test_a_room_with_other_beetles_gets_its_looks_and_tonight_but_no_numbers(desk):
    desk.note_colony(Look(counted="100", part="5%"))
    assert desk.read(colonies).boxes[0].numbers is not None
    desk.set_box(BoxTyped(beetles="Dermestes lardarius"))
    box = desk.read(colonies).boxes[0]
    assert (box.numbers, box.why_not.key, len(box.looks)) == (None, "colony.kind.no_numbers", 1)
    assert box.tonight.appetite == "estimate"
    assert "colony.kind.none" in [flag.what.key for flag in box.flags]
