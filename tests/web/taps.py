"""How the tests of the pages tap: by the fields of the form that a page shows."""

from typing import Any

from starlette.testclient import TestClient

from tests.web.demo_tags import IN_BOX, ON_HOLD, RINSING_NEXT
from tests.web.test_templates import Form, Reading

IN_TUB, WOLF, FOX = RINSING_NEXT, ON_HOLD, IN_BOX
IN_WORK = 38  # of the forty invented specimens; two were handed over


def state_of(pages: TestClient, tag: str) -> Any:
    return pages.get(f"/api/v1/specimens/{tag}").json()["state"]


def entries_of(pages: TestClient, tag: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = pages.get(f"/api/v1/specimens/{tag}").json()["entries"]
    return found


def tap_on(pages: TestClient, path: str, label: str) -> dict[str, Any]:
    """The fields that the button of this label sends."""
    html = pages.get(path).text
    at = html.index(f">{label}</button>")
    form = Reading(html[html.rindex("<form", 0, at) : at] + "</form>").forms[0]
    return {**as_data(form), "about_time": ""}


def as_data(form: Form) -> dict[str, Any]:
    data: dict[str, Any] = {}
    for name, value in form.fields:
        data.setdefault(name, []).append(value)
    return {name: values if name == "subject" else values[0] for name, values in data.items()}


def undo_of(html: str) -> dict[str, Any]:
    """What the Undo beside the words of the last tap sends."""
    return as_data(Reading(html[html.index('id="said"') :]).forms[0])


def send(pages: TestClient, data: dict[str, Any]) -> str:
    """Send a tap as the button does, and return the page the browser is sent to."""
    answer = pages.post("/entries", data=data)
    assert answer.status_code == 303, answer.text
    return pages.get(answer.headers["location"]).text
