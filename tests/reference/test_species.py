"""The shipped species against published formulas and against themselves."""

from importlib.resources import files

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.species import load_species, read_species, standing_of
from bonebench.shop.species import Species, formula_total, head_mass, tissue_mass, written_formula

# Whole counts, so no tolerance. Each with where it was read.
DENTAL_TOTALS = [
    ("domestic-dog", 42, "R39 veterinary dentistry cards, R195, R196"),
    ("domestic-cat", 30, "R39 veterinary dentistry cards, R195, R196"),
    ("domestic-cattle", 32, "R39 veterinary dentistry cards: 0/3 0/1 3/3 3/3"),
    ("domestic-sheep", 32, "R39 veterinary dentistry cards"),
    ("european-rabbit", 28, "R31 table of British mammal dental formulas"),
    ("domestic-pig", 44, "R39 veterinary dentistry cards"),
    ("virginia-opossum", 50, "R43 New World opossum account"),
    ("raccoon", 40, "R35 Mammals of Texas, raccoon account"),
    ("black-bear", 42, "R38 mammalogy practical cards"),
    ("brown-bear", 42, "R38 mammalogy practical cards"),
    ("river-otter", 36, "R42 Encyclopaedia Britannica 11th ed., Carnivora"),
    ("bobcat", 28, "R34 Mammals of Texas, key to carnivores"),
    ("cougar", 30, "R34 Mammals of Texas, key to carnivores"),
    ("ermine", 34, "R48 Hermelin, Mustela erminea"),
    ("white-tailed-deer", 32, "R40 deer cranium figure: 0/3 0/1 3/3 3/3"),
    ("american-beaver", 20, "R45 Audubon and Bachman, genus Castor"),
    ("eastern-chipmunk", 20, "R44 USGS key to rodent skulls: one upper premolar"),
    ("eastern-gray-squirrel", 22, "R31 table of British mammal dental formulas"),
    ("fox-squirrel", 20, "Koprowski 1994, Mammalian Species 479"),
    ("short-tailed-shrew", 32, "encyclopedia page on Blarina: 32 teeth"),
    ("canada-lynx", 28, "Alaska Department of Fish and Game, caption: 28 teeth"),
]
# Ranges that were read; the horse by R39 and R31: 3/3 1/1 3-4/3 3/3 makes 40-42, mares may lack the four canines.
DENTAL_RANGES = [
    ("horse", 36, 42, "R39, R31: canines small or absent in mares, P 3-4"),
    ("polar-bear", 34, 42, "zoo veterinary reference on Ursus maritimus: p 2-4/2-4"),
    ("roe-deer", 30, 32, "Konjevic et al. 2012: I 0/3, C 0/(1), P 3/3, M 3/3"),
    ("llama", 28, 32, "Tovrea and Anderson: premolars 1-2 above and below"),
    ("nine-banded-armadillo", 28, 32, "R46: 7-8 pegs a side in each jaw"),
]
# Observed means of R29 Tsuboi et al. 2018 as printed with two or three digits, hence half a unit of the last one.
BRAINS_G = [
    ("white-tailed-deer", 151, 0.5), ("mule-deer", 163, 0.5), ("black-bear", 305, 0.5), ("coyote", 95, 0.5),
    ("gray-wolf", 130, 0.5), ("red-fox", 48.5, 0.06), ("bobcat", 62, 0.5), ("cougar", 152, 0.5), ("raccoon", 40.5, 0.06),
    ("great-horned-owl", 15.3, 0.06),
]  # fmt: skip


@pytest.fixture(scope="module")
def species() -> dict[str, Species]:
    return load_species()


@pytest.mark.parametrize(("key", "total", "source"), DENTAL_TOTALS)
def test_dental_totals_agree_with_the_published_formulas(species: dict[str, Species], key: str, total: int, source: str) -> None:
    assert species[key].total_teeth == total, source


@pytest.mark.parametrize(("key", "low", "high", "source"), DENTAL_RANGES)
def test_counts_that_vary_between_sound_skulls_carry_their_range(
    species: dict[str, Species], key: str, low: int, high: int, source: str
) -> None:
    count = species[key].teeth.count
    assert (count.low, count.high) == (low, high), source


def test_the_horse_formula_is_the_forty_tooth_one_of_the_veterinary_cards(species: dict[str, Species]) -> None:
    # R39: 3/3, 1/1, 3-4/3, 3/3; without the small upper wolf tooth that is 40.
    teeth = species["horse"].teeth
    assert teeth.formula == {"I": (3, 3), "C": (1, 1), "P": (3, 3), "M": (3, 3)}
    assert written_formula(teeth.formula) == "I3/3 C1/1 P3/3 M3/3 x2 = 40"


