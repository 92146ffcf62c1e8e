"""The colour of bone in a photo through the door: measured, written down, compared with its like only, never called done."""

from datetime import timedelta
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from bonebench.door import About
from bonebench.errors import NotAQuantity, OutsideRange, UnknownName
from bonebench.science.colour import Box
from bonebench.services.photos.colour import ColourAsked, colour_in, courses_of, progress_of, read_box, read_card
from bonebench.services.photos.looks import ColourLook
from bonebench.services.photos.taking import take
from bonebench.shop.photo_entries import ColourMeasured
from tests.conftest import NOW
from tests.science.colour.test_card import shot

from .hands import flags, take_in

BOXES = {"card": "5 5 30 40", "bone": "60 50 30 40"}


def photo(grey: float, card: float = 0.8, seed: float = 1.0) -> bytes:
    """A photo of grey bone beside a card; the last number makes its file another one."""
    picture = shot([card] * 3, [grey] * 3, light=(0.9 * seed,) * 3, noise=1.0)
    out = BytesIO()
    Image.fromarray(picture).save(out, "PNG")
    return out.getvalue()


def measured(door, tag, data, setting="bench lamp", against="80%", keep=True):
    entry = door.keep_photos(About(tag, step="whiten"), [take(data)]).kept[0].entry
    shown, looks = door.photos(tag).named(entry), door.colour_looks(tag)
    asked = ColourAsked(**BOXES, against=against, setting=setting)
    card = door.work(lambda known: colour_in(known, door.photo_file(shown.sha256), shown, tag=tag, asked=asked, looks=looks))
    if keep:
        door.keep_colour(tag, entry, card.entry())
    return card


def test_a_photo_is_measured_as_it_lies_in_the_folder(desk):
    # 116 * 0.5 ** (1/3) - 16 = 76.07; storing as JPEG and a code of noise leave 0.5.
    card = measured(desk, take_in(desk).tag, photo(0.5))
    assert card.lightness == pytest.approx(76.07, abs=0.5)
    assert (card.a, card.b) == pytest.approx((0, 0), abs=0.5)
    assert (card.lightness_low, card.lightness_high) == pytest.approx((card.lightness,) * 2)
    assert card.title.text.endswith("an estimate, to compare with photos of the same phone in the same light")
    assert card.cautions


def test_what_is_not_known_of_the_card_widens_the_lightness(desk):
    card = measured(desk, take_in(desk).tag, photo(0.5, card=0.85), against="paper")
    # Between 0.78 and 0.92 of 0.85: (L + 16) times the cube root of the ratio.
    assert card.lightness_low == pytest.approx((card.lightness + 16) * (0.78 / 0.85) ** (1 / 3) - 16, abs=1e-9)
    assert card.lightness_high == pytest.approx((card.lightness + 16) * (0.92 / 0.85) ** (1 / 3) - 16, abs=1e-9)
    assert "colour.paper" in flags(card)


def test_a_change_since_the_look_before_is_told_with_its_noise(desk, clock):
    tag = take_in(desk).tag
    measured(desk, tag, photo(0.4))
    clock.advance(hours=12)
    card = measured(desk, tag, photo(0.6))
    assert card.progress is not None
    # L* 69.47 to 81.66 by the formula.
    assert card.progress.lighter == pytest.approx(81.66 - 69.47, abs=0.6)
    assert card.progress.title.text.startswith("still changing: ")
    assert "colour.assumed" in flags(card.progress)


def test_three_looks_without_change_are_said_to_stand_as_far_as_photos_show(desk, clock):
    tag = take_in(desk).tag
    for seed in (1.0, 0.97, 0.95):
        card = measured(desk, tag, photo(0.6, seed=seed))
        clock.advance(hours=12)
    assert card.progress is not None
    assert (card.progress.still_looks, card.progress.still_days) == (3, 1.0)
    assert card.progress.title.text == (
        "no change beyond the noise of 2.4 is seen in the last 3 looks, over 1 day: it has stopped changing as far as these photos "
        "can show; whether it is white enough is for your eyes, and the longest time in the bath holds"
    )
    assert "done" not in card.progress.title.text


