"""The pieces in the box: what may go in tonight, the rot clock of each, and when one will be clean."""

import math
from datetime import date

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing, basis
from bonebench.said import said
from bonebench.science import cleaning
from bonebench.science.cleaning.tonight import DRYING
from bonebench.science.colony.forecast import forecast
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.ahead import later, read_first_day
from bonebench.services.colony.asked import Asked, air_of, means, told
from bonebench.services.colony.bands import band_fact, band_of
from bonebench.services.colony.cards import CleanByCard, LimitCount, RotCard, TonightCard
from bonebench.services.colony.heads import FLOOR_SHARE, MOST_TONIGHT, Heads, read_heads
from bonebench.services.colony.rules import SMALL_KG, clean_steps, rot_steps
from bonebench.services.colony.typed import read_food, read_rate, read_smell, read_time, read_warmth
from bonebench.services.colony.usual import WARM_C
from bonebench.services.colony.warned import flags_of, rests_on
from bonebench.services.facts import fact, reach
from bonebench.services.known import Known
from bonebench.shop.cautions import for_colony
from bonebench.shop.species import head_mass
from bonebench.units import read_area, read_power, read_share

AHEAD_DAYS = 30  # how far the appetite is looked at for heads that go in tonight
LIMITS = {
    "appetite": "appetite: more would rot before it is eaten",
    "floor": "floor: no more room to lie with space round them",
    "heater": "the heater: no power left to thaw more",
    "none waiting": "nothing: all that wait may go in",
}


def tonight(
    known: Known, asked: Asked, *, waiting: str, free_floor: str | None = None, spare_heat: str | None = None,
    inside: str | None = None, inside_left: str | None = None,
) -> TonightCard:  # fmt: skip
    """Say how many of the heads that wait may go in now, in their order, and which limit binds.

    Heads already ``inside`` eat first; ``inside_left`` is the share of their tissue still on them.
    """
    colony, air = told(asked), air_of(asked, AHEAD_DAYS)
    run = forecast(colony.draws, colony.housing, air.fed(None, colony.housing.food_dry_share))
    cautious = tuple(float(v) for v in run.band("appetite_kg")[1])
    heads = [_head(kind) for kind in read_heads(known, waiting, MOST_TONIGHT) for _ in range(kind.count)]
    left = read_share(inside_left, "what is left on those inside") if inside_left else 1.0
    there = [kind for kind in (read_heads(known, inside, MOST_TONIGHT) if inside else ()) for _ in range(kind.count)]
    in_box = tuple(_in_box(kind, left) for kind in there)
    taken = math.fsum(_head(kind).floor_m2 for kind in there)
    free = read_area(free_floor) if free_floor else max(0.0, colony.housing.floor_m2 - taken)
    watts = read_power(spare_heat) if spare_heat else math.inf
    warm, _, _ = means(air)
    found = cleaning.heads_tonight(cleaning.BoxNow(warm, cautious, free, watts, in_box), heads)
    appetite = band_of(run.paths("appetite_kg")[:, 0])
    return TonightCard(
        title=said(
            "colony.tonight", "{count} of {all} may go in now; what holds it down is {limit}",
            count=found.count, all=len(heads), limit=LIMITS[found.limit.value],
        ),
        facts=(
            *(
                fact(f"colony.tonight.{limit.value}", f"By {limit.value} alone", "{count} of {all}", count=count, all=len(heads))
                for limit, count in found.by.items()
                if limit is not cleaning.Limit.HEATER or spare_heat
            ),
            fact("colony.tonight.worst", "The slowest piece then uses of its rot clock", "{worst:percent}", worst=found.worst_used),
            band_fact("colony.tonight.appetite", "They can eat today", appetite, "feeding"),
        ),
        steps=(
            said("colony.tonight.step.first", "In the order written, the oldest first; skin, brain, eyes and tongue off"),
            said("colony.tonight.step.space", "Lay them apart, hollows down, on a rack or cotton; write down what went in"),
            said(
                "colony.tonight.step.smell",
                "Smell at the box tomorrow: 0 none to 3 foul. Foul is out at once, whatever this says",
            ),
        ),
        flags=(*_tonight_flags(found, spare_heat, free_floor), *flags_of(asked, air)),
        cautions=for_colony(known.caution_rows),
        basis=rests_on(
            colony, ("colony.head_floor", FLOOR_SHARE), ("cleaning.flux", cleaning.FLUX), ("cleaning.rot", cleaning.BUDGET_H),
            ("cleaning.drying", DRYING),
        ),
        count=found.count,
        waiting=len(heads),
        limit=found.limit.value,
        by=tuple(LimitCount(limit.value, count) for limit, count in found.by.items()),
        worst_used=found.worst_used,
        appetite_kg_per_day=appetite,
        seed=asked.seed,
    )  # fmt: skip


