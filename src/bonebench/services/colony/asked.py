"""What people say of a colony, read: how many there are, where they live, how warm and damp it is."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bonebench.errors import BonebenchError, Impossible, NotAQuantity
from bonebench.figures import Figure, Standing
from bonebench.reference.beetles import beetle_named
from bonebench.science.colony import calibrate, forecast
from bonebench.science.colony.advice import SPECIES
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import HOURS_A_DAY, Conditions, Housing, conditions, sites_in
from bonebench.science.colony.observed import GRADES, Seen, scoop
from bonebench.services.colony.typed import MOST_BEETLES, read_count, within, yes
from bonebench.services.colony.usual import FLOOR, HUMIDITY, SITES, WARM_C
from bonebench.services.colony.widen import widened
from bonebench.shop.pests import pests_written
from bonebench.units import read_area, read_number, read_share, read_temperature, read_volume

COUNTED_WITHIN = Figure(2.0, 1.5, 3.0, "1", Standing.ESTIMATE, "a number somebody thought likely: within a factor of two, 9 in 10")
# Before anything is seen: anywhere from a jar to a full freezer.
BEFORE_SEEN = calibrate.Guess(1500.0, within=20.0)
OVERRULED_WITHIN = 20.0
FLOORS_M2 = (0.005, 200.0)  # a jar to a hall
LIVED_C = (20.0, 34.0)
SEED = 6
_SCOOP = re.compile(r"\s*(\S+)\s+in\s+(\S+(?:\s*%)?)\s*", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A colony as it was typed.

    ``size``: a number of larvae and adults, one of the grades, or a scoop such as "40 in 2 %". ``temperature`` and ``humidity``
    hold one value, or one for each hour apart by semicolons (24 are a day that comes again). ``sites`` is a number of pupation
    sites or the volume of the blocks. ``bare``, ``dry`` and ``dried`` are yes where there is no cover, no water, only dried food.
    ``own`` is the room's colony by its log, which stands in where no size was typed.
    """

    size: str | None = None
    temperature: str | None = None
    humidity: str | None = None
    floor: str | None = None
    sites: str | None = None
    bare: str | None = None
    dry: str | None = None
    dried: str | None = None
    beetles: str | None = None
    pests: str | None = None
    seed: int = SEED
    own: "ByLog | None" = None

    def rng(self) -> np.random.Generator:
        """Return the dice: the same question gets the same answer."""
        return np.random.default_rng(self.seed)

    @property
    def named(self) -> str:
        """What the beetles were determined as; the usual hide beetle unless said."""
        return " ".join((self.beetles or SPECIES).split())

    def typed(self, name: str) -> bool:
        """Whether a value was typed for this question; what a log read last stands in for days nobody has seen yet."""
        return bool(getattr(self, name)) and not (self.own is not None and name in self.own.read)

    @property
    def pest_names(self) -> tuple[str, ...]:
        """Pests that were seen."""
        return pests_written(self.pests)


def housing_of(asked: Asked) -> tuple[Housing, tuple[tuple[str, Figure], ...]]:
    """Return where the colony lives, and what was taken for granted of it."""
    assumed = [] if asked.floor else [("colony.floor", FLOOR)]
    assumed += [] if asked.sites else [("colony.sites", SITES)]
    area = within("floor", read_area(asked.floor), FLOORS_M2, "area", asked.floor) if asked.floor else FLOOR.value
    dry_share = 0.80 if yes(asked.dried) else 0.26
    housing = Housing(area, _sites(asked.sites), cover=0.0 if yes(asked.bare) else 1.0, food_dry_share=dry_share)
    return housing, tuple(assumed)


def _sites(text: str | None) -> float:
    if not text:
        return SITES.value
    try:
        sites = read_number(text, "number of pupation sites")
    except NotAQuantity:
        sites = sites_in(read_volume(text) / 1000.0)
    return within("number of pupation sites", sites, (0.0, MOST_BEETLES), "", text)


def air_of(asked: Asked, days: int) -> Air:
    """Return the air of so many days; a gap in it is left for the model to refuse."""
    count = days * HOURS_A_DAY
    air = Air(days, _series(asked.temperature, WARM_C, read_temperature, count), humidity_of(asked, count), moist_of(asked))
    air.fed(0.0, 0.26)  # says at once what is wrong with it
    return air


def humidity_of(asked: Asked, hours: int) -> FloatArray:
    """Return the humidity of so many hours, as it was typed."""
    return _series(asked.humidity, HUMIDITY, lambda text: read_share(text, "humidity"), hours)


def moist_of(asked: Asked) -> float:
    """Return the share of time with water or moist food."""
    return 0.0 if yes(asked.dry) else 1.0


def means(air: Air) -> tuple[float, float, float]:
    """Return mean temperature, humidity and share of time with water."""
    warm, damp, moist = (float(np.asarray(one, dtype=np.float64).mean()) for one in (air.temperature_c, air.humidity, air.moist))
    return warm, damp, moist


def _series(text: str | None, usual: float, read: Callable[[str], float], count: int) -> FloatArray:
    pieces = [piece.strip() for piece in (text or "").strip().removesuffix(";").split(";")]
    if pieces == [""]:
        return np.full(count, usual)
    values = np.array([math.nan if piece in ("", "-", "?") else read(piece) for piece in pieces])
    if len(values) == 1:
        return np.full(count, values[0])
    return np.resize(values, count) if len(values) == HOURS_A_DAY else values


