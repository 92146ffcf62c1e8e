"""The door for units, held against pint (an independent library of units; it is in the test extra) as an oracle."""

from datetime import date

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench import units
from bonebench.errors import NotAQuantity, OutsideRange
from bonebench.said import said
from bonebench.units import (
    KINDS,
    Reader,
    read_area,
    read_days,
    read_length,
    read_mass,
    read_parts,
    read_power,
    read_strength,
    read_temperature,
    read_volume,
    say,
    write,
)

PINT = pint.UnitRegistry()
# What pint calls the units that we write another way; all others have the same name there.
PINT_NAME = {
    "l": "liter", "m3": "meter**3", "ml": "milliliter", "gal": "gallon", "gallons": "gallon", "qt": "quart", "quarts": "quart",
    "pt": "pint", "cups": "cup", "floz": "fluid_ounce", "lbs": "pound", "lb": "pound", "oz": "ounce", "in": "inch", "ft": "foot",
    "w": "watt", "kw": "kilowatt", "d": "day", "days": "day", "h": "hour", "hours": "hour", "min": "minute", "minutes": "minute",
    "wk": "week", "weeks": "week", "g": "gram", "m": "meter", "litres": "liter", "liters": "liter", "litre": "liter",
    "m2": "meter**2", "cm2": "centimeter**2", "ft2": "foot**2", "sqft": "foot**2", "in2": "inch**2",
}  # fmt: skip
TABLES = [
    (read_volume, units.VOLUMES, "liter"), (read_mass, units.MASSES, "kilogram"), (read_length, units.LENGTHS, "meter"),
    (read_area, units.AREAS, "meter**2"), (read_power, units.POWERS, "watt"), (read_days, units.DAYS, "day"),
]  # fmt: skip
EVERY_UNIT = [(read, unit, si) for read, table, si in TABLES for unit in table]


@pytest.mark.parametrize(("read", "unit", "si"), EVERY_UNIT)
def test_every_unit_is_what_pint_says_it_is(read, unit, si):
    # Both are exact definitions (international inch, pound; US gallon of 231 cubic inches): only rounding in binary remains.
    assert read(f"7.25 {unit}") == pytest.approx(PINT.Quantity(7.25, PINT_NAME.get(unit, unit)).to(si).magnitude, rel=1e-12)


@pytest.mark.parametrize(("unit", "pints"), [("C", "degC"), ("F", "degF"), ("K", "kelvin")])
@given(value=st.floats(300, 400))
def test_temperatures_are_what_pint_says_they_are(unit, pints, value):
    # Both work in doubles; a millionth of a degree is far below any thermometer.
    assert read_temperature(f"{value:.6f} {unit}") == pytest.approx(
        PINT.Quantity(round(value, 6), pints).to("degC").magnitude, abs=1e-6
    )


# Fixed points, exact by definition: water freezes at 32 F, absolute zero is -459.67 F = 0 K; 80 F is 26 2/3 C.
@pytest.mark.parametrize(
    ("text", "celsius"),
    [("32 F", 0), ("212F", 100), ("-40 C", -40), ("-40 F", -40), ("0 K", -273.15), ("-459.67 F", -273.15), ("80F", 80 / 3)]
)  # fmt: skip
def test_the_fixed_points_of_the_scales(text, celsius):
    assert read_temperature(text) == pytest.approx(celsius, abs=1e-9)


@pytest.mark.parametrize(
    "text", ["2 gal", "2gal", " 2  GAL ", "2 gal.", "2.0 gallons", "2,0 gal", "+2 gal", "8 qt", "256 fl oz", "256 fl. oz."]
)
def test_a_volume_may_be_written_many_ways(text):
    assert read_volume(text) == pytest.approx(7.570823568, rel=1e-9)  # 2 x 3.785411784 L, the US gallon by definition


