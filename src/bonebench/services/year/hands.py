"""Hands in the months of the season: as cards and in words."""

from collections.abc import Iterable
from math import isfinite

from bonebench.planning.hands import HandHours, WorkHours
from bonebench.reference.methods import WORK
from bonebench.said import Said, said
from bonebench.services.cards import Flag
from bonebench.services.known import Known
from bonebench.services.year.cards import HandsCard

UNTRAINED = "anyone's work"  # it needs no training


def hands_known(known: Known) -> bool:
    """Whether the room said who works when; the plan counts on anybody until then, and the months on nobody."""
    return any(spans for worker in known.room.people for spans in worker.hours.values())


def hands_cards(found: HandHours) -> tuple[tuple[HandsCard, ...], HandsCard | None]:
    """Return the kinds of work in the order of the shop and all of them together, and the tightest set."""
    by_kind = sorted(found.kinds, key=lambda one: _in_order(one.kinds))
    tightest = _card(found.tightest) if found.tightest is not None else None
    return tuple(_card(one) for one in (*by_kind, found.together)), tightest


def _in_order(kinds: Iterable[str]) -> list[int]:
    return sorted((WORK.index(kind) or len(WORK)) if kind in WORK else len(WORK) for kind in kinds)


def _card(hours: WorkHours) -> HandsCard:
    work = tuple(kind or UNTRAINED for kind in sorted(hours.kinds, key=lambda kind: _in_order((kind,))))
    return HandsCard(work, hours.wanted_minutes / 60, hours.there_minutes / 60, hours.share if isfinite(hours.share) else None)


def work_called(hands: HandsCard, month: Iterable[HandsCard] = ()) -> str:
    """Return how some kinds of work are called in a sentence, where these are all the kinds of a month that are wanted."""
    if len(hands.work) > 1 and len(hands.work) == sum(1 for one in month if len(one.work) == 1 and one.wanted_hours):
        return "all the work"
    *rest, last = hands.work
    return f"{', '.join(rest)} and {last}" if rest else last


def hands_words(who: str, hands: HandsCard, month: Iterable[HandsCard]) -> Said:
    """Say that hands are what is tightest in a month."""
    values: dict[str, str | float] = {"who": who, "work": work_called(hands, month), "wanted": hands.wanted_hours * 60}
    if hands.share is None:
        return said(
            "season.month.no_hands", "{who}; nobody trained for {work} is there: {wanted:minutes} of it find no hands", **values
        )
    values["share"] = hands.share
    if hands.share > 1:
        return said(
            "season.month.hands_over",
            "{who} ask for {share:percent} of the hours there are for {work}: the rest waits for the months after",
            **values,
        )
    return said("season.month.hands", "{who}; tightest are the hands, {share:percent} of the hours there are for {work}", **values)


def beside_words(hands: HandsCard, month: Iterable[HandsCard]) -> Said:
    """Say in short how much is asked of the tightest hands, beside what is tighter still."""
    return said(
        "season.month.hands_beside", "hands for {work}: {share:percent} of the hours there are",
        work=work_called(hands, month), share=hands.share,
    )  # fmt: skip


def hands_flag(known: Known) -> Flag:
    """Say how hands are counted, or why they are not."""
    if not hands_known(known):
        return Flag(
            said("season.hands", "nobody said who works when, so the months count places and appetite, not hands"),
            said("season.hands.next", "set the hours of each person on the page The room"),
        )
    return Flag(
        said(
            "season.hands_counted",
            "hands are the minutes each step takes, which nobody timed here, against the hours of those trained for it; rounds, "
            "and work that must be done in one go, take more",
        ),
        said("season.hands_counted.next", "near 100 %, reckon with less; the weeks ahead fit each step into its day"),
    )
