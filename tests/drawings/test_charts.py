"""Charts put data where the axes say, name each curve, and cost little to redraw."""

import re
import time
from xml.etree import ElementTree

import numpy as np
import pytest

from workshop_lib.drawings import labels
from workshop_lib.drawings.charts import OFF_CHART, Chart
from workshop_lib.quantities import Q_, InputError

SVG = "{http://www.w3.org/2000/svg}"


def chart(**more):
    return Chart(x=("Side force", 0, 100, "N"), y=("Torque", 0, 2, "N·m"), **more)


def parsed(c):
    return ElementTree.fromstring(str(c.picture("At 40 N it holds.").svg))


def clipped(c):
    """Return the points of each path inside the plot."""
    inner = parsed(c).find(f".//{SVG}svg")
    paths = [path.get("d") for path in inner]
    points = [re.findall(r"[ML](-?[0-9.]+) (-?[0-9.]+)", path) for path in paths]
    return [np.array(each, dtype=float) for each in points]


def words(c):
    return ["".join(text.itertext()) for text in parsed(c).iter(f"{SVG}text")]


def busy(side=40.0):
    """A chart with one of everything, as a panel would draw it."""
    c, turn = chart(), np.linspace(0, np.pi / 2, 181)
    across, up = 90 * np.sin(turn), 1.8 * np.cos(turn)
    c.region(np.append(0, across), np.append(0, up), hatch=45)
    c.line(across, up, "limit of holding").line(0.8 * across, 0.8 * up, "low", "dashed", "green")
    c.point(side, 1.0, "this cut").horizontal(1.5, "motor").vertical(70, "marks the sheet")
    return c


def test_one_chart_is_the_same_bytes_each_time():
    assert busy().picture("a 1").svg == busy().picture("a 1").svg


def test_a_line_runs_through_its_data():
    c = chart().line([0, 50, 100], [0, 2, 1])
    width, height = c.frame.width, c.frame.height
    expected = [[0, height], [width / 2, 0], [width, height / 2]]
    assert clipped(c)[0] == pytest.approx(np.array(expected), abs=0.006)


def test_quantities_are_drawn_in_the_unit_of_the_axis():
    plain = chart().line([0, 50], [0, 1.5]).picture("a 1").svg
    told = chart().line(Q_([0, 0.05], "kN"), Q_([0, 1500], "N*mm")).picture("a 1").svg
    assert told == plain


def test_a_quantity_needs_an_axis_with_a_unit():
    with pytest.raises(InputError, match="names none"):
        Chart(x=("a", 0, 1), y=("b", 0, 1)).line(Q_([0, 1], "N"), [0, 1])


def test_a_curve_breaks_at_nan():
    c = chart().line([0, 10, 20, 30, 40], [1, 1, np.nan, 1, 1])
    path = parsed(c).find(f".//{SVG}svg")[0].get("d")
    assert path.count("M") == 2 and "nan" not in path


def test_arrays_that_do_not_pair_are_refused():
    with pytest.raises(InputError, match="do not pair"):
        chart().line([0, 1, 2], [0, 1])


def test_a_point_inside_stands_at_its_place():
    c = chart().point(50, 1, "here")
    group = [g for g in parsed(c).iter(f"{SVG}g") if "translate" in g.get("transform", "")][0]
    x, y = map(float, re.findall(r"[0-9.]+", group.get("transform")))
    f = c.frame
    assert (x, y) == pytest.approx((f.left + f.width / 2, f.top + f.height / 2), abs=0.006)
    assert "here" in words(c)


@pytest.mark.parametrize("place", [(300, 1), (50, 9), (-5, 1), (50, -1)])
def test_a_point_outside_is_shown_at_the_edge_and_says_so(place):
    c = chart().point(*place, "this cut")
    assert "this cut" + OFF_CHART in words(c)
    group = [g for g in parsed(c).iter(f"{SVG}g") if "translate" in g.get("transform", "")][0]
    x, y = map(float, re.findall(r"[0-9.]+", group.get("transform")))
    f = c.frame
    assert f.left - 0.01 <= x <= f.left + f.width + 0.01
    assert f.top - 0.01 <= y <= f.bottom + 0.01


