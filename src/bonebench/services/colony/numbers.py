"""From what somebody saw to how many there probably are, of each age, and what they can eat today."""

from collections.abc import Iterable
from dataclasses import replace

from bonebench.errors import Impossible, OutsideRange
from bonebench.said import Said, said
from bonebench.science.colony import advice
from bonebench.science.colony.forecast import forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.observed import Seen, heads_gone, pupae_in_blocks, scoop, weighed
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.asked import Asked, Told, air_of, counts_none, told
from bonebench.services.colony.bands import band_fact, band_of, count_fact
from bonebench.services.colony.cards import Band, NumbersCard, Stages
from bonebench.services.colony.heads import tissue_of
from bonebench.services.colony.outputs import growth_basis, growth_facts, growth_of
from bonebench.services.colony.typed import read_count, read_food, read_span, read_time, within, yes
from bonebench.services.colony.warned import flags_of, rests_on
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony
from bonebench.units import read_share

MISFIT = 4.0  # see `calibrate.Fit`: above this something happened that the ranges do not hold
SHORTEST_DAYS, LONGEST_DAYS = 0.25, 60.0


def numbers(
    known: Known, asked: Asked, *, scoop_count: str | None = None, scoop_part: str | None = None, pupae: str | None = None,
    pupae_part: str | None = None, before: str | None = None, after: str | None = None, dried_off: str | None = None,
    apart: str | None = None, heads_eaten: str | None = None, heads_days: str | None = None, frozen_in: str | None = None,
) -> NumbersCard:  # fmt: skip
    """Say how many there probably are, by age, and what they can eat today.

    A scoop is a count and the share of the bedding it was; a weighed head is its mass before and after, and how far apart.
    """
    counted, pupae_seen = _counted(scoop_count, scoop_part), _pupae(pupae, pupae_part)
    spans = [*_weighed(before, after, dried_off, apart), *_gone(known, heads_eaten, heads_days)]
    dead = counts_none(asked.size) or any(one.value == 0 for one in counted)
    colony = _none_left(asked, counted) if dead else _by_all(asked, [*counted, *pupae_seen], spans)
    odd = (*_odd(pupae_seen, asked, colony, dead=dead), *_eaten_flags(spans), *_water(asked, frozen_in))
    return numbers_of(known, asked, colony, dead=dead, odd=odd)


def numbers_of(known: Known, asked: Asked, colony: Told, *, dead: bool, odd: tuple[Flag, ...]) -> NumbersCard:
    """Return the numbers of a colony that was told; ``odd`` is what is odd about what was seen."""
    air = air_of(asked, 1)
    now = forecast(colony.draws, colony.housing, air.fed(None, colony.housing.food_dry_share))
    stages = Stages(*(band_of(now.paths(name)[:, 0]) for name in ("eggs", "larvae", "large_larvae", "pupae", "adults")))
    appetite = band_of(now.paths("appetite_kg")[:, 0])
    growth, frass = growth_of(colony.draws, air), band_of(now.paths("frass_kg")[:, 0])
    return NumbersCard(
        title=_title(appetite, dead),
        facts=tuple(_facts(now.paths("live_kg")[:, 0], stages, appetite, growth_facts(growth, frass), colony)),
        flags=(*odd, *flags_of(asked, air)),
        steps=_steps(appetite, dead=dead, odd=colony.fit.misfit > MISFIT),
        cautions=for_colony(known.caution_rows),
        basis=rests_on(colony, *growth_basis(growth, frass)),
        stages=stages,
        live_kg=band_of(now.paths("live_kg")[:, 0]),
        appetite_kg_per_day=appetite,
        heat_w=band_of(now.paths("heat_w")[:, 0]),
        water_kg_per_day=band_of(now.paths("water_kg")[:, 0]),
        doubling_days_low=growth.doubling[0],
        doubling_days=growth.doubling[1],
        doubling_days_high=growth.doubling[2],
        generation_days=growth.generation,
        frass_kg_per_day=frass,
        strain_low=colony.fit.strain.low,
        strain=colony.fit.strain.value,
        strain_high=colony.fit.strain.high,
        misfit=colony.fit.misfit,
        seed=asked.seed,
    )