def _head(kind: Heads) -> cleaning.Head:
    surface = kind.surface_m2.value
    return cleaning.Head(kind.tissue_kg.value, kind.eating_kg_per_day.value, surface, surface * FLOOR_SHARE.value)


def _in_box(kind: Heads, left: float) -> cleaning.InBox:
    tissue = kind.tissue_kg.value
    return cleaning.InBox(tissue, kind.eating_kg_per_day.value, tissue * left)


def _tonight_flags(found: cleaning.Tonight, spare_heat: str | None, free_floor: str | None) -> list[Flag]:
    flags = []
    if found.worst_used >= 1.0:
        flags.append(
            Flag(
                said("colony.tonight.rots", "something in there is likely to rot before it is eaten, as it is"),
                said("colony.tonight.rots.next", "take the wettest out, cut muscle away, refreeze; put nothing in tonight"),
            )
        )
    unsaid = [what for what, said_ in (("the heater's spare power", spare_heat), ("the free floor", free_floor)) if not said_]
    if unsaid:
        flags.append(
            Flag(
                said("colony.tonight.unsaid", "{what} was not said, and may let in fewer", what=" and ".join(unsaid)),
                said(
                    "colony.tonight.unsaid.next",
                    "a frozen head draws heat for hours: if the box cools after one, wait before the next",
                ),
            )
        )
    return flags


def rot(
    known: Known, *, hours: str, temperature: str | None = None, left: str | None = None, wet: str | None = None,
    smell: str | None = None,
) -> RotCard:  # fmt: skip
    """Read the rot clock of one wet piece that lay warm so long; ``left`` and ``wet`` are shares, on average over that time."""
    warm = read_warmth(temperature) if temperature else WARM_C
    spell = cleaning.WetSpell(
        read_time(hours, "time it lay warm") * 24, warm, read_share(left, "what is left on it") if left else 1.0,
        read_share(wet, "what is wet of it") if wet else 1.0,
    )  # fmt: skip
    clock = cleaning.rot_clock([spell], read_smell(smell))
    return RotCard(
        title=said(
            "colony.rot", "{used:percent} of its time is used up: {advice}", used=clock.used.value, advice=clock.advice.value
        ),
        facts=(
            reach("colony.rot.used", "Used up of its time", clock.used, "percent"),
            fact(
                "colony.rot.left", "Left, whole and wet at 28 °C", "{low} to {high} h",
                low=f"{clock.hours_left.low:.0f}", high=f"{clock.hours_left.high:.0f}",
            ),
            fact(
                "colony.rot.pace", "It spoils", "at {warm:temperature}, {times} times as fast as at 28 °C",
                warm=warm, times=f"{cleaning.spoiling_pace(warm):.2f}",
            ),
        ),
        steps=rot_steps(clock.advice),
        flags=(
            Flag(
                said("colony.rot.nose", "this rests on estimates and is never an all-clear; nothing published was found for heads"),
                said("colony.rot.nose.next", "look and smell all the same; tell the smell here, and it moves the clock"),
            ),
        ),
        cautions=for_colony(known.caution_rows),
        basis=(basis("cleaning.rot", cleaning.BUDGET_H),),
        used_low=clock.used.low,
        used=clock.used.value,
        used_high=clock.used.high,
        hours_left_low=clock.hours_left.low,
        hours_left=clock.hours_left.value,
        hours_left_high=clock.hours_left.high,
        advice=clock.advice.value,
    )  # fmt: skip


