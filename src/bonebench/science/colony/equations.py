"""The equations of a colony: how fast everything changes, and what flows, for a state at one moment.

Dry matter is kept account of everywhere, so that food eaten = growth + respired + frass to rounding.
"""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

from typing import NamedTuple

import numpy as np

from bonebench.science.colony import curve, layout
from bonebench.science.colony.layout import (
    ADULTS_LACK,
    ANIMALS,
    BODY_DRY,
    CHAMBER_BOXES,
    EGG,
    EXPOSED,
    FOOD,
    LARGE,
    LARVA,
    LARVA_BOXES,
    LARVAE_LACK,
    LAYING,
    LAYING_BOXES,
    PUPAE_LACK,
    SHELTERED,
    WAITING,
    WAITING_BOXES,
    YOUNG,
    YOUNG_BOXES,
    FloatArray,
)
from bonebench.science.colony.traits import GAIN, Trait
from bonebench.science.kernel import compiled

# Columns of what flows. Masses are dry but for water; per day inside `change`, sums over a row in what `run` gives.
COULD_EAT, EATEN, GROWTH, RESPIRED, FRASS, DEAD, VICTIMS, TAKEN, HEAT_J, WATER, LAID, PUPATED, EMERGED = range(13)
FLOWS = 13
# Places in a row of traits as plain numbers, which is what compiled code can read.
STRAIN = int(Trait.STRAIN)
PEAK = int(Trait.PEAK_KG)
APPETITE = int(Trait.APPETITE)
EGGS_PER_DAY = int(Trait.EGGS_PER_DAY)
PRE_LAYING = int(Trait.PRE_LAYING_DAYS)
ADULT_DAYS = int(Trait.ADULT_DAYS)
HATCH = int(Trait.HATCH)
LARVAE_LIVE = int(Trait.LARVAE_LIVE)
PUPAE_LIVE = int(Trait.PUPAE_LIVE)
FEMALE = int(Trait.FEMALE)
NO_WATER = int(Trait.NO_WATER)
NO_COVER = int(Trait.NO_COVER)
HEAT = int(Trait.HEAT_J_KG)
REST = int(Trait.REST_W_KG)
WATER_SHARE = int(Trait.WATER)
PUPAE_EATEN = int(Trait.PUPAE_EATEN)
CROWDING = int(Trait.CROWDING)
SMALL_EATEN = int(Trait.SMALL_EATEN)
EGGS_EATEN = int(Trait.EGGS_EATEN)
EGG_SHARE = int(Trait.EGG_SHARE)
PREPUPA_SHARE = int(Trait.PREPUPA_SHARE)
PUPA_SHARE = int(Trait.PUPA_SHARE)
RATE = int(Trait.RATE)
BEST = int(Trait.BEST_C)
WIDTH = int(Trait.WIDTH_K)
LOWER = int(Trait.LOWER_C)
UPPER = int(Trait.UPPER_C)
WAITING_DAYS = int(Trait.WAITING_DAYS)

EGG_BOXES, PREPUPA_BOXES, PUPA_BOXES = layout.EGG_BOXES, layout.PREPUPA_BOXES, layout.PUPA_BOXES
EGG_KG, HATCHLING_KG, ADULT_OF_PEAK = layout.EGG_KG, layout.HATCHLING_KG, layout.ADULT_OF_PEAK
BY_AGE = np.array(layout.LAYING_BY_AGE)

