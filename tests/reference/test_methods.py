"""The shipped methods against the published ranges, and what the loader refuses."""

from importlib.resources import files

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.methods import load_methods, read_methods
from bonebench.shop.methods import Size, size_of
from bonebench.shop.steps import STEP_KINDS, Step

METHODS = load_methods()
TEXT = (files("bonebench.reference") / "methods.toml").read_text(encoding="utf-8")

# common practice, no source: days of warm detergent by grease class at 45 °C, and the usual value. Whole days, no tolerance.
DEGREASE = [("1", 1, 3, 5), ("2", 3, 8, 14), ("3", 10, 18, 30), ("4", 21, 35, 60), ("5", 45, 90, 180)]


@pytest.mark.parametrize(("grease", "low", "usual", "high"), DEGREASE)
def test_the_warm_pot_takes_the_days_of_its_grease_class(grease: str, low: float, usual: float, high: float) -> None:
    span = METHODS["warm-pot"].span(grease=int(grease), size=Size.SMALL)
    assert (span.p10, span.p50, span.p90) == (low, usual, high)


@pytest.mark.parametrize(
    ("head_kg", "size"),
    [
        (0.0999, Size.TINY),
        (0.1, Size.SMALL),
        (0.999, Size.SMALL),
        (1.0, Size.MIDDLE),
        (4.499, Size.MIDDLE),
        (4.5, Size.BIG),
        (30, Size.BIG),
    ],
)
def test_a_head_on_a_limit_belongs_to_the_larger_size(head_kg: float, size: Size) -> None:
    assert size_of(head_kg) is size


def test_every_step_has_a_method_that_does_it_and_an_act_takes_no_days() -> None:
    for step in Step:
        assert any(method.step is step and not method.leaves_out for method in METHODS.values()), step
    for method in METHODS.values():
        # Measuring is the exception: its days are how long the skull must have dried.
        if not STEP_KINDS[method.step].stay and method.step is not Step.MEASURE:
            assert all(span.p90 == 0 for span in method.days.values()), method.key


def test_the_milder_method_is_the_first_of_its_step() -> None:
    # The evidence on damage supports 45 °C (R102, R98) and 3 % (R87); the hotter and stronger ones are habits.
    first = {step: next(m.key for m in METHODS.values() if m.step is step) for step in (Step.DEGREASE, Step.WHITEN, Step.KILL)}
    assert first == {Step.DEGREASE: "warm-pot", Step.WHITEN: "three-percent", Step.KILL: "freeze-kill"}


def test_only_the_pot_that_is_hot_enough_kills_insects() -> None:
    # All stages die above 55 °C in an hour [S30]; no dose was found for 40-45 °C.
    hot, warm = METHODS["hot-pot"], METHODS["warm-pot"]
    assert hot.temperature_c is not None
    assert warm.temperature_c is not None
    assert hot.kills_insects
    assert hot.temperature_c.low > 55
    assert not warm.kills_insects
    assert warm.temperature_c.high <= 50  # R102: maceration water not above 50 °C


def test_the_freeze_kill_is_the_published_week() -> None:
    # R145: 6-10 days at -20 °C; R147: one week. Thicker pieces a day or so more, S25: the middle lags 20-36 h.
    kill = METHODS["freeze-kill"]
    assert kill.span(grease=2, size=Size.TINY).p50 == 7
    assert 20 / 24 <= kill.span(grease=2, size=Size.MIDDLE).p50 - 7 <= 36 / 24
    assert kill.temperature_c is not None
    assert kill.temperature_c.value == -20


def test_three_percent_is_looked_at_every_twelve_hours_and_ends_at_forty_eight() -> None:
    # Reference default: 24 h, 6-48 h, look every 12 h, stop at 48 h.
    method = METHODS["three-percent"]
    span = method.span(grease=1, size=Size.BIG)
    assert (span.p10, span.p50, span.p90) == (0.25, 1, 2)
    assert (method.look_every_days, method.longest_days) == (0.5, {"all": 2})


