"""Other beetles: what differs is what the collected figures say, and the names people use find them."""

import pytest

from bonebench.reference.beetles import BEETLES, OWN, beetle_named


@pytest.mark.parametrize(
    ("written", "name"),
    [
        (None, OWN), ("", OWN), ("hide beetle", OWN), ("D. maculatus", OWN), ("dermestes  MACULATUS", OWN),
        ("D. frischii", "Dermestes frischii"), ("larder beetle", "Dermestes lardarius"), ("Attagenus pellio", "Attagenus pellio"),
    ],
)  # fmt: skip
def test_beetles_are_found_by_the_names_people_write(written, name):
    assert beetle_named(written).name == name


def test_one_that_nothing_is_known_of_is_trusted_with_nothing():
    assert (beetle_named("Attagenus pellio").trust, beetle_named("Dermestes lardarius").trust) == ("none", "none")


@pytest.mark.parametrize(
    ("name", "at", "base", "degree_days", "days"),
    [
        # Coombs 1979 by a straight line, biology 1.3: days = degree-days / (t - threshold); printed to a day.
        ("Dermestes haemorrhoidalis", 20, 13.2, 664, 98),
        ("Dermestes haemorrhoidalis", 25, 13.2, 664, 56),
        ("Dermestes peruvianus", 20, 12.1, 882, 112),
        ("Dermestes peruvianus", 25, 12.1, 882, 68),
    ],
)
def test_days_in_the_words_are_those_of_the_published_line(name, at, base, degree_days, days):
    assert degree_days / (at - base) == pytest.approx(days, abs=0.6)
    words = " ".join(beetle_named(name).differs)
    assert f"{days} " in words
    assert f"{base} °C" in words


def test_every_kind_that_is_near_says_how_far_it_is_spread():
    assert all(beetle.spread > 0 for beetle in BEETLES if beetle.trust == "near")
    assert all(beetle.differs for beetle in BEETLES if beetle.trust != "own")
