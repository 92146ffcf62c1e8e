"""How strong a bath is, by permanganate or by iodine; with the arithmetic shown line by line.

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
from bonebench.science.baths.density import STRONGEST_W, density
from bonebench.science.baths.strength import MOLAR_MASS, VOLUME_STRENGTH, from_mass_fraction, to_mass_fraction
from bonebench.units import Notation

By = Literal["permanganate", "iodometric"]
BYS: tuple[By, ...] = get_args(By)

# Half the molar mass: two electrons for each peroxide.
MG_PER_ML_NORMAL = MOLAR_MASS.value / 2
READING_ML = Figure(0.05, 0.02, 0.1, "mL", Standing.PRACTICE, "one drop of a burette, each way: common practice, no source")
NORMALITY_OFF = Figure(0.01, 0.005, 0.03, "share", Standing.PRACTICE, "standardised that day: common practice, no source")
SAMPLE_OFF = Figure(0.01, 0.005, 0.03, "share", Standing.PRACTICE, "pipette or good syringe: common practice, no source")
LARGEST_ML = 1000.0
# Below the first a drop is more than one in a hundred; above the second a common burette is filled again.
LITTLE_ML, FULL_BURETTE_ML = 5.0, 50.0


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
        The arithmetic, line by line; the values of each stand in it under their own names.
    flags : tuple of Said
        What is odd about it: stored all the same, and to be looked at.
    notes : tuple of Said
        What the range leaves out.
    """

    w_v_percent: Figure
    strength_w: Figure
    volumes: float
    mol_per_l: float
    lines: tuple[Said, ...]
    flags: tuple[Said, ...]
    notes: tuple[Said, ...] = ()


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
    is less disturbed. Ranges add drop, normality, sample and, where the bath was thinned, the thinning as squares.

    References
    ----------
    .. [1] Pharmacopoeia-style assay: 1 mL of 0.1 N permanganate takes 1.701 mg of peroxide (as read).
    .. [2] Reichert J.S., McNeight S.A., Rudel H.W. 1939. Ind. Eng. Chem. Anal. Ed. 11:194-197 (the shortcut by volumes, and that
       organic matter eats permanganate).
    """
    if by not in BYS:
        raise Impossible("titration.by", "'{by}' is no titration known here: it is permanganate or iodometric", by=by)
    _check(readings)
    net = readings.used_ml - readings.blank_ml
    taken = max(net, 0.0)
    mg = taken * readings.normality * MG_PER_ML_NORMAL
    grams = mg * readings.dilution / readings.sample_ml / 10
    spread = _spread(readings, grams)
    w_v = Figure(grams, max(grams - spread, 0.0), grams + spread, "% w/v", Standing.ROOM, f"titrated by {by}")
    strength = _by_weight(w_v, temperature_c)
    too_much = grams / 100 > from_mass_fraction(STRONGEST_W, "w/v", temperature_c)
    volumes, mol = (from_mass_fraction(strength.value, notation, temperature_c) for notation in _OTHERS)
    return Titrated(
        w_v_percent=w_v,
        strength_w=strength,
        volumes=volumes,
        mol_per_l=mol,
        lines=_lines(readings, net, mg, grams) + (() if too_much else _notations(grams, strength.value, temperature_c)),
        flags=_flags(readings, strength, stock_w, temperature_c, too_much=too_much),
        notes=_notes(readings, by),
    )


_OTHERS: tuple[Notation, Notation] = ("vol", "mol/L")


def _spread(readings: Readings, grams: float) -> float:
    """How far off, each way, in grams in 100 mL: one drop at each reading of the burette, and the shares of all else."""
    readings_taken = math.sqrt(2 if readings.blank_ml else 1)
    drop = READING_ML.value * readings_taken * readings.normality * MG_PER_ML_NORMAL * readings.dilution / readings.sample_ml / 10
    thinning = SAMPLE_OFF.value if readings.dilution > 1 else 0.0
    return math.hypot(grams * math.hypot(NORMALITY_OFF.value, SAMPLE_OFF.value, thinning), drop)


def _by_weight(w_v: Figure, temperature_c: float) -> Figure:
    """Turn % w/v with its range into mass fraction; an end past what the density table holds stays at its end."""
    most = 100 * from_mass_fraction(STRONGEST_W, "w/v", temperature_c)
    value, low, high = (
        STRONGEST_W if grams >= most else to_mass_fraction(grams / 100, "w/v", temperature_c)
        for grams in (w_v.value, w_v.low, w_v.high)
    )
    return Figure(value, low, high, "w/w", w_v.standing, w_v.source)


def times_thinned(drawn_ml: float, made_up_to_ml: float) -> float:
    """How many times a bath is thinned by making a measured part of it up to a flask's mark.

    Parameters
    ----------
    drawn_ml : float
        Bath drawn, above 0. [mL]
    made_up_to_ml : float
        The flask, no smaller. [mL]

    Returns
    -------
    float
        Times, 1 or more; 10 mL made up to 250 mL is 25. [1]

    Raises
    ------
    OutsideRange
        If nothing was drawn, or the flask holds less than what was drawn.
    """
    if not 0 < drawn_ml <= made_up_to_ml < math.inf:
        raise OutsideRange(
            "titration.flask",
            "{drawn} mL made up to {flask} mL cannot be: some bath is drawn, and the flask holds at least as much",
            drawn=f"{drawn_ml:g}", flask=f"{made_up_to_ml:g}",
        )  # fmt: skip
    return made_up_to_ml / drawn_ml


def most_used_ml(readings: Readings, stock_w: float, temperature_c: float) -> float:
    """How much the undiluted stock itself would use, in place of the bath: no bath made from it can use more.

    Parameters
    ----------
    readings : Readings
        Sample, normality and thinning; what was used is not looked at, the blank is added.
    stock_w : float
        Mass fraction of the stock, 0 to 0.70. [kg/kg]
    temperature_c : float
        Of the sample, 0 to 50. [degC]

    Returns
    -------
    float
        Volume used. [mL]

    Raises
    ------
    OutsideRange
        If a reading, the stock or the temperature lies outside its range.
    """
    _check(readings)
    mg_per_ml = from_mass_fraction(stock_w, "w/v", temperature_c) * 1000 / readings.dilution
    return mg_per_ml * readings.sample_ml / (readings.normality * MG_PER_ML_NORMAL) + readings.blank_ml


def _plain(value: float) -> str:
    return number(value, 5)


def _lines(readings: Readings, net: float, mg: float, grams: float) -> tuple[Said, ...]:
    lines = [
        said("titration.net", "used less blank: {used} mL - {blank} mL = {net} mL", used=_plain(readings.used_ml),
             blank=_plain(readings.blank_ml), net=_plain(net)),
        said("titration.mg", "peroxide in the part titrated: {net} mL x {normality} N x {each} mg = {mg} mg",
             net=_plain(max(net, 0.0)), normality=_plain(readings.normality), each=_plain(MG_PER_ML_NORMAL), mg=_plain(mg)),
    ]  # fmt: skip
    if readings.dilution != 1:
        lines.append(
            said("titration.thinned", "the bath was thinned {times} times: {sample} mL of that is {own} mL of bath",
                 times=_plain(readings.dilution), sample=_plain(readings.sample_ml),
                 own=_plain(readings.sample_ml / readings.dilution))
        )  # fmt: skip
    lines.append(
        said("titration.gram", "in 100 mL of bath: {mg} mg x {times} / {sample} mL / 10 = {grams} g, that is {grams} % w/v",
             mg=_plain(mg), times=_plain(readings.dilution), sample=_plain(readings.sample_ml), grams=_plain(grams))
    )  # fmt: skip
    return tuple(lines)


def _notations(grams: float, strength_w: float, temperature_c: float) -> tuple[Said, ...]:
    """The lines that lead from % w/v to the other notations."""
    kg_per_l = density(strength_w, temperature_c) / 1000
    mol = grams * 10 / MOLAR_MASS.value
    return (
        said("titration.weight", "by weight: {grams} % w/v / {density} kg/L at {temperature:temperature} = {percent} % w/w",
             grams=_plain(grams), density=_plain(kg_per_l), temperature=temperature_c, percent=_plain(100 * strength_w)),
        said("titration.mol", "in a litre: {grams} x 10 g / {mass} g/mol = {mol} mol", grams=_plain(grams),
             mass=_plain(MOLAR_MASS.value), mol=_plain(mol)),
        said("titration.volumes", "volumes of oxygen: {mol} mol/L x {each} = {volumes}", mol=_plain(mol),
             each=_plain(VOLUME_STRENGTH.value), volumes=_plain(mol * VOLUME_STRENGTH.value)),
    )  # fmt: skip


def _notes(readings: Readings, by: By) -> tuple[Said, ...]:
    notes = [
        said("titration.note.range", "the range counts one drop, the normality and the pipette; not a spoilt reagent, a wrong "
             "factor or an end point that was missed: titrate twice"),
    ]  # fmt: skip
    if by == "permanganate" and readings.blank_ml == 0:
        notes.append(
            said("titration.note.no_blank", "no boiled blank was taken off: in a used bath protein and detergent eat permanganate "
                 "too, and it reads too strong by a share nobody can tell")
        )  # fmt: skip
    return tuple(notes)


def _flags(
    readings: Readings, strength: Figure, stock_w: float | None, temperature_c: float, *, too_much: bool
) -> tuple[Said, ...]:
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
    if stock_w is not None and (too_much or strength.low > stock_w):
        found.append(
            said("titration.flag.stock", "{used} mL were used, and the undiluted {stock:strength} stock itself would use only "
                 "{most} mL: check sample, thinning and normality, and take a boiled blank off", used=number(readings.used_ml, 4),
                 stock=stock_w, most=number(most_used_ml(readings, stock_w, temperature_c), 4))
        )  # fmt: skip
    if readings.used_ml == 0:
        found.append(
            said("titration.flag.none", "nothing was used: either no peroxide is left, or the acid or the sample was forgotten")
        )
    elif readings.used_ml < LITTLE_ML:
        found.append(
            said("titration.flag.little", "less than {little} mL was used, so one drop counts for much: draw more bath or thin it "
                 "less", little=f"{LITTLE_ML:g}")
        )  # fmt: skip
    elif readings.used_ml > FULL_BURETTE_ML:
        found.append(
            said("titration.flag.much", "more than {full} mL was used, a burette filled twice: draw less bath or thin it more",
                 full=f"{FULL_BURETTE_ML:g}")
        )  # fmt: skip
    return tuple(found)


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
