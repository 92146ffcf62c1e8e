"""Rounds as tasks of the day, what they found wrong as alerts, and the card at the door."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from bonebench.reference.rounds import load_rounds
from bonebench.said import said
from bonebench.services.cards import Alert, Answer
from bonebench.services.known import Known
from bonebench.services.today.cards import LeavingCard, TaskCard, TickCard
from bonebench.services.today.tasks import Sorted, dirt_of
from bonebench.shop.gloves import hands_for
from bonebench.shop.leaving import leaving_card, left_ok
from bonebench.shop.rounds import ROOM_PLACE, DueRound, History, PlaceLog, due, open_wrongs, place_subject, round_cautions
from bonebench.shop.thirst import Fed

# Zones whose people have winter in July, by the beginning of the zone's name.
SOUTH = ("Australia/", "Antarctica/", "America/Argentina", "America/Sao_Paulo", "America/Santiago", "Africa/Johannesburg",
         "Africa/Maputo", "Pacific/Auckland", "America/Montevideo", "America/Asuncion")  # fmt: skip


@dataclass(frozen=True, slots=True)
class RoundBook:
    """What the log says of the places: their rounds, when each was set up, since when each holds something, what boxes were fed."""

    logs: Mapping[str, PlaceLog]
    since: Mapping[str, date]
    in_use: Mapping[str, date]
    fed: Mapping[str, Fed] = field(default_factory=dict)


def hemisphere_of(zone: str) -> str:
    """Return the half of the earth a zone lies in, for the change of season; the northern one where it is not told by the name."""
    return "south" if zone.startswith(SOUTH) else "north"


def due_rounds(known: Known, book: RoundBook, now: datetime) -> tuple[DueRound, ...]:
    """Return the rounds that may be done today."""
    room = known.room
    done = {at: day for place in book.logs.values() for at, day in place.done(room.day).items()}
    wrong = {at for place in book.logs.values() for at in place.wrong()}
    return due(
        load_rounds(),
        places=room.places,
        features=room.features,
        done=done,
        today=room.day(now),
        hemisphere="south" if hemisphere_of(room.zone) == "south" else "north",
        history=History(book.since, book.in_use, wrong, book.fed),
    )


def round_tasks(known: Known, book: RoundBook, now: datetime) -> list[Sorted]:
    """Return the due rounds as tasks, each with Done and what may be wrong as its buttons."""
    return [_task(one, known, now) for one in due_rounds(known, book, now)]


def _task(one: DueRound, known: Known, now: datetime) -> Sorted:
    place = known.room.place(one.place)
    subject = (place_subject(one.place),)
    values = {"round": one.round.key, "due": one.due_by.isoformat()}
    answers = [Answer("done", said("tap.round", "Done"), "round-done", subject, values, task=one.task)]
    answers += [
        Answer(
            f"wrong-{wrong.key}", said(f"tap.round.{one.round.key}.{wrong.key}", wrong.tap), "round-done", subject,
            {**values, "wrong": wrong.key}, task=one.task,
        )
        for wrong in one.round.wrongs
    ]  # fmt: skip
    task = TaskCard(
        id=one.task,
        place=place.key if place is not None else None,
        place_name=place.name if place is not None else "The room",
        specimen=None,
        specimen_id=None,
        species=None,
        about=said(f"round.{one.round.key}", one.round.name),
        action=one.do,
        why=one.why,
        due_from=one.due_from,
        due_by=one.due_by,
        late_days=one.late_days,
        minutes=one.round.minutes,
        who=None,
        answers=tuple(answers),
        cautions=round_cautions(one.round, known.caution_rows),
        look=one.look,
    )
    kind = place.kind if place is not None else None
    return Sorted(dirt_of(kind), now, task, hands_for(kind))


def wrong_alerts(known: Known, book: RoundBook) -> Iterable[Alert]:
    """What a round found wrong comes before the day's work until the round is done again without it."""
    rounds = load_rounds()
    for key, told in book.logs.items():
        place = known.room.place(key)
        name = place.name if place is not None else ("the room" if key == ROOM_PLACE else key)
        for wrong in open_wrongs(told, rounds, name):
            yield Alert("act" if wrong.danger else "look", wrong.flag.what, wrong.flag.next)
        if key == ROOM_PLACE and told.left is not None:
            for flag in left_ok(told.left.ticks, leaving_card(known.room.features)):
                yield Alert("look", flag.what, flag.next)


def leaving(known: Known, book: RoundBook, now: datetime) -> LeavingCard:
    """Return the card at the door, and when the room was last left by it."""
    ticks = leaving_card(known.room.features)
    told = book.logs.get(ROOM_PLACE)
    left = told.left if told is not None else None
    answer = Answer(
        "left", said("tap.left", "Left the room"), "left", (place_subject(ROOM_PLACE),), {"ticks": [t.key for t in ticks]}
    )
    return LeavingCard(
        ticks=tuple(TickCard(t.key, t.tap, t.why, t.if_not) for t in ticks),
        answer=answer,
        last_left=left.at if left is not None else None,
        left_today=left is not None and known.room.day(left.at) == known.room.day(now),
    )