TISSUE_J_KG = 23e6  # lean tissue, dry; estimate of the reference
DAY_S = 86400.0
# A 30 mg adult at 28 degC eats 1.7 mg dry a day to live and a laying female 3 mg: estimates.
ADULT_KG, LIVE_ON, LAY_ON = 30e-6, 1.7e-6, 1.3e-6
# Feeding falls off when less than a quarter of a day's food lies about: it has to be found. An estimate.
SEARCH_DAYS = 0.25
# Half of what is over goes to make up for hunger once this share of the body is lacking.
REFILL = 0.05
# Lack of body, as a share of it, at which one in ten dies a day: 6-10 weeks at 20 degC for larvae, 3-6 for adults (estimates).
LARVAE_STARVE, ADULTS_STARVE = 0.6, 0.37
WAITING_LOSS = 0.01
# Of what a pupa or egg loses, a fifth is skin and waste rather than breath.
CAST = 0.2
HUNGRY, FED, IN_SITE = 1.5, 0.3, 0.02
ADULTS_COLD = 0.3  # adults last longest in the cold
# Vapour for each kg dry: 0.75 kg per kg of fresh tissue (26 % dry), 0.3 of dried (80 % dry), in line with the water in it.
WATER_BASE, WATER_SLOPE, BURNT_WATER = 0.133, 0.967, 0.45


NOTHING = 1e-30


class House(NamedTuple):
    """What does not change: floor, pupation sites, cover 0..1, dry share of the food, and whether food is always there."""

    floor_dm2: float
    sites: float
    cover: float
    food_dry_share: float
    always_food: bool


class Now(NamedTuple):
    """The hour: pace of feeding, of development, of resting, deaths by cold or heat, moisture 0..1, most eaten [kg/day]."""

    pace: float
    growing: float
    resting: float
    deaths: float
    moist: float
    most_kg_day: float


development_rate = compiled(curve.development_rate)
resting_pace = compiled(curve.resting_pace)
humidity_pace = compiled(curve.humidity_pace)
deaths_by_cold_or_heat = compiled(curve.deaths_by_cold_or_heat)


@compiled
def hour_of(p: FloatArray, temperature_c: float, humidity: float, moist: float, most_kg_day: float) -> Now:
    """What an hour's air means for these beetles."""
    rate = development_rate(temperature_c, p[RATE], p[BEST], p[WIDTH], p[LOWER], p[UPPER])
    usual = development_rate(28.0, p[RATE], p[BEST], p[WIDTH], p[LOWER], p[UPPER])
    return Now(
        rate / usual,
        rate * p[STRAIN] * humidity_pace(humidity, moist),
        resting_pace(temperature_c),
        deaths_by_cold_or_heat(temperature_c),
        moist,
        most_kg_day,
    )


@compiled
def masses_of(p: FloatArray) -> FloatArray:
    """Live mass of a well-fed animal in each box, as in `layout.body_masses`. [kg]"""
    m = np.empty(ANIMALS)
    m[EGG:LARVA] = EGG_KG
    start, end = HATCHLING_KG**0.25, p[PEAK] ** 0.25
    for i in range(LARVA_BOXES):
        m[LARVA + i] = (start + (end - start) * i / LARVA_BOXES) ** 4
    m[WAITING:SHELTERED] = p[PEAK]
    for i in range(CHAMBER_BOXES):
        m[SHELTERED + i] = p[PEAK] * (1.0 - (1.0 - ADULT_OF_PEAK) * i / CHAMBER_BOXES)
        m[EXPOSED + i] = m[SHELTERED + i]
    m[YOUNG:ANIMALS] = ADULT_OF_PEAK * p[PEAK]
    return m


@compiled
def lost(hazard: float, dt: float) -> float:
    """Turn a death rate into one that a step of dt can bear: exact over the step, the rate itself for dt of 0. [1/day]"""
    return float((1.0 - np.exp(-hazard * dt)) / dt) if dt > 0.0 else hazard


@compiled
def flow(
    y: FloatArray, dy: FloatArray, m: FloatArray, first: int, boxes: int, rate: float, dead: float, dt: float
) -> tuple[float, float, float]:
    """Move a chain on at a rate out of each box [1/day]. Gives who leaves, mass gained on the way, mass of the dead [live kg]."""
    into, gained, died = 0.0, 0.0, 0.0
    stay = dead * (1.0 - rate * dt)
    for i in range(first, first + boxes):
        out = rate * y[i]
        dy[i] += into - out - stay * y[i]
        died += stay * y[i] * m[i]
        if i > first:
            gained += into * (m[i] - m[i - 1])
        into = out
    return into, gained, died