def test_every_formula_makes_its_total_and_is_written_as_it_counts(species: dict[str, Species]) -> None:
    # Twice the sum of one side: the arithmetic of any dental formula.
    for one in species.values():
        if one.teeth.formula is not None:
            assert formula_total(one.teeth.formula) == one.total_teeth
            assert one.teeth.written == written_formula(one.teeth.formula)


@pytest.mark.parametrize(("key", "grams", "tolerance"), BRAINS_G)
def test_brain_masses_are_the_observed_means(species: dict[str, Species], key: str, grams: float, tolerance: float) -> None:
    brain = species[key].brain_mass_kg
    assert brain is not None
    assert brain.value * 1000 == pytest.approx(grams, abs=tolerance)


def test_brains_of_deer_and_dogs_lie_within_the_scatter_of_the_fits(species: dict[str, Species]) -> None:
    # Refits of R29 (brain in g, body in g): land even-toed 0.2423 W^0.592, x/÷ 1.25; Carnivora 0.1248 W^0.667, x/÷ 1.30.
    # Twice the scatter, because single species lie outside one time the scatter one time in three.
    for key, factor, power, scatter in (
        ("white-tailed-deer", 0.2423, 0.592, 1.25), ("coyote", 0.1248, 0.667, 1.30), ("raccoon", 0.1248, 0.667, 1.30),
    ):  # fmt: skip
        one = species[key]
        assert one.brain_mass_kg is not None
        expected = factor * (one.body_mass_kg.value * 1000) ** power
        assert 1 / scatter**2 < one.brain_mass_kg.value * 1000 / expected < scatter**2


def test_a_brain_nobody_weighed_is_unknown_and_never_zero(species: dict[str, Species]) -> None:
    assert species["bighorn-sheep"].brain_mass_kg is None
    assert species["short-tailed-shrew"].zygomatic_width_m is None
    assert species["mountain-goat"].legal_flag is None


def test_raccoon_and_muskrat_skulls_hold_the_measured_specimens(species: dict[str, Species]) -> None:
    # R36: raccoon 110.9 by 67.5 mm; R37: muskrat 71.8 by 44.6 mm. Single skulls, so they only have to lie in the range.
    for key, length, width in (("raccoon", 0.1109, 0.0675), ("muskrat", 0.0718, 0.0446)):
        one = species[key]
        assert one.skull_length_m is not None
        assert one.zygomatic_width_m is not None
        assert one.skull_length_m.low <= length <= one.skull_length_m.high
        assert one.zygomatic_width_m.low <= width <= one.zygomatic_width_m.high


def test_widths_stay_below_lengths_and_tissue_below_the_head(species: dict[str, Species]) -> None:
    # A head is wider than long in none of these, and what is left of it is less than it was.
    for one in species.values():
        if one.zygomatic_width_m is not None and one.skull_length_m is not None:
            assert one.zygomatic_width_m.value < one.skull_length_m.value, one.key
        assert one.tissue_share.high < one.head_share.low, one.key


def test_deer_tissue_holds_the_chewing_muscle_that_was_weighed(species: dict[str, Species]) -> None:
    # R65 Axmacher and Hofmann 1988: masseters of both sides are 0.20 % of the body, 140 g for a 70 kg deer; tissue holds more.
    assert tissue_mass(species["white-tailed-deer"]).low > 0.140
    # 70 kg times 4-6 % (from memory) is 2.8-4.2 kg by hand at the middle mass.
    assert head_mass(species["white-tailed-deer"]).value == pytest.approx(3.5)


def test_masses_said_to_be_rounded_published_means_are(species: dict[str, Species]) -> None:
    # R28 PanTHERIA means: snowshoe hare 1.5684 kg, white-footed mouse 0.0181 kg; two digits, hence half a unit of the second.
    assert species["snowshoe-hare"].body_mass_kg.value == pytest.approx(1.5684, abs=0.05)
    assert species["white-footed-mouse"].body_mass_kg.value == pytest.approx(0.0181, abs=0.0005)


@pytest.mark.parametrize(
    ("source", "standing"),
    [
        ("R39 veterinary dentistry cards", Standing.PUBLISHED),
        ("from memory (working adult value)", Standing.MEMORY),
        ("R28 PanTHERIA mean (rounded); range from memory", Standing.MEMORY),
        ("from memory (group estimate)", Standing.ESTIMATE),
        ("common practice, no source", Standing.PRACTICE),
        ("R29 Tsuboi et al. 2018 (geometric mean of records; volume x 1.036)", Standing.DERIVED),
        ("Konjevic et al. 2012, abstract (read)", Standing.PUBLISHED),
        ("somebody said", None),
    ],
)
def test_a_source_has_the_weakest_standing_its_words_name(source: str, standing: Standing | None) -> None:
    assert standing_of(source) is standing