def _by_all(asked: Asked, counted: list[Seen], spans: list[Seen]) -> Told:
    """Hold all that was seen against the model: what was eaten ends today, what was counted was counted today."""
    days = max((one.until or 1 for one in spans), default=1)
    seen = [replace(one, day=days - 1) for one in counted]
    seen += [replace(one, day=days - (one.until or 1), until=days) for one in spans]
    return told(asked, tuple(seen), days=days)


def _none_left(asked: Asked, counted: list[Seen]) -> Told:
    """None alive outweighs what was thought, eaten or counted before it: nothing else goes in."""
    if any(one.value == 0 for one in counted):
        return told(replace(asked, size=None), tuple(one for one in counted if one.value == 0))
    return told(asked)


def _counted(count: str | None, part: str | None) -> list[Seen]:
    if not count and not part:
        return []
    if not count or not part:
        raise Impossible("colony.scoop", "a scoop is two things: how many were in it, and which share of the bedding it was")
    return [scoop(0, read_count(count, "count in a scoop"), read_share(part, "share of the bedding"))]


def _pupae(count: str | None, part: str | None) -> list[Seen]:
    if not count:
        return []
    share = read_share(part, "share of the blocks") if part else 1.0
    return [pupae_in_blocks(0, read_count(count, "number of pupae"), share)]


def _whole_days(text: str, what: str) -> tuple[int, float]:
    """Read a time of eating: whole days for the model, and what a mass of it must be multiplied by to fill them."""
    days = within(what, read_time(text, "time between them"), (0.0, LONGEST_DAYS), "days", text)
    if days < SHORTEST_DAYS:
        raise OutsideRange("colony.apart", "{what} lie {days:days} apart; it takes six hours or more to tell", what=what, days=days)
    whole = max(1, round(days))
    read_span(f"{whole}d", whole, what=what)
    return whole, whole / days


def _weighed(before: str | None, after: str | None, dried: str | None, apart: str | None) -> list[Seen]:
    if not any((before, after, apart)):
        return []
    if not (before and after and apart):
        raise Impossible("colony.weighed", "a weighed head is three things: its mass before, its mass after, and how far apart")
    days, times = _whole_days(apart, "the weighings")
    first = read_food(before, "mass before")
    second, dry = read_food(after, "mass after"), read_food(dried, "mass that dried") if dried else 0.0
    if first - second - dry < 0:
        raise Impossible(
            "colony.heavier",
            "{after:mass} and {dry:mass} dried off are more than the {before:mass} before: weigh it again, or it took up water",
            after=second,
            dry=dry,
            before=first,
        )
    one = weighed(0, days, first, second, dry)
    return [Seen(one.day, one.what, one.value * times, one.spread, until=one.until)]


def _gone(known: Known, heads: str | None, days: str | None) -> list[Seen]:
    if not heads and not days:
        return []
    if not heads or not days:
        raise Impossible("colony.gone", "say which heads went, such as 3 raccoon, and in how many days")
    whole, times = _whole_days(days, "the first and the last of those heads")
    one = heads_gone(0, whole, tissue_of(known, heads).value)
    return [Seen(one.day, one.what, one.value * times, one.spread, until=one.until)]


def _facts(live: FloatArray, stages: Stages, appetite: Band, grows: Iterable[Fact], colony: Told) -> list[Fact]:
    return [
        band_fact("colony.appetite", "They can eat today", appetite, "feeding"),
        count_fact("colony.larvae", "Larvae", stages.larvae),
        count_fact("colony.large", "Large ones among them", stages.large_larvae),
        count_fact("colony.pupae", "Prepupae and pupae", stages.pupae),
        count_fact("colony.adults", "Adults", stages.adults),
        count_fact("colony.eggs", "Eggs", stages.eggs),
        band_fact("colony.mass", "All of them weigh", band_of(live), "mass"),
        *grows,
        fact(
            "colony.strain", "Your strain against the slowest published", "{low} to {high} times as fast",
            low=f"{colony.fit.strain.low:.2f}", high=f"{colony.fit.strain.high:.2f}",
        ),
    ]  # fmt: skip


