"""Mixing, topping up, testing and ageing a peroxide bath."""

from collections.abc import Iterable

from bonebench.errors import Impossible
from bonebench.figures import Figure, basis
from bonebench.said import said
from bonebench.science import baths as science
from bonebench.science.baths import heat
from bonebench.science.baths.decay import (
    K20,
    Q10,
    Load,
    days_to_floor,
    half_life_days,
    known_load,
    oxygen_l_per_day,
    rate_per_day,
    strength_after,
)
from bonebench.science.baths.life import cost_each_minor, life, way_out
from bonebench.science.baths.runaway import self_heating
from bonebench.science.baths.titration import GUIDE, NORMALITY_OFF, READING_ML, SAMPLE_OFF, By
from bonebench.science.baths.vessel import closed_lid_bar
from bonebench.services.baths.cautions import mix_cautions
from bonebench.services.baths.keep import mass_fraction
from bonebench.services.baths.workcards import (
    BlendCard,
    DecayCard,
    TitrateCard,
    TopUpWorkCard,
)
from bonebench.services.baths.working.lines import fact, reach, warm_or_room
from bonebench.services.cards import Fact, Flag
from bonebench.services.known import Known
from bonebench.units import (
    read_days,
    read_number,
    read_volume,
)

# How long a skull stays where nobody said: a room at 3 % takes 1 to 3 days. Common practice, no source.
USUAL_STAY_DAYS = 2.0


def blend(known: Known, *, a: str, b: str, target: str, total: str, temperature: str | None = None) -> BlendCard:
    """Say what to put together of two solutions to get a third."""
    warm = warm_or_room(temperature)
    a_w, b_w, wanted = (mass_fraction(text, warm) for text in (a, b, target))
    made = science.blend(a_w, b_w, wanted, total_l=read_volume(total), temperature_c=warm)
    return BlendCard(
        title=said(
            "work.blend",
            "{total:volume} at {strength:strength} from {a:strength} and {b:strength}",
            total=made.total_l,
            strength=wanted,
            a=made.a_w,
            b=made.b_w,
        ),
        a_kg=made.a_kg,
        b_kg=made.b_kg,
        a_l=made.a_l,
        b_l=made.b_l,
        strength=made.strength_w,
        total_l=made.total_l,
        steps=(
            said(
                "work.blend.weak",
                "Put {volume:volume} ({mass:mass}) of the weaker one, {strength:strength}, into the tub",
                volume=made.b_l,
                mass=made.b_kg,
                strength=made.b_w,
            ),
            said(
                "work.blend.strong",
                "Add {volume:volume} ({mass:mass}) of the stronger one, {strength:strength}, slowly",
                volume=made.a_l,
                mass=made.a_kg,
                strength=made.a_w,
            ),
            said(
                "mix.stir",
                "Stir with plastic or glass; this makes {volume:volume} at {strength:strength}",
                volume=made.total_l,
                strength=wanted,
            ),
        ),
        facts=(
            fact(
                "work.blend.contraction",
                "The volumes do not quite add up",
                "{less:volume} less than its parts",
                less=made.contraction_l,
            ),
        ),
        basis=science.BASIS,
        cautions=mix_cautions(known, stock_w=made.a_w, target_w=wanted, temperature_c=warm, mass_kg=made.mass_kg),
    )


def top_up(
    known: Known, *, volume: str, strength: str, stock: str, target: str, largest: str, temperature: str | None = None
) -> TopUpWorkCard:
    """Say what brings a used bath back up without overfilling its vessel."""
    warm = warm_or_room(temperature)
    bath_w, stock_w, wanted = (mass_fraction(text, warm) for text in (strength, stock, target))
    made = science.top_up(
        bath_l=read_volume(volume),
        bath_w=bath_w,
        stock_w=stock_w,
        target_w=wanted,
        largest_l=read_volume(largest),
        temperature_c=warm,
    )
    steps = []
    if made.take_out_l > 0:
        steps.append(
            said(
                "work.top_up.out",
                "Take {volume:volume} of the bath out; let it stand open, it still gives off oxygen",
                volume=made.take_out_l,
            )
        )
    steps.append(
        said(
            "work.top_up.add",
            "Add {volume:volume} ({mass:mass}) of stock, slowly, stirring with plastic or glass",
            volume=made.stock_l,
            mass=made.stock_kg,
        )
    )
    steps.append(said("work.top_up.write", "Write on the tub: topped up to {strength:strength}, today's date", strength=wanted))
    return TopUpWorkCard(
        title=said("work.top_up", "back to {strength:strength}", strength=wanted),
        take_out_l=made.take_out_l,
        stock_kg=made.stock_kg,
        stock_l=made.stock_l,
        volume_l=made.volume_l,
        strength=wanted,
        naive_stock_l=made.naive_stock_l,
        steps=tuple(steps),
        facts=(
            fact(
                "work.top_up.after",
                "The bath afterwards",
                "{volume:volume} at {strength:strength}",
                volume=made.volume_l,
                strength=wanted,
            ),
            fact(
                "work.top_up.naive",
                "Counting by volume alone",
                "{volume:volume} of stock, and no thought of the brim",
                volume=made.naive_stock_l,
            ),
        ),
        basis=science.BASIS,
        flags=(
            Flag(
                said("work.top_up.old", "fat, protein and salts of the used bath stay in it"),
                said("work.top_up.old.next", "after three times of topping up, mix it anew (common practice, no source)"),
            ),
        ),
        cautions=mix_cautions(known, stock_w=stock_w, target_w=wanted, temperature_c=warm, mass_kg=made.volume_l),
    )