def test_deer_are_known_by_their_disease_and_bears_are_not(species: dict[str, Species]) -> None:
    assert species["elk"].is_cervid
    assert not species["pronghorn"].is_cervid
    assert species["wild-turkey"].is_bird
    assert species["striped-skunk"].rabies_named
    # Pseudorabies of pigs is another disease and no danger to people (from memory).
    assert not species["wild-boar"].rabies_named


def test_keys_are_plain_and_the_table_has_no_twins(species: dict[str, Species]) -> None:
    assert len(species) == 87
    assert len({one.common_name for one in species.values()}) == len(species)
    assert all(one.key == key and key.replace("-", "").isalpha() and key.islower() for key, one in species.items())


def _table(column: str, value: str) -> list[str]:
    """The first line of the shipped table with one cell changed."""
    header, first, *_ = (files("bonebench.reference") / "species.csv").read_text(encoding="utf-8").splitlines()
    assert '"' not in first.split(",")[header.split(",").index(column)]
    cells = first.split(",")
    cells[header.split(",").index(column)] = value
    return [header, ",".join(cells)]


@pytest.mark.parametrize(
    ("column", "value", "words"),
    [
        ("body_mass_kg", "heavy", "body_mass_kg: 'heavy' is not a number; leave the cell empty if it is not known"),
        ("body_mass_kg", "inf", "body_mass_kg: 'inf' is not a number; leave the cell empty if it is not known"),
        ("body_mass_kg", "", "body_mass_kg: the value or an end of its range is empty"),
        ("body_mass_kg", "500", "body_mass_kg: 500 lies outside its own range"),
        ("common_name", "", "common_name: the cell is empty, and this one is needed"),
        ("body_mass_source", "a friend", "body_mass_source: 'a friend' names neither a source nor memory nor practice"),
        ("I_lower", "2.5", "I_lower: '2.5' is not a count of teeth"),
        ("I_lower", "", "dental_formula: the formula is half filled in; give all eight counts or none"),
        ("M_upper", "4", "total_teeth: the formula makes 34 teeth, not '32'"),
        ("total_teeth_low", "33", "total_teeth_low: the range of teeth does not hold the count"),
    ],
)
def test_a_malformed_cell_is_named_with_its_line_and_column(column: str, value: str, words: str) -> None:
    lines = _table(column, value)
    if column == "total_teeth_low":
        lines = [lines[0], _table("total_teeth_high", "40")[1].replace(",32,,40,", ",32,33,40,")]
    with pytest.raises(FileFault) as fault:
        read_species(lines)
    assert str(fault.value) == f"species.csv, line 2, {words}"


def test_cells_after_the_quoted_ones_are_checked_too() -> None:
    text = (files("bonebench.reference") / "species.csv").read_text(encoding="utf-8").splitlines()
    for old, new, words in (
        ("2 moderate", "moderate", "greasiness_class: 'moderate' does not begin with a class from 1 to 5"),
        (",151.263,", ",-1,", "brain_mass_g: '-1' is not a mass; leave the cell empty if it is not known"),
        (
            ",0.5,1.1,",
            ",1.5,1.1,",
            "head_tissue_after_prep_pct_body_low: the share of the body has to rise from above 0 to below 100 %",
        ),
    ):
        with pytest.raises(FileFault) as fault:
            read_species([text[0], text[1].replace(old, new)])
        assert str(fault.value) == f"species.csv, line 2, {words}"


def test_a_short_line_and_a_second_line_of_one_species_are_refused() -> None:
    text = (files("bonebench.reference") / "species.csv").read_text(encoding="utf-8").splitlines()
    with pytest.raises(
        FileFault, match=r"^species.csv, line 2, .*: there is no such cell; the line is too short or the column is gone$"
    ):
        read_species([text[0], "moose,moose"])
    with pytest.raises(FileFault) as fault:
        read_species([text[0], text[1], text[1]])
    assert str(fault.value) == (
        "species.csv, line 3, key: 'white-tailed-deer' is on an earlier line too; every species has a key of its own"
    )
    assert fault.value.path == "key"


def test_a_species_without_count_or_range_of_teeth_is_refused() -> None:
    text = (files("bonebench.reference") / "species.csv").read_text(encoding="utf-8").splitlines()
    turkey = next(line for line in text if line.startswith("wild-turkey,"))
    with pytest.raises(FileFault) as fault:
        read_species([text[0], turkey.replace(",0,,,,none,", ",,,,,none,")])
    assert str(fault.value).endswith("total_teeth: neither a count nor a range of teeth is given; write 0 for none")
