"""The weeks ahead as an iCalendar file (RFC 5545), for whatever calendar a person keeps on their phone."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

from icalendar import Calendar, Event

from bonebench.services.calendar.cards import PlanCard, SlotCard
from bonebench.units import Reader, say

# Shorter than this an event cannot be tapped on a phone; the plan's own minutes are often five.
LEAST = timedelta(minutes=15)


def icalendar_bytes(card: PlanCard, *, room: str, book: str, demo: bool = False, reader: Reader = Reader()) -> bytes:  # noqa: B008
    """Return an event for everything hands begin, and one for each day on which pieces are ready by the plan.

    The same step keeps its name from one export to the next, so that a calendar that is fed again moves it and adds nothing.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Bonebench//plan//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"{room}, invented demo" if demo else room)
    for day in card.days:
        for task in day.begins:
            calendar.add_component(_task(task, card, book, reader))
        if day.ready:
            calendar.add_component(_ready(day.day, day.ready, card, book))
    data: bytes = calendar.to_ical()
    return data


def _event(uid: str, summary: str, card: PlanCard, when: tuple[datetime | date, datetime | date], more: str) -> Event:
    event = Event()
    fields: dict[str, Any] = {
        "uid": uid, "summary": summary, "dtstamp": card.made_at.astimezone(UTC), "dtstart": when[0], "dtend": when[1],
        "description": more,
    }  # fmt: skip
    for name, value in fields.items():
        event.add(name, value)
    return event


def _task(task: SlotCard, card: PlanCard, book: str, reader: Reader) -> Event:
    end = task.start + LEAST if task.stay else max(task.end, task.start + LEAST)
    more = ["by the plan with working durations; look before you trust it"]
    if task.limited is not None:
        more.insert(0, say(task.limited, reader))
    event = _event(
        f"{task.id}/{task.step}/{task.visit}@{book}".replace(" ", "-"),
        f"{task.step}: {task.specimen} {task.species}",
        card, (task.start.astimezone(UTC), end.astimezone(UTC)), "; ".join(more),
    )  # fmt: skip
    if task.place_name:
        event.add("location", task.place_name)
    return event


def _ready(day: date, tags: tuple[str, ...], card: PlanCard, book: str) -> Event:
    words = f"ready by the plan: {', '.join(tags)}"
    return _event(
        f"ready/{day.isoformat()}@{book}", words, card, (day, day + timedelta(days=1)), "with working durations, no promise"
    )
