"""How much food and from when: feeding up for a season, the least ration, days away."""

from collections.abc import Iterator

from bonebench.errors import Impossible
from bonebench.figures import Figure
from bonebench.said import Said, said
from bonebench.science.colony import feeding
from bonebench.science.colony.forecast import Draws, forecast
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.ahead import later, read_first_day
from bonebench.services.colony.asked import Asked, Told, air_of, told
from bonebench.services.colony.bands import count
from bonebench.services.colony.cards import AwayCard, LeastCard, RampUpCard, Reach
from bonebench.services.colony.neighbour import neighbour, neighbour_cautions
from bonebench.services.colony.typed import MOST_DAYS, read_rate, read_span
from bonebench.services.colony.warned import flags_of, rests_on
from bonebench.services.facts import fact, reach
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony
from bonebench.units import read_share

USUAL_QUIET, USUAL_AWAY = 60, 7
LONGEST_UP = 180  # days that feeding up is tried for
LONGEST_AWAY = 60
KEEP = 0.5


def ramp_up(
    known: Known, asked: Asked, *, season: str, target: str, first_day: str | None = None, held: str | None = None
) -> RampUpCard:  # fmt: skip
    """Say when to begin to feed all they eat, so that by the season they can eat the target a day.

    ``held`` is what they get a day until then; by the log where that tells it, else they are taken to stay as many as they are.
    """
    span, wanted, begin = (
        read_span(season, 0, what="the time to the season"),
        read_rate(target, "target"),
        read_first_day(first_day),
    )
    colony = told(asked)
    ration = _held(held, asked, colony.housing.food_dry_share)
    air = air_of(asked, min(max(span, LONGEST_UP), MOST_DAYS))
    up = feeding.ramp_up(
        colony.draws, colony.housing, air, season_day=span, target_kg_per_day=wanted, held_kg_per_day=ration
    )  # fmt: skip
    on = later(begin, up.begin_day) if up.begin_day is not None else None
    return RampUpCard(
        title=_up_title(up.begin_day, wanted),
        facts=tuple(_up_facts(up, on)),
        steps=_up_steps(up.begin_day),
        flags=(*_up_flags(up), *_held_flags(ration), *flags_of(asked, air)),
        cautions=for_colony(known.caution_rows),
        basis=rests_on(colony),
        begin_day=up.begin_day,
        begin_date=on,
        days_low=up.days.low if up.days else None,
        days=up.days.value if up.days else None,
        days_high=up.days.high if up.days else None,
        food_kg_low=up.food_kg.low if up.food_kg else None,
        food_kg=up.food_kg.value if up.food_kg else None,
        food_kg_high=up.food_kg.high if up.food_kg else None,
        start=_reach(up.start),
        first_kg_per_day=_reach(up.first_kg_per_day),
        season_kg_per_day=_reach(up.season_kg_per_day),
        held_kg_per_day=ration,
        chance=up.chance,
        seed=asked.seed,
    )


def _held(typed: str | None, asked: Asked, dry_share: float) -> float | None:
    """Return what they get a day until feeding-up begins, as the food of the question lies there."""
    if typed:
        return read_rate(typed, "ration until then")
    fed = asked.own.fed_kg_per_day if asked.own is not None and not asked.size else None
    return None if fed is None else fed * feeding.FRESH_DRY / dry_share


def _held_flags(ration: float | None) -> Iterator[Flag]:
    if ration is None:
        yield Flag(
            said("colony.up.unheld", "until feeding-up begins they were taken to stay as many as they are now"),
            said("colony.up.unheld.next", "say what they get a day until then, or write down what goes in, once a week at least"),
        )
    else:
        yield Flag(
            said("colony.up.held", "until feeding-up begins they get {ration:feeding}; they were run on that", ration=ration),
            said("colony.up.held.next", "if they get another ration, ask again with that: more now means a later day to begin"),
        )


def _reach(figure: Figure | None) -> Reach | None:
    return None if figure is None else Reach(figure.low, figure.value, figure.high)