@pytest.mark.parametrize(("text", "value"), [("26.5 °C", 26.5), ("26,5 c", 26.5), (".5 C", 0.5), ("1 m³", None)])
def test_degree_signs_commas_and_cubes_are_read(text, value):
    assert (read_volume(text), value) == (1000, None) if value is None else read_temperature(text) == value


STRENGTHS = [
    ("35%", 0.35, "w/w", False), ("35 % w/w", 0.35, "w/w", True), ("35 w/w", 0.35, "w/w", True), ("9.1% w/v", 0.091, "w/v", True),
    ("9.1 W/V", 0.091, "w/v", True), ("10 vol", 10, "vol", True), ("10 vols.", 10, "vol", True), ("20 volumes", 20, "vol", True),
    ("1 volume", 1, "vol", True), ("0.9 mol/L", 0.9, "mol/L", True), ("0.9 M", 0.9, "mol/L", True), ("0 %", 0, "w/w", False),
]  # fmt: skip


@pytest.mark.parametrize(("text", "amount", "notation", "stated"), STRENGTHS)
def test_every_notation_of_a_strength_is_read(text, amount, notation, stated):
    read = read_strength(text)
    assert (read.notation, read.stated) == (notation, stated)
    assert read.amount == pytest.approx(amount, rel=1e-12)


@pytest.mark.parametrize(("text", "parts"), [("1:1", (1, 1)), (" 1 : 10.5 ", (1, 10.5)), ("1,5:2", (1.5, 2)), ("3:0", (3, 0))])
def test_parts_of_stock_and_water_are_read(text, parts):
    assert read_parts(text) == parts


WORDS = [
    (read_volume, "ten buckets", "'ten buckets' is not a volume; write it like 10 L or 2 gal"),
    (read_volume, "", "'' is not a volume; write it like 10 L or 2 gal"),
    (read_volume, "10", "'10' has no unit I know for a volume; write it like 10 L or 2 gal"),
    (read_volume, "10 kg", "'10 kg' has no unit I know for a volume; write it like 10 L or 2 gal"),
    (read_volume, "1/2 gal", "'1/2 gal' has no unit I know for a volume; write it like 10 L or 2 gal"),
    (read_volume, "1,000 L", "'1,000 L' can be read two ways; write a point for the decimals and nothing for thousands"),
    (read_volume, "-5 L", "volume is -5 L; it cannot be that small"),
    (read_volume, "9" * 400 + " L", f"'{'9' * 400} L' is no number anybody can measure; look at its digits again"),
    (read_mass, "3 stone", "'3 stone' has no unit I know for a mass; write it like 350 g or 3 lb"),
    (read_mass, "-1 kg", "mass is -1 kg; it cannot be that small"),
    (read_length, "long", "'long' is not a length; write it like 25 mm or 1 in"),
    (read_power, "3 hp", "'3 hp' has no unit I know for a power; write it like 120 W"),
    (read_days, "soon", "'soon' is not a length of time; write it like 2d or 8h"),
    (read_days, "2 months", "'2 months' has no unit I know for a length of time; write it like 2d or 8h"),
    (read_temperature, "warm", "'warm' is not a temperature; write it like 26.5 C or 80 F"),
    (read_temperature, "-300 C", "temperature is -300 C; it cannot be that small"),
    (read_strength, "strong", "'strong' is not a strength; write it like 35 %, 9.1 % w/v, 10 vol or 0.9 mol/L"),
    (read_strength, "35", "'35' is not a strength; write it like 35 %, 9.1 % w/v, 10 vol or 0.9 mol/L"),
    (read_strength, "30% v/v", "'30% v/v' by volume is not a peroxide strength; look on the label for w/w, w/v or volumes"),
    (read_strength, "-3 %", "strength is -3 %; it cannot be that small"),
    (read_parts, "1", "'1' is not two parts; write stock and water like 1:1"),
    (read_parts, "1:2:3", "'1:2:3' is not two parts; write stock and water like 1:1"),
    (read_parts, "one:two", "'one:two' is not two parts; write stock and water like 1:1"),
    (read_parts, "1,000:1", "'1,000:1' can be read two ways; write a point for the decimals and nothing for thousands"),
    (read_parts, "nan:1", "'nan:1' is no number anybody can measure; look at its digits again"),
    (read_parts, "1:inf", "'1:inf' is no number anybody can measure; look at its digits again"),
    (read_parts, "0:1", "'0:1' needs some stock and no negative water"),
    (read_parts, "1:-1", "'1:-1' needs some stock and no negative water"),
]