class Crowd(NamedTuple):
    """Who is there: numbers, live mass [kg], growing of one step of the larval chain [kg], what bodies lack as a share."""

    large: float
    waiters: float
    adults: float
    layers_weighted: float
    in_sites: float
    larvae_kg: float
    waiting_kg: float
    adults_kg: float
    step_kg: float
    lack_l: float
    lack_p: float
    lack_a: float


class Meal(NamedTuple):
    """What they could eat and find, and where it goes; dry kg a day, paces as shares of the full pace."""

    wants: float
    fed: float
    eggs: float
    full_use: float
    rest: float
    net_l: float
    net_a: float
    make_up_l: float
    make_up_a: float
    pace_l: float
    pace_a: float


class Risk(NamedTuple):
    """Rates of dying, a day: of each age by itself, and bitten by others."""

    larvae: float
    starve_l: float
    pupae: float
    adults: float
    bite_egg: float
    bite_small: float
    bite_open: float
    bite_site: float


class Fate(NamedTuple):
    """Live mass a day, as full bodies [kg/day]: dead, bitten, lost on the way; and how many go on."""

    dead: float
    bitten: float
    spent: float
    on: float


@compiled
def crowd_of(y: FloatArray, p: FloatArray, m: FloatArray) -> Crowd:
    """Sum up who is there."""
    larvae_kg, large, step_kg = 0.0, 0.0, 0.0
    for i in range(LARVA, WAITING):
        larvae_kg += y[i] * m[i]
        step_kg += y[i] * ((m[i + 1] if i + 1 < WAITING else p[PEAK]) - m[i])
        if i >= LARGE:
            large += y[i]
    chambers_kg = 0.0
    for i in range(SHELTERED, YOUNG):
        chambers_kg += y[i] * m[i]
    weighted = 0.0
    for i in range(LAYING, ANIMALS):
        weighted += y[i] * BY_AGE[i - LAYING]
    waiters, adults = y[WAITING:SHELTERED].sum(), y[YOUNG:ANIMALS].sum()
    waiting_kg, adults_kg = waiters * p[PEAK], adults * m[YOUNG]
    return Crowd(
        large,
        waiters,
        adults,
        weighted,
        y[SHELTERED:EXPOSED].sum(),
        larvae_kg,
        waiting_kg,
        adults_kg,
        step_kg,
        y[LARVAE_LACK] / (BODY_DRY * (larvae_kg + waiting_kg) + NOTHING),
        y[PUPAE_LACK] / (BODY_DRY * chambers_kg + NOTHING),
        y[ADULTS_LACK] / (BODY_DRY * adults_kg + NOTHING),
    )


@compiled
def found(food_kg: float, wants: float, house: House, now: Now) -> float:
    """Share of what they could eat that they find and may take."""
    if wants <= 0.0:
        return 1.0
    here = 1.0 if house.always_food else 1.0 - np.exp(-max(food_kg, 0.0) / (wants * SEARCH_DAYS))
    return float(min(here, now.most_kg_day / wants))


@compiled
def larval_rate(p: FloatArray, now: Now) -> float:
    """Rate out of a larval box at full feeding. [1/day]"""
    return float(now.growing * LARVA_BOXES / (1.0 - p[EGG_SHARE] - p[PREPUPA_SHARE] - p[PUPA_SHARE]))


@compiled
def pace_of(net: float, make_up: float, grow: float) -> float:
    """Share of the full pace that the food allows."""
    return float((max(net, 0.0) - make_up) / grow) if grow > 0.0 else 0.0