def _up_title(begin_day: int | None, wanted: float) -> Said:
    if begin_day is None:
        return said(
            "colony.up.never", "too few such colonies come to {wanted:feeding}: a second one, or fewer heads", wanted=wanted
        )
    if begin_day <= 0:
        return said("colony.up.now", "begin today: to come to {wanted:feeding} it is none too early", wanted=wanted)
    return said(
        "colony.up",
        "begin in {days:days} at the latest: then four such colonies in five come to {wanted:feeding} in time",
        days=float(begin_day), wanted=wanted,
    )  # fmt: skip


def _up_facts(up: feeding.RampUp, on: object) -> list[Fact]:
    facts = [fact("colony.up.chance", "Colonies that get there at all", "{chance:percent}", chance=up.chance)]
    if up.days is None or up.food_kg is None or up.begin_day is None:
        return facts
    if up.start is not None:
        facts.append(
            fact(
                "colony.up.start", "Larvae and adults when it begins", "{low} to {high}, most likely {value}",
                low=count(up.start.low), high=count(up.start.high), value=count(up.start.value),
            )
        )  # fmt: skip
    if up.first_kg_per_day is not None and up.season_kg_per_day is not None:
        facts.append(reach("colony.up.first", "Feed a day at first", up.first_kg_per_day, "feeding"))
        facts.append(reach("colony.up.season", "They can then eat a day at the season", up.season_kg_per_day, "feeding"))
    facts.append(reach("colony.up.days", "Feeding up takes", up.days, "days"))
    facts.append(reach("colony.up.food", "It takes food, until then", up.food_kg, "mass"))
    if on is not None:
        facts.append(fact("colony.up.on", "Begin on", "{day:day}, with four in five in time", day=str(on)))
    return facts


def _up_steps(begin_day: int | None) -> tuple[Said, ...]:
    if begin_day is None:
        return ()
    return (
        said("colony.up.step.count", "Count a scoop now: this counts from how many there are today"),
        said("colony.up.step.hold", "Until the day, feed as now; a quiet colony costs least"),
        said("colony.up.step.begin", "From the day on, warm it to its usual warmth and feed when the last is bare"),
        said("colony.up.step.blocks", "Give blocks and cover before they are many; count again after two and four weeks"),
    )


def _up_flags(up: feeding.RampUp) -> list[Flag]:
    if up.begin_day is not None and up.begin_day < 0:
        return [
            Flag(
                said(
                    "colony.up.late", "the day to begin was {days} days ago; the season may find them too few", days=-up.begin_day
                ),
                said(
                    "colony.up.late.next",
                    "begin today, promise later days for the first heads; beetles from a clean colony stay apart for a month first",
                ),
            )
        ]
    return []


def least(
    known: Known, asked: Asked, *, days: str | None = None, keep: str | None = None, begins: str | None = None
) -> LeastCard:  # fmt: skip
    """Say the least food that keeps a share of the colony through a quiet time; ``begins``: so many days from now.

    Until then they get what they get by the log, or all they eat.
    """
    span, share = read_span(days, USUAL_QUIET, what="a quiet time"), read_share(keep, "the share to keep") if keep else KEEP
    colony = told(asked)
    before = read_span(begins, 0, what="the time until it begins") if begins else 0
    air = air_of(asked, before + span).part(before, span)
    draws = _until(asked, colony, before, span) if before else colony.draws
    ration = feeding.least_ration(draws, colony.housing, air, keep=share)
    food = ration.kg_per_day
    flags = []
    if ration.not_kept > 0.05:
        flags.append(
            Flag(
                said("colony.least.not_kept", "{share:percent} of such colonies no food keeps in that air", share=ration.not_kept),
                said("colony.least.not_kept.next", "keep it warmer or damper in the quiet time, or plan for fewer days"),
            )
        )
    return LeastCard(
        title=said(
            "colony.least",
            "{low:feeding} to {high:feeding} to keep {share:percent} of them for {days} days; never less, rather the upper end",
            high=food.high, low=food.low, share=share, days=span,
        ),
        facts=(
            reach("colony.least.food", "Least food", food, "feeding"),
            fact(
                "colony.least.all", "In all", "{low:mass} to {high:mass} for {days} days",
                low=food.low * span, high=food.high * span, days=span,
            ),
        ),
        steps=(
            said(
                "colony.least.step.upper",
                "Feed the upper end while food is cheap; a ration is a range, and too little shows late",
            ),
            said("colony.least.step.dry", "Dried meat keeps; with it they want a wet pad every day or so"),
            said("colony.least.step.look", "Look once a week for live small larvae, and count every two weeks"),
        ),
        flags=(*flags, *flags_of(asked, air)),
        cautions=for_colony(known.caution_rows),
        basis=rests_on(colony),
        kg_per_day_low=food.low,
        kg_per_day=food.value,
        kg_per_day_high=food.high,
        not_kept=ration.not_kept,
        seed=asked.seed,
    )  # fmt: skip


