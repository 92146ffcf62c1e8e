"""The warm pot: its power and water, and how long fat takes to leave."""

from bonebench.figures import basis
from bonebench.said import said
from bonebench.science.baths import degreasing, topup
from bonebench.science.baths.evaporation import SCATTER
from bonebench.science.baths.fillings import course
from bonebench.science.baths.heat import (
    BOILS_FROM_C,
    FOAM_U,
    LID_LETS,
    LID_TOP,
    OPEN_H,
    WALL_U,
    Pot,
    money_per_day,
    reach_c,
    steady,
)
from bonebench.services.baths.cautions import pot_cautions
from bonebench.services.baths.workcards import (
    DegreaseCard,
    HeatCard,
)
from bonebench.services.baths.working.lines import fact, reach, warm_or_room
from bonebench.services.cards import Flag
from bonebench.services.known import Known
from bonebench.shop.names import find
from bonebench.shop.species import head_mass
from bonebench.units import (
    read_area,
    read_length,
    read_mass,
    read_number,
    read_power,
    read_share,
    read_temperature,
    read_volume,
)


def heat(
    known: Known,
    *,
    volume: str,
    open_area: str,
    wall_area: str,
    temperature: str,
    lid: bool = True,
    foam: bool = False,
    room: str | None = None,
    humidity: str | None = None,
    watts: str | None = None,
    water_over_heater: str | None = None,
    price: str | None = None,
) -> HeatCard:
    """Say what a warm pot takes in power and water, and when it must be topped up."""
    at = Pot(
        volume_l=read_volume(volume),
        open_m2=read_area(open_area),
        wall_m2=read_area(wall_area),
        lid=lid,
        foam=foam,
        room_c=warm_or_room(room),
        room_rh=read_share(humidity, "humidity") if humidity else 0.5,
    )
    held = read_temperature(temperature)
    power = read_power(watts) if watts else None
    fall = read_length(water_over_heater) if water_over_heater else 0.05
    limit = degreasing.limit_at(held)
    facts = [fact("work.heat.limit", "At that temperature", "{what}: {why}", what=limit.what, why=limit.why)]
    warm_up = steady_w = lost = kwh = 0.0
    sink = topup.hours_to_sink(at, held, fall, power) if held >= BOILS_FROM_C else None
    if held < BOILS_FROM_C:
        found = steady(at, held)
        warm_up, steady_w, lost = found.warm_up_kwh, found.steady_w.value, found.evaporation_kg_per_day.value
        kwh = found.kwh_per_day.value
        sink, full = topup.hours_to_sink(at, held, fall), topup.top_up(at, held, fall)
        facts += [
            fact("work.heat.up", "To warm it up", "{kwh:energy}", kwh=warm_up),
            reach("work.heat.steady", "To hold it there", found.steady_w, "power"),
            fact(
                "work.heat.parts",
                "Of that",
                "{wall:power} through the walls, {top:power} from the top, {wet:power} by evaporation",
                wall=found.wall_w,
                top=found.top_w,
                wet=found.evaporation_w,
            ),
            reach("work.heat.water", "Water it loses in a day", found.evaporation_kg_per_day, "mass"),
            fact("work.heat.day", "Power for a day", "{kwh:energy}", kwh=kwh),
            fact(
                "work.heat.look",
                "Look, and top up with warm water, at least every",
                "{every:days}",
                every=full.look_every_hours / 24,
            ),
            fact(
                "work.heat.cools",
                "Without power it is above 40 °C for",
                "{hours} h",
                hours=f"{topup.hours_above(at, held, 40.0).value:.2g}",
            ),
        ]
        if price:
            facts.append(
                fact(
                    "work.heat.cost",
                    "Money for a day",
                    "{money}",
                    money=f"{money_per_day(found, read_number(price, 'price')).value:.2f}",
                )
            )
    if sink is not None:
        facts.append(reach("work.heat.sink", "The heater may stand bare after", sink.scaled(1 / 24, "days"), "days"))
    flags = []
    if power is not None:
        reached = reach_c(at, power)
        flags.append(
            Flag(
                said("work.heat.boils", "{watts:power} always on can boil this pot dry", watts=power),
                said("work.heat.boils.next", "a thermostat, and a second, separate cut-out; measure, do not assume"),
            )
            if reached.high >= BOILS_FROM_C
            else Flag(
                said(
                    "work.heat.reaches",
                    "{watts:power} always on takes it to {low:temperature} to {high:temperature}",
                    watts=power,
                    low=reached.low,
                    high=reached.high,
                ),
                said("work.heat.reaches.next", "put a thermometer in: a cooker's own settings are no temperature"),
            )
        )
    if held >= 55:
        flags.append(
            Flag(
                said("work.heat.hot", "{warm:temperature} is {what}", warm=held, what=limit.what),
                said("work.heat.hot.next", "{why}; 40 to 50 °C is slower and kinder", why=limit.why),
            )
        )
    return HeatCard(
        title=said("work.heat", "{volume:volume} held at {warm:temperature}", volume=at.volume_l, warm=held),
        warm_up_kwh=warm_up,
        steady_w=steady_w,
        evaporation_kg_per_day=lost,
        kwh_per_day=kwh,
        hours_to_bare=None if sink is None else sink.low,
        facts=tuple(facts),
        basis=(
            basis("pot.wall", FOAM_U if foam else WALL_U),
            basis("pot.top", OPEN_H),
            *((basis("pot.lid", LID_LETS), basis("pot.lid_top", LID_TOP)) if lid else ()),
            basis("pot.evaporation", SCATTER),
        ),
        flags=tuple(flags),
        cautions=pot_cautions(known, held),
    )