@compiled
def meal_of(food_kg: float, c: Crowd, p: FloatArray, m: FloatArray, house: House, now: Now) -> Meal:
    """Work out the meal: first the cost of eating and living, then what the body lacks, then growth and eggs."""
    grown_kg = larval_rate(p, now) * c.step_kg
    laying = c.layers_weighted * p[FEMALE]
    eggs = now.pace * p[EGGS_PER_DAY] * laying
    eggs *= (p[NO_WATER] + (1.0 - p[NO_WATER]) * now.moist) * (p[NO_COVER] + (1.0 - p[NO_COVER]) * house.cover)
    grow_l, grow_a = BODY_DRY * grown_kg, BODY_DRY * eggs * EGG_KG
    wants_l = grown_kg * p[APPETITE] / GAIN
    wants_a = p[APPETITE] * now.pace * m[YOUNG] / ADULT_KG * (LIVE_ON * c.adults + LAY_ON * laying)
    fed = found(food_kg, wants_l + wants_a, house, now)
    burn = p[REST] * DAY_S / TISSUE_J_KG * now.resting
    rest_l = burn * c.larvae_kg * (1.0 - c.lack_l)
    rest_w = WAITING_LOSS * BODY_DRY * now.resting * c.waiting_kg * (1.0 - c.lack_l)
    rest_a = burn * c.adults_kg * (1.0 - c.lack_a)
    # Near the cut-offs breathing costs more than the slow meal gives; what it gives pays for part of it, and frass stays above 0.
    over = 0.98 * (1.0 - p[HEAT] / TISSUE_J_KG)
    pay_l, pay_a = max(0.0, min(rest_l, over * wants_l - grow_l)), max(0.0, min(rest_a, over * wants_a - grow_a))
    net_l, net_a = fed * (grow_l + pay_l) - rest_l - rest_w, fed * (grow_a + pay_a) - rest_a
    make_up_l = max(net_l, 0.0) * c.lack_l / (c.lack_l + REFILL)
    make_up_a = max(net_a, 0.0) * c.lack_a / (c.lack_a + REFILL)
    return Meal(
        wants_l + wants_a,
        fed,
        eggs,
        grow_l + pay_l + grow_a + pay_a,
        rest_l + rest_w + rest_a,
        net_l,
        net_a,
        make_up_l,
        make_up_a,
        pace_of(net_l, make_up_l, grow_l),
        pace_of(net_a, make_up_a, grow_a),
    )


@compiled
def risk_of(c: Crowd, fed: float, p: FloatArray, house: House, now: Now) -> Risk:
    """Work out who dies of what."""
    hungry = c.large + c.waiters
    biters = (hungry + 0.5 * c.adults) / house.floor_dm2 * now.pace
    chamber = p[PREPUPA_SHARE] + p[PUPA_SHARE]
    starve_l = 0.1 * now.resting * (c.lack_l / LARVAE_STARVE) ** 6
    own = -np.log(p[LARVAE_LIVE]) * now.growing / (1.0 - p[EGG_SHARE] - chamber)
    crowding = p[CROWDING] * hungry / house.floor_dm2 / 100.0 * now.pace
    return Risk(
        own + crowding + starve_l + now.deaths,
        starve_l,
        -np.log(p[PUPAE_LIVE]) * now.growing / chamber + now.deaths,
        0.1 * now.resting * (c.lack_a / ADULTS_STARVE) ** 6 + ADULTS_COLD * now.deaths,
        p[EGGS_EATEN] * biters,
        p[SMALL_EATEN] * biters * (1.0 - fed) ** 2,
        p[PUPAE_EATEN] * biters * (FED + (HUNGRY - FED) * (1.0 - fed)),
        p[PUPAE_EATEN] * biters * IN_SITE,
    )