def test_half_and_half_of_thirty_percent_stock_makes_the_stronger_bath() -> None:
    # Common practice, no source. By hand with 1110.9 and 998.2 kg/m³ at 20 °C (density cubic of the reference, R75):
    # 0.30 * 1110.9 / (1110.9 + 998.2) = 0.1580. Half a unit of the last digit printed.
    strength = METHODS["fifteen-percent"].strength_w
    assert strength is not None
    assert strength.value == pytest.approx(0.30 * 1110.9 / (1110.9 + 998.2), abs=0.0005)
    # The ends likewise from 27.5 % (1100.9) and 35 % (1131.2).
    assert strength.low == pytest.approx(0.275 * 1100.9 / (1100.9 + 998.2), abs=0.0005)
    assert strength.high == pytest.approx(0.35 * 1131.2 / (1131.2 + 998.2), abs=0.0005)
    assert strength.standing is Standing.PRACTICE


def test_a_score_waits_sixty_days_and_hands_on_minutes_are_practice() -> None:
    # R119, R120: sixty days of air drying.
    assert METHODS["measure"].span(grease=2, size=Size.BIG).p50 == 60
    assert all(method.minutes_standing is Standing.PRACTICE for method in METHODS.values())


def test_nothing_enters_the_box_before_three_days_of_cold() -> None:
    # S33, R146: 72 h at least.
    assert all(span.p10 >= 3 for span in METHODS["freeze-again"].days.values())


def test_small_heads_stay_hours_and_large_ones_a_day_after_they_are_clean() -> None:
    # common practice, no source: below about 100 g one more look after 6-12 h.
    method = METHODS["one-more-day"]
    assert (method.days["tiny"].p10, method.days["tiny"].p90) == (0.25, 0.5)
    assert method.days["big"].p50 == 1


# What bench 1.8 read of damage: mineral lost with strength (R87), dentine softer within minutes at 30 % (R88), cortical
# bone attacked (R92); bench 2.2 of heat: R99, R100, R104, R105; bench 2.3 of solvents and ammonia: R106, R97, R95.
@pytest.mark.parametrize(
    ("key", "sources"),
    [
        ("three-percent", ("R87",)),
        ("six-percent", ("R87",)),
        ("fifteen-percent", ("R87", "R88", "R92")),
        ("whitening-paste", ("R87",)),
        ("hot-pot", ("R99", "R100", "R104", "R105")),
        ("acetone-soak", ("R106",)),
        ("ammonia-soak", ("R106", "R97")),
        ("ethanol-swab", ("R95",)),
        ("no-degreasing", ("R96", "R97")),
        ("no-whitening", ("R94", "R95")),
        ("maceration", ("R109", "R102")),
    ],
)
def test_a_method_carries_what_is_known_of_its_damage(key: str, sources: tuple[str, ...]) -> None:
    method = METHODS[key]
    assert all(source in method.source for source in sources)
    assert method.harm


def test_a_hot_pot_is_measured_and_its_dial_is_not_believed() -> None:
    pot = METHODS["hot-pot"]
    assert pot.temperature_c is not None
    assert (pot.temperature_c.low, pot.temperature_c.high) == (75, 95)  # bench 2.2, from memory
    assert pot.temperature_c.standing is Standing.MEMORY
    assert "thermometer" in pot.effort


