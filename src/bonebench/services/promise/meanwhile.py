"""What a promise does not know besides the steps' own days: the colony's appetite, and who comes in meanwhile."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bonebench.figures import Figure, Standing
from bonebench.planning.draws import Arrivals, Uncertain
from bonebench.planning.problem import Piece
from bonebench.services.known import Known
from bonebench.services.plans.problem import problem_of, subject_of
from bonebench.shop.specimen import Part, Specimen

# Nobody measured it here: a season's appetite against the room's own figure, one in ten below the first or above the last.
APPETITE = Figure(1.0, 0.6, 1.5, "1", Standing.ESTIMATE, "a season's appetite against what the room said; a guess")
YEAR = timedelta(days=365)
FEWEST = 10  # fewer pieces in a year say nothing of who will come
MOST_KINDS = 24
AHEAD_DAYS = 270
USUAL_PARTS = (Part("skull"), Part("mandible"))


def uncertain_of(
    specimens: Iterable[Specimen], known: Known, now: datetime, *, paths: Mapping[str, tuple[tuple[float, ...], ...]], seed: int = 1
) -> Uncertain:
    """Return what is not known: who may come, by everyone who came in the last year, and what the colonies may eat.

    ``paths`` are those of counted colonies by their boxes; the rest may be off by a guess.
    """
    return Uncertain(APPETITE.low, APPETITE.high, appetite_paths=paths, arrivals=arrivals_of(specimens, known, now), seed=seed)


def arrivals_of(specimens: Iterable[Specimen], known: Known, now: datetime) -> Arrivals | None:
    """Return who may come: as many in each month as came in that month of the last year, of the kinds that came last.

    A kind is promised a day as far ahead as the piece it was taken from, or none where that one was promised none.
    """
    came = [(s.received, s) for s in specimens if s.received is not None and now - YEAR < s.received <= now]
    if len(came) < FEWEST:
        return None
    zone = ZoneInfo(known.room.zone)
    months = Counter(at.astimezone(zone).month for at, _ in came)
    newest = sorted(came, key=lambda one: one[0], reverse=True)[:MOST_KINDS]
    kinds = tuple(fresh_piece(s, known, now, key=f"kind {n}") for n, (_, s) in enumerate(newest))
    ahead = tuple(_promised_ahead(s, at.astimezone(zone).date()) for at, s in newest)
    return Arrivals(kinds, {month: float(count) for month, count in months.items()}, AHEAD_DAYS, ahead)


def _promised_ahead(specimen: Specimen, received: date) -> int | None:
    # A day before it came is a slip of the pen or of the post: whatever was meant, it is pressing.
    return max(0, (specimen.promised - received).days) if specimen.promised is not None else None


def fresh_piece(like: Specimen, known: Known, now: datetime, *, key: str) -> Piece:
    """Return a piece of this kind as it would come in, with its whole way before it."""
    fresh = Specimen(
        key, species=like.species, received=now, live_mass_kg=like.live_mass_kg, head_mass_kg=like.head_mass_kg,
        finish=like.finish, measure=like.measure, parts=like.parts or USUAL_PARTS,
    )  # fmt: skip
    fresh = replace(fresh, parts=tuple(Part(part.name) for part in fresh.parts))
    return problem_of([subject_of(fresh, known)], known, now).pieces[0]