def _odd(pupae: list[Seen], asked: Asked, colony: Told, *, dead: bool) -> list[Flag]:
    flags = []
    if dead:
        flags.append(
            Flag(
                said("colony.zero", "nothing alive was counted: that may be a dead colony, and it is the count that tells most"),
                said(
                    "colony.zero.next",
                    "look under the pad, in the blocks and at the warmest spot; read the thermometer; ask what went in last "
                    "(salt, poison, a put-down animal); count again tomorrow; pupae in the blocks may still hatch, so keep it warm",
                ),
            )
        )
    found = sum(seen.value / seen.part for seen in pupae)
    if asked.sites and found > colony.housing.sites:
        flags.append(
            Flag(
                said(
                    "colony.sites_over", "about {found} pupae were counted, in blocks said to hold {sites}",
                    found=round(found), sites=round(colony.housing.sites),
                ),
                said(
                    "colony.sites_over.next",
                    "count both again; if it is so, add blocks: what finds no hole is eaten or digs the foam",
                ),
            )
        )  # fmt: skip
    flags += misfits(colony) if not dead else []
    return flags


def misfits(colony: Told) -> list[Flag]:
    """Say so where what was seen does not go together with what colonies do."""
    if colony.fit.misfit <= MISFIT:
        return []
    return [
        Flag(
            said("colony.misfit", "what was seen does not go together with what colonies usually do"),
            said("colony.misfit.next", "count once more, with another scoop; many may have died, or it is another species"),
        )
    ]


def _eaten_flags(spans: list[Seen]) -> list[Flag]:
    if not spans:
        return []
    return [
        Flag(
            said("colony.only_food", "what was eaten tells their appetite only if it was all the food, and not bare at the end"),
            said("colony.only_food.next", "if other food lay there, or a clean head, they can eat more than this says"),
        )
    ]


def _water(asked: Asked, frozen_in: str | None) -> list[Flag]:
    """Ask for a wet pad where nothing wet went in lately, if the person said when something frozen did."""
    if frozen_in is None and not yes(asked.dried):
        return []
    if advice.water(read_time(frozen_in, "time since") if frozen_in else None, dried_food=yes(asked.dried)) is None:
        return []
    return [
        Flag(
            said("colony.water", "nothing frozen went in for a day or more, or the food is dry: they want water"),
            said("colony.water.next", "a wet paper towel or pad in a dish today, and out again before it smells or moulds"),
        )
    ]


def _title(appetite: Band, dead: bool) -> Said:
    if dead:
        return said(
            "colony.numbers.zero", "nothing alive was counted; at the most they can eat {high:feeding} today", high=appetite.high
        )
    return said(
        "colony.numbers",
        "they can eat {low:feeding} to {high:feeding} today; plan with {plan:feeding}",
        low=appetite.low,
        high=appetite.high,
        plan=appetite.plan,
    )


def _steps(appetite: Band, *, dead: bool, odd: bool) -> tuple[Said, ...]:
    if dead or odd:
        return (
            said("colony.numbers.step.wait", "Put nothing more in until a second count, tomorrow, says what moves"),
            said("colony.numbers.step.again", "Count two scoops, from the warmest corner and from under the last piece"),
        )
    return (
        said(
            "colony.numbers.step.feed",
            "Put in {low:feeding} to {plan:feeding}; more only when the last is bare, less when something is left and smells",
            low=appetite.low,
            plan=appetite.plan,
        ),
        said("colony.numbers.step.count", "Count the same scoop again in two weeks, from the same corner at the same hour"),
    )