def test_a_point_that_is_nowhere_is_left_out():
    assert chart().point(np.nan, 1, "x").picture("a 1").svg == chart().picture("a 1").svg


def test_a_region_is_cut_at_the_edges_of_the_plot():
    c = chart().region([-50, 500, 500, -50], [-5, -5, 1, 1], hatch=45)
    fill = clipped(c)[0]
    assert fill.min() >= -0.01
    assert fill[:, 0].max() <= c.frame.width + 0.01
    assert np.ptp(fill[:, 1]) == pytest.approx(c.frame.height / 2, abs=0.01)


def test_a_region_that_lies_outside_draws_nothing():
    assert clipped(chart().region([200, 300, 300], [0, 0, 1])) == []


def test_a_band_lies_between_its_low_and_its_high_curve():
    c = chart().band([0, 100], [0.5, 0.5], [1.5, 1.5])
    assert np.ptp(clipped(c)[0][:, 1]) == pytest.approx(c.frame.height / 2, abs=0.011)


def test_every_label_finds_a_free_place():
    for side in range(0, 100, 7):
        assert busy(side).faults() == []


def test_labels_that_cannot_be_told_apart_are_found():
    c = chart().note(50, 1, "first words").note(51, 1, "other words")
    assert len(c.faults()) == 1


def test_a_label_keeps_off_the_curves_when_it_can():
    c = chart().line([0, 100], [1, 1], "level")
    c.picture("a 1")
    (label,) = c._labels
    left, top, right, bottom = label.room(label.place)
    line = c.frame.height / 2
    assert bottom <= line or top >= line
    assert left >= 0 and right <= c.frame.width


def test_labels_go_round_a_point_before_they_cross_something():
    taken = labels.dense(np.array([10.0, 40.0]), np.array([18.0, 18.0]))
    label = labels.Label("words", labels.around(20.0, 20.0, 2.0), "ink")
    labels.settle([label], [taken], (60, 60))
    _, top, _, _ = label.room(label.place)
    assert top > 18 and label.clash == 0


def test_nothing_typed_becomes_markup():
    hostile = "<script>alert(1)</script>"
    c = Chart(x=(hostile, 0, 1), y=(hostile, 0, 1)).line([0, 1], [0, 1], hostile)
    figure = c.picture(hostile, hostile)
    assert "<script" not in figure.html() + figure.portable()


def test_two_charts_on_a_page_share_no_id():
    assert not re.search(r'\sid="|url\(#', busy().picture("a 1").svg)


def test_equal_scales_keep_a_circle_round():
    turn = np.linspace(0, 2 * np.pi, 73)
    c = Chart(x=("x", -20, 20), y=("y", -5, 5), equal=True)
    rim = clipped(c.line(4 * np.cos(turn), 4 * np.sin(turn)))[0]
    assert np.ptp(rim[:, 0]) == pytest.approx(np.ptp(rim[:, 1]), abs=0.03)


def test_a_power_law_is_straight_on_logarithmic_axes():
    xs = np.geomspace(1, 100, 9)
    c = Chart(x=("d", 1, 100), y=("w", 1, 1e4), log="xy").line(xs, xs**2)
    points = clipped(c)[0]
    assert np.allclose(np.diff(points, 2, axis=0), 0, atol=0.03)


def test_a_redraw_costs_a_small_part_of_a_slider_step():
    busy().picture("a 1")
    best = min(_timed(side) for side in range(20))
    assert best < 0.015  # a text-only step through the page takes 0.03 s and more


def _timed(side):
    start = time.perf_counter()
    busy(side).picture(f"at {side}")
    return time.perf_counter() - start


def test_a_label_with_no_good_place_is_pushed_in_and_not_cut_off():
    chart = Chart(x=("x", 0, 1), y=("y", 0, 1))
    chart.line([0, 0], [0, 0], "a point in the corner, named at length")
    (label,) = chart._settled()
    left, top, right, bottom = label.room(label.place)
    assert left >= 0 and top >= 0
    assert right <= chart.frame.width and bottom <= chart.frame.height
