"""The invented room: its places, its people, what it has. Nobody and nothing in it is real."""

from dataclasses import dataclass
from typing import Literal

from bonebench.shop.entries import PlaceSet
from bonebench.shop.steps import PlaceKind

NAME = "Prairie edge preparation room"
ZONE = "America/Chicago"
UNITS: Literal["metric", "us"] = "us"

PLACES = (
    PlaceSet("chest-freezer", "Chest freezer", PlaceKind.FREEZER, 1, count=45, volume_l=400),
    PlaceSet("thaw-shelf", "Thaw shelf", PlaceKind.THAW_SHELF, 2, count=6),
    PlaceSet("trim-bench", "Trim bench", PlaceKind.TRIM_BENCH, 3, count=2),
    PlaceSet("dairy-box", "Beetle box", PlaceKind.ENCLOSURE, 4, count=9, appetite_kg_per_day=0.22),
    PlaceSet("bear-pot", "Bear pot", PlaceKind.POT, 5, count=2, volume_l=60),
    PlaceSet("big-pot", "Big pot", PlaceKind.POT, 6, count=3, volume_l=30),
    PlaceSet("small-pot", "Small pot", PlaceKind.POT, 7, count=4, volume_l=12),
    PlaceSet("drying-rack", "Drying rack", PlaceKind.RACK, 8, count=20),
    PlaceSet("glue-bench", "Glue bench", PlaceKind.GLUE_BENCH, 9, count=3),
    PlaceSet("white-tub", "White tub", PlaceKind.TUB, 10, count=4, volume_l=25),
    PlaceSet("rinse-tub", "Rinse tub", PlaceKind.RINSE, 11, count=4, volume_l=25),
    PlaceSet("ready-shelf", "Ready shelf", PlaceKind.SHELF, 12, count=30),
)
# Invented, as the rest of it: what the centre pays.
CURRENCY = "USD"
PRICES = {"hour": "22.00", "helper-hour": "16.50", "kwh": "0.1480", "degrease": "0.60", "teeth": "0.25", "whiten": "3.10"}
FEATURES = ("smoke alarm", "co alarm", "taped vents")


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
OWNERS = ("Marigold Teller", "Ansel Roake", "Prairie edge teaching box", "Ida Fennimore", "Cass Ullman")
