"""The season ahead, from what a quote is made from: no book is needed once that is gathered."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from math import inf, isfinite

from bonebench.errors import Impossible, OutsideRange
from bonebench.planning.promise import QUOTE_REPLAYS
from bonebench.planning.season import Filling, Heard, Month, filling, inflow, last_day_to_accept, not_past
from bonebench.said import Said, said
from bonebench.services.cards import Flag
from bonebench.services.known import Known
from bonebench.services.plans.problem import box_appetite_known
from bonebench.services.promise.meanwhile import FEWEST, fresh_piece
from bonebench.services.promise.quote import FURTHEST_DAYS, AskedQuote, Gathered, appetite_basis, imagined
from bonebench.services.specimens.intake import read_day
from bonebench.services.specimens.names import species_name
from bonebench.services.year.cards import FreezerCard, HandsCard, HolidayCard, KindCard, LevelCard, MonthCard, SeasonCard
from bonebench.services.year.hands import beside_words, hands_cards, hands_flag, hands_known, hands_words
from bonebench.shop.names import find
from bonebench.shop.species import Species
from bonebench.shop.steps import PlaceKind

MONTHS, MOST_MONTHS = 12, 24
SHARE = 0.8
EMPTY = 0.5  # fewer pieces than this in a month are nobody
YEAR_DAYS = 365
# How a kind of place is called in a sentence; what the beetles eat is no place and is called *appetite* by the planner.
CALLED = {
    "appetite": "the beetles' appetite", PlaceKind.FREEZER: "the freezer", PlaceKind.THAW_SHELF: "the thaw shelf",
    PlaceKind.TRIM_BENCH: "the trim bench", PlaceKind.ENCLOSURE: "room in the beetle box", PlaceKind.POT: "the pots",
    PlaceKind.RACK: "the racks", PlaceKind.GLUE_BENCH: "the glue bench", PlaceKind.TUB: "the tubs",
    PlaceKind.RINSE: "the rinse water", PlaceKind.SHELF: "the shelf",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedSeason:
    """How many months, and a holiday with the species of a piece that should be through by it, as they were typed."""

    months: int = MONTHS
    holiday: str | None = None
    species: str | None = None


def season(asked: AskedSeason, room: Gathered) -> SeasonCard:
    """Look at the season ahead."""
    if not 1 <= asked.months <= MOST_MONTHS:
        raise OutsideRange(
            "season.months", "{months} months were asked for; the season shows 1 to {most}", months=asked.months, most=MOST_MONTHS
        )
    arrivals = room.uncertain.arrivals
    here = sum(1 for piece in room.problem.pieces if piece.held is None)
    return SeasonCard(
        months=tuple(_month(month, room, n, here) for n, month in enumerate(inflow(room.problem, arrivals, asked.months))),
        freezer=_freezer(room),
        holiday=holiday(asked, room) if asked.holiday else None,
        in_work=here,
        arrivals_a_year=sum(arrivals.per_month.values()) if arrivals is not None else None,
        basis=tuple(appetite_basis(room.known)),
        flags=tuple(_flags(room)),
        cautions=(room.known.defer,),
    )


def _month(month: Month, room: Gathered, n: int, here: int) -> MonthCard:
    kinds = tuple(
        KindCard(kind, month.wanted.get(kind, 0.0), there, month.wanted.get(kind, 0.0) / there if there else None)
        for kind, there in month.there.items()
    )
    shares = {one.kind: one.share for one in kinds if one.share}
    eats = box_appetite_known(room.known)
    if eats and month.appetite_kg > 0 and month.tissue_kg > 0:
        shares["appetite"] = month.tissue_kg / month.appetite_kg
    hands, tightest_hands = hands_cards(month.hands) if month.hands is not None and hands_known(room.known) else ((), None)
    if tightest_hands is not None:
        shares["hands"] = inf if tightest_hands.share is None else tightest_hands.share
    tightest = max(shares, key=lambda kind: shares[kind], default=None)
    share = shares[tightest] if tightest is not None and isfinite(shares[tightest]) else None
    return MonthCard(
        first=month.first,
        pieces=month.pieces,
        tissue_kg=month.tissue_kg,
        appetite_kg=month.appetite_kg if eats else None,
        kinds=kinds,
        hands=hands,
        tightest_hands=tightest_hands,
        tightest=tightest,
        share=share,
        words=_month_words(month.pieces, tightest, share, here if n == 0 else 0, hands=(tightest_hands, hands)),
        hands_words=(
            beside_words(tightest_hands, hands)
            if tightest_hands is not None and tightest != "hands" and month.pieces >= EMPTY
            else None
        ),
    )


def _month_words(
    pieces: float, tightest: str | None, share: float | None, here: int, *, hands: tuple[HandsCard | None, tuple[HandsCard, ...]]
) -> Said:  # fmt: skip
    if pieces < EMPTY:
        return said("season.month.none", "nobody, by what the book has of the last year")
    count = round(pieces)
    who = f"about {count} pieces" if not here else f"{here} in the room" + (f" and {count - here} more" if count > here else "")
    if tightest == "hands" and hands[0] is not None:
        return hands_words(who, hands[0], hands[1])
    if tightest is None or share is None:
        return said("season.month.unlimited", "{who}; nobody said how much the places take", who=who)
    values: dict[str, str | float] = {"who": who, "what": CALLED[tightest], "share": share}
    if share > 1:
        return said("season.month.over", "{who} ask for {share:percent} of {what}: the rest waits for the months after", **values)
    return said("season.month", "{who}; tightest is {what}, {share:percent} asked for", **values)


def _freezer(room: Gathered) -> FreezerCard | None:
    if all(place.kind != PlaceKind.FREEZER or not place.open for place in room.problem.places):
        return None
    arrivals = room.uncertain.arrivals
    found = filling(room.problem, replace(arrivals, days=YEAR_DAYS) if arrivals is not None else None, days=YEAR_DAYS)
    today = room.known.room.day(room.now)
    most = max(range(len(found.days)), key=lambda day: found.days[day])
    weeks = tuple(LevelCard(today + timedelta(days=day), max(found.days[day : day + 7])) for day in range(0, len(found.days), 7))
    most_on = today + timedelta(days=most)
    return FreezerCard(
        found.measure,
        found.holds,
        found.days[most],
        most_on,
        found.full_on,
        weeks,
        _freezer_words(found, found.days[most], most_on),
    )


def _freezer_words(found: Filling, most: float, most_on: date) -> Said:
    values = {"holds": found.holds, "most": round(most, 1), "measure": found.measure, "most_on": most_on.isoformat()}
    if found.holds is None:
        return said(
            "season.freezer.unknown", "nobody said how much the freezer takes; at most {most} {measure} in it, on {most_on:day}",
            **values,
        )  # fmt: skip
    if found.full_on is None:
        return said(
            "season.freezer.fits",
            "the freezer holds, as far as the book can tell: the most in it is {most} of {holds} {measure}, on {most_on:day}",
            **values,
        )
    return said(
        "season.freezer.full", "the freezer is full on {full:day}: it takes {holds} {measure}, and up to {most} would be in it",
        full=found.full_on, **values,
    )  # fmt: skip


def read_holiday(asked: AskedSeason, known: Known, now: datetime) -> tuple[date, Species]:
    """Read by when which species should be through, and refuse what cannot be."""
    if not asked.species:
        raise Impossible("season.species", "a last day is for one kind of piece: say whose skull should be through by then")
    by, species = read_day(asked.holiday), find(asked.species, known.species)
    if by is None:
        raise Impossible("season.no_day", "say by which day it should be through, such as 2026-12-20")
    today = known.room.day(now)
    if (by - today).days > FURTHEST_DAYS:
        raise OutsideRange(
            "season.far", "{day:day} is more than a year ahead; ask for a day within a year from now", day=by.isoformat()
        )
    not_past(by, today)
    return by, species


def holiday(
    asked: AskedSeason, room: Gathered, *, replays: int = QUOTE_REPLAYS, heard: Heard = lambda share: None
) -> HolidayCard:  # fmt: skip
    """Work out the last day to take a piece in for a holiday."""
    known = room.known
    by, species = read_holiday(asked, known, room.now)
    piece = fresh_piece(imagined(AskedQuote(species=species.key), species), known, room.now, key="the piece asked for")
    found = last_day_to_accept(
        room.problem, room.order, piece, room.uncertain, through_by=by, share=SHARE, replays=replays, heard=heard
    )
    dates = (found.promised.p50, found.promised.p80, found.promised.p95) if found.promised is not None else (None, None, None)
    return HolidayCard(species_name(species.key, known), by, found.day, *dates, _holiday_words(species.common_name, found.day, by))


def _holiday_words(species: str, last: date | None, by: date) -> Said:
    if last is None:
        return said(
            "season.holiday.late", "it is too late: fewer than four in five of a {species} taken in today are through by {by:day}",
            species=species, by=by,
        )  # fmt: skip
    return said(
        "season.holiday", "take in a {species} until {last:day}: four times in five it is then through by {by:day}",
        species=species, last=last, by=by,
    )  # fmt: skip


def _flags(room: Gathered) -> Iterable[Flag]:
    if not box_appetite_known(room.known):
        yield Flag(
            said("season.no_appetite", "no box says what its beetles eat, so nothing is laid against their appetite"),
            said("season.no_appetite.next", "count the colony and set its appetite on the page The room"),
        )
    if room.uncertain.arrivals is None:
        yield Flag(
            said("season.nobody", "fewer than {few} pieces came in the last year, so only what is here now is counted", few=FEWEST),
            said("season.nobody.next", "write down what comes in; after ten pieces the months ahead are reckoned from them"),
        )
    else:
        yield Flag(
            said("season.as_last", "as many are expected in each month as came in that month of the last year"),
            said(
                "season.as_last.next",
                "a month in which nobody wrote anything down looks empty; a better year moves all of it",
            ),
        )
    held = sum(1 for piece in room.problem.pieces if piece.held is not None)
    if held:
        yield Flag(
            said("season.held", "{count} pieces on hold are left out of the months", count=held),
            said("season.held.next", "they will want room when they are released"),
        )
    yield hands_flag(room.known)