def degrease(
    known: Known, *, species: str, temperature: str | None = None, head: str | None = None, learned: degreasing.Room | None = None
) -> DegreaseCard:
    """Say how long a head stays in the pot, how often the water is changed, and what the temperature does."""
    kind = find(species, known.species)
    warm = read_temperature(temperature) if temperature else degreasing.REFERENCE_C
    days = degreasing.days_needed(kind.grease_class, warm, learned)
    way, limit = course(kind.grease_class, warm, learned=learned), degreasing.limit_at(warm)
    changes, every = way.changes, way.every_days
    dose = degreasing.dose(read_mass(head) if head else head_mass(kind).value)
    water, soap = dose.water_l.value, dose.detergent_l.value
    facts = [
        reach("work.degrease.days", "In the pot, about", days, "days"),
        fact(
            "work.degrease.changes",
            "Changes of water",
            "{low} to {high}, every {every:days} or so, sooner when it is cloudy",
            low=f"{changes.low:.0f}",
            high=f"{changes.high:.0f}",
            every=every,
        ),
        fact(
            "work.degrease.water",
            "Water and detergent",
            "at least {water:volume} with {soap:volume} of detergent",
            water=water,
            soap=soap,
        ),
        fact(
            "work.degrease.end",
            "It is done when",
            "dried for two days it shows no yellow or glassy patch; the calendar does not tell",
        ),
        fact("work.degrease.limit", "At that temperature", "{what}: {why}", what=limit.what, why=limit.why),
    ]
    facts += [
        fact(f"work.degrease.survives{n}", "It does not kill", "{what}: {why}", what=row.what, why=row.why)
        for n, row in enumerate(degreasing.SURVIVES)
    ]
    return DegreaseCard(
        title=said(
            "work.degrease",
            "{species}, grease class {grease}, at {warm:temperature}: {low:days} to {high:days}",
            species=kind.common_name,
            grease=kind.grease_class,
            warm=warm,
            low=days.low,
            high=days.high,
        ),
        grease=kind.grease_class,
        days_low=days.low,
        days=days.value,
        days_high=days.high,
        changes_low=changes.low,
        changes_high=changes.high,
        water_l=water,
        detergent_l=soap,
        steps=(
            said(
                "work.degrease.pour",
                "At each change: pour through a sieve, count the teeth, say whose they are, and only then refill",
            ),
            said("work.degrease.refill", "Refill with water as warm as the pot: cold water splits teeth"),
            said("work.degrease.where", "Ask where greasy water may go; never where people cook or wash"),
        ),
        facts=tuple(facts),
        basis=(
            basis("degrease.days", days),
            basis("degrease.changes", degreasing.CHANGES[kind.grease_class]),
            basis("degrease.warmth", degreasing.DOUBLES_IN_K),
            basis("degrease.dose", degreasing.DOSE),
            basis("degrease.liquor", degreasing.LIQUOR),
        ),
        cautions=pot_cautions(known, warm),
    )