def test_photos_within_half_an_hour_are_one_look_and_tell_the_rooms_own_noise(desk, clock):
    tag = take_in(desk).tag
    for seed in (1.0, 0.99, 0.98, 0.97):
        measured(desk, tag, photo(0.6, seed=seed))
        clock.advance(minutes=5)
    (course,) = desk.work(lambda known: courses_of(known, desk.colour_looks(tag), tag))
    assert (course.looks, course.repeats) == (1, 3)
    assert course.basis[0].standing == "measured in this room"
    assert flags(course) == []
    assert course.title.text == "1 look so far; the next one will show a change"


def test_looks_of_two_settings_are_never_compared(desk, clock):
    tag = take_in(desk).tag
    measured(desk, tag, photo(0.4), setting="window")
    clock.advance(hours=12)
    card = measured(desk, tag, photo(0.6), setting="Bench  lamp")
    assert card.progress is None
    clock.advance(hours=12)
    assert measured(desk, tag, photo(0.61), setting="bench LAMP").progress.looks == 2
    courses = desk.work(lambda known: courses_of(known, desk.colour_looks(tag), tag))
    assert [(course.setting, course.looks) for course in courses] == [("bench LAMP", 2), ("window", 1)]


def test_a_photo_measured_again_counts_once(desk, clock):
    tag = take_in(desk).tag
    card = measured(desk, tag, photo(0.4))
    clock.advance(minutes=1)
    desk.keep_colour(tag, card.photo, card.entry())
    assert len(desk.colour_looks(tag)) == 1


def test_a_look_taken_back_counts_no_more(desk):
    tag = take_in(desk).tag
    card = measured(desk, tag, photo(0.4), keep=False)
    desk.undo(desk.keep_colour(tag, card.photo, card.entry()))
    assert desk.colour_looks(tag) == ()


def test_what_cannot_be_a_colour_is_passed_over(desk):
    tag = take_in(desk).tag
    card = measured(desk, tag, photo(0.4), keep=False)
    desk.keep_colour(tag, card.photo, ColourMeasured("ab" * 32, 1e308, 0, 0, 0, (0, 0, 1, 1), (0, 0, 1, 1), 0.9))
    assert desk.colour_looks(tag) == ()


def test_what_is_too_bright_is_refused_and_nothing_is_written(desk):
    tag = take_in(desk).tag
    with pytest.raises(OutsideRange, match="100 % of the bone is too bright to measure: take it again with a darker exposure"):
        measured(desk, tag, photo(1.2))
    assert desk.colour_looks(tag) == ()


def test_a_setting_that_is_not_said_and_a_spoilt_card_are_flagged(desk):
    tag = take_in(desk).tag
    assert "colour.no_setting" in flags(measured(desk, tag, photo(0.4), setting=""))
    picture = np.array(Image.open(BytesIO(photo(0.4, seed=0.9))))
    picture[10:50] = 70
    out = BytesIO()
    Image.fromarray(picture).save(out, "PNG")
    found = flags(measured(desk, tag, out.getvalue()))
    assert {"colour.uneven_light", "colour.speckled"} & set(found)


def test_boxes_and_cards_are_read_as_people_write_them():
    assert read_box("10, 20 8% 8", "card") == Box(0.1, 0.2, 0.08, 0.08)
    for text in ("", "10 20 8", "a b c d", "10 20 8 8 8"):
        with pytest.raises(NotAQuantity) as refused:
            read_box(text, "bone")
        assert str(refused.value) == (
            f"'{text}' is no box of the bone: write left, top, width and height in percent, like 10 20 8 8"
        )
    assert (read_card("Grey").value, read_card("85 %").value) == (0.18, 0.85)
    with pytest.raises(NotAQuantity) as refused:
        read_card("blue")
    assert str(refused.value) == "'blue' is no card: write grey, white, paper, or how much it reflects, like 85 %"


def test_a_photo_nobody_has_is_not_measured(desk):
    tag = take_in(desk).tag
    with pytest.raises(UnknownName, match=f"{tag} has no photo 'nope'"):
        desk.photos(tag).named("nope")


def test_a_course_tells_its_looks_in_order(desk):
    looks = [ColourLook(str(n), NOW + timedelta(days=n), "", str(n), (70.0 + 4 * n, 1.0, 12.0)) for n in (2, 0, 1)]
    course = desk.work(lambda known: progress_of(known, looks, "X", ""))
    assert course.lighter == pytest.approx(8.0)
    assert [fact.value.text[:7] for fact in course.facts[-3:]] == ["L* 70, ", "L* 74, ", "L* 78, "]