def _until(asked: Asked, colony: Told, before: int, span: int) -> Draws:
    """Return the colonies as they are when a quiet time begins."""
    dry = colony.housing.food_dry_share
    air = air_of(asked, before + span).part(0, before)
    return forecast(colony.draws, colony.housing, air.fed(_held(None, asked, dry), dry)).ends


def away(known: Known, asked: Asked, *, days: str | None = None, first_day: str | None = None) -> AwayCard:
    """Say what to load before days away, with a sheet for a neighbour."""
    span, begin = read_span(days, USUAL_AWAY, what="a time away"), read_first_day(first_day)
    if span > LONGEST_AWAY:
        raise Impossible("colony.away.long", "{days} days away: a colony is not left so long; somebody must keep it", days=span)
    air = air_of(asked, span)
    colony = told(asked)
    load = feeding.going_away(colony.draws, colony.housing, air)
    return AwayCard(
        title=said(
            "colony.away", "for {days} days: {fresh:mass} fresh at the most, and {low:mass} to {high:mass} dried beside it",
            days=span, fresh=load.fresh_kg.value, low=load.dried_kg.low, high=load.dried_kg.high,
        ),
        facts=(
            fact(
                "colony.away.fresh", "Fresh, no more than", "{fresh:mass}: what even slow eaters finish in two days",
                fresh=load.fresh_kg.value,
            ),
            reach("colony.away.dried", "Dried meat", load.dried_kg, "mass"),
        ),
        steps=_away_steps(span, load),
        flags=(*_away_flags(span, load), *flags_of(asked, air)),
        cautions=neighbour_cautions(known.caution_rows, known.room.features),
        basis=rests_on(colony),
        days=span,
        first_day=begin,
        last_day=later(begin, span - 1),
        sheet=neighbour(load, known.room.features),
        fresh_kg=load.fresh_kg.value,
        fresh_high_kg=load.fresh_kg.high,
        dried_kg=load.dried_kg.value,
        dried_high_kg=load.dried_kg.high,
        neighbour=load.neighbour,
        hungry=load.hungry,
        seed=asked.seed,
    )  # fmt: skip


def _away_flags(days: int, load: feeding.Away) -> Iterator[Flag]:
    if load.hungry > 0.05:
        yield Flag(
            said("colony.away.hungry", "{share:percent} of such colonies shrink by a tenth all the same", share=load.hungry),
            said("colony.away.hungry.next", "load toward the upper end of the dried food, or ask somebody to feed them once"),
        )
    if load.neighbour:
        yield Flag(
            said("colony.away.neighbour", "{days} days are too long for nobody to look in", days=days),
            said(
                "colony.away.neighbour.next",
                "ask a neighbour to come once a week at least, every day or so for water, and leave the sheet with your number",
            ),
        )
    else:
        yield Flag(
            said("colony.away.pad", "a wet pad is dry after a day or two, and dried meat brings no water"),
            said("colony.away.pad.next", "a larger pad in a deep dish, or somebody who wets it: the sheet says how"),
        )


def _away_steps(days: int, load: feeding.Away) -> tuple[Said, ...]:
    """What to do before leaving and after; what the neighbour does stands on the sheet."""
    return (
        said(
            "colony.away.step.load",
            "Before you go: take out what is wet, lay in no more than {fresh:mass} fresh, and {low:mass} to {high:mass} dried meat",
            fresh=load.fresh_kg.value, low=load.dried_kg.low, high=load.dried_kg.high,
        ),
        said("colony.away.step.box", "Read warmth and damp, look at screens, cord and cut-out, shut the lid; no lamp on"),
        said(
            "colony.away.step.sheet",
            "Fill in whom to call on the neighbour's sheet, walk through it together once, hang it at the box",
        ),
        said("colony.away.step.back", "When you are back after {days} days: count a scoop and look at the blocks", days=days),
    )  # fmt: skip
