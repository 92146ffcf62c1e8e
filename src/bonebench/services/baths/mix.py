"""Mix a bath, or turn a strength into another notation; never without the cautions that belong to it."""

from collections.abc import Iterable

from bonebench.errors import Impossible, InputError, UnknownName
from bonebench.reference.cautions import load_cautions
from bonebench.said import Said, number, said
from bonebench.science import baths
from bonebench.services.baths.cards import ConvertCard, MixCard
from bonebench.services.cards import Flag
from bonebench.shop.cautions import for_mix
from bonebench.units import Notation, WrittenStrength, read_parts, read_strength, read_temperature, read_volume

ROOM_TEMPERATURE_C = 20.0


def mix(*, stock: str, target: str | None = None, parts: str | None = None, volume: str, temperature: str | None = None) -> MixCard:
    """Return what to pour for a bath of so much volume: to a target strength, or by parts of stock and water."""
    if (target is None) == (parts is None):
        raise Impossible("bath.goal", "a mix needs either a target strength or parts of stock and water, one of the two")
    temperature_c = read_temperature(temperature) if temperature else ROOM_TEMPERATURE_C
    written_stock = read_strength(stock)
    stock_w = _mass_fraction(written_stock, temperature_c)
    volume_l = read_volume(volume)
    written = [(stock, written_stock)]
    if target is not None:
        written_target = read_strength(target)
        written.append((target, written_target))
        result = baths.dilute(stock_w, _mass_fraction(written_target, temperature_c), volume_l, temperature_c)
    else:
        a, b = read_parts(parts or "")
        result = baths.dilute_by_parts(stock_w, a, b, volume_l=volume_l, temperature_c=temperature_c)
    return MixCard(
        stock=stock_w,
        strength=result.strength_w,
        volume_l=volume_l,
        temperature_c=temperature_c,
        stock_kg=result.stock_kg,
        stock_l=result.stock_l,
        water_kg=result.water_kg,
        water_l=result.water_l,
        density_kg_m3=result.density_kg_m3,
        naive_stock_l=result.naive_stock_l,
        naive_strength=result.naive_strength,
        strength_w_v_percent=100 * baths.from_mass_fraction(result.strength_w, "w/v", temperature_c),
        strength_volumes=baths.from_mass_fraction(result.strength_w, "vol", temperature_c),
        oxygen_l=result.oxygen_l,
        heat_rise_k=result.heat_rise_k,
        boils=result.boils,
        steps=_pours(result),
        basis=baths.BASIS,
        flags=(*_bare_percents(written, temperature_c), *_simple_rule(result, by_parts=target is None)),
        cautions=for_mix(
            load_cautions(),
            stock_w=stock_w,
            target_w=result.strength_w,
            temperature_c=temperature_c,
            oxygen_l=result.oxygen_l,
            heat_rise_k=result.heat_rise_k,
            boils=result.boils,
        ),
    )


def _mass_fraction(written: WrittenStrength, temperature_c: float) -> float:
    return baths.to_mass_fraction(written.amount, written.notation, temperature_c)


def _pours(result: baths.Dilution) -> tuple[Said, ...]:
    """The pours in the order of the hand: water first, then peroxide into it, then by weight if there is a scale."""
    return (
        said("mix.guard", "Goggles and gloves on, eyes' wash water at hand, tub clean and free of metal"),
        said("mix.water", "Pour {water:volume} of water ({mass:mass}) into the tub", water=result.water_l, mass=result.water_kg),
        said(
            "mix.stock", "Add {stock:volume} of stock ({mass:mass}) to the water, slowly, never water to the stock",
            stock=result.stock_l, mass=result.stock_kg,
        ),
        said("mix.stir", "Stir with plastic or glass; this makes {volume:volume} at {strength:strength}", volume=result.volume_l,
             strength=result.strength_w),
        said("mix.label", "Label the tub: peroxide {strength:strength}, today's date, your name", strength=result.strength_w),
        said("mix.leave", "Close the stock with its vented cap; leave the tub's lid loose, it gives off oxygen"),
    )  # fmt: skip


def _bare_percents(written: Iterable[tuple[str, WrittenStrength]], temperature_c: float) -> Iterable[Flag]:
    """Say which reading of a bare percent was taken, and what the other one would mean."""
    for text, strength in written:
        if not strength.stated:
            yield Flag(
                said(
                    "mix.bare_percent",
                    "'{text}' was read as percent by weight (w/w); read as weight in volume it would be {other}",
                    text=text.strip(),
                    other=_other_reading(strength.amount, temperature_c),
                ),
                said(
                    "mix.bare_percent.next", "look on the bottle; for percent by volume of solution write w/v, for oxygen write vol"
                ),
            )


def _other_reading(amount: float, temperature_c: float) -> str:
    try:
        return f"{number(100 * baths.to_mass_fraction(amount, 'w/v', temperature_c))} % by weight"
    except InputError:
        return "more than there is"


def _simple_rule(result: baths.Dilution, *, by_parts: bool) -> Iterable[Flag]:
    off = result.naive_strength - result.strength_w
    if by_parts:
        yield Flag(
            said(
                "mix.parts", "counted by volume alone this looks like {naive:strength}; by weight it is {strength:strength}",
                naive=result.naive_strength, strength=result.strength_w,
            ),
            said("mix.parts.next", "the stock is heavier than water; write the true strength on the tub"),
        )  # fmt: skip
    elif abs(off) > 0.0005:
        yield Flag(
            said(
                "mix.simple", "the simple rule of volumes pours {stock:volume} of stock and gives {naive:strength}",
                stock=result.naive_stock_l, naive=result.naive_strength,
            ),
            said("mix.simple.next", "pour by weight, or by the litres given here"),
        )  # fmt: skip


def convert(*, strength: str, to: Notation, temperature: str | None = None) -> ConvertCard:
    """Return a strength in another notation."""
    temperature_c = read_temperature(temperature) if temperature else ROOM_TEMPERATURE_C
    written = read_strength(strength)
    mass_fraction = _mass_fraction(written, temperature_c)
    amount = baths.from_mass_fraction(mass_fraction, to, temperature_c)
    value = 100 * amount if to in ("w/w", "w/v") else amount
    unit = {"w/w": "% w/w", "w/v": "% w/v", "vol": "vol", "mol/L": "mol/L"}[to]
    text = f"{value:.3g}"
    return ConvertCard(
        value=value,
        unit="percent" if to in ("w/w", "w/v") else to,
        strength=mass_fraction,
        temperature_c=temperature_c,
        said=said("bath.convert", "{given} is {value} {unit} at {temperature:temperature}", given=strength.strip(), value=text,
                  unit=unit, temperature=temperature_c),
        basis=baths.BASIS,
        flags=tuple(_bare_percents([(strength, written)], temperature_c)),
        cautions=for_mix(
            load_cautions(), stock_w=mass_fraction, target_w=mass_fraction, temperature_c=temperature_c,
            oxygen_l=baths.oxygen_l(mass_fraction, 1.0), heat_rise_k=baths.heat_rise_k(mass_fraction), boils=False,
        ),
    )  # fmt: skip


NOTATIONS: tuple[Notation, ...] = ("w/w", "w/v", "vol", "mol/L")


def read_notation(text: str) -> Notation:
    """Read which notation is wanted."""
    for notation in NOTATIONS:
        if text.strip().casefold().lstrip("%").strip() == notation.casefold():
            return notation
    raise UnknownName(
        "bath.notation", "'{text}' is no way to write a strength; it is one of w/w, w/v, vol, mol/L", could_be=NOTATIONS, text=text
    )