@dataclass(frozen=True)
class Size:
    """How many there are, by what was typed: a guess, and what was seen of them."""

    guess: calibrate.Guess
    seen: tuple[Seen, ...]
    basis: tuple[tuple[str, Figure], ...]


def size_of(text: str | None, warm_c: float, humidity: float) -> Size:
    """Read how many there are: a number, a grade, or a count in a scoop."""
    if not text:
        return Size(calibrate.Guess(BEFORE_SEEN.active, BEFORE_SEEN.within, warm_c, humidity), (), ())
    grade = GRADES.get(text.strip().casefold())
    if grade is not None:
        return _graded(grade, warm_c, humidity)
    found = _SCOOP.fullmatch(text)
    if found is not None:
        count, part = read_count(found[1], "count in a scoop"), read_share(found[2], "share of the bedding")
        return Size(calibrate.Guess(BEFORE_SEEN.active, BEFORE_SEEN.within, warm_c, humidity), (scoop(0, count, part),), ())
    try:
        number = read_number(text, "number of beetles")
    except BonebenchError:
        raise NotAQuantity(
            "colony.size",
            "'{text}' is no size of a colony; write a number such as 3000, a scoop such as 40 in 2 %, or one of: {grades}",
            text=text, grades=", ".join(GRADES),
        ) from None  # fmt: skip
    if not number > 0:
        raise Impossible(
            "colony.size_zero",
            "{text} beetles were given to reckon with; write more than 0, or a count such as 0 in 10 %",
            text=text,
        )
    within("number of beetles", number, (0.0, MOST_BEETLES), "", text)
    return Size(calibrate.Guess(number, COUNTED_WITHIN.value, warm_c, humidity), (), (("colony.guess", COUNTED_WITHIN),))


def _graded(grade: Figure, warm_c: float, humidity: float) -> Size:
    middle = grade.value if grade.value > 0 else 1.0
    within = max(grade.high / middle, middle / grade.low if grade.low > 0 else 1.0)
    return Size(calibrate.Guess(middle, within, warm_c, humidity), (), (("colony.grade", grade),))


@dataclass(frozen=True)
class Told:
    """A colony ready to be asked: what it may be, where it lives, and what was taken for granted."""

    draws: forecast.Draws
    housing: Housing
    basis: tuple[tuple[str, Figure], ...]
    fit: calibrate.Fit
    seen: tuple[Seen, ...]


@dataclass(frozen=True)
class ByLog:
    """The colony of one box as its log tells it today: when it was counted last, and what it gets a day if that is known.

    ``read`` names what of the question's air is the log's last reading.
    """

    told: Told
    place: str
    counted: date
    fed_kg_per_day: float | None
    read: frozenset[str] = frozenset()

    def housed(self, asked: Asked) -> Told:
        """Return it in its own house, or in what was typed of one."""
        typed, _ = housing_of(asked)
        mine = self.told.housing
        house = Housing(
            typed.floor_m2 if asked.floor else mine.floor_m2,
            typed.sites if asked.sites else mine.sites,
            cover=typed.cover if asked.bare else mine.cover,
            food_dry_share=typed.food_dry_share if asked.dried else mine.food_dry_share,
        )
        said_now = {key for key, text in (("colony.floor", asked.floor), ("colony.sites", asked.sites)) if text}
        return replace(self.told, housing=house, basis=tuple(row for row in self.told.basis if row[0] not in said_now))


def told(asked: Asked, seen: tuple[Seen, ...] = (), *, days: int = 1, air: Air | None = None) -> Told:
    """Return the colonies that may be this one today, from its size and from what was seen in the last days.

    ``air`` is that of those days where it was logged; as typed otherwise.
    """
    if asked.own is not None and not asked.size and not seen:
        return asked.own.housed(asked)
    housing, assumed = housing_of(asked)
    air = air or air_of(asked, days)
    warm, damp, _ = means(air)
    # Where they lived before today: a box that froze or cooked this morning was no such box last month.
    warm = min(max(warm, LIVED_C[0]), LIVED_C[1])
    size = size_of(asked.size, warm, damp)
    if not asked.size and not seen:
        raise Impossible(
            "colony.no_size",
            "nobody said how many there are: write a number, a scoop such as 40 in 2 %, or one of: {grades}",
            grades=", ".join(GRADES),
        )
    rng = asked.rng()
    given: Conditions = conditions(days, air.temperature_c, air.humidity, moist=air.moist)
    guess = size.guess
    if seen:
        # What was counted or weighed tells more than an older idea of the size, and must be able to overrule it.
        guess = replace(guess, within=max(guess.within, OVERRULED_WITHIN))
    both = (*(replace(one, day=days - 1) for one in size.seen), *seen)
    fit = calibrate.fit(rng, both, housing, given, guess)
    draws = widened(fit.draws.evenly(rng), beetle_named(asked.beetles), rng)
    return Told(draws, housing, (*assumed, *size.basis), fit, both)


def counts_none(size: str | None) -> bool:
    """Whether what was typed says that nothing alive was seen: a grade or an empty scoop."""
    text = (size or "").strip()
    found = _SCOOP.fullmatch(text)
    return text.casefold() == "none" or (found is not None and read_number(found[1], "count in a scoop") == 0)