def titrate(
    known: Known,
    *,
    sample: str,
    normality: str,
    used: str,
    dilution: str | None = None,
    blank: str | None = None,
    by: str | None = None,
    temperature: str | None = None,
    stock: str | None = None,
) -> TitrateCard:
    """Say how strong a bath is by a titration, with the arithmetic."""
    warm = warm_or_room(temperature)
    method: By = "iodometric" if by == "iodometric" else "permanganate"
    if by not in (None, "", "iodometric", "permanganate"):
        raise Impossible("titration.by", "'{by}' is no titration known here: it is permanganate or iodometric", by=by)
    readings = science.Readings(
        sample_ml=read_number(sample, "sample", "mL"),
        used_ml=read_number(used, "volume used", "mL"),
        normality=read_number(normality, "normality", "N"),
        dilution=read_number(dilution, "thinning") if dilution else 1.0,
        blank_ml=read_number(blank, "blank", "mL") if blank else 0.0,
    )
    stock_w = mass_fraction(stock, warm) if stock else None
    found = science.titrate(readings, warm, by=method, stock_w=stock_w)
    check = said("work.titrate.check", "titrate once more before you lean on it")
    return TitrateCard(
        title=said(
            "work.titrate", "{low:strength} to {high:strength} by weight", low=found.strength_w.low, high=found.strength_w.high
        ),
        w_v_percent=found.w_v_percent.value,
        w_w_percent=100 * found.strength_w.value,
        volumes=found.volumes,
        mol_per_l=found.mol_per_l,
        strength=found.strength_w.value,
        low=found.strength_w.low,
        high=found.strength_w.high,
        by=method,
        steps=tuple(
            said(f"titration.guide.{method}.{n}", line, sample=f"{readings.sample_ml:g}") for n, line in enumerate(GUIDE[method], 1)
        ),
        facts=(
            *(Fact(said(f"work.titrate.line{n}.label", f"Line {n}"), line) for n, line in enumerate(found.lines, 1)),
            reach("work.titrate.w", "By weight (w/w)", found.strength_w, "strength"),
            fact(
                "work.titrate.vol",
                "In the other notations",
                "{wv} % w/v, {vol} volumes, {mol} mol/L",
                wv=f"{found.w_v_percent.value:.3g}",
                vol=f"{found.volumes:.3g}",
                mol=f"{found.mol_per_l:.3g}",
            ),
        ),
        basis=(
            basis("titration.drop", READING_ML),
            basis("titration.normality", NORMALITY_OFF),
            basis("titration.sample", SAMPLE_OFF),
        ),
        flags=tuple(Flag(flag, check) for flag in found.flags),
        cautions=mix_cautions(
            known, stock_w=found.strength_w.value, target_w=found.strength_w.value, temperature_c=warm, mass_kg=1.0
        ),
    )


