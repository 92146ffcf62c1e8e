"""Small rooms made by hand and by chance for the tests of planning."""

import random
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from hypothesis import strategies as st

from bonebench.planning.problem import Hands, Load, Piece, Problem, Room, Running, Stage
from bonebench.said import said

CHICAGO = ZoneInfo("America/Chicago")
NOW = datetime(2026, 3, 2, 14, tzinfo=UTC)  # Monday, 8:00 in Chicago; the clocks go forward on Sunday the 8th
ALL_DAY = {day: ((time(0), time(0)),) for day in range(7)}
MORNINGS = {day: ((time(9), time(12)),) for day in range(7)}
KINDS = ("freezer", "pot", "rack", "bench", "box")


def at(days=0.0, hours=0.0, minutes=0.0):
    """Return an instant so long after now."""
    return NOW + timedelta(days=days, hours=hours, minutes=minutes)


def stay(step, kind, days, **more):
    return Stage(step, 1, kind, stay=True, days=days, **more)


def act(step, kind=None, minutes=0.0, **more):
    return Stage(step, 1, kind, stay=False, minutes=minutes, **more)


def eat(kind="box", **more):
    return Stage("beetles", 1, kind, stay=True, eats=True, **more)


def piece(key, *stages, **more):
    return Piece(key, stages, **({"release": NOW, "received": NOW} | more))


def person(key="Ada", hours=None, trained=()):
    return Hands(key, ALL_DAY if hours is None else hours, frozenset(trained))


def problem(*pieces, places=(), people=(), appetite=None, **more):
    filled = {"now": NOW, "zone": CHICAGO, "appetite_kg_per_day": {}, "appetite_otherwise": appetite or {}} | more
    return Problem(pieces=pieces, places=tuple(places), people=tuple(people), **filled)


# A room by chance is drawn from one seed: hypothesis finds and repeats the seed, and the odds below stay as they are written.
AMOUNTS = (0, 0.25, 0.5, 1, 2, 3.7)
WAITS = ((0, None), (0, None), (0, None), (0.5, None), (0, 0), (0, 0.3), (0, 1), (0.25, 1.5), (1, 4))
HOURS = (
    ((time(8), time(12)),),
    ((time(9), time(10)), (time(10), time(11))),
    ((time(1, 30), time(4)),),
    ((time(18), time(0)),),
    ((time(8), time(12)), (time(13), time(17))),
)


def _stage(rng, number):
    kind = rng.choice((*KINDS, "box", None))
    wait = rng.choice(WAITS)
    return Stage(
        step=f"step {number}",
        visit=1,
        place_kind=kind,
        stay=kind == "box" or rng.random() < 0.6,
        days=rng.choice(AMOUNTS),
        minutes=rng.choice((0, 0, 5, 20, 45, 150, 400)),
        work=rng.choice(("", "", "trim", "trim", "baths")),
        eats=kind == "box" and rng.random() < 0.6,
        least_wait_days=wait[0],
        most_wait_days=wait[1],
        keeps_place=rng.random() < 0.3,
    )


def _piece(rng, number, places):
    stages = tuple(_stage(rng, step) for step in range(rng.randint(0, 6)))
    of_kind = [place for place in places if stages and place.kind == stages[0].place_kind]
    runs = bool(of_kind) and rng.random() < 0.4
    return Piece(
        key=f"P{number}",
        stages=stages,
        release=NOW + timedelta(days=rng.choice((-3, 0, 0, 1.5))),
        received=NOW - timedelta(days=rng.randint(1, 30)),
        load=Load(rng.choice((1, 1, 1, 2)), rng.choice(AMOUNTS[:4]), rng.choice(AMOUNTS[:4])),
        due=rng.choice((None, NOW.date() + timedelta(days=3), NOW.date() - timedelta(days=9))),
        weight=rng.choice((0, 1, 1, 2.5)),
        tissue_kg=rng.choice((0.0, 0.1, 0.3)),
        whole_tissue_kg=rng.choice((None, 0.5)),
        eating_kg_per_day=0.0 if rng.random() < 0.05 else rng.choice((0.03, 0.1, 0.4)),
        place=rng.choice((None, *(place.key for place in places))),
        running=Running(rng.choice(of_kind).key, NOW - timedelta(days=rng.choice(AMOUNTS), hours=1)) if runs else None,
        held=said("test.held", "it waits for a paper") if rng.random() < 0.06 else None,
    )


def _places(rng):
    return tuple(
        Room(
            key=f"{kind} {number}",
            kind=kind,
            count=rng.choice((None, 1, 1, 2, 3)) if rng.random() > 0.03 else 0,
            volume_l=rng.choice((None, None, 3)),
            mass_kg=rng.choice((None, None, 4)),
            open=rng.random() > 0.06,
        )
        for kind in KINDS
        for number in range(rng.choice((1, 1, 1, 2)) if rng.random() > 0.05 else 0)
    )


def _people(rng):
    skills = (frozenset(), frozenset({"trim"}), frozenset({"trim", "baths"}), frozenset({"trim", "baths"}))
    return tuple(
        Hands(f"person {number}", {day: rng.choice(HOURS) for day in range(7) if rng.random() < 0.6}, rng.choice(skills))
        for number in range(rng.randint(1, 3))
    )


def room_of(rng):
    """Return a small room by chance that may lack a place, a hand or an appetite, and may hold more than it should."""
    places = _places(rng)
    boxes = [place.key for place in places if place.kind == "box"]
    days = [NOW.date() + timedelta(days=number) for number in range(8)]
    return Problem(
        now=NOW + timedelta(minutes=rng.choice((0, 7, 900))),
        zone=CHICAGO,
        pieces=tuple(_piece(rng, number, places) for number in range(rng.randint(1, 7))),
        places=places,
        people=_people(rng),
        appetite_kg_per_day={box: {day: rng.choice((0.0, 0.05, 0.2)) for day in days} for box in boxes},
        appetite_otherwise={box: rng.choice((0.06, 0.3)) if rng.random() > 0.1 else 0.0 for box in boxes},
        closed=frozenset(rng.sample(days, rng.randint(0, 3))),
        horizon_days=rng.choice((6, 40, 40, 40)),
    )


rooms = st.builds(lambda seed: room_of(random.Random(seed)), st.integers(0, 2**32))
