import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.cleaning import head_mass_kg, tissue_kg

# A deer as the species table has it (bench species.csv): body from memory, shares from memory, middle of the range.
DEER = Figure(70, 40, 130, "kg", Standing.MEMORY, "species table")
HEAD = Figure(0.05, 0.04, 0.06, "kg/kg", Standing.MEMORY, "species table")
TISSUE = Figure(0.008, 0.005, 0.011, "kg/kg", Standing.MEMORY, "species table")
SCALES = Figure(4.0, 3.98, 4.02, "kg", Standing.ROOM, "weighed")


def test_a_deer_head_from_its_body_by_hand():
    head = head_mass_kg(DEER, HEAD)
    # 70 * 0.05 = 3.5; 40 * 0.04 = 1.6; 130 * 0.06 = 7.8
    assert (head.value, head.low, head.high) == pytest.approx((3.5, 1.6, 7.8))


def test_a_mule_deer_head_agrees_with_carcass_weights():
    # University of Wyoming carcass data (bench 5.1, R125, R126): a dressed buck of 114 lb is 162 lb live and loses 18 lb with head
    # and hide; the hide is 6-7 % (from memory), so the head is 18 - 0.065 * 162 = 7.5 lb = 3.4 kg. Hide is a guess: hence 0.7 kg.
    live = Figure(162 * 0.4536, 160 * 0.4536, 164 * 0.4536, "kg", Standing.DERIVED, "carcass data")
    assert head_mass_kg(live, HEAD).value == pytest.approx(3.4, abs=0.7)


def test_tissue_of_an_unweighed_head_is_a_share_of_the_body():
    tissue = tissue_kg(DEER, HEAD, TISSUE)
    # The species table's own middle is 560 g: 70 * 0.008. Ends: 40 * 0.005, 130 * 0.011.
    assert (tissue.value, tissue.low, tissue.high) == pytest.approx((0.56, 0.2, 1.43))
    assert (tissue.unit, tissue.standing) == ("kg", Standing.MEMORY)


def test_the_chewing_muscle_alone_is_less_than_the_tissue():
    # Masseter of 22 ruminants, both sides, is 0.20 % of body mass (bench R65): 140 g for 70 kg.
    seventy = Figure(70, 70, 70, "kg", Standing.ROOM, "weighed")
    assert tissue_kg(seventy, HEAD, TISSUE).low > 0.0020 * 70


def test_tissue_of_a_weighed_head_does_without_the_body():
    tissue = tissue_kg(DEER, HEAD, TISSUE, SCALES)
    # 4 * 0.008 / 0.05 = 0.64; 3.98 * 0.005 / 0.06 = 0.3317; 4.02 * 0.011 / 0.04 = 1.1055
    assert (tissue.value, tissue.low, tissue.high) == pytest.approx((0.64, 0.33167, 1.1055), rel=1e-4)
    assert tissue.standing is Standing.MEMORY


def test_no_head_is_more_tissue_than_head():
    greedy = Figure(0.05, 0.02, 0.09, "kg/kg", Standing.MEMORY, "made up")
    assert tissue_kg(DEER, HEAD, greedy, SCALES).high == pytest.approx(SCALES.high)


def test_where_the_shares_come_from_is_said():
    other = Figure(0.008, 0.005, 0.011, "kg/kg", Standing.ROOM, "this room")
    assert tissue_kg(DEER, HEAD, other, SCALES).source == "weighed; this room; species table"


@given(st.floats(0.001, 900))
def test_weighing_a_head_of_the_expected_mass_changes_nothing(body_kg):
    body = Figure(body_kg, body_kg, body_kg, "kg", Standing.ROOM, "weighed")
    head = head_mass_kg(body, HEAD)
    assert tissue_kg(body, HEAD, TISSUE, head).value == pytest.approx(tissue_kg(body, HEAD, TISSUE).value)


def share(value: float, low: float, high: float) -> Figure:
    return Figure(value, low, high, "kg/kg", Standing.ESTIMATE, "typed")


REFUSED = [
    (
        lambda: tissue_kg(DEER, HEAD, share(0.8, 0.5, 1.1)),
        "the tissue share of the body runs from 50 % to 110 %; a share lies above 0 and at most 100 %: check the species",
    ),
    (
        lambda: head_mass_kg(DEER, share(0, 0, 0.1)),
        "the head share of the body runs from 0 % to 10 %; a share lies above 0 and at most 100 %: check the species",
    ),
    (
        lambda: head_mass_kg(Figure(0, 0, 0, "kg", Standing.ROOM, "typed"), HEAD),
        "the body mass is 0 g; it must be above 0: weigh it again",
    ),
    (
        lambda: tissue_kg(DEER, HEAD, TISSUE, Figure(0, -1, 0, "kg", Standing.ROOM, "typed")),
        "the head mass is -1 kg; it must be above 0: weigh it again",
    ),
]


@pytest.mark.parametrize(("reckon", "words"), REFUSED)
def test_masses_and_shares_that_cannot_be_are_refused(reckon, words):
    with pytest.raises(OutsideRange) as refused:
        reckon()
    assert str(refused.value) == words
