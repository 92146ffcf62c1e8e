"""The card of how one piece fares with the beetles, for its own page."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from bonebench.figures import basis
from bonebench.records.book import Reading
from bonebench.said import Said, said
from bonebench.science import cleaning
from bonebench.services.cards import Answer, Fact, Flag
from bonebench.services.colony.appetite import beetles_of
from bonebench.services.colony.fare import Fare, appetite_in, box_for, concerned, fare_of
from bonebench.services.colony.kinds import kind_flags
from bonebench.services.colony.looks import in_use
from bonebench.services.colony.rules import SMALL_KG, clean_steps, rot_steps
from bonebench.services.facts import fact
from bonebench.services.gather import everything_in_work, known_of, specimen_by_tag
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.problem import subject_of
from bonebench.services.specimens.cards import SpecimenCard
from bonebench.services.specimens.piececard import PieceCard
from bonebench.shop.colony import ColonyLog, fold_colony
from bonebench.shop.entries import specimen_subject
from bonebench.shop.piece_entries import PieceSeen
from bonebench.shop.piece_telling import smell_word
from bonebench.shop.pieces import GRADES, SMELL_WORDS, Sight, odd_sights
from bonebench.shop.rounds import place_subject

STRONG = 2
FAR_DAYS = 400.0  # a date further off is none


def with_piece(tx: Reading, card: SpecimenCard, now: datetime) -> SpecimenCard:
    """Add how it fares to a specimen's card, where it is with the beetles or waits for them."""
    known = known_of(tx)
    subject = subject_of(specimen_by_tag(tx, card.tag), known)
    place = box_for(subject, known)
    if place is None or not concerned(subject):
        return card
    log = fold_colony(story_of(tx, place_subject(place.key))[0])
    subjects = everything_in_work(tx, known)
    fare = fare_of(subject, place, subjects, appetite_in(known, place, log, subjects, now), now)
    return replace(card, beetles=piece_card(fare, known, log, now))


def piece_card(fare: Fare, known: Known, log: ColonyLog, now: datetime) -> PieceCard:
    """Return the card of one piece."""
    head, expected, clock = fare.subject.head, fare.expected, fare.worn.clock
    tissue, left, figure = head.tissue_kg, expected.left_share, fare.appetite.today
    small, smell = head.head_kg.value < SMALL_KG, fare.seen.smell
    even, late = _date(expected.days_50, known, now), _date(expected.days_80, known, now)
    runs_out = fare.worn.runs_out_in_h
    foul = clock.advice is cleaning.RotAdvice.TAKE_OUT
    return PieceCard(
        status="waiting" if fare.since is None else "inside",
        place=fare.place.key,
        place_name=fare.place.name,
        since=fare.since,
        days=round(fare.day(now), 2),
        standing=left.standing.value,
        left_low=left.low,
        left=left.value,
        left_high=left.high,
        left_kg_low=left.low * tissue.low,
        left_kg=left.value * tissue.value,
        left_kg_high=left.high * tissue.high,
        days_50=_far(expected.days_50),
        days_80=_far(expected.days_80),
        look_by_50=even,
        look_by_80=late,
        rule=clean_steps(small)[0],
        rot_hours=fare.worn.hours,
        rot_budget_hours_low=cleaning.BUDGET_H.low,
        rot_budget_hours=cleaning.BUDGET_H.value,
        rot_budget_hours_high=cleaning.BUDGET_H.high,
        rot_used_low=clock.used.low,
        rot_used=clock.used.value,
        rot_used_high=clock.used.high,
        rot_runs_out=None if runs_out is None or fare.since is None else now + timedelta(hours=runs_out),
        rot_advice=clock.advice.value,
        smell=smell.smell if smell is not None else None,
        smelled=smell.at if smell is not None else None,
        appetite=fare.appetite.how,
        share_kg_per_day=_share_today(fare, now),
        appetite_kg_per_day_low=figure.low,
        appetite_kg_per_day=figure.value,
        appetite_kg_per_day_high=figure.high,
        readings=tuple(_reading(sight, reading) for sight, reading in fare.seen.readings),
        title=_title(even, late, waits=fare.since is None, foul=foul),
        facts=tuple(_facts(fare, now)),
        steps=(*(rot_steps(clock.advice) if fare.since is not None else ()), *(() if foul else clean_steps(small))),
        looks=_taps(fare, "grade", GRADES),
        smells=_taps(fare, "smell", SMELL_WORDS),
        flags=tuple(_flags(fare, log, now)),
        basis=(
            basis("cleaning.tissue", tissue), basis("cleaning.flux", cleaning.FLUX), basis("cleaning.tail", cleaning.TAIL),
            basis("cleaning.rot", cleaning.BUDGET_H), basis("cleaning.drying", cleaning.DRYING), fare.appetite.basis,
        ),
    )  # fmt: skip


def _far(days: float) -> float | None:
    return days if days <= FAR_DAYS else None


def _date(days: float, known: Known, now: datetime) -> date | None:
    """The local day a piece is to be looked at by; none where the colony does not get through it in a year."""
    return None if days > FAR_DAYS else known.room.day(now + timedelta(days=days))


