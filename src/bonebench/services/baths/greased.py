"""From what the book says of pieces in pots to what the science of degreasing walks along: fillings, looks, dry-spot checks.

A dry-spot check is not an entry of its own: a piece that was dried and sent back to the pot failed it; one that went on passed it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

from bonebench.records import entries as log_rows
from bonebench.records.book import Reading
from bonebench.said import Said, said
from bonebench.science.baths import degreasing
from bonebench.services.baths.bathcard import DegreasingCard
from bonebench.services.gather import specimen_by_subject
from bonebench.services.known import Known, species_of
from bonebench.services.log.states import story_of
from bonebench.shop.bath import Bath, about
from bonebench.shop.bath_entries import Clarity, Recipe
from bonebench.shop.entries import Done, Entry, Moved, SentBack, root_of
from bonebench.shop.steps import Step

if TYPE_CHECKING:
    from bonebench.science.baths import clearing

# A look tells of a filling's end if it was at it, or nearly.
LATE_SHARE = 0.75
# A room's newest pieces are enough, and keep it quick.
NEWEST = 200
COLDEST_C = 20.0
# From here a dry-spot check is worth the two days it takes; a choice, no source.
WORTH_A_CHECK = 0.5


@dataclass(frozen=True, slots=True)
class Stay:
    """One stay of a specimen in a pot, and how it came out: None while nobody dried it and looked."""

    place: str
    begin: datetime
    end: datetime | None
    passed: bool | None


@dataclass(frozen=True, slots=True)
class Poured:
    """One filling of a pot as a piece saw it. ``looked`` is 0 clear to 3 fat on top; None if nobody looked at its end."""

    days_at_45: float
    looked: int | None


@dataclass(frozen=True, slots=True)
class Greased:
    """What was seen of one piece: its fillings, and its dry-spot checks as days in the pot and whether it passed."""

    grease: int
    fillings: tuple[Poured, ...]
    spots: tuple[tuple[float, bool], ...]


def stays_of(entries: Iterable[Entry], pots: frozenset[str]) -> tuple[Stay, ...]:
    """Return the stays of a specimen in pots, from the entries that count, in the order they are told."""
    found: list[Stay] = []
    for entry in entries:
        at, last = about(entry), found[-1] if found else None
        inside = last is not None and last.end is None
        match entry.what:
            case Moved(place=place):
                if inside and last is not None and place != last.place:
                    found[-1] = last = Stay(last.place, last.begin, at, None)
                if place in pots and (last is None or last.end is not None):
                    found.append(Stay(place, at, None, None))
            case Done(step=Step.DEGREASE) if inside and last is not None:
                found[-1] = Stay(last.place, last.begin, at, None)
            case SentBack(step=Step.DEGREASE) if last is not None and last.end is not None and last.passed is None:
                found[-1] = Stay(last.place, last.begin, last.end, passed=False)
            case Done(step=step) if last is not None and last.end is not None and last.passed is None:
                # Teeth in or anything later says that somebody held it dry and found it fit to go on.
                if step.position >= Step.TEETH.position:
                    found[-1] = Stay(last.place, last.begin, last.end, passed=True)
    return tuple(found)


def _fillings(stay: Stay, baths: Sequence[Bath], now: datetime) -> tuple[tuple[datetime, datetime, float, int | None], ...] | None:
    """Begin, end, warmth and last look of each filling through a stay; None where no written bath covers all of it."""
    end = now if stay.end is None else stay.end
    spans: list[tuple[datetime, datetime, float, int | None]] = []
    covered = stay.begin
    for bath in baths:
        if bath.made is None or bath.place != stay.place:
            continue
        gone = bath.discarded or now
        cuts = [bath.made, *(event.at for event in bath.changes if bath.made < event.at < gone), gone]
        for since, until in pairwise(cuts):
            start, stop = max(since, stay.begin), min(until, end)
            if start >= stop:
                continue
            if start - covered > timedelta(hours=12):
                return None
            spans.append((start, stop, _warmth(bath, since, until), _look(bath, since, until)))
            covered = stop
    return tuple(spans) if spans and end - covered <= timedelta(hours=12) else None


def _warmth(bath: Bath, since: datetime, until: datetime) -> float:
    """Return how warm a filling was by its last thermometer; the warmth the class tables are for where nobody read one."""
    read = [e.temperature_c for e in bath.events if e.temperature_c is not None and e.at <= until]
    within = [e.temperature_c for e in bath.events if e.temperature_c is not None and since <= e.at <= until]
    warm = within[-1] if within else read[-1] if read else degreasing.REFERENCE_C
    return min(max(warm, COLDEST_C), 100.0)


def _look(bath: Bath, since: datetime, until: datetime) -> int | None:
    late = since + (until - since) * LATE_SHARE
    seen: list[Clarity] = [
        e.clarity
        for e in bath.events
        if e.clarity is not None and ((e.kind == "looked" and late <= e.at <= until) or (e.kind == "changed" and e.at == until))
    ]
    return seen[-1].grade if seen else None


def greased_of(grease: int, stays: Sequence[Stay], baths: Sequence[Bath], now: datetime, *, alone: bool) -> Greased | None:
    """Return what was seen of one piece, or None where its pots were not written down.

    Looks count only for a piece that had the pot to itself: water that several share does not tell whose fat it is.
    """
    poured: list[Poured] = []
    spots: list[tuple[float, bool]] = []
    for stay in stays:
        spans = _fillings(stay, baths, now)
        if spans is None:
            return None
        poured += [
            Poured((stop - start).total_seconds() / 86400 * degreasing.speed(warm).value, look if alone else None)
            for start, stop, warm, look in spans
        ]
        days = sum(filling.days_at_45 for filling in poured)
        if stay.passed is not None and days > 0:
            spots.append((days, stay.passed))
    return Greased(grease, tuple(poured), tuple(spots)) if poured else None


def pot_log(tx: Reading, known: Known, now: datetime, baths: Iterable[Bath]) -> dict[str, Greased]:
    """Gather what was seen of the newest pieces in pots that were written down, by the piece's subject."""
    pots = tuple(b for b in baths if b.recipe is Recipe.DETERGENT and b.made is not None and b.place is not None)
    if not pots:
        return {}
    places = frozenset(b.place for b in pots if b.place is not None)
    rows = log_rows.of_kind_since(tx, Moved.KIND, min(b.made for b in pots if b.made is not None) - timedelta(days=60))
    subjects = dict.fromkeys(
        root_of(s) for row in reversed(rows) if row.values.get("place") in places for s in row.subjects if s.startswith("specimen:")
    )
    stays = {subject: stays_of(story_of(tx, subject)[0].entries, places) for subject in list(subjects)[:NEWEST]}
    pieces: dict[str, Greased] = {}
    for subject, own in stays.items():
        specimen = specimen_by_subject(tx, subject)
        grease = species_of(specimen.species, known).grease_class
        found = greased_of(grease, own, pots, now, alone=_alone(subject, own, stays, now))
        if found is not None:
            pieces[subject] = found
    return pieces


