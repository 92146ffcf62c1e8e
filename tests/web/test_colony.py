"""The colony in the pages and the JSON: every question asked and answered, drawn, and refused on the same page."""

import html
import re

import pytest

from bonebench.services.colony.asked import Asked
from bonebench.services.colony.cards import Band, DayAhead, ForecastCard
from bonebench.web.colonytools import ABOUT, TOOLS, TRY, days_charts, tried
from tests.papers.rendering import words_of
from tests.web.test_templates import words

ABOUT_IT = {"size": "3000", "temperature": "26 C", "humidity": "50 %"}


def test_the_page_links_to_every_question_and_stands_in_the_navigation(pages):
    answer = pages.get("/colony")
    assert answer.status_code == 200
    links = set(map(html.unescape, re.findall(r'href="([^"]*)"', answer.text)))
    assert {f"/colony/ask/{key}" for key in TOOLS} <= links
    assert re.search(r'<a href="/colony" class="on" aria-current="page">', answer.text)


@pytest.mark.parametrize("key", TOOLS)
def test_every_question_is_asked_with_an_empty_form_and_answered_with_an_invented_one(pages, key):
    empty = pages.get(f"/colony/ask/{key}")
    assert empty.status_code == 200
    assert "What comes out" not in words(empty.text)
    answer = pages.get(f"/colony/ask/{key}", params=tried(TOOLS[key]))
    assert answer.status_code == 200, words(answer.text)
    assert "What comes out" in words(answer.text)
    assert "Mask (N95 or P100) and gloves" in words(answer.text)


def test_the_invented_colony_fills_only_fields_that_are_there():
    assert set(TRY) <= {field.name for tool in TOOLS.values() for field in tool.fields}
    assert set(ABOUT) == set(Asked.__dataclass_fields__) - {"seed", "own"}


def test_the_season_is_drawn_as_a_band_with_its_numbers_in_a_table(pages):
    answer = pages.get("/colony/ask/forecast", params={**ABOUT_IT, "days": "20d", "ration": "30 g"})
    assert answer.text.count('<figure class="chart">') == 2
    assert 'class="band' in answer.text
    assert "plan with" in words(answer.text)
    assert "The numbers" in words(answer.text)


def test_what_was_said_of_the_colony_goes_along_to_the_next_question(pages):
    answer = pages.get("/colony/ask/numbers", params={**ABOUT_IT, "beetles": "Dermestes frischii"})
    links = [html.unescape(link) for link in re.findall(r'href="(/colony/ask/[^"]*)"', answer.text)]
    onward = next(link for link in links if link.startswith("/colony/ask/forecast?"))
    assert "size=3000" in onward
    assert "Dermestes" in onward
    assert "the figures are those of Dermestes maculatus" in words(pages.get(onward).text)


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("forecast", {"ration": "-5 g"}, "it is 0 g a day or more"),
        ("forecast", {"temperature": "26 C;;26 C" + ";26 C" * 21, "days": "1d"}, "no value for hour 2"),
        ("numbers", {"size": "lots"}, "is no size of a colony"),
        ("ramp-up", {"season": "60d"}, "not a mass"),
        ("tonight", {"waiting": "2 unicorn"}, "unicorn"),
    ],
)
def test_what_cannot_be_is_said_on_the_page_and_nothing_typed_is_lost(pages, key, typed, said):
    answer = pages.get(f"/colony/ask/{key}", params={**ABOUT_IT, **typed})
    assert answer.status_code == 422
    assert said in words(answer.text)
    assert 'value="50 %"' in answer.text


def test_an_unknown_question_names_those_there_are(pages):
    answer = pages.get("/colony/ask/nothing")
    assert answer.status_code == 404
    assert "tonight" in answer.text


def test_an_empty_scoop_is_answered_with_what_to_check(pages):
    answer = pages.get("/colony/ask/numbers", params={"scoop_count": "0", "scoop_part": "5 %"})
    assert answer.status_code == 200
    assert "nothing alive was counted" in words(answer.text)


@pytest.mark.parametrize("key", TOOLS)
def test_the_same_comes_as_json_with_schema_and_standing(pages, key):
    answer = pages.get(f"/api/v1/colony/{key}", params=tried(TOOLS[key]))
    assert answer.status_code == 200, answer.text
    card = answer.json()
    assert card["schema"] == f"colony.{key}/1"
    assert all(line["standing"] for line in card["basis"])
    assert card["cautions"][-1]["key"] == "defer"