def _share_today(fare: Fare, now: datetime) -> float:
    """What the middle colony has for it today, at the most that its surface gives."""
    rate = fare.subject.head.eating_kg_per_day.value * fare.expected.pace.value
    return min(rate, fare.most[len(fare.most) // 2].at(fare.day(now)))


def _title(even: date | None, late: date | None, *, waits: bool, foul: bool) -> Said:
    if foul and not waits:
        return said("piece.out", "take it out, cut muscle away, refreeze: its time warm and wet has run out")
    if even is None or late is None:
        return said("piece.never", "the beetles do not get through it at this rate: fewer pieces, or more beetles")
    if even == late:
        when = "if it went in now: " if waits else ""
        return said("piece.look_soon", "{when}look by {late:day}, four in five", late=late, when=when)
    if waits:
        return said(
            "piece.waits", "if it went in now: look by {even:day}, an even chance, and by {late:day}, four in five",
            even=even, late=late,
        )  # fmt: skip
    return said("piece.look_by", "look by {even:day}, an even chance, and by {late:day}, four in five", even=even, late=late)


def _facts(fare: Fare, now: datetime) -> Iterator[Fact]:
    left, tissue, clock = fare.expected.left_share, fare.subject.head.tissue_kg, fare.worn.clock
    seen = "as it was seen" if fare.seen.readings else "nobody has looked at it"
    if fare.since is None:
        yield fact("piece.tissue", "Tissue on it", "{low:mass} to {high:mass}, an estimate", low=tissue.low, high=tissue.high)
    else:
        yield fact(
            "piece.left", "Left on it", "{low:percent} to {high:percent} of {tissue:mass} or so; an estimate, {seen}",
            low=left.low, high=left.high, tissue=tissue.value, seen=seen,
        )  # fmt: skip
    figure = fare.appetite.today
    yield fact(
        "piece.share", "The beetles have for it", "about {share:feeding} of {low:feeding} to {high:feeding} in {place}, {how}",
        share=_share_today(fare, now), low=figure.low, high=figure.high, place=fare.place.name, how=fare.appetite.words.text,
    )  # fmt: skip
    if fare.since is None:
        return
    budget = cleaning.BUDGET_H
    yield fact(
        "piece.rot", "Rot clock",
        "{hours} h warm and wet, as of a whole wet piece, of {low} to {high}. Used: {used_low:percent} to {used_high:percent}",
        hours=f"{fare.worn.hours:.0f}", low=f"{budget.low:.0f}", high=f"{budget.high:.0f}", used_low=clock.used.low,
        used_high=clock.used.high,
    )  # fmt: skip
    yield _runs_out(fare)


def _runs_out(fare: Fare) -> Fact:
    left = fare.worn.runs_out_in_h
    if left is None:
        return fact("piece.rot_none", "It runs out", "likely eaten or dry before that; smell it all the same")
    if left <= 0:
        return fact("piece.rot_out", "It has run out", "take out, cut muscle away, refreeze")
    return fact(
        "piece.rot_in", "It runs out", "in about {hours} h: then take out, cut muscle away, refreeze", hours=f"{max(left, 1):.0f}"
    )


def _reading(sight: Sight, reading: cleaning.Reading) -> Fact:
    words = sight.grade or "weighed"
    low, high = max(0.0, reading.left_share - 1.645 * reading.spread), min(1.0, reading.left_share + 1.645 * reading.spread)
    return fact(
        "piece.reading", words.capitalize(), "{day:day}: {low:percent} to {high:percent} left by that alone",
        day=sight.at.date().isoformat(), low=low, high=high,
    )  # fmt: skip


def _taps(fare: Fare, field: str, words: Sequence[str]) -> tuple[Answer, ...]:
    """One tap for each grade or smell, while it lies with the beetles."""
    if fare.since is None:
        return ()
    subject = (specimen_subject(fare.subject.specimen.id),)
    return tuple(
        Answer(
            f"{field}-{word.replace(' ', '-')}", said(f"tap.piece.{field}.{n}", word.capitalize()), PieceSeen.KIND, subject,
            {field: word if field == "grade" else n},
        )
        for n, word in enumerate(words)
    )  # fmt: skip


def _flags(fare: Fare, log: ColonyLog, now: datetime) -> Iterator[Flag]:
    yield from odd_sights(fare.subject.specimen.sights, fare.since)
    clock = fare.worn.clock
    if fare.since is None:
        return
    smell = fare.seen.smell
    if smell is not None and smell.smell == STRONG:
        yield Flag(
            said("piece.rot.strong", "it smelled strong on {day:day}", day=smell.at.date()),
            said("piece.rot.strong.next", "smell it again today; if it is no better, cut muscle away and refreeze"),
        )
    elif clock.advice is cleaning.RotAdvice.LOOK:
        yield Flag(
            said("piece.rot.look", "its time warm and wet may have run out: up to {used:percent} of it", used=clock.used.high),
            said("piece.rot.look.next", "look and smell today; if it smells strong, cut muscle away and refreeze"),
        )
    if smell is not None and smell.smell == len(SMELL_WORDS) - 1:
        yield Flag(
            said("piece.rot.foul", "it smelled {smell} on {day:day}", smell=smell_word(smell.smell), day=smell.at.date()),
            said("piece.rot.foul.next", "out at once, whatever the hours say; when it smells of nothing again, tap that"),
        )
    if fare.seen.unweighed:
        yield Flag(
            said("piece.unweighed", "it was weighed in the box, but not before it went in, so the scale tells nothing yet"),
            said("piece.unweighed.next", "weigh the next ones trimmed, before they go in"),
        )
    if math.isinf(fare.expected.days_80):
        yield Flag(
            said("piece.starved", "one time in five or more the beetles never get to it, by what they can eat"),
            said("piece.starved.next", "count a scoop; put fewer in at once, or take this one out and refreeze it"),
        )
    yield from kind_flags(beetles_of(fare.place.box, in_use(log, now)))