def test_a_method_names_only_chemicals_that_are_known() -> None:
    assert {method.chemical for method in METHODS.values()} == {"", "acetone", "ammonia", "ethanol", "carbonate"}


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (
            "[thaw]\n",
            "[thaw]\ncolour = 1\n",
            "thaw.colour: a method has no 'colour'; it has alternative, chemical, classed_by, days,",
        ),
        ('name = "Hand it over"\n', "", "hand-over.name: it is missing, and every method needs it"),
        ('step = "cure"', 'step = "curing"', "cure.step: 'curing' is none of receive, frozen hold,"),
        ('step = "cure"', "step = 3", "cure.step: '3' is not text; put it in quotes"),
        ("days = { all = [60, 60, 60] }", "days = { all = [60, 50, 60] }", "measure.days.all: the days 60, 50, 60 do not rise"),
        (
            "days = { all = [60, 60, 60] }",
            "days = { all = [60, 60] }",
            "measure.days.all: give three numbers of days: one in ten is quicker, half are, one in ten is slower",
        ),
        (
            "days = { all = [60, 60, 60] }",
            "days = { big = [60, 60, 60] }",
            "measure.days: nothing is said for class all; it needs all",
        ),
        (
            "days = { all = [60, 60, 60] }",
            "days = { all = [60, 60, 60], big = [1, 1, 1] }",
            "measure.days: 'big' is none of its classes all",
        ),
        ("days = { all = [60, 60, 60] }", "days = 60", "measure.days: write it by class, like { all = 1 }"),
        ("3 = 50, 4 = 70, 5 = 125 }", "3 = 50, 4 = 70 }", "warm-pot.minutes: nothing is said for class 5; it needs 1, 2, 3, 4, 5"),
        ("minutes = { all = 15 }", "minutes = { all = -1 }", "three-percent.minutes.all: '-1' is not a number of zero or more"),
        (
            "look_every_days = 3\n",
            'look_every_days = "often"\n',
            "warm-pot.look_every_days: 'often' is not a number of zero or more",
        ),
        (
            "longest_days = { all = 2 }",
            "longest_days = { all = 0.5 }",
            "three-percent.longest_days.all: the longest stay, 0.5 days, is shorter than the usual one",
        ),
        (', unit = "w/w"', "", "three-percent.strength_w.unit: the unit is ''; it has to be w/w"),
        (
            'value = 45, low = 40, high = 50, unit = "degC"',
            'value = 45, low = 40, high = 50, unit = "degF"',
            "warm-pot.temperature_c.unit: the unit is 'degF'; it has to be degC",
        ),
        ("value = 45, low = 40", "value = 35, low = 40", "warm-pot.temperature_c: 35 lies outside its own range"),
        (
            'standing = "memory", source = "slow',
            'standing = "hearsay", source = "slow',
            "hot-pot.temperature_c.standing: 'hearsay' is none of room, published,",
        ),
        (
            'source = "slow cookers on low end between 75 and 95 °C, from memory; put a thermometer in yours"',
            'source = ""',
            "hot-pot.temperature_c.source: say where it was read, or that nobody knows",
        ),
        ("kills_insects = true", "kills_insects = 1", "freeze-kill.kills_insects: '1' is neither true nor false"),
        ('chemical = "acetone"', 'chemical = "vodka"', "acetone-soak.chemical: 'vodka' is none of peroxide, detergent,"),
        ('work = "teeth"', 'work = "gluing"', "teeth-in.work: 'gluing' is none of , raw heads,"),
    ],
)
def test_a_bad_row_is_named_with_its_field(old: str, new: str, words: str) -> None:
    assert old in TEXT
    with pytest.raises(FileFault) as fault:
        read_methods(TEXT.replace(old, new, 1))
    assert str(fault.value).startswith(f"methods.toml, {words}")
    assert fault.value.path == words.partition(":")[0]


def test_a_file_that_is_no_toml_says_where_it_breaks() -> None:
    with pytest.raises(FileFault, match=r"^methods.toml cannot be read: .*line 2"):
        read_methods("[a]\nstep = = 3")


def test_a_loose_value_and_a_step_nobody_does_are_refused() -> None:
    with pytest.raises(FileFault, match=r"^methods.toml, step: a method is a table of its own, headed \[step\]$"):
        read_methods("step = 3")
    with pytest.raises(FileFault, match=r"^methods.toml: no method does the step 'look back at 12 months'; add one$"):
        read_methods(TEXT.split("[look-back-12]", maxsplit=1)[0])
