"""From an old freezer to the first skull: the steps in their order, and when a starter colony can take what."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing, basis
from bonebench.reference.first_box import load_first_box
from bonebench.said import said
from bonebench.science.air.moist import FloatArray
from bonebench.science.colony.forecast import forecast, likely_colonies
from bonebench.science.colony.model import Housing, conditions
from bonebench.services.cards import Fact, Flag, Worked
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_box
from bonebench.units import read_number

SEED, DRAWS, DAYS = 8437, 200, 240
EMPTY_DAYS = 3
WARM_C, DAMP = 27.0, 0.5
FLOOR_M2, SITES = 0.5, 3000.0  # the floor of a middling chest freezer, twenty litres of blocks; guesses
# What may go in: soft tissue, and in how many days it should be gone before it rots. Masses of trimmed heads are estimates.
PIECES = (
    ("a mouse", Figure(0.012, 0.008, 0.02, "kg", Standing.ESTIMATE, "soft tissue of a skinned mouse; a guess"), 2.0),
    (
        "a squirrel's head",
        Figure(0.04, 0.025, 0.07, "kg", Standing.ESTIMATE, "soft tissue of a squirrel's head; a guess"),
        3.0,
    ),
    ("a deer's head", Figure(0.9, 0.5, 1.5, "kg", Standing.ESTIMATE, "soft tissue of a deer's head, trimmed; a guess"), 7.0),
)


@dataclass(frozen=True)
class MayTake:
    """When a starter can take a piece: days from its start, cautious, likely and hopeful; None is not in the days looked at."""

    piece: str
    tissue_kg: float
    within_days: float
    day_late: int | None
    day_likely: int | None
    day_soon: int | None
    on: str | None


@dataclass(frozen=True, kw_only=True)
class BeginCard(Worked):
    """The guide and the dates."""

    pieces: tuple[MayTake, ...]
    starter: float
    schema: str = "enclosure.begin/1"


def begin(known: Known, *, starter: str | None = None, first_day: date | None = None) -> BeginCard:
    """Lay out how to build the box, and when a starter of so many beetles can take a mouse, a squirrel and a deer."""
    number = read_number(starter, "number of beetles") if starter else 300.0
    if not 10 <= number <= 1e6:
        raise OutsideRange("begin.starter", "a starter of {n} beetles cannot be reckoned with; 10 to a million", n=f"{number:g}")
    draws = likely_colonies(np.random.default_rng(SEED), number, temperature_c=WARM_C, humidity=DAMP, count=DRAWS)
    ahead = forecast(draws, Housing(FLOOR_M2, SITES), conditions(DAYS, WARM_C, DAMP))
    late, likely, soon = (ahead.band("appetite_kg")[n] for n in (1, 2, 3))
    pieces = tuple(_may_take(name, tissue, days, (late, likely, soon), first_day) for name, tissue, days in PIECES)
    return BeginCard(
        title=said("begin.title", "a box from an old freezer, three days empty in band, then a starter of {n}", n=f"{number:.0f}"),
        facts=tuple(_fact(each) for each in pieces),
        steps=tuple(said(f"begin.step.{n}", words) for n, words in enumerate(load_first_box(), 1)),
        cautions=for_box(known.caution_rows, heated=True),
        basis=tuple(basis(f"tissue.{name}", figure) for name, figure, _ in PIECES),
        flags=(
            Flag(
                said(
                    "begin.fed", "the dates hold for a starter that is fed all it eats, has cover, blocks to pupate in, and 27 °C"
                ),
                said("begin.fed.next", "count a scoop every two weeks; a date that slips is asked again with the count"),
            ),
            Flag(
                said("begin.law", "wiring, refrigerant and keeping of insects are ruled by law where you live"),
                said("begin.law.next", "ask first; defer to local codes and licensed practice"),
            ),
        ),
        pieces=pieces,
        starter=number,
    )


def _may_take(
    name: str, tissue: Figure, within: float, bands: tuple[FloatArray, FloatArray, FloatArray], first_day: date | None
) -> MayTake:
    """The first day from which the next days' appetite together clears the piece, by each end of the band."""
    late, likely, soon = (_first(band, tissue.value, round(within)) for band in bands)
    on = (first_day + timedelta(days=EMPTY_DAYS + late)).isoformat() if first_day is not None and late is not None else None
    return MayTake(name, tissue.value, within, late, likely, soon, on)


def _first(appetite: FloatArray, tissue_kg: float, span: int) -> int | None:
    sums = np.convolve(appetite, np.ones(span), "valid")
    enough = np.flatnonzero(sums >= tissue_kg)
    return int(enough[0]) if len(enough) else None


def _fact(each: MayTake) -> Fact:
    label = f"It can take {each.piece}"
    key = f"begin.{each.piece}"
    if each.day_late is None:
        return fact(key, label, "not within {days:days} at a cautious reckoning", days=float(DAYS))
    if each.on is not None:
        return fact(key, label, "from {on:day} at a cautious reckoning, day {soon} to {late}", on=each.on, soon=str(each.day_soon),
                    late=str(each.day_late))  # fmt: skip
    return fact(
        key,
        label,
        "from day {soon} to {late} after it moved in; plan with {late}",
        soon=str(each.day_soon),
        late=str(each.day_late),
    )