def decay(
    known: Known,
    *,
    strength: str,
    days: str,
    temperature: str | None = None,
    load: str | None = None,
    volume: str | None = None,
    stock: str | None = None,
    at_once: str | None = None,
    stay: str | None = None,
    price: str | None = None,
) -> DecayCard:
    """Say how strong a bath probably is after some days, how it goes on, what it serves and costs, and how it goes out."""
    warm = warm_or_room(temperature)
    at_first, passed = mass_fraction(strength, warm), read_days(days)
    what = known_load(load or "bone")
    rate = rate_per_day(what, warm)
    left = strength_after(at_first, passed, rate)
    litres = read_volume(volume) if volume else 10.0
    mass = litres * science.density(left.value, warm) / 1000
    gas = oxygen_l_per_day(left.value, mass, rate)
    out = way_out(left, mass, rate)
    half, floor = half_life_days(rate), _to_floor(left, rate)
    heating = self_heating(
        mass_kg=mass, strength_w=left.value, rate20_per_day=K20[what].high, loss_w_per_k=_tub_loss(litres), air_c=min(warm, 45.0)
    )
    flags = [
        Flag(
            said("work.decay.age", "this rests on age, warmth and load alone; it is not checked in your room"),
            said("work.decay.age.next", "test it: a titration moves these figures to your own tub"),
        )
    ]
    if heating.verdict != "settles":
        flags.append(
            Flag(
                said("work.decay.warms", "at its fastest this bath {verdict}", verdict=heating.verdict),
                said("work.decay.warms.next", "keep it below 30 °C, nothing but clean bone in it, and look after an hour"),
            )
        )
    return DecayCard(
        title=said(
            "work.decay", "after {days:days} probably {low:strength} to {high:strength}", days=passed, low=left.low, high=left.high
        ),
        strength=left.value,
        strength_low=left.low,
        strength_high=left.high,
        half_life_days=half.value,
        oxygen_l_per_day=gas.value,
        days_to_floor_low=floor.low,
        days_to_floor_high=floor.high,
        facts=(
            reach("work.decay.left", "Strength left", left, "strength"),
            reach("work.decay.half", "Half gone in", half, "days"),
            reach("work.decay.floor", "From then on, down to 1.5 % in", floor, "days"),
            reach("work.decay.gas", "Oxygen in a day from {volume}".replace("{volume}", f"{litres:g} L"), gas, "volume"),
            fact(
                "work.decay.lid",
                "A tight lid over 2 L of air would hold in a day",
                "{bar} bar: never close it",
                bar=f"{closed_lid_bar(gas.value, 2.0, 1.0):.2g}",
            ),
            *_served(at_first, litres, warm, what, stock, at_once, stay, price),
            reach("work.decay.open", "To stand open before it goes out, about", out.open_days, "days"),
        ),
        steps=out.steps,
        basis=(basis(f"peroxide.decay_{what}", K20[what]), basis("peroxide.decay_warmth", Q10)),
        flags=tuple(flags),
        cautions=mix_cautions(known, stock_w=at_first, target_w=at_first, temperature_c=warm, mass_kg=mass),
    )


def _to_floor(left: Figure, rate: Figure) -> Figure:
    """Days to the floor: what is weakest lost fastest, and goes on so."""
    usual = days_to_floor(left.value, rate)
    low, high = days_to_floor(left.low, rate).low, days_to_floor(left.high, rate).high
    return Figure(usual.value, min(low, usual.value), max(high, usual.value), usual.unit, usual.standing, usual.source)


def _served(  # noqa: PLR0917  the answers of one form, one after the other
    strength_w: float,
    litres: float,
    warm: float,
    load: Load,
    stock: str | None,
    at_once: str | None,
    stay: str | None,
    price: str | None,
) -> Iterable[Fact]:
    """What a bath serves from fresh to its floor, and what that makes each skull cost."""
    if stock is None:
        return
    mixed = science.dilute(mass_fraction(stock, warm), strength_w, litres, warm)
    number, each = read_number(at_once, "skulls at once") if at_once else 1.0, read_days(stay) if stay else USUAL_STAY_DAYS
    served = life(
        strength_w=strength_w, stock_kg=mixed.stock_kg, temperature_c=warm, at_once=int(number), days_each=each, load=load
    )
    yield fact(
        "work.decay.serves",
        "Skulls it serves, from fresh to 1.5 %",
        "{low} to {high}, most likely {usual}",
        low=f"{served.skulls.low:.0f}",
        high=f"{served.skulls.high:.0f}",
        usual=f"{served.skulls.value:.0f}",
    )
    yield reach("work.decay.stock", "Stock for each skull", served.stock_kg_each, "mass")
    if price is not None:
        cheap, usual, dear = cost_each_minor(served, round(100 * read_number(price, "price of a kilogram of stock")))
        yield fact(
            "work.decay.cost",
            "Stock money for each skull",
            "{low} to {high}, most likely {usual}",
            low=f"{cheap / 100:.2f}",
            high=f"{dear / 100:.2f}",
            usual=f"{usual / 100:.2f}",
        )


def _tub_loss(litres: float) -> float:
    """Heat that a bare plastic tub lets go for each degree: a cube's five walls and its open top."""
    side = (litres / 1000) ** (1 / 3)
    return float(heat.WALL_U.value * 5 * side**2 + heat.OPEN_H.value * side**2)
