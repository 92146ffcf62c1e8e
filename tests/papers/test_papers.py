"""The work sheet, the pencil sheet, the intake form and the care card: their words, their codes, nothing beyond the edge."""

from dataclasses import replace

import numpy as np
import pytest
import zxingcpp

from bonebench.door.printing import care_card_at, intake_form_at, labels_at, pencil_sheet_at, worksheet_at
from bonebench.errors import Impossible, OutsideRange, UnknownName
from bonebench.papers.prints import KINDS, LabelJob
from bonebench.papers.sheets import Printing
from bonebench.papers.stocks import PAPERS_MM
from bonebench.papers.worksheet import worksheet_pdf
from bonebench.reference.intake import load_questions
from bonebench.services.prints.choose import Choice
from bonebench.shop.cautions import Level
from bonebench.units import Reader, say
from tests.papers.rendering import fonts_of, page_count, rendered, text_of, words_of
from tests.papers.sheetcards import LONG, take_in_named

METRIC = Reader("metric")
FOX = "104-M"
PAPERS = {
    "worksheet": lambda door, paper: worksheet_at(door, METRIC, paper=paper),
    "pencil-sheet": lambda door, paper: pencil_sheet_at(door, METRIC, paper=paper),
    "intake-form": lambda door, paper: intake_form_at(door, METRIC, paper=paper),
    "care-card": lambda door, paper: care_card_at(door, METRIC, FOX, room_copy=True, paper=paper),
}
ALL = pytest.mark.parametrize("what", PAPERS)


def squeezed(text: str) -> str:
    """Words without spaces: a line break may fall anywhere."""
    return "".join(text.split())


@ALL
@pytest.mark.parametrize("paper", PAPERS_MM)
def test_nothing_comes_near_the_papers_edge_and_every_page_is_of_the_paper(demo, what, paper):
    pdf = PAPERS[what](demo, paper).pdf
    for number in range(1, page_count(pdf) + 1):
        dark = np.array(rendered(pdf, 60, number)) < 200
        high, wide = dark.shape
        assert (wide / 60 * 25.4, high / 60 * 25.4) == pytest.approx(PAPERS_MM[paper], abs=0.5)  # a page is whole dots
        edge = int(10 / 25.4 * 60)  # the margin is 14 mm; a letter's foot may reach a little into it
        assert dark[edge:-edge, edge:-edge].sum() == dark.sum() > 200


@ALL
def test_the_same_paper_gives_the_same_bytes_and_carries_its_letters(demo, what):
    first, again = (PAPERS[what](demo, "a4").pdf for _ in range(2))
    assert first == again
    assert {name for name, inside in fonts_of(first) if not inside} <= {"/Helvetica"}


@ALL
def test_every_page_of_the_demo_says_that_it_is_invented(demo, what):
    printed = PAPERS[what](demo, "a4")
    assert printed.card.demo
    assert printed.card.pages == page_count(printed.pdf)
    for page in text_of(printed.pdf).split("\f"):
        assert "DEMO" in page


def test_the_days_work_stands_whole_and_in_order_with_its_cautions(demo):
    card = demo.today()
    text = squeezed(text_of(worksheet_at(demo, METRIC).pdf))
    places = [text.find(squeezed(say(task.action, METRIC))) for task in card.tasks]
    assert min(places) >= 0
    stops = {squeezed(say(c.do, METRIC)) for task in card.tasks for c in task.cautions if c.level is not Level.READ}
    assert stops
    for stop in stops:
        assert stop in text
    for tick in card.leaving.ticks:
        assert squeezed(say(tick.tap, METRIC)) in text


def test_a_caution_stands_before_the_next_task_and_one_that_stops_the_hand_at_every_task(demo):
    card = demo.today()
    stop = next(c for task in card.tasks for c in task.cautions if c.level is Level.STRONG)
    loud = replace(stop, level=Level.STOP)
    tasks = tuple(replace(task, cautions=(loud,)) for task in card.tasks[:3])
    text = squeezed(text_of(worksheet_pdf(replace(card, tasks=tasks), METRIC)))
    assert text.count(squeezed(f"STOP. {say(loud.hazard, METRIC)}")) == 3


