"""What is turned away: writing from another site, reading under a stranger's name, and being sent elsewhere."""

import pytest
from starlette.testclient import TestClient

from bonebench.door import Door
from bonebench.web.app import make_app
from tests.web.conftest import ADDRESS
from tests.web.taps import IN_TUB, entries_of, tap_on

WRITING = ["/add", "/entries", "/undo", "/who", "/left", "/begin", "/methods", "/profile", "/features", "/api/v1/specimens",
           "/api/v1/entries", f"/specimens/{IN_TUB}/photos", f"/specimens/{IN_TUB}/photos/out",
           f"/specimens/{IN_TUB}/colour"]  # fmt: skip
ELSEWHERE = [
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {"Origin": "http://other.example"},
    {"Origin": "null"},
    {"Origin": "http://127.0.0.1:9999"},
]


@pytest.mark.parametrize("headers", ELSEWHERE)
def test_writing_from_another_site_is_refused_and_stores_nothing(pages, headers):
    data = tap_on(pages, "/", "Rinsing")
    count = len(entries_of(pages, IN_TUB))
    answer = pages.post("/entries", data=data, headers=headers)
    assert answer.status_code == 403
    assert answer.text == "this came from another site and was not stored"
    assert "content-security-policy" in answer.headers
    assert len(entries_of(pages, IN_TUB)) == count


@pytest.mark.parametrize("path", WRITING)
def test_every_way_to_write_refuses_another_site(pages, path):
    assert pages.post(path, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403


@pytest.mark.parametrize("headers", [{"Sec-Fetch-Site": "same-origin"}, {"Sec-Fetch-Site": "none"}, {"Origin": ADDRESS}, {}])
def test_writing_from_our_own_pages_is_let_in(pages, headers):
    assert pages.post("/entries", data=tap_on(pages, "/", "Rinsing"), headers=headers).status_code == 303


@pytest.mark.parametrize(
    "host", ["127.0.0.1:8437", "localhost:8437", "[::1]:8437", "192.168.4.7", "shed", "shed.local:8437", "shed.lan"]
)
def test_the_program_answers_to_numbers_and_to_names_of_the_house(pages, host):
    assert pages.get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("host", ["other.example", "other.example:8437", "127.0.0.1.other.example", "localhost.", "[::1", ""])
def test_a_strangers_name_that_points_here_reads_nothing(pages, host):
    answer = pages.get("/", headers={"Host": host})
    assert answer.status_code == 421
    assert f"this program does not answer to the name '{host}': use the address it printed" in answer.text
    assert IN_TUB not in answer.text
    told = pages.get("/api/v1/today", headers={"Host": host})
    assert (told.status_code, told.json()["error"]["key"]) == (421, "web.host")


def test_the_name_the_program_was_started_with_is_its_own(open_door: Door):
    started = TestClient(make_app(open_door, host="Bones.example"), base_url="http://bones.example:8437")
    assert started.get("/").status_code == 200


BACKS = ["https://other.example/", "//other.example/", "/\\other.example", "\\\\other.example", "javascript:alert(1)", "other", "",
         "/%5cother.example\r\nSet-Cookie: a=b"]  # fmt: skip


@pytest.mark.parametrize("back", BACKS)
def test_a_tap_never_sends_the_browser_to_another_site(pages, back):
    answer = pages.post("/entries", data={**tap_on(pages, "/", "Rinsing"), "back": back})
    assert answer.status_code == 303
    location = answer.headers["location"]
    assert location.startswith("/")
    assert not location.startswith(("//", "/\\"))
    assert "a=b" not in answer.headers.get("set-cookie", "")
