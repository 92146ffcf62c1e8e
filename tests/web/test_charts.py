"""Charts: the numbers land where the axes say, and stand in a table as well."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.web.charts import HEIGHT, WIDTH, Series, chart, nice_ticks


def made(**more):
    series = more.pop("series", [Series("warmth", [10.0, 20.0, 15.0])])
    return chart("A day", "Warmth of the box", [0.0, 12.0, 24.0], series, x_label="hours", y_label="°C", **more)


def test_a_value_stands_between_the_labels_of_its_axis():
    drawn = made()
    at = {tick.text: tick.at for tick in drawn.y_ticks}
    heights = [float(y) for _, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", drawn.shapes[0].d)]
    # Paths are written to a tenth of the drawing's unit.
    assert heights == pytest.approx([at["10"], at["20"], (at["14"] + at["16"]) / 2], abs=0.06)
    assert [tick.text for tick in drawn.x_ticks][:2] == ["0", "5"]


def test_a_band_is_one_closed_shape_and_both_its_ends_stand_in_the_table():
    drawn = made(series=[Series("warmth", [3.0, 4.0, 5.0], low=[1.0, 2.0, 3.0])])
    assert drawn.shapes[0].band
    assert drawn.shapes[0].d.endswith("Z")
    assert drawn.head == ("hours", "warmth, low", "warmth, high")
    assert drawn.table[1] == ("12", "2", "4")


def test_a_gap_breaks_the_line():
    drawn = made(series=[Series("warmth", [1.0, math.nan, 3.0])])
    assert drawn.shapes[0].d.count("M") == 2
    assert "nan" not in drawn.shapes[0].d


def test_months_are_named_under_the_axis():
    drawn = made(x_names=["Jan", "Feb", "Mar"])
    assert [tick.text for tick in drawn.x_ticks] == ["Jan", "Feb", "Mar"]
    assert drawn.table[0][0] == "Jan"


def test_a_long_series_keeps_its_first_and_last_row_in_a_short_table():
    x = [float(n) for n in range(1000)]
    drawn = chart("t", "w", x, [Series("s", x)], x_label="h", y_label="y")
    assert (len(drawn.table), drawn.table[0][0], drawn.table[-1][0]) == (14, "0", "999")


@pytest.mark.parametrize("series", [[Series("s", [1.0])], [Series("s", [1.0, 2.0, 3.0], low=[1.0])]])
def test_a_series_of_another_length_is_a_bug(series):
    with pytest.raises(ValueError, match="as many as there are x"):
        made(series=series)


FINITE = st.floats(-1e6, 1e6, allow_nan=False)


@given(FINITE, st.floats(0, 1e6))
def test_round_labels_cover_the_range_and_are_few(low, span):
    ticks = nice_ticks(low, low + span)
    assert ticks[0] <= low + 1e-6 * max(1, abs(low))
    assert ticks[-1] >= low + span - 1e-6 * max(1, abs(low))
    assert 1 <= len(ticks) <= 8


@given(st.lists(FINITE, min_size=2, max_size=30))
def test_nothing_is_drawn_outside_the_paper(values):
    x = [float(n) for n in range(len(values))]
    drawn = chart("t", "w", x, [Series("s", values)], x_label="h", y_label="y")
    for a, b in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", drawn.shapes[0].d):
        assert -0.1 <= float(a) <= WIDTH + 0.1
        assert -0.1 <= float(b) <= HEIGHT + 0.1