def _alone(subject: str, own: Sequence[Stay], stays: dict[str, tuple[Stay, ...]], now: datetime) -> bool:
    return not any(
        mine.place == other.place and mine.begin < (other.end or now) and other.begin < (mine.end or now)
        for mine in own
        for key, theirs in stays.items()
        if key != subject
        for other in theirs
    )


def learned_from(pieces: Iterable[Greased]) -> degreasing.Room | None:
    """Return how a room's pieces go against the class table; None where nothing was ever seen of one."""
    told = [piece for piece in pieces if piece.spots or any(filling.looked is not None for filling in piece.fillings)]
    if not told:
        return None
    from bonebench.science.baths import clearing  # noqa: PLC0415  numpy and scipy: only where there is something to learn

    return clearing.learn([_as_piece(piece) for piece in told])


def _as_piece(piece: Greased) -> "clearing.Piece":
    from bonebench.science.baths import clearing  # noqa: PLC0415

    return clearing.Piece(
        piece.grease,
        tuple(clearing.Filling(f.days_at_45, f.looked) for f in piece.fillings),
        tuple(clearing.Spot(days, passed) for days, passed in piece.spots),
    )


def followed(piece: Greased, temperature_c: float, others: Iterable[Greased]) -> DegreasingCard:
    """Return where a piece in a pot stands; what the room's other pieces say goes in, its own looks only once."""
    from bonebench.science.baths import clearing  # noqa: PLC0415

    told = clearing.follow(_as_piece(piece), temperature_c, learned=learned_from(others))
    return DegreasingCard(
        days_low=told.days_left.low,
        days=told.days_left.value,
        days_high=told.days_left.high,
        clean_chance=told.clean_chance,
        looks=sum(filling.looked is not None for filling in piece.fillings),
        checks=len(piece.spots),
        standing=told.days_left.standing.value,
        said=_where_it_stands(told),
    )


def _where_it_stands(told: "clearing.Followed") -> Said:
    if told.clean_chance >= WORTH_A_CHECK:
        return said(
            "bath.piece.check",
            "{chance:percent} likely without grease by reckoning: dry it for two days and look for yellow or glassy patches",
            chance=told.clean_chance,
        )
    return said(
        "bath.piece.days",
        "still {low:days} to {high:days} by reckoning; {chance:percent} likely without grease already",
        low=told.days_left.low,
        high=told.days_left.high,
        chance=told.clean_chance,
    )
