"""How strong a bath is, by permanganate, by iodine, or by a strip; with the arithmetic shown line by line.

Permanganate: 2 MnO4- + 5 H2O2 + 6 H+ -> 2 Mn2+ + 5 O2 + 8 H2O, so 1 mL of 0.1 N takes 1.701 mg of peroxide. Iodine: peroxide sets
iodine free from iodide and 2 thiosulfate take it up again, so 1 mL of 0.1 N thiosulfate stands for the same 1.701 mg.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.said import Said, number, said
from bonebench.science.baths.density import STRONGEST_W
from bonebench.science.baths.strength import MOLAR_MASS, from_mass_fraction, to_mass_fraction

By = Literal["permanganate", "iodometric"]
BYS: tuple[By, ...] = get_args(By)

# Half the molar mass: two electrons for each peroxide.
MG_PER_ML_NORMAL = MOLAR_MASS.value / 2
READING_ML = Figure(0.05, 0.02, 0.1, "mL", Standing.PRACTICE, "one drop of a burette, each way: common practice, no source")
NORMALITY_OFF = Figure(0.01, 0.005, 0.03, "share", Standing.PRACTICE, "standardised that day: common practice, no source")
SAMPLE_OFF = Figure(0.01, 0.005, 0.03, "share", Standing.PRACTICE, "pipette or good syringe: common practice, no source")
LARGEST_ML = 1000.0


@dataclass(frozen=True, slots=True)
class Titrated:
    """What a titration says.

    Attributes
    ----------
    w_v_percent : Figure
        Grams in 100 mL of bath, with its range. [% w/v]
    strength_w : Figure
        Mass fraction. [w/w]
    volumes, mol_per_l : float
        The same in the other notations.
    lines : tuple of Said
        The arithmetic, line by line.
    flags : tuple of Said
        What is odd about it: stored all the same, and to be looked at.
    """

    w_v_percent: Figure
    strength_w: Figure
    volumes: float
    mol_per_l: float
    lines: tuple[Said, ...]
    flags: tuple[Said, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """What was measured.

    Attributes
    ----------
    sample_ml : float
        Bath that was drawn, above 0. [mL]
    used_ml : float
        Permanganate or thiosulfate used, 0 or more. [mL]
    normality : float
        Its normality, above 0; 0.02 M permanganate is 0.1 N. [equiv/L]
    dilution : float
        How many times the bath was thinned before the part that was titrated, 1 or more: 10 mL made up to 250 mL is 25. Then
        ``sample_ml`` is the part drawn from the thinned bath.
    blank_ml : float
        Used by a boiled bath, which has no peroxide left, 0 or more. [mL]
    """

    sample_ml: float
    used_ml: float
    normality: float
    dilution: float = 1.0
    blank_ml: float = 0.0


def _check(readings: Readings) -> None:
    limits = (
        ("sample", readings.sample_ml, 0.0, LARGEST_ML, "mL"),
        ("normality", readings.normality, 0.0, 10.0, "N"),
    )
    for name, value, low, high, unit in limits:
        if not low < value <= high:
            raise OutsideRange(
                f"titration.{name}", "the {name} is {value} {unit}; it must be above {low} and at most {high} {unit}",
                name=name, value=f"{value:g}", unit=unit, low=f"{low:g}", high=f"{high:g}",
            )  # fmt: skip
    for name, value in (("volume used", readings.used_ml), ("blank", readings.blank_ml)):
        if not 0 <= value <= LARGEST_ML:
            raise OutsideRange(
                "titration.used", "the {name} is {value} mL; it must be 0 or more and at most {high} mL: read the burette again",
                name=name, value=f"{value:g}", high=f"{LARGEST_ML:g}",
            )  # fmt: skip
    if not 1 <= readings.dilution <= 1e5:
        raise OutsideRange(
            "titration.dilution", "the bath was thinned {times} times; it is 1 when it was not thinned and more when it was",
            times=f"{readings.dilution:g}",
        )  # fmt: skip


def titrate(readings: Readings, temperature_c: float, *, by: By = "permanganate", stock_w: float | None = None) -> Titrated:
    """Strength of a bath from a titration.

    Parameters
    ----------
    readings : Readings
        What was measured.
    temperature_c : float
        Of the sample, 0 to 50; it turns weight in volume into weight in weight. [degC]
    by : {"permanganate", "iodometric"}, optional
        With what; both take two equivalents for each peroxide.
    stock_w : float or None, optional
        Mass fraction of the stock the bath was mixed from, to see whether the result can be. [kg/kg]

    Returns
    -------
    Titrated
        The strength with its range, the arithmetic and what is odd.

    Raises
    ------
    OutsideRange
        If a reading is negative, the sample or the normality 0, or the temperature outside 0..50 degC.
    Impossible
        If it is titrated by nothing known.

    Notes
    -----
    Dissolved protein and detergent eat permanganate too, so a used bath reads too strong unless a boiled blank is taken off; iodine
    is less disturbed. Ranges add drop, normality and sample as squares.

    References
    ----------
    .. [1] Pharmacopoeia-style assay: 1 mL of 0.1 N permanganate takes 1.701 mg of peroxide (as read, see docs/sources.md R11, R12).
    """
    if by not in BYS:
        raise Impossible("titration.by", "'{by}' is no titration known here: it is permanganate or iodometric", by=by)
    _check(readings)
    net = readings.used_ml - readings.blank_ml
    taken = max(net, 0.0)
    mg = taken * readings.normality * MG_PER_ML_NORMAL
    grams_per_100 = mg * readings.dilution / readings.sample_ml / 10
    off = math.hypot(NORMALITY_OFF.value, SAMPLE_OFF.value)
    drop = READING_ML.value * math.sqrt(2 if readings.blank_ml else 1) * grams_per_100 / taken if taken > 0 else _one_drop(readings)
    spread = math.hypot(grams_per_100 * off, drop)
    ends = (max(grams_per_100 - spread, 0.0), grams_per_100, grams_per_100 + spread)
    too_much = ends[2] / 100 >= from_mass_fraction(STRONGEST_W, "w/v", temperature_c)
    weights = (
        [min(to_mass_fraction(min(g / 100, 0.85), "w/v", temperature_c), STRONGEST_W) for g in ends]
        if not too_much
        else [STRONGEST_W] * 3
    )
    strength = Figure(weights[1], weights[0], weights[2], "w/w", Standing.ROOM, f"titrated by {by}")
    return Titrated(
        w_v_percent=Figure(ends[1], ends[0], ends[2], "% w/v", Standing.ROOM, f"titrated by {by}"),
        strength_w=strength,
        volumes=from_mass_fraction(strength.value, "vol", temperature_c),
        mol_per_l=from_mass_fraction(strength.value, "mol/L", temperature_c),
        lines=_lines(readings, net, taken, mg, grams_per_100),
        flags=_flags(readings, strength, stock_w, too_much=too_much),
    )


def _one_drop(readings: Readings) -> float:
    return READING_ML.value * readings.normality * MG_PER_ML_NORMAL * readings.dilution / readings.sample_ml / 10


def _plain(value: float) -> str:
    return number(value, 5)


def _lines(readings: Readings, net: float, taken: float, mg: float, grams_per_100: float) -> tuple[Said, ...]:
    lines = [
        said("titration.net", "used less blank: {used} mL - {blank} mL = {net} mL", used=_plain(readings.used_ml),
             blank=_plain(readings.blank_ml), net=_plain(net)),
        said("titration.mg", "peroxide in the part titrated: {net} mL x {normality} N x {each} mg = {mg} mg", net=_plain(taken),
             normality=_plain(readings.normality), each=_plain(MG_PER_ML_NORMAL), mg=_plain(mg)),
    ]  # fmt: skip
    if readings.dilution != 1:
        lines.append(
            said("titration.thinned", "the bath was thinned {times} times: {sample} mL of that is {own} mL of bath",
                 times=_plain(readings.dilution), sample=_plain(readings.sample_ml),
                 own=_plain(readings.sample_ml / readings.dilution))
        )  # fmt: skip
    lines.append(
        said("titration.gram", "in 100 mL of bath: {mg} mg x {times} / {sample} mL / 10 = {grams} g, that is {grams} % w/v",
             mg=_plain(mg), times=_plain(readings.dilution), sample=_plain(readings.sample_ml), grams=_plain(grams_per_100))
    )  # fmt: skip
    return tuple(lines)


def _flags(readings: Readings, strength: Figure, stock_w: float | None, *, too_much: bool) -> tuple[Said, ...]:
    found: list[Said] = []
    if readings.blank_ml > readings.used_ml:
        found.append(
            said(
                "titration.flag.blank",
                "the blank used more than the bath itself; taken as no peroxide: boil a new blank and titrate again",
            )
        )
    if too_much:
        found.append(
            said("titration.flag.too_much", "this would be stronger than {most:strength}; check sample, thinning and normality",
                 most=STRONGEST_W)
        )  # fmt: skip
    elif stock_w is not None and strength.low > stock_w:
        found.append(
            said("titration.flag.stock", "{found:strength} is more than the stock's own {stock:strength}: check sample, thinning "
                 "and normality, and take a boiled blank off", found=strength.value, stock=stock_w)
        )  # fmt: skip
    if 0 < readings.used_ml < 5:
        found.append(
            said("titration.flag.little", "less than 5 mL was used, so one drop counts for much: draw more bath or thin it less")
        )
    return tuple(found)


# Colour fields of common strips: milligrams of peroxide in a litre. Generic; read the scale on the strip's own tube.
STRIP_FIELDS_MG_L = (0.0, 1.0, 3.0, 10.0, 30.0, 100.0)


def strip_range(low_mg_l: float, high_mg_l: float, dilution: float, temperature_c: float) -> tuple[float, float]:
    """What a strip between two of its colours says of the bath.

    Parameters
    ----------
    low_mg_l, high_mg_l : float
        The colours on either side; 0 is "no colour". [mg/L]
    dilution : float
        How many times the bath was thinned before the strip, 1 or more.
    temperature_c : float
        Of the bath, 0 to 50. [degC]

    Returns
    -------
    tuple of float, shape (2,)
        Mass fractions between which it lies. [kg/kg]

    Raises
    ------
    Impossible
        If the two colours do not rise.
    OutsideRange
        If the thinning is below 1 or the upper end passes what peroxide there is.
    """
    if not 0 <= low_mg_l < high_mg_l:
        raise Impossible("strip.order", "a strip lies between two colours that rise; {low} and {high} mg/L do not",
                         low=f"{low_mg_l:g}", high=f"{high_mg_l:g}")  # fmt: skip
    if not 1 <= dilution <= 1e5:
        raise OutsideRange("titration.dilution", "the bath was thinned {times} times; it is 1 or more",
                           times=f"{dilution:g}")  # fmt: skip
    ends = [to_mass_fraction(mg * dilution / 1e6, "w/v", temperature_c) for mg in (low_mg_l, high_mg_l)]
    return ends[0], ends[1]


# Common acids and indicators at the bench, and what each titration needs; the words are steps for the page.
GUIDE: Mapping[By, tuple[str, ...]] = {
    "permanganate": (
        "Goggles, gloves, apron. Permanganate stains and feeds fire; keep it away from glycerin, acetone and paper.",
        "Filter the bath if it is cloudy. Draw {sample} mL with a pipette and a bulb, never by mouth.",
        "Thin it in a measured flask if it is stronger than about 0.5 %: 10 mL made up to 250 mL is 25 times.",
        "Put the part to be titrated into a flask with water and 10 mL of dilute sulfuric acid, acid into water; no other acid.",
        "Run permanganate in, cold and slowly, swirling, until a pink stays for 30 seconds. Read the burette.",
        "Boil another part of the same bath for ten minutes and titrate it the same way: that is the blank.",
        "Tip the flasks into a basin with water; ask the local authority where manganese and acid may go.",
    ),
    "iodometric": (
        "Goggles and gloves. Acid and iodine stain and burn.",
        "Draw {sample} mL of bath, thinned as needed, into water with 10 mL of dilute sulfuric acid: acid into water.",
        "Add about 1 g of potassium iodide and three drops of ammonium molybdate; wait five minutes in the dark.",
        "Run thiosulfate in until pale yellow, add starch, then drop by drop until the blue is gone. Read the burette.",
        "Do the same with water in place of bath: that is the blank.",
    ),
}