@pytest.mark.parametrize(("read", "text", "words"), WORDS)
def test_what_cannot_be_read_is_refused_in_words(read, text, words):
    with pytest.raises((NotAQuantity, OutsideRange)) as refused:
        read(text)
    assert str(refused.value) == words


US, METRIC = Reader("us"), Reader("metric")


# The metric side of each is worked out with pint's factors, by hand rounded to the three digits that are shown.
@pytest.mark.parametrize(
    ("value", "kind", "us", "metric"),
    [
        (26.666667, "temperature", "80 °F", "26.7 °C"),
        (-160 / 9, "temperature", "0 °F", "-17.8 °C"), (21.0, "warming", "37.8 °F", "21 K"),
        (7.5708, "volume", "2 gal", "7.57 L"), (1.0, "volume", "1.06 qt", "1 L"), (0.05, "volume", "1.69 fl oz", "50 mL"),
        (1.36, "mass", "3 lb", "1.36 kg"), (0.41, "mass", "14.5 oz", "410 g"), (0.0254, "length", "1 in", "25.4 mm"),
        (0.03, "strength", "3 %", "3 %"), (2.0, "days", "2 days", "2 days"), (7, "", "7", "7"),
    ],
)  # fmt: skip
def test_a_reader_is_shown_the_readers_own_units(value, kind, us, metric):
    assert (write(value, kind, US), write(value, kind, METRIC)) == (us, metric)


def test_the_us_forms_are_kinds_that_a_sentence_may_hold():
    assert set(units._US_FORMS) <= set(KINDS)


@given(st.floats(0.01, 500))
def test_a_volume_written_for_a_reader_can_be_read_back(litres):
    for reader in (US, METRIC):
        # Three digits are shown, so half of one in the third: 0.5 %.
        assert read_volume(write(litres, "volume", reader)) == pytest.approx(litres, rel=0.0051)


@given(st.floats(0.001, 500), st.floats(-40, 120), st.floats(0.001, 0.9))
def test_mass_temperature_and_length_can_be_read_back(mass, celsius, metres):
    for reader in (US, METRIC):
        assert read_mass(write(mass, "mass", reader)) == pytest.approx(mass, rel=0.0051)
        # Three digits of up to 248 °F: half a degree.
        assert read_temperature(write(celsius, "temperature", reader)) == pytest.approx(celsius, abs=0.51)
        assert read_length(write(metres, "length", reader)) == pytest.approx(metres, rel=0.0051)


@given(st.floats(0, 0.7))
def test_a_strength_written_can_be_read_back(strength):
    assert read_strength(write(strength, "strength", METRIC)).amount == pytest.approx(strength, rel=0.0051)


@pytest.mark.parametrize(
    ("today", "text"),
    [(date(2026, 1, 1), "9 May"), (date(2026, 12, 31), "9 May"), (date(2025, 12, 31), "9 May 2026"), (None, "9 May 2026")],
)
def test_a_day_drops_its_year_only_when_today_shares_it(today, text):
    sentence = said("promise", "by {day:day}", day=date(2026, 5, 9))
    assert say(sentence, Reader("metric", today)) == f"by {text}"


def test_say_turns_every_hole_of_a_sentence_and_leaves_the_rest():
    sentence = said("mix", "pour {water:volume} at {warm:temperature} into {place}", water=7.5708, warm=20.0, place="Big pot")
    assert say(sentence, US) == "pour 2 gal at 68 °F into Big pot"
    assert say(sentence, METRIC) == sentence.text == "pour 7.57 L at 20 °C into Big pot"
