"""From what the book says of a peroxide bath to what the science walks along: pours, sections at a warmth with a load, tests."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from bonebench.errors import BonebenchError
from bonebench.said import Said, said
from bonebench.science import baths as science
from bonebench.science.baths.calibration import BathNow, RateSeen, strength_now
from bonebench.science.baths.decay import Leaning, Load
from bonebench.science.baths.history import Event, Poured, Section, Taken, Tested, strip, titrated
from bonebench.science.baths.unknowns import Ahead
from bonebench.shop.bath import Bath, BathEvent
from bonebench.shop.bath_entries import Recipe

ROOM_TEMPERATURE_C = 20.0
# Where nobody wrote how much a bath holds its strength can be told all the same; only litres of oxygen cannot.
UNSAID_KG = 1.0
# How far off a mix is that nobody weighed, where only a test says what it was: nothing is known beyond the test itself.
UNKNOWN_OFF = 0.5


@dataclass(frozen=True, slots=True)
class Arrivals:
    """When bone first came into a bath, and whether any of it was not clean."""

    first: datetime | None = None
    tissue: bool = False


def warm(temperature_c: float | None) -> float:
    """Return a bath's warmth within what the figures cover; the room's where nobody read a thermometer."""
    return ROOM_TEMPERATURE_C if temperature_c is None else min(max(temperature_c, 0.0), science.WARMEST_C)


def load_at(arrivals: Arrivals, at: datetime) -> Load:
    """Return what was in a bath at an instant."""
    if arrivals.first is None or at < arrivals.first:
        return "clean"
    return "tissue" if arrivals.tissue else "bone"


def _filling(load: Load) -> int:
    """Return the number of the filling a bath is in: bone that came in is taken to stay until the bath goes."""
    return 0 if load == "clean" else 1


def _mass(volume_l: float | None, strength_w: float, temperature_c: float) -> float:
    return UNSAID_KG if not volume_l else volume_l * science.density(strength_w, temperature_c) / 1000


def _tested(event: BathEvent) -> Tested | None:
    if event.low_w is not None and event.high_w is not None:
        return strip(event.low_w, event.high_w)
    if event.strength_w is None:
        return None
    if event.what == "strip":
        return strip(event.strength_w / 2, event.strength_w * 2)
    return titrated(event.strength_w)


def _beginning(bath: Bath) -> tuple[Event, datetime, tuple[BathEvent, ...]] | None:
    """What the walk begins with: the mix as written, else the first test."""
    made = next((e for e in bath.events if e.kind == "made"), None)
    if made is None:
        return None
    after = tuple(e for e in bath.events if e is not made)
    if made.strength_w:
        return Poured(_mass(made.volume_l, made.strength_w, warm(made.temperature_c)), made.strength_w), made.at, after
    for number, event in enumerate(after):
        test = _tested(event) if event.kind == "tested" else None
        if test is not None:
            return (
                Poured(_mass(bath.volume_l, test.strength_w, warm(bath.temperature_c)), test.strength_w, UNKNOWN_OFF), event.at,
                after[number:],
            )  # fmt: skip
    return None


def events_of(bath: Bath, arrivals: Arrivals, now: datetime) -> tuple[Event, ...] | None:
    """Return a bath's history up to now, or None where nobody ever said how strong it was."""
    begun = _beginning(bath)
    if begun is None:
        return None
    first, at, after = begun
    walked: list[Event] = [first]
    warm_c, volume_l = warm(bath.events[0].temperature_c), bath.volume_l
    cuts = sorted({t for t in (*(e.at for e in after), arrivals.first, now) if t is not None and at <= t <= now})
    upcoming = {cut: [e for e in after if max(e.at, at) == cut] for cut in cuts}
    for cut in cuts:
        days = (cut - at).total_seconds() / 86400
        if days > 0:
            load = load_at(arrivals, at)
            walked.append(Section(days, warm_c, load, _filling(load)))
        for event in upcoming[cut]:
            walked += _happened(event, warm_c, volume_l)
            warm_c = warm(event.temperature_c) if event.temperature_c is not None else warm_c
        at = cut
    return tuple(walked)


def _happened(event: BathEvent, warm_c: float, volume_l: float | None) -> Iterable[Event]:
    if event.kind == "tested":
        test = _tested(event)
        return () if test is None else (test,)
    if event.kind == "added" and (event.volume_l or event.mass_kg):
        strength_w = event.strength_w or 0.0
        mass_kg = event.mass_kg or (event.volume_l or 0.0) * science.density(strength_w, warm_c) / 1000
        return (Poured(mass_kg, strength_w),)
    if event.kind == "taken" and event.volume_l and volume_l:
        return (Taken(event.volume_l * science.density(0.03, warm_c) / 1000),)
    return ()


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What came of reckoning a bath's strength: the figures, or why there are none."""

    now: BathNow | None
    why_not: Said | None


def reckon(bath: Bath, arrivals: Arrivals, now: datetime, room: dict[Load, Leaning] | None = None) -> Reckoned:
    """Work out how strong a bath probably is; a history that cannot be walked is said in words, never refused."""
    if bath.recipe is not Recipe.PEROXIDE:
        return Reckoned(None, None)
    try:
        events = events_of(bath, arrivals, now)
        if events is None:
            return Reckoned(
                None, said("bath.strength_unknown", "nobody wrote how strong it was mixed; test it before anything goes in")
            )
        load = load_at(arrivals, now)
        ahead = Ahead(load, warm(bath.temperature_c), _filling(load))
        return Reckoned(strength_now(events, ahead, room=room), None)
    except BonebenchError as fault:
        return Reckoned(
            None, said("bath.cannot_reckon", "its strength cannot be worked out from what is written: {why}", why=fault.said.text)
        )


def seen_by(baths: Sequence[Reckoned]) -> dict[Load, list[RateSeen]]:
    """Collect what each bath's tests say about the rate of each load."""
    found: dict[Load, list[RateSeen]] = {}
    for bath in baths:
        for load, seen in (bath.now.seen if bath.now is not None else {}).items():
            found.setdefault(load, []).append(seen)
    return found


def rests_on(now: BathNow) -> Said:
    """Say what a strength rests on."""
    if not now.tests:
        return said("bath.rests.age", "rests on age, warmth and what is in it, not checked in your room: test first")
    days = round(now.days_since_test or 0.0, 1)
    return said("bath.rests.tests", "rests on {count} of your own tests, the last {days:days} ago", count=now.tests, days=days)