@compiled
def eggs_on(y: FloatArray, dy: FloatArray, p: FloatArray, m: FloatArray, laid: float, r: Risk, now: Now, dt: float) -> Fate:
    """Move eggs on: laid, eaten, hatched."""
    hazard = now.deaths + r.bite_egg
    out, _, died = flow(y, dy, m, EGG, EGG_BOXES, now.growing * EGG_BOXES / p[EGG_SHARE], lost(hazard, dt), dt)
    hatched = out * p[HATCH]
    dy[EGG] += laid
    dy[LARVA] += hatched
    bitten = died * r.bite_egg / (hazard + NOTHING)
    return Fate(died - bitten + (out - hatched) * EGG_KG, bitten, hatched * (EGG_KG - HATCHLING_KG), hatched)


@compiled
def larvae_on(y: FloatArray, dy: FloatArray, m: FloatArray, rate: float, r: Risk, dt: float) -> Fate:
    """Move feeding larvae on; the small ones bear the hungry large ones, so it is done in two parts at one rate."""
    hazard = r.larvae + r.bite_small
    out, _, died = flow(y, dy, m, LARVA, LARGE - LARVA, rate, lost(hazard, dt), dt)
    dy[LARGE] += out
    bitten = died * r.bite_small / (hazard + NOTHING)
    ready, _, died_large = flow(y, dy, m, LARGE, WAITING - LARGE, rate, lost(r.larvae, dt), dt)
    return Fate(died - bitten + died_large, bitten, 0.0, ready)


@compiled
def settle(
    y: FloatArray, dy: FloatArray, p: FloatArray, m: FloatArray, ready: float, c: Crowd, r: Risk, house: House, now: Now, dt: float
) -> Fate:
    """Let full-grown larvae into a free site, or wait for one, and at last pupate in the open."""
    free = house.sites - c.in_sites
    share = 1.0 - np.exp(-free / (0.02 * house.sites)) if house.sites > 0.0 and free > 0.0 else 0.0
    rate = now.pace * WAITING_BOXES / p[WAITING_DAYS]
    to_site = ready * share
    dy[WAITING] += ready - to_site
    out, _, died = flow(y, dy, m, WAITING, WAITING_BOXES, rate, lost(r.starve_l + now.deaths, dt), dt)
    for i in range(WAITING, SHELTERED):
        finds = share * now.pace * y[i] * (1.0 - rate * dt)
        dy[i] -= finds
        to_site += finds
    dy[SHELTERED] += to_site
    dy[EXPOSED] += out
    return Fate(died, 0.0, 0.0, to_site + out)


@compiled
def chambers_on(
    y: FloatArray, dy: FloatArray, p: FloatArray, m: FloatArray, first: int, own: float, bite: float, now: Now, dt: float
) -> Fate:
    """Move prepupae and pupae on, in sites or in the open."""
    hazard = own + bite
    gone, pupa = lost(hazard, dt), first + PREPUPA_BOXES
    turned, gained, died = flow(y, dy, m, first, PREPUPA_BOXES, now.growing * PREPUPA_BOXES / p[PREPUPA_SHARE], gone, dt)
    dy[pupa] += turned
    spent = turned * (m[pupa - 1] - m[pupa]) - gained
    out, gained, died_pupae = flow(y, dy, m, pupa, PUPA_BOXES, now.growing * PUPA_BOXES / p[PUPA_SHARE], gone, dt)
    spent += out * (m[first + CHAMBER_BOXES - 1] - m[YOUNG]) - gained
    dy[YOUNG] += out
    died += died_pupae
    return Fate(died * own / (hazard + NOTHING), died * bite / (hazard + NOTHING), spent, out)


@compiled
def adults_on(y: FloatArray, dy: FloatArray, p: FloatArray, m: FloatArray, r: Risk, now: Now, dt: float) -> float:
    """Move adults on; gives the mass of the dead. [live kg/day]"""
    ageing = now.resting * LAYING_BOXES / max(p[ADULT_DAYS] - p[PRE_LAYING], 1.0)
    gone = lost(r.adults, dt)
    out, _, young = flow(y, dy, m, YOUNG, YOUNG_BOXES, now.pace * YOUNG_BOXES / p[PRE_LAYING], gone, dt)
    dy[LAYING] += out
    out, _, layers = flow(y, dy, m, LAYING, LAYING_BOXES, ageing, gone, dt)
    return float(young + layers + out * m[YOUNG])