def test_json_and_page_give_the_same_and_days_begin_with_the_room_s_today(pages):
    asked = {**ABOUT_IT, "days": "3d"}
    card = pages.get("/api/v1/colony/forecast", params=asked).json()
    assert card["days"][0]["date"] == "2026-05-04"
    assert card["title"]["text"] in words(pages.get("/colony/ask/forecast", params=asked).text)


def test_what_json_asks_badly_is_refused_in_the_same_words(pages):
    answer = pages.get("/api/v1/colony/forecast", params={**ABOUT_IT, "ration": "-5 g"})
    assert answer.status_code == 422
    assert answer.json()["error"]["text"].startswith("the ration is -5 g")


def test_one_day_alone_is_not_drawn():
    band = Band(1, 2, 3, 4)
    day = DayAhead(1, None, *[band] * 11)
    card = ForecastCard.__new__(ForecastCard)
    object.__setattr__(card, "days", (day,))
    assert days_charts(card) == ()


def test_a_look_is_written_down_shown_and_taken_back(pages):
    answer = pages.post("/colony", data={"counted": "200", "part": "5 %", "smell": "1"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/colony")
    text = words(pages.get("/colony").text)
    assert "200 alive in 5 % of the bedding; smell 1" in text
    assert "They can eat today" in text
    assert "Undo" in text


def test_an_empty_scoop_is_stored_and_the_page_says_what_to_check(pages):
    assert pages.post("/colony", data={"counted": "0", "part": "5 %"}).status_code == 303
    assert "nothing alive was counted in" in words(pages.get("/colony").text)


def test_a_look_that_cannot_be_read_is_said_and_nothing_typed_is_lost(pages):
    answer = pages.post("/colony", data={"counted": "many", "fed": "200 g"})
    assert answer.status_code == 422
    assert "'many' is not a count" in words(answer.text)
    assert 'value="200 g"' in answer.text


def test_a_look_by_json_is_stored_and_answered_with_the_colonies(pages):
    answer = pages.post("/api/v1/colony", json={"counted": "200", "part": "5 %"})
    assert answer.status_code == 200, answer.text
    card = answer.json()
    assert card["schema"] == "colony/1"
    assert card["boxes"][0]["numbers"]["schema"] == "colony.numbers/1"
    assert pages.get("/api/v1/colony").json() == card


LOG = "\n".join(["Time,Temp (F),RH (%)", *(f"2026-01-{5 + n // 24:02d} {n % 24:02d}:00,80.6,55" for n in range(72))])


def test_a_log_is_pasted_or_sent_as_a_file_and_stays_in_the_form(pages):
    pasted = pages.post("/colony/ask/forecast", data={"size": "3000", "days": "5d", "log": LOG})
    sent = pages.post(
        "/colony/ask/forecast",
        data={"size": "3000", "days": "5d", "log": ""},
        files={"log_file": ("box.csv", LOG.encode("utf-16"))},
    )
    for answer in (pasted, sent):
        assert answer.status_code == 200, words(answer.text)
        assert "the log drives 3 days of 5 days" in words(answer.text)
        assert "2026-01-07 23:00,80.6,55" in answer.text


def test_what_is_wrong_with_a_log_is_said_on_the_same_page(pages):
    answer = pages.post("/colony/ask/harm", data={"size": "3000", "log": LOG.replace("Temp (F)", "Temp")})
    assert answer.status_code == 422
    assert "does not say whether it is °C or °F" in words(answer.text)
    assert "3000" in answer.text
    unit = pages.post("/colony/ask/harm", data={"size": "3000", "log": LOG.replace("Temp (F)", "Temp"), "log_unit": "F"})
    assert unit.status_code == 200


def test_a_pasted_log_that_is_too_long_is_asked_for_as_a_file(pages):
    answer = pages.post("/colony/ask/forecast", data={"size": "3000", "log": "x" * 4_100_000})
    assert answer.status_code == 422
    assert "send the log as a file" in words(answer.text)


def test_the_json_takes_the_text_of_a_log(pages):
    answer = pages.post("/api/v1/colony/forecast", json={"size": "3000", "days": "5d", "log": LOG})
    assert answer.status_code == 200
    assert answer.json()["read_hours"] == 72
    harm = pages.post("/api/v1/colony/harm", json={"size": "3000", "log": LOG})
    assert harm.json()["schema"] == "colony.harm/1"
    wrong = pages.post("/api/v1/colony/harm", json={"size": "3000", "log": "time,temperature_c"})
    assert wrong.status_code == 422
    assert "has no rows under its names" in wrong.text


def test_the_neighbours_sheet_is_one_button_from_the_answer(pages):
    page = pages.get("/colony/ask/away", params={"size": "3000", "days": "10d", "first_day": "2026-05-04"}).text
    address = html.unescape(re.search(r'href="(/print/neighbour\.pdf[^"]*)"', page)[1])
    answer = pages.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    text = words_of(answer.content)
    assert "from 4 May to 13 May" in text
    assert "Each time you come, in this order" in text
    assert "For whoever looks in" in words(page)


def test_a_sheet_for_days_that_cannot_be_is_refused_in_words(pages):
    answer = pages.get("/print/neighbour.pdf", params={"size": "3000", "days": "100d"})
    assert answer.status_code == 422
    assert "100 days away: a colony is not left so long" in words(answer.text)


BOXED = {
    "size": "3000", "length": "1.20 m", "width": "0.65 m", "height": "0.80 m", "wall": "65 mm", "watts": "100 W", "low_holes": "1",
    "high_holes": "1", "building": "5 C", "days": "40d", "ration": "80 g",
}  # fmt: skip


def test_a_colony_with_its_box_is_drawn_and_told_month_by_month(pages):
    answer = pages.get("/colony/ask/with-box", params=BOXED)
    assert answer.status_code == 200, words(answer.text)
    assert answer.text.count('<figure class="chart">') == 4
    assert "What the colony does to it" in words(answer.text)
    assert "Month by month" in words(answer.text)
    assert "in the air of the box with the middle one in it" in words(answer.text)


def test_the_box_leads_to_its_colony_and_takes_its_numbers_along(pages):
    answer = pages.get("/enclosure", params={name: BOXED[name] for name in ("length", "width", "height", "wall")})
    link = next(html.unescape(one) for one in re.findall(r'href="([^"]*)"', answer.text) if "/colony/ask/with-box" in one)
    assert "length=1.20" in link


def test_what_is_wrong_with_the_box_is_said_beside_the_colony(pages):
    answer = pages.get("/colony/ask/with-box", params={**BOXED, "low_holes": "0", "high_holes": "0"})
    assert answer.status_code == 422
    assert "beetles need air" in words(answer.text)


def test_the_json_of_a_boxed_colony_is_asked_by_numbers_or_by_the_box_file(pages):
    by_numbers = pages.get("/api/v1/colony/with-box", params={**BOXED, "days": "5d"})
    assert by_numbers.status_code == 200, by_numbers.text
    assert by_numbers.json()["coupling"]["passes"] in (1, 2)
    file = '[box]\nlength = "1.2 m"\nwidth = "0.65 m"\nheight = "0.8 m"\n[[holes]]\ncount = 2\ndiameter = "25 mm"\nheight = "5 cm"'
    by_file = pages.post("/api/v1/colony/with-box", json={"file": file, "size": "3000", "building": "5 C", "days": "3d"})
    assert by_file.status_code == 200, by_file.text
    assert len(by_file.json()["days"]) == 3
    seasons = {"file": file, "size": "3000", "means": "-4 C; 9 C; 23 C; 11 C", "days": "3d"}
    assert pages.post("/api/v1/colony/with-box", json=seasons).status_code == 200


def test_questions_begin_from_todays_colony_by_the_log_where_no_number_is_typed(pages):
    assert pages.post("/colony", data={"counted": "200", "part": "5 %"}).status_code == 303
    page = pages.get("/colony").text
    address = html.unescape(re.search(r'href="(/colony/ask/least[^"]*)"', page.split("From today", 1)[1])[1])
    assert "by its log" in words(pages.get(address).text)
    answer = pages.get("/api/v1/colony/ramp-up", params={"season": "90d", "target": "100 g"})
    assert answer.status_code == 200, answer.text
    assert "colony.own" in [flag["what"]["key"] for flag in answer.json()["flags"]]
    sheet = pages.get("/print/neighbour.pdf", params={"days": "5d"})
    assert sheet.headers["content-type"] == "application/pdf"


def test_where_nothing_alive_was_counted_the_page_asks_for_another_count(pages):
    assert pages.post("/colony", data={"counted": "0", "part": "5 %"}).status_code == 303
    answer = pages.get("/colony/ask/least", params={"size": "", "days": "30d"})
    assert answer.status_code == 422
    assert "count again first, or type a number" in words(answer.text)


def test_a_spare_colony_elsewhere_is_advised_on_the_page(pages):
    assert "one dead heater or one mite takes a single colony" in words(pages.get("/colony").text)


def test_pests_are_offered_by_name_and_looked_up(pages):
    page = pages.get("/colony").text
    assert '<option value="mites">' in page
    assert pages.post("/colony", data={"pests": "mties", "hunger": "starved"}).status_code == 303
    text = words(pages.get("/colony").text)
    assert "no pest of the list is called so; it could be mites" in text
    assert "looked starved on" in text
