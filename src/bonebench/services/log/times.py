"""When something happened, as people say it: now, this morning, about two days ago, on the third."""

import re
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bonebench.errors import NotAQuantity
from bonebench.shop.entries import When, exactly
from bonebench.units import read_days

# How far "about" reaches either side, as a share of how long ago it was; common sense, no source.
ABOUT_SHARE = 0.25
LONGEST_AGO_DAYS = 36525.0  # a hundred years


def read_at(text: str, zone: ZoneInfo) -> datetime:
    """Read an ISO time; one without a zone is wall time of the room."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        raise NotAQuantity("when.at", "'{text}' is not a time; write it like 2026-05-04T14:30", text=text) from None
    return in_calendar(at if at.tzinfo is not None else at.replace(tzinfo=zone), text)


def in_calendar(at: datetime, text: str) -> datetime:
    """Refuse an instant that has no day in some zone: the first and last year there are."""
    if at.tzinfo is None:
        raise ValueError("an instant must carry its zone")
    if not 1 < at.year < 9999:
        raise NotAQuantity("when.year", "'{text}' is too far away to be a time; look at its year", text=text)
    return at.astimezone(UTC)


def whole_day(day: date, zone: ZoneInfo) -> When:
    """Return the whole local day, for when only the day is known."""
    start = datetime.combine(day, time(), zone)
    return When(start, datetime.combine(day + timedelta(days=1), time(), zone) - timedelta(seconds=1))


def read_about(text: str, now: datetime, zone: ZoneInfo) -> When:
    """Read 'this-morning', 'yesterday', 'about-3-days', a length of time ago such as 2d, or a day."""
    today = now.astimezone(zone).date()
    text = re.sub(r"\s+ago$", "", text.strip())
    if text == "this-morning":
        start = datetime.combine(today, time(6), zone)
        noon = datetime.combine(today, time(12), zone)
        return When(min(start, now), min(noon, now))
    if text.startswith("since "):
        return When(min(read_at(text.removeprefix("since "), zone), now), now)
    if text == "yesterday":
        return whole_day(today - timedelta(days=1), zone)
    ago = re.fullmatch(r"about-(\d+)-days", text)
    if ago is None and re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        try:
            day = whole_day(date.fromisoformat(text), zone)
        except (ValueError, OverflowError):
            raise NotAQuantity("when.day", "'{text}' is not a day; write it like 2026-05-04", text=text) from None
        in_calendar(day.latest, text)
        return When(day.earliest, min(day.latest, now)) if day.earliest <= now else day
    days = float(ago[1]) if ago is not None else read_days(text)
    if days > LONGEST_AGO_DAYS:
        raise NotAQuantity("when.ago", "'{text}' is too long ago to be remembered; write the day like 2026-05-04", text=text)
    return When(now - timedelta(days=days * (1 + ABOUT_SHARE)), now - timedelta(days=days * (1 - ABOUT_SHARE)))


def when_of(*, at: str | None, about: str | None, now: datetime, zone: ZoneInfo) -> When:
    """Return when it happened: now unless ``at`` or ``about`` says otherwise."""
    if at and about:
        raise NotAQuantity("when.both", "a time is either exact or about; give one of the two, not both")
    if at:
        return exactly(read_at(at, zone))
    return read_about(about, now, zone) if about else exactly(now)