def clean_by(
    known: Known, *, species: str, inside: str, look: str | None = None, tissue: str | None = None, lost: str | None = None,
    appetite: str | None = None, first_day: str | None = None,
) -> CleanByCard:  # fmt: skip
    """Say when a piece will be clean, from its kind, how long it is in, a look in five grades and what it lost on the scale."""
    today = read_first_day(first_day)
    days, kind = read_time(inside, "time in the box"), Heads(1, read_heads(known, species)[0].species)
    small = head_mass(kind.species).value < SMALL_KG
    mass = _known_tissue(tissue) if tissue else kind.tissue_kg
    readings = [cleaning.by_look(days, look)] if look else []
    readings += [cleaning.by_weight(days, mass.value, read_food(lost, "mass lost"))] if lost else []
    most = read_rate(appetite, "appetite") if appetite else math.inf
    if most == 0:
        raise Impossible("colony.clean.none", "with an appetite of 0 g a day it is never clean: count the colony first")
    found = cleaning.clean_by(days, mass.value, kind.eating_kg_per_day.value, readings, appetite_kg_per_day=most)
    late = later(today, math.ceil(found.days_80))
    out = later(today, math.ceil(found.days_80) + (0 if small else 1))
    return CleanByCard(
        title=said(
            "colony.clean", "clean in {even:days} at even chance, in {late:days} four times in five; then one more day",
            even=found.days_50, late=found.days_80,
        ),
        facts=tuple(_clean_facts(found, mass, out)),
        steps=clean_steps(small),
        flags=_clean_flags(bool(readings), bool(appetite)),
        cautions=for_colony(known.caution_rows, out=True),
        basis=(basis("cleaning.tissue", mass), basis("cleaning.flux", cleaning.FLUX), basis("cleaning.tail", cleaning.TAIL)),
        left_low=found.left_share.low,
        left=found.left_share.value,
        left_high=found.left_share.high,
        days_50=found.days_50,
        days_80=found.days_80,
        date_50=later(today, math.ceil(found.days_50)),
        date_80=late,
        out_by=out,
        tissue_kg=mass.value,
    )  # fmt: skip


def _known_tissue(text: str) -> Figure:
    mass = read_food(text, "mass")
    if mass == 0:
        raise OutsideRange("colony.clean.tissue", "the piece went in with {text} on it; it must be above 0", text=text)
    return Figure(mass, mass, mass, "kg", Standing.ROOM, "weighed here")


def _clean_facts(found: cleaning.CleanBy, mass: Figure, out: date | None) -> list[Fact]:
    facts = [
        reach("colony.clean.left", "Left on it now", found.left_share, "percent"),
        reach("colony.clean.pace", "How fast it goes against the first guess", found.pace, "strength"),
        fact("colony.clean.even", "Clean, at even chance", "in {days:days}", days=found.days_50),
        fact("colony.clean.late", "Clean, four times in five", "in {days:days}", days=found.days_80),
        reach("colony.clean.tissue", "It went in with tissue of", mass, "mass"),
    ]
    if out is not None:
        facts.append(fact("colony.clean.out", "Look for it to come out by", "{day:day}", day=out.isoformat()))
    return facts


def _clean_flags(seen: bool, fed: bool) -> tuple[Flag, ...]:
    flags = []
    if not seen:
        flags.append(
            Flag(
                said("colony.clean.unseen", "nobody has looked at this piece yet, so the days are those of a guess"),
                said("colony.clean.unseen.next", "give it a look in five grades, or weigh it: a reading narrows the range"),
            )
        )
    if not fed:
        flags.append(
            Flag(
                said("colony.clean.enough", "this takes for granted that there are beetles enough for all that lies in the box"),
                said("colony.clean.enough.next", "say what they can eat a day, shared among the pieces, and it is counted in"),
            )
        )
    return tuple(flags)
