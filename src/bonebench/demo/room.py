"""The invented room as data: places, people, and twelve specimens with what happened to them, in days before today."""

from dataclasses import dataclass
from typing import Literal

from bonebench.shop.entries import PlaceSet
from bonebench.shop.steps import PlaceKind, Step

NAME = "Prairie edge preparation room"
ZONE = "America/Chicago"
UNITS: Literal["metric", "us"] = "us"

PLACES = (
    PlaceSet("chest-freezer", "Chest freezer", PlaceKind.FREEZER, 1, count=30, volume_l=350),
    PlaceSet("thaw-shelf", "Thaw shelf", PlaceKind.THAW_SHELF, 2, count=4),
    PlaceSet("trim-bench", "Trim bench", PlaceKind.TRIM_BENCH, 3, count=2),
    PlaceSet("dairy-box", "Beetle box", PlaceKind.ENCLOSURE, 4, count=5, appetite_kg_per_day=0.22),
    PlaceSet("big-pot", "Big pot", PlaceKind.POT, 5, count=2, volume_l=30),
    PlaceSet("small-pot", "Small pot", PlaceKind.POT, 6, count=2, volume_l=8),
    PlaceSet("drying-rack", "Drying rack", PlaceKind.RACK, 7, count=12),
    PlaceSet("glue-bench", "Glue bench", PlaceKind.GLUE_BENCH, 8, count=3),
    PlaceSet("white-tub", "White tub", PlaceKind.TUB, 9, count=3, volume_l=25),
    PlaceSet("rinse-tub", "Rinse tub", PlaceKind.RINSE, 10, count=3, volume_l=25),
    PlaceSet("ready-shelf", "Ready shelf", PlaceKind.SHELF, 11, count=20),
)


@dataclass(frozen=True, slots=True)
class Invented:
    """Somebody who never lived: hours by weekday, and what they are trained for."""

    name: str
    hours: dict[str, list[tuple[str, str]]]
    trained: tuple[str, ...]


ALL_WORK = ("raw heads", "beetles", "hot baths", "peroxide", "teeth")
WORKERS = (
    Invented("Wren Halloway", {day: [("08:00", "12:00")] for day in ("mon", "tue", "wed", "thu")}, ALL_WORK),
    Invented("Otis Brandvold", {day: [("13:00", "17:00")] for day in ("tue", "thu", "fri")}, ALL_WORK),
    Invented("Student hours", {"wed": [("13:00", "16:00")], "sat": [("09:00", "12:00")]}, ("beetles", "teeth")),
)
OWNERS = ("Marigold Teller", "Ansel Roake", "Prairie edge teaching box", "Ida Fennimore")


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that happened so many days before today, at so many hours of the day: a move, an act, or another kind."""

    days_ago: float
    kind: str
    step: Step | None = None
    place: str | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Story:
    """One invented specimen: what was said at the door and what happened since."""

    species: str
    owner: str
    arrived: float
    happened: tuple[Happened, ...] = ()
    head_kg: float | None = None
    promised_in: int | None = None
    sex: str | None = None
    finish: Literal["white", "natural"] = "white"
    measure: bool = False
    parts: tuple[str, ...] = ("skull", "mandible")
    lot: str | None = None


def _in(days: float, step: Step, place: str) -> Happened:
    return Happened(days, "moved", step, place)


def _did(days: float, step: Step) -> Happened:
    return Happened(days, "done", step)


def front(arrived: float, trimmed: float, box: float) -> tuple[Happened, ...]:
    """The way from the door into the box."""
    return (
        _in(arrived, Step.FROZEN_HOLD, "chest-freezer"),
        _in(trimmed + 1.2, Step.THAW, "thaw-shelf"),
        _did(trimmed, Step.TRIM),
        _in(trimmed - 0.02, Step.FREEZE_AGAIN, "chest-freezer"),
        _in(box, Step.BEETLES, "dairy-box"),
    )


def through_box(clean: float, degrease: float, pot: str) -> tuple[Happened, ...]:
    """From judged clean through the cold into the pot."""
    return (
        _did(clean, Step.JUDGE_CLEAN),
        _did(clean - 1.1, Step.OUT),
        _in(clean - 1.15, Step.KILL, "chest-freezer"),
        _in(degrease, Step.DEGREASE, pot),
    )


STORIES = (
    Story("white-tailed-deer", "Marigold Teller", 9.2,
          (_in(9.1, Step.FROZEN_HOLD, "chest-freezer"), _in(1.3, Step.THAW, "thaw-shelf")), promised_in=75, sex="male",
          parts=("skull", "mandible", "antlers")),
    Story("raccoon", "Prairie edge teaching box", 24.0, front(24.0, 14.0, 6.0)),
    Story("red-fox", "Ida Fennimore", 27.0, front(27.0, 17.0, 8.0), head_kg=0.41, promised_in=40),
    Story("american-mink", "Prairie edge teaching box", 20.0,
          (*front(20.0, 12.0, 5.0), _did(0.9, Step.JUDGE_CLEAN)), finish="natural"),
    Story("american-beaver", "Ansel Roake", 58.0,
          (*front(58.0, 49.0, 42.0), *through_box(33.0, 23.0, "small-pot")), promised_in=-2),
    Story("black-bear", "Marigold Teller", 96.0, (*front(96.0, 86.0, 78.0), *through_box(64.0, 55.0, "big-pot")), promised_in=120,
          measure=True, sex="male"),
    Story("bobcat", "Ida Fennimore", 61.0,
          (*front(61.0, 52.0, 45.0), *through_box(38.0, 29.0, "small-pot"), _in(14.0, Step.DRY, "drying-rack")), promised_in=18),
    Story("virginia-opossum", "Prairie edge teaching box", 88.0,
          (*front(88.0, 78.0, 70.0), *through_box(62.0, 53.0, "small-pot"), _in(12.0, Step.DRY, "drying-rack"),
           _did(6.0, Step.TEETH), _in(2.1, Step.WHITEN, "white-tub"))),
    Story("striped-skunk", "Ansel Roake", 80.0,
          (*front(80.0, 70.0, 62.0), *through_box(55.0, 46.0, "small-pot"), _in(16.0, Step.DRY, "drying-rack"),
           _did(10.0, Step.TEETH), _in(6.1, Step.WHITEN, "white-tub"), _in(5.0, Step.RINSE, "rinse-tub"),
           _in(4.0, Step.DRY_AGAIN, "drying-rack")), promised_in=9),
    Story("house-mouse", "Prairie edge teaching box", 12.0, (*front(12.0, 5.0, 1.4),), lot="Tray of mice"),
    Story("house-mouse", "Prairie edge teaching box", 12.0, (*front(12.0, 5.0, 1.4),), lot="Tray of mice"),
    Story("gray-wolf", "Ida Fennimore", 15.0,
          (_in(15.0, Step.FROZEN_HOLD, "chest-freezer"), Happened(14.5, "held", text="waits for its tag papers"))),
)  # fmt: skip