@compiled
def change(
    y: FloatArray, dy: FloatArray, flows: FloatArray, p: FloatArray, m: FloatArray, house: House, now: Now, dt: float
) -> None:
    """Fill ``dy`` with the change of the state a day and ``flows`` with what flows a day. ``dt`` of 0 is the equation itself."""
    dy[:] = 0.0
    c = crowd_of(y, p, m)
    meal = meal_of(y[FOOD], c, p, m, house, now)
    r = risk_of(c, meal.fed, p, house, now)
    laid = meal.eggs * meal.pace_a
    eggs = eggs_on(y, dy, p, m, laid, r, now, dt)
    larvae = larvae_on(y, dy, m, larval_rate(p, now) * meal.pace_l, r, dt)
    settled = settle(y, dy, p, m, larvae.on, c, r, house, now, dt)
    inside = chambers_on(y, dy, p, m, SHELTERED, r.pupae, r.bite_site, now, dt)
    outside = chambers_on(y, dy, p, m, EXPOSED, r.pupae, r.bite_open, now, dt)
    dead_a = adults_on(y, dy, p, m, r, now, dt)

    # What is lacking goes with those who leave or die, in the measure of their bodies.
    keep_l, keep_p, keep_a = 1.0 - c.lack_l, 1.0 - c.lack_p, 1.0 - c.lack_a
    dead_l, dead_p, bitten_p = larvae.dead + settled.dead, inside.dead + outside.dead, inside.bitten + outside.bitten
    lost_p, emerged = inside.spent + outside.spent, inside.on + outside.on
    moved_l, moved_p = settled.on * p[PEAK], emerged * m[YOUNG]
    dy[LARVAE_LACK] = -min(meal.net_l, 0.0) - meal.make_up_l - BODY_DRY * c.lack_l * (moved_l + dead_l + larvae.bitten)
    dy[PUPAE_LACK] = BODY_DRY * (c.lack_l * moved_l - c.lack_p * (moved_p + lost_p + dead_p + bitten_p))
    dy[ADULTS_LACK] = -min(meal.net_a, 0.0) - meal.make_up_a + BODY_DRY * (c.lack_p * moved_p - c.lack_a * dead_a)
    victims = BODY_DRY * (eggs.bitten + larvae.bitten * keep_l + bitten_p * keep_p)
    eaten = meal.wants * meal.fed
    if not house.always_food:
        dy[FOOD] = victims - eaten

    spent = BODY_DRY * (eggs.spent + lost_p * keep_p)
    heat = p[HEAT] * eaten + TISSUE_J_KG * (meal.rest + (1.0 - CAST) * spent)
    wet = (1.0 - house.food_dry_share) / house.food_dry_share
    flows[COULD_EAT], flows[EATEN] = meal.wants, eaten
    flows[GROWTH] = meal.net_l + meal.net_a - spent
    flows[RESPIRED], flows[HEAT_J] = heat / TISSUE_J_KG, heat
    flows[FRASS] = meal.fed * ((1.0 - p[HEAT] / TISSUE_J_KG) * meal.wants - meal.full_use) + CAST * spent
    flows[DEAD] = BODY_DRY * (eggs.dead + dead_l * keep_l + dead_p * keep_p + dead_a * keep_a)
    flows[VICTIMS], flows[TAKEN] = victims, 0.0
    flows[WATER] = p[WATER_SHARE] * (eaten * (WATER_BASE + WATER_SLOPE * wet) + BURNT_WATER * meal.rest)
    flows[LAID], flows[PUPATED], flows[EMERGED] = laid, settled.on, emerged