def test_a_pencil_sheet_has_a_numbered_row_for_each_thing_and_its_code_opens_it(demo):
    printed = pencil_sheet_at(demo, METRIC)
    number = printed.card.sheet
    words = words_of(printed.pdf)
    assert number in words
    sheet = demo.sheet(number)
    assert len(sheet.rows) == len(demo.today().tasks)
    text = squeezed(words)
    for task in demo.today().tasks:
        assert squeezed(say(task.action, METRIC)) in text
    for n in range(1, len(sheet.rows) + 1):
        assert f" {n} " in f" {words} "
    codes = {code.text for code in zxingcpp.read_barcodes(rendered(printed.pdf, 200))}
    assert codes == {f"sheet:{number}"}
    assert demo.scanned(codes).found[0].key == number


def test_every_letter_a_row_prints_can_be_typed_back(demo):
    printed = pencil_sheet_at(demo, METRIC)
    rows = demo.sheet(printed.card.sheet).rows
    for code in sorted({mark.code for row in rows for mark in row.marks}):
        having = [row.row for row in rows if code in {mark.code for mark in row.marks}]
        card = demo.typed_back(printed.card.sheet, ", ".join(f"{row} {code}" for row in having))
        assert ([one.row for one in card.rows], card.unread) == (having, ())


def test_the_form_asks_every_question_of_the_door_and_marks_those_that_must_be_asked(demo):
    text = squeezed(text_of(intake_form_at(demo, METRIC).pdf))
    for question in load_questions().values():
        assert squeezed(("ASK" if question.must_ask else "") + question.text) in text
        assert squeezed(say(question.say("route", question.yes.route), METRIC)) in text
    for words in ("Species", "Owner", "Head as it came in", "mandible", "Papers: licence", "Brought by (signature)", "Tag (stick"):
        assert squeezed(words) in text


def test_forms_for_new_tags_carry_each_its_tag_as_a_code(demo):
    printed = intake_form_at(demo, METRIC, new_tags=3)
    tags = printed.card.tags
    assert len(set(tags)) == 3
    assert page_count(printed.pdf) == 6
    assert "page 1 of 2" in words_of(printed.pdf), "each form numbers its own pages"
    found = {code.text for n in (1, 3, 5) for code in zxingcpp.read_barcodes(rendered(printed.pdf, 150, n))}
    assert found == set(tags)
    with pytest.raises(OutsideRange, match="301 forms are asked for; it can be 1 to 300"):
        intake_form_at(demo, METRIC, copies=301)


@pytest.mark.parametrize("owner", ["Łódź Żółć Ångström ß", LONG, "Ada 🦊 漢字", "x" * 190])
def test_any_name_stays_on_the_card_with_its_accents(demo, owner):
    tag = take_in_named(demo, owner)
    pdf = care_card_at(demo, METRIC, tag).pdf
    dark = np.array(rendered(pdf, 60)) < 200
    edge = int(10 / 25.4 * 60)
    assert dark[edge:-edge, edge:-edge].sum() == dark.sum()
    text = squeezed(text_of(pdf))
    assert "№7≤3☐−20°C" in text
    if owner.startswith(("Łódź", "x", "Wś")):
        assert squeezed(owner) in text
    assert {code.text for code in zxingcpp.read_barcodes(rendered(pdf, 200))} == {tag}


def test_signs_that_no_letter_of_ours_can_set_are_said(demo):
    flags = care_card_at(demo, METRIC, take_in_named(demo, "Ada 漢字")).card.flags
    assert [flag.what.text for flag in flags] == ["the typeface has no 漢 字; boxes stand for them on paper"]
    assert care_card_at(demo, METRIC, take_in_named(demo, "Łódź Ωμέγα Щука")).card.flags == ()


def test_the_care_card_says_how_to_keep_it_and_is_signed(demo):
    words = words_of(care_card_at(demo, METRIC, FOX, room_copy=True).pdf)
    for said in (
        "Owner's copy",
        "The room's copy",
        "No household bleach, ever",
        "out of the sun",
        "soft, dry brush",
        "Received by",
    ):
        assert said in words
    assert "The room's copy" not in words_of(care_card_at(demo, METRIC, FOX).pdf)


