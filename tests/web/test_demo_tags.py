"""The tags that other tests hold on to are those of the specimens they mean; here alone they are to be changed with the demo."""

import pytest

from tests.web import demo_tags as tags


@pytest.mark.parametrize(
    ("tag", "species", "summary"),
    [
        (tags.RINSING_NEXT, "white-tailed deer", "whiten, "),
        (tags.IN_TUB, "Virginia opossum", "whiten, "),
        (tags.FINISHED_NEXT, "striped skunk", "dry again, "),
        (tags.ON_HOLD, "gray wolf", "on hold: its tag papers are missing"),
        (tags.IN_BOX, "red fox", "beetles, "),
        (tags.READY, "gray fox", "waits for: hand over"),
        (tags.AT_THE_GLUE, "coyote", "rinse, "),
    ],
)
def test_a_tag_is_of_the_specimen_that_is_meant(open_door, tag, species, summary):
    card = open_door.specimen(tag)
    assert card.species.common == species
    assert card.state.summary.text.startswith(summary)
