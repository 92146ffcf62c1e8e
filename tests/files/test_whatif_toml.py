"""A what-if file: what is written is what is read, and what cannot be is refused with its place."""

from datetime import date, time

import pytest

from bonebench.errors import FileFault
from bonebench.files.whatif_toml import TRAINED, Helper, Otherwise, changes_in, example, read_what_if, what_if_of


def of(lines, name='name = "x"'):
    return what_if_of(f"[[change]]\n{name}\n{lines}\n")


def test_the_example_reads_back_with_every_kind_of_change_but_a_persons_own_hours():
    changes = what_if_of(example())
    said = {key for one in changes for key in ("more", "helper", "appetite", "without", "no_new_before") if getattr(one, key)}
    assert said == {"more", "helper", "appetite", "without", "no_new_before"}
    assert changes[0] == Otherwise(name="one more pot", more={"pot": 1}, buys="45.00")


def test_every_change_is_read_with_its_units():
    (one,) = of('longer = { Ada = "90 min", Bo = "1 h" }\nno_new_before = "2026-12-01"')
    assert (one.longer, one.no_new_before) == ({"Ada": 90, "Bo": 60}, date(2026, 12, 1))
    (two,) = of('helper = { days = ["sat", "sun"], from = 09:00:00, to = "13:30" }')
    assert two.helper == Helper((5, 6), time(9), time(13, 30), TRAINED)


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("", "change[0]: nothing is changed; say one of: more, helper"),
        ('buys = "45"', "change[0]: nothing is changed; say one of: more, helper"),
        ("appetite = 2\nbuys = 45", 'change[0].buys: what it costs to have it at all is a sum, such as buys = "45.00"'),
        ('appetite = 2\nbuys = "dear"', "change[0].buys: what it costs to have it at all is a sum"),
        ("pots = 1", "change[0].pots: unknown key; known here: name, more"),
        ("more = { pott = 1 }", "change[0].more.pott: no kind of place is called 'pott'; known are freezer"),
        ("more = { pot = 0 }", "change[0].more.pot: 0 more; write a whole number, 1 to 20"),
        ("more = { pot = true }", "change[0].more.pot: True more; write a whole number"),
        ("more = {}", "change[0].more: write it like more = { pot = 1 }"),
        ("longer = { Ada = 60 }", 'change[0].longer.Ada: 60 has no unit; write it like "60 min"'),
        ('longer = { Ada = "20 h" }', "change[0].longer.Ada: 20 h is out of range"),
        ("appetite = 0", "change[0].appetite: 0 times what they eat now; it lies above 0 and up to 10"),
        ('appetite = "more"', "change[0].appetite: 'more' is to be a plain number"),
        ('without = ["rinsing"]', "change[0].without: 'rinsing' is not known; known are whitening"),
        ('without = "whitening"', 'change[0].without: this is to be a list, such as ["whitening"]'),
        ('helper = { from = "9:00", to = "13:00" }', 'change[0].helper.days: missing; write it like days = ["sat"]'),
        ('helper = { days = ["caturday"], from = "9:00", to = "13:00" }', "change[0].helper.days: 'caturday' is not known"),
        ('helper = { days = ["sat"], from = "13:00", to = "9:00" }', "change[0].helper.to: from 13:00 to 09:00 is no time at all"),
        ('helper = { days = ["sat"], from = "noon", to = "13:00" }', "change[0].helper.from: 'noon' is no time of day"),
        ('helper = { days = ["sat"], from = "9:00", to = "13:00", trained = ["tea"] }', "change[0].helper.trained: 'tea' is not"),
        ('no_new_before = "soon"', "change[0].no_new_before: this is to be a day, such as 2026-12-01"),
        ("no_new_before = 2026-12-01T10:00:00", "change[0].no_new_before: this is to be a day"),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(lines, said):
    with pytest.raises(FileFault) as fault:
        of(lines)
    assert fault.value.said.text.startswith(f"what-if.toml, {said}")
    assert fault.value.path == said.split(":")[0]


def test_names_are_needed_and_each_stands_once():
    with pytest.raises(FileFault, match=r"change\[0\].name: a change has a name of up to 60 letters"):
        of("appetite = 2", name="")
    with pytest.raises(FileFault, match=r"change\[1\].name: 'x' is taken"):
        changes_in({"change": [{"name": "x", "appetite": 2}, {"name": "x", "appetite": 3}]})
    with pytest.raises(FileFault, match=r"change\[0\].name: 'as it is' is taken"):
        of("appetite = 2", name='name = "as it is"')


def test_a_file_of_nothing_or_of_other_tables_is_refused(tmp_path):
    with pytest.raises(FileFault, match="change: 0 changes; write 1 to 12"):
        what_if_of("")
    with pytest.raises(FileFault, match=r"pots: unknown table; a what-if file is made of \[\[change\]\]"):
        what_if_of("[pots]\nmore = 1\n")
    with pytest.raises(FileFault, match="cannot be read"):
        what_if_of("[[change")
    with pytest.raises(FileFault, match="`what-if example` writes one"):
        read_what_if(tmp_path / "none.toml")
