"""Long work for the tests: functions of a module, as a new process must find them."""

import time
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from bonebench.door.work import Kind, Report
from bonebench.errors import Impossible
from bonebench.records.book import Reading, Writing
from bonebench.said import said
from bonebench.services.gather import room_of


def gather(tx: Reading, now: datetime, asked: Mapping[str, Any]) -> dict[str, Any]:
    """Read the name of the room."""
    return {"room": room_of(tx).name, **asked}


def count(gathered: dict[str, Any], report: Report) -> int:
    """Count to a number, or for ever."""
    n = 0
    while gathered["to"] is None or n < gathered["to"]:
        n += 1
        report(n / (gathered["to"] or 1e9), said("count", "counted to {n}", n=n), n)
        time.sleep(0.01)
    return n


def refuse(gathered: dict[str, Any], report: Report) -> int:
    """Find that it cannot be."""
    raise Impossible("test.no", "{room} cannot count", room=gathered["room"])


def fall(gathered: dict[str, Any], report: Report) -> int:
    """Fall over a fault of the program."""
    return 1 // gathered["to"]


def keep(tx: Writing, now: datetime, gathered: Any, result: int) -> Mapping[str, Any]:
    """Keep the number."""
    return {"counted": result, "room": gathered["room"]}


KINDS = {name: Kind(name, gather, work, keep) for name, work in (("count", count), ("refuse", refuse), ("fall", fall))}
