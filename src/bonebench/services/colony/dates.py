"""How good the dates have been: what would have been said of each piece when it went in, held against when it was clean."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from bonebench.records import entries as log_rows
from bonebench.records.book import Reading
from bonebench.said import Said, said
from bonebench.science import cleaning
from bonebench.services.cards import Fact, Flag, Worked
from bonebench.services.colony.appetite import BoxAppetite, of_colony
from bonebench.services.colony.looks import in_use
from bonebench.services.colony.weighed import stay_of
from bonebench.services.facts import fact
from bonebench.services.gather import everything_in_work, finished, known_of
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.problem import Subject
from bonebench.shop.cautions import for_colony
from bonebench.shop.colony import ColonyLog, fold_colony
from bonebench.shop.entries import ROOM
from bonebench.shop.fold import Story
from bonebench.shop.room import Place, fold_room
from bonebench.shop.rounds import place_subject
from bonebench.shop.steps import PlaceKind, Step

MOST_PIECES = 60  # the latest; each is worked out afresh
FAR_DAYS = 400.0  # a date further off is none
LEAST_DAYS = 0.1  # in and out in two hours was written down together
MEMBERS = 100  # of the model behind a counted colony: a date needs no more, and there is one run for each count


@dataclass(frozen=True)
class PieceDates:
    """One piece: what would have been said when it went in, and what happened; days count from going in."""

    tag: str
    species: str
    place: str
    went_in: datetime
    days_50: float
    days_80: float
    look_by_50: date
    look_by_80: date
    clean: datetime
    days: float
    error_days: float
    by_80: bool
    ended_by: str
    appetite: str


@dataclass(frozen=True, kw_only=True)
class DatesCard(Worked):
    """How good the dates have been; the shares are None where no piece was finished. ``never`` were held to be too much to eat."""

    pieces: tuple[PieceDates, ...]
    count: int
    never: int
    share_by_50: float | None
    share_by_80: float | None
    share_by_80_low: float | None
    share_by_80_high: float | None
    mean_error_days: float | None
    mean_off_days: float | None
    ratio: float | None
    schema: str = "colony.skill/1"


@dataclass(frozen=True, slots=True)
class _Stay:
    subject: Subject
    place: str
    since: datetime
    until: datetime | None


def dates(tx: Reading, now: datetime) -> DatesCard:
    """Hold the dates of the pieces that are through against what happened, all from the log."""
    known = known_of(tx)
    stays = [stay for subject in (*finished(tx, known), *everything_in_work(tx, known)) for stay in _stays(tx, subject, known, now)]
    stays.sort(key=lambda stay: stay.since)
    through = [stay for stay in stays if stay.until is not None and stay.until <= now][-MOST_PIECES:]
    past = _Past(tx)
    told = [(stay, past.expected(stay, stays)) for stay in through]
    pieces = tuple(_piece(stay, one, how, known) for stay, (one, how) in told if one.days_80 <= FAR_DAYS)
    return _card(known, pieces, len(told) - len(pieces))


def _stays(tx: Reading, subject: Subject, known: Known, now: datetime) -> Iterator[_Stay]:
    span, begun = stay_of(subject), subject.specimen.beginning(Step.BEETLES)
    if span is None or begun is None or span[0] > now or not subject.head.tissue_kg.value > 0:
        return
    since, until = span
    if until is not None and (until - since) / timedelta(days=1) < LEAST_DAYS:
        return
    row = log_rows.entry(tx, begun.entry)
    place = known.room.place(str(row.values.get("place"))) if row is not None else None
    if place is not None and place.kind is PlaceKind.ENCLOSURE:
        yield _Stay(subject, place.key, since, until)


class _Past:
    """The room and its colonies as the log had them at some time."""

    def __init__(self, tx: Reading) -> None:
        self._tx = tx
        self._room, _ = story_of(tx, ROOM)
        self._logs: dict[str, ColonyLog] = {}

    def _place(self, key: str, at: datetime) -> Place:
        told = Story(tuple(one for one in self._room.entries if one.when.latest <= at), frozenset(), ())
        return fold_room(told).place(key) or Place(key, key, PlaceKind.ENCLOSURE)

    def _log(self, key: str, at: datetime) -> ColonyLog:
        if key not in self._logs:
            self._logs[key] = fold_colony(story_of(self._tx, place_subject(key))[0])
        return ColonyLog(tuple(one for one in self._logs[key].seen if one.at <= at), ())

    def appetite(self, key: str, at: datetime) -> BoxAppetite:
        """What the box could eat from then on; one run of the model for each count, read on to the day that is asked for."""
        place, log = self._place(key, at), self._log(key, at)
        looks = in_use(log, at)
        if not looks:
            return of_colony(place, log, at)
        told = of_colony(place, log, looks[-1].at, members=MEMBERS)
        days = int((at - looks[-1].at) / timedelta(days=1))
        return replace(told, lines=tuple(line[days:] or line[-1:] for line in told.lines))

    def expected(self, stay: _Stay, stays: Sequence[_Stay]) -> tuple[cleaning.Expected, str]:
        """What would have been said when it went in, those that lay there eating first."""
        appetite = self.appetite(stay.place, stay.since)
        there = [
            one for one in stays
            if one.place == stay.place and one.since < stay.since and (one.until is None or one.until > stay.since)
        ]  # fmt: skip
        before = tuple(_lying(one, stay.since) for one in there)
        most = [cleaning.for_the_last(cleaning.by_day(line[0], line), before) for line in appetite.lines]
        head = stay.subject.head
        return cleaning.clean_among(0.0, head.tissue_kg, head.eating_kg_per_day.value, (), most), appetite.how


def _lying(one: _Stay, begin: datetime) -> cleaning.Lying:
    head = one.subject.head
    return cleaning.Lying((one.since - begin) / timedelta(days=1), head.tissue_kg.value, head.eating_kg_per_day.value)


def _piece(stay: _Stay, told: cleaning.Expected, how: str, known: Known) -> PieceDates:
    until = stay.until or stay.since
    days = (until - stay.since) / timedelta(days=1)
    judged = stay.subject.specimen.ending(Step.JUDGE_CLEAN)
    return PieceDates(
        tag=stay.subject.specimen.tag,
        species=stay.subject.head.species.common_name,
        place=stay.place,
        went_in=stay.since,
        days_50=round(told.days_50, 2),
        days_80=round(told.days_80, 2),
        look_by_50=known.room.day(stay.since + timedelta(days=told.days_50)),
        look_by_80=known.room.day(stay.since + timedelta(days=told.days_80)),
        clean=until,
        days=round(days, 2),
        error_days=round(days - told.days_50, 2),
        by_80=days <= told.days_80,
        ended_by="judged clean" if judged is not None and judged.about == until else "out",
        appetite=how,
    )


def _card(known: Known, pieces: tuple[PieceDates, ...], never: int) -> DatesCard:
    told = cleaning.skill([(one.days_50, one.days_80, one.days) for one in pieces])
    return DatesCard(
        title=_title(told),
        facts=tuple(_facts(told)),
        steps=(),
        flags=tuple(_flags(told, never)),
        cautions=for_colony(known.caution_rows),
        basis=(),
        pieces=tuple(reversed(pieces)),
        count=len(pieces),
        never=never,
        share_by_50=told.by_50 if told else None,
        share_by_80=told.by_80 if told else None,
        share_by_80_low=told.kept_80.low if told else None,
        share_by_80_high=told.kept_80.high if told else None,
        mean_error_days=told.mean_error_days if told else None,
        mean_off_days=told.mean_off_days if told else None,
        ratio=told.ratio if told else None,
    )


def _title(told: cleaning.Skill | None) -> Said:
    if told is None:
        return said("dates.none", "no piece has gone through the box yet, so nobody can say how good the dates are")
    if told.pieces < cleaning.FEW:
        return said("dates.few", "{count} through the box: too few to judge the dates by", count=_count(told.pieces))
    return said(
        "dates.told", "{share:percent} of {count} were clean by the date given four times in five", share=told.by_80,
        count=_count(told.pieces),
    )  # fmt: skip


def _count(pieces: int) -> str:
    return "1 piece" if pieces == 1 else f"{pieces} pieces"


def _facts(told: cleaning.Skill | None) -> Iterator[Fact]:
    if told is None:
        return
    yield fact(
        "dates.by_80", "Clean by the later date", "{share:percent} of {count}; of all to come, {low:percent} to {high:percent}",
        share=told.by_80, count=_count(told.pieces), low=told.kept_80.low, high=told.kept_80.high,
    )  # fmt: skip
    yield fact("dates.by_50", "Clean by the even date", "{share:percent}", share=told.by_50)
    late = told.mean_error_days >= 0
    yield fact(
        "dates.error", "Against the even date, on average", f"{{days:days}} {'later' if late else 'earlier'}",
        days=abs(told.mean_error_days),
    )  # fmt: skip
    yield fact("dates.off", "Off by, either way", "{days:days}", days=told.mean_off_days)


def _flags(told: cleaning.Skill | None, never: int) -> Iterator[Flag]:
    if told is not None and told.pieces < cleaning.FEW:
        yield Flag(
            said("dates.few.flag", "with so few, chance alone could give these shares"),
            said("dates.few.next", "give no date to an owner on the strength of them; tap judged clean for each piece"),
        )
    if told is not None and told.pieces >= cleaning.FEW and told.kept_80.high < 0.8:
        yield Flag(
            said("dates.early", "the dates come too early: the middle piece took {ratio} times as long", ratio=f"{told.ratio:.2g}"),
            said("dates.early.next", "count a scoop and weigh a head; until then promise by the last date with that much again"),
        )  # fmt: skip
    if told is not None and told.pieces >= cleaning.FEW and told.by_50 > 0.75:
        yield Flag(
            said("dates.late", "the dates come late: the middle piece took {ratio} of its even date", ratio=f"{told.ratio:.2g}"),
            said("dates.late.next", "look earlier than the even date; count a scoop, as they may be more than was thought"),
        )
    if told is not None:
        yield Flag(
            said("dates.looked", "a piece counts as clean when somebody judged it so, not when it was"),
            said("dates.looked.next", "who looks twice a week makes every date look days late; look by the even date"),
        )
    if never:
        yield Flag(
            said("dates.never", "{count} held to be more than the colony could eat came out all the same", count=_count(never)),
            said("dates.never.next", "the beetles eat more than was counted or set: count again, or set it higher"),
        )  # fmt: skip