# -- labels through the door -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_label_prints_and_says_what_was_printed(demo, kind):
    choice = Choice(waiting=kind in ("specimen", "jar", "strip"))
    job = LabelJob(kind=kind, printing=Printing(demo=True))
    printed = labels_at(demo, job, METRIC, choice=choice, count=4 * (kind == "blank"))
    assert page_count(printed.pdf) == printed.card.pages
    assert printed.card.cautions[-1].key == "defer"
    assert printed.card.advice
    assert "DEMO" in words_of(printed.pdf)
    if printed.card.stock is not None:
        assert 1 <= printed.card.next_start <= 21


def test_a_roll_is_printed_once_more_without_a_new_tag(demo):
    job = LabelJob(kind="blank")
    first = labels_at(demo, job, METRIC, count=5, roll="Shed")
    again = labels_at(demo, job, METRIC, roll="shed")
    assert (again.card.tags, again.pdf) == (first.card.tags, first.pdf)
    assert labels_at(demo, LabelJob(kind="strip"), METRIC, roll="shed").card.tags == first.card.tags


def test_the_next_print_goes_on_where_this_one_stopped(demo):
    job = LabelJob(kind="blank", stock="a4-3x7-63.5x38.1", printing=Printing(start=20))
    card = labels_at(demo, job, METRIC, count=4).card
    # 20 and 21 on the first sheet, 1 and 2 on the second.
    assert (card.pages, card.starts_at, card.next_start, len(card.tags)) == (2, 20, 3, 4)


def test_a_place_opens_by_its_label(demo):
    printed = labels_at(demo, LabelJob(kind="place"), METRIC, places=["white-tub"])
    assert "NO METAL" in words_of(printed.pdf)
    codes = {code.text for code in zxingcpp.read_barcodes(rendered(printed.pdf, 200))}
    assert [(one.kind, one.name) for one in demo.scanned(codes).found] == [("place", "White tub")]


def test_a_part_has_a_label_of_its_own(demo):
    words = words_of(labels_at(demo, LabelJob(parts=True), METRIC, choice=Choice(tags=(FOX,))).pdf)
    assert words.count(FOX) == 2
    assert "mandible" in words


def test_three_strips_try_a_stock_in_pot_tub_and_on_the_shelf(demo):
    words = words_of(labels_at(demo, LabelJob(kind="test"), METRIC).pdf)
    for said in ("POT", "TUB", "SHELF", "☐"):
        assert said in words


REFUSED = [
    ({"stock": "a5-1x1"}, UnknownName, "there is no label stock called a5-1x1"),
    ({"printing": Printing(start=44)}, OutsideRange, "printing starts at label 44"),
    ({"kind": "postcard"}, UnknownName, "there are no labels called postcard; there are: specimen, jar"),
    ({"kind": "place"}, Impossible, "104-M are tags of specimens; for the label of a place name the place"),
    ({"kind": "strip", "holes": "boot"}, UnknownName, "there are no holes for boot hands"),
    ({"kind": "strip", "paper": "a5"}, UnknownName, "there is no paper called a5"),
    ({"kind": "blank"}, Impossible, "say how many new tags"),
]


@pytest.mark.parametrize(("job", "error", "words"), REFUSED)
def test_what_cannot_be_printed_is_refused_in_words(demo, job, error, words):
    with pytest.raises(error, match=words):
        labels_at(demo, LabelJob(**job), METRIC, choice=Choice(tags=(FOX,)) if job.get("kind") != "blank" else Choice())


def test_a_stock_too_small_for_a_place_is_refused(demo):
    with pytest.raises(Impossible, match="choose a larger label"):
        labels_at(demo, LabelJob(kind="place", stock="letter-4x20"), METRIC)


@pytest.mark.parametrize("wrong", [{"stock": "a5-1x1"}, {"printing": Printing(start=44)}, {"kind": "strip", "paper": "a5"}])
def test_a_print_that_is_refused_uses_up_no_tag(demo, wrong):
    before = demo.tags()
    with pytest.raises((UnknownName, OutsideRange)):
        labels_at(demo, LabelJob(**{"kind": "blank", **wrong}), METRIC, count=9)
    assert demo.tags() == before
