"""Charts put data where the axes say, name each curve, and cost little to redraw."""

import os
import re
import subprocess
import sys
import time
from xml.etree import ElementTree

import numpy as np
import pytest

from tests.house.laws import held_for
from tests.house.thorough import only_thorough
from workshop_lib.drawings import labels
from workshop_lib.drawings.chart_style import POINT
from workshop_lib.drawings.charts import OFF_CHART, Chart
from workshop_lib.drawings.kept_axes import Axis
from workshop_lib.launcher.environment import ROOT
from workshop_lib.quantities import Q_, InputError, speaking

SVG = "{http://www.w3.org/2000/svg}"


def chart(**more):
    return Chart(x=("Side force", 0, 100, "N"), y=("Torque", 0, 2, "N·m"), **more)


def parsed(c):
    return ElementTree.fromstring(str(c.picture("At 40 N it holds.").svg))


def clipped(c):
    """Return the points of each path inside the plot, in points from its upper left corner."""
    inner = parsed(c).find(f".//{SVG}svg")
    paths = [path.get("d") for path in inner.iter(f"{SVG}path")]
    points = [re.findall(r"[ML] (-?[0-9.]+) (-?[0-9.]+)", path) for path in paths]
    corner = c.board.left, POINT * c.board.size[1] - c.board.top
    return [np.array(each, dtype=float) - corner for each in points]


def plot(c):
    """Return width and height of the plot in points."""
    return c.board.right - c.board.left, c.board.top - c.board.bottom


def words(c):
    return ["".join(text.itertext()) for text in parsed(c).iter(f"{SVG}text")]


def marks(c):
    """Return where the marks stand: those paths that lie over the plot's clip."""
    (moving,) = [g for g in parsed(c).iter(f"{SVG}g") if g.get("class") == "wb-moving"]
    shapes = [re.findall(r"[MLC] (-?[0-9.]+) (-?[0-9.]+)", path.get("d"))
              for path in moving.findall(f"{SVG}path")]  # fmt: skip
    ends = [np.array(each, dtype=float) for each in shapes]
    return [(each.min(axis=0) + each.max(axis=0)) / 2 for each in ends]


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


SAID = """
import hashlib, sys
from tests.drawings.test_charts import busy
from workshop_lib.drawings import run_out_charts
own = busy()
own.axes.plot([0, 100], [0, 2], label="my own pad")
rose = run_out_charts.vectors([(0, 3e-5 + 4e-5j, "dashed", "blue", "before")], "At 53 deg.")
pictures = [str(each.picture("a 1").svg) for each in (busy(), own, rose)]
for kind in ("png", "pdf"):
    pictures.append(repr(busy().save(f"{sys.argv[1]}/mine.{kind}").read_bytes()))
print(hashlib.sha256("".join(pictures).encode()).hexdigest())
"""


@only_thorough
def test_a_picture_is_the_same_bytes_in_every_process_under_every_kernel(tmp_path):
    said = set()
    for kernel in ("Haswell", "Prescott"):
        surroundings = {**os.environ, "OPENBLAS_CORETYPE": kernel, "PYTHONHASHSEED": "random"}
        command = [sys.executable, "-c", SAID, str(tmp_path)]
        said.add(subprocess.check_output(command, cwd=ROOT, env=surroundings))
    assert len(said) == 1


def test_a_line_runs_through_its_data():
    c = chart().line([0, 50, 100], [0, 2, 1])
    width, height = plot(c)
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
    path = parsed(c).find(f".//{SVG}svg").find(f".//{SVG}path").get("d")
    assert path.count("M") == 2 and "nan" not in path


def test_arrays_that_do_not_pair_are_refused():
    with pytest.raises(InputError, match="do not pair"):
        chart().line([0, 1, 2], [0, 1])


def test_a_point_inside_stands_at_its_place():
    c = chart().point(50, 1, "here")
    (at,) = marks(c)
    width, height = plot(c)
    top = POINT * c.board.size[1] - c.board.top
    assert at == pytest.approx((c.board.left + width / 2, top + height / 2), abs=0.02)
    assert "here" in words(c)


@pytest.mark.parametrize("place", [(300, 1), (50, 9), (-5, 1), (50, -1)])
def test_a_point_outside_is_shown_at_the_edge_and_says_so(place):
    c = chart().point(*place, "this cut")
    assert OFF_CHART.format(name="this cut") in words(c)
    ((x, y),) = marks(c)
    up = POINT * c.board.size[1] - y
    arrow = 5  # points; the arrowhead points outward from the edge
    assert c.board.left - arrow <= x <= c.board.right + arrow
    assert c.board.bottom - arrow <= up <= c.board.top + arrow


def test_a_point_that_is_nowhere_is_left_out():
    assert chart().point(np.nan, 1, "x").picture("a 1").svg == chart().picture("a 1").svg


def test_what_lies_outside_the_plot_is_cut_at_its_edges():
    c = chart().region([-50, 500, 500, -50], [-5, -5, 1, 1], hatch=True)
    inner = parsed(c).find(f".//{SVG}svg")
    edges = [float(inner.get(name)) for name in ("x", "y", "width", "height")]
    top = POINT * c.board.size[1] - c.board.top
    assert edges == pytest.approx([c.board.left, top, *plot(c)], abs=0.01)
    assert inner.get("overflow") == "hidden"


def test_a_band_lies_between_its_low_and_its_high_curve():
    c = chart().band([0, 100], [0.5, 0.5], [1.5, 1.5])
    assert np.ptp(clipped(c)[0][:, 1]) == pytest.approx(plot(c)[1] / 2, abs=0.02)


def test_every_label_finds_a_free_place():
    for side in range(0, 100, 7):
        assert busy(side).faults() == []


def test_labels_that_cannot_be_told_apart_are_found():
    here, there = np.full(2, 50.0), np.full(2, 50.1)
    c = chart()
    for _ in range(20):
        c.point(50, 1, "words that want much room and leave none").line(here, [1, 1], "others")
        c.line(there, [1, 1], "and more of them")
    assert c.faults()


def test_a_label_keeps_off_the_curves_when_it_can():
    c = chart().line([0, 100], [1, 1], "level")
    (label,) = c._settled()
    left, top, right, bottom = label.room(label.place)
    line = c.board.plot[1] / 2
    assert bottom <= line or top >= line
    assert left >= 0 and right <= c.board.plot[0]


@held_for([-1.9, -0.6, -0.2, 0.1, 0.4, 0.8, 1.4, 2.0])
def test_a_long_name_stands_clear_of_its_own_sloping_line(rise):
    start = max(0.0, -rise)
    c = chart().line([0, 100], [start, start + rise], "a name as long as they come")
    assert c._settled()[0].clash == 0


def test_a_curve_full_of_peaks_is_named_over_the_highest():
    across = np.linspace(0, 100, 401)
    c = chart().line(across, 1.0 + 0.5 * np.sin(across), "many strikes of the cut")
    (label,) = c._settled()
    _, _, _, bottom = label.room(label.place)
    assert label.clash == 0 and bottom < c.board.plot[1] / 4


def test_names_keep_off_the_line_of_nought():
    c = Chart(x=("Angle", -90, 90), y=("Reading", -1, 1))
    c.line([-90, 90], [-0.04, -0.04], "the mean of all readings")
    (label,) = c._settled()
    _, top, _, bottom = label.room(label.place)
    assert label.clash == 0 and not top < c.board.plot[1] / 2 < bottom


def test_labels_go_round_a_point_before_they_cross_something():
    taken = labels.dense(np.array([10.0, 40.0]), np.array([18.0, 18.0]))
    label = labels.Label("words", labels.around(20.0, 20.0), "ink")
    labels.settle([label], [taken], (60, 60))
    _, top, _, _ = label.room(label.place)
    assert top > 18 and label.clash == 0


def test_nothing_typed_becomes_markup():
    hostile = "<script>alert(1)</script>"
    c = Chart(x=(hostile, 0, 1), y=(hostile, 0, 1)).line([0, 1], [0, 1], hostile)
    figure = c.picture(hostile, hostile)
    assert "<script" not in figure.html() + figure.portable()


def test_two_charts_on_a_page_share_no_id():
    learners = busy()
    assert learners.axes
    other = Chart(x=("Thrust", 0, 1), y=("Torque", 0, 1)).region([0, 1, 1], [0, 0, 1], hatch=True)
    pictures = [c.picture("a 1").svg for c in (busy(), learners, other)]
    ids = [re.findall(r'\sid="([^"]*)"', svg) for svg in pictures]
    every = [each for found in ids for each in found]
    assert len(every) == len(set(every)) and all(ids)
    for svg, own in zip(pictures, ids, strict=True):
        assert set(re.findall(r"url\(#([^)]*)\)", svg)) <= set(own)


def test_a_power_law_is_straight_on_logarithmic_axes():
    xs = np.geomspace(1, 100, 9)
    c = Chart(x=("d", 1, 100), y=("w", 1, 1e4), log="xy").line(xs, xs**2)
    points = clipped(c)[0]
    assert np.allclose(np.diff(points, 2, axis=0), 0, atol=0.05)


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
    assert right <= chart.board.plot[0] and bottom <= chart.board.plot[1]


@pytest.mark.parametrize(
    ("low", "high", "log"),
    [(1, 1, False), (2, 1, False), (0, np.inf, False), (np.nan, 1, False), (0, 10, True)],
)
def test_an_axis_that_cannot_be_is_refused_by_its_label(low, high, log):
    with pytest.raises(InputError, match="Thrust"):
        Axis("Thrust", low, high, log=log)


def test_a_sheet_without_room_is_refused():
    with pytest.raises(InputError, match="no room"):
        chart(size=(20, 15))


def test_what_has_no_logarithm_is_left_out():
    c = Chart(x=("d", 1, 10), y=("w", 1, 10), log="x").line([-1, 0, 2, 5], [2, 2, 2, 2])
    assert len(clipped(c)[0]) == 2


# --- the axes are the learner's -------------------------------------------------------------------


def test_a_learners_curve_is_in_the_picture_and_named_beside_itself():
    c = chart().line([0, 100], [1, 1], "ours")
    c.axes.plot([0, 100], [0, 2], label="my own pad")
    assert {"ours", "my own pad", "Side force in N", "Torque in N·m"} <= set(words(c))


def test_a_learners_curve_stays_out_of_every_other_chart():
    before = str(chart().picture("a 1").svg)
    chart().axes.plot([0, 100], [0, 2], label="my own pad")
    assert str(chart().picture("a 1").svg) == before


def test_the_axes_know_their_units():
    c = chart()
    (line,) = c.axes.plot(Q_([0, 0.05], "kN"), Q_([0, 1500], "N*mm"))
    assert line.get_xdata(orig=False) == pytest.approx([0, 50])
    assert line.get_ydata(orig=False) == pytest.approx([0, 1.5])


def test_the_limits_stay_whatever_a_learner_adds():
    c = chart()
    c.axes.plot([0, 1e6], [0, 1e6])
    assert c.axes.get_xlim() == (0, 100) and c.axes.get_ylim() == (0, 2)


def test_marks_can_be_added_after_the_axes_were_taken():
    c = chart()
    assert c.axes is c.axes
    assert "later" in words(c.line([0, 100], [1, 1], "later"))


def test_both_ways_of_drawing_put_a_label_in_the_same_place():
    def place(c):
        found = next(t for t in parsed(c).iter(f"{SVG}text") if t.text == "this cut")
        return float(found.get("x")), float(found.get("y")), found.get("text-anchor")

    kept, own = busy(), busy()
    assert own.axes
    assert place(own)[:2] == pytest.approx(place(kept)[:2], abs=0.6)  # letters on whole dots
    assert place(own)[2] == place(kept)[2]


def test_no_picture_reaches_beyond_itself():
    c = busy()
    assert c.axes
    for each in (busy(), c):
        assert (
            "<style" not in each.picture("a 1").svg and "<metadata" not in each.picture("a 1").svg
        )


@pytest.mark.parametrize(
    ("kind", "start"), [("png", b"\x89PNG"), ("svg", b"<svg"), ("pdf", b"%PDF")]
)
def test_a_chart_is_saved_by_one_call_with_the_same_bytes(tmp_path, kind, start):
    saved = [busy().save(tmp_path / f"{name}.{kind}").read_bytes() for name in "ab"]
    assert saved[0].startswith(start) and saved[0] == saved[1]


def test_what_was_saved_after_a_picture_stands_at_the_same_places(tmp_path):
    """A PNG has more dots to the inch than the picture: what moved must not keep the old ones."""
    shown = busy()
    assert shown.picture("a 1")
    saved = [c.save(tmp_path / "mine.png").read_bytes() for c in (shown, busy())]
    assert saved[0] == saved[1]


def test_inch_or_metric_is_one_setting_for_axes_marks_and_the_learners_curves():
    with speaking("inch"):
        c = Chart(x=("Side force", 0, 600, "N"), y=("Bend", 0, 0.3, "mm")).line([0, 600], [0, 0.3])
        c.axes.plot(Q_([0, 600], "N"), Q_([0, 0.3], "mm"), label="mine")
        lines = [line.get_data(orig=False) for line in c.axes.lines]
    # by hand: 600 N / 4.448222 N = 134.9 lbf; 0.3 mm / 0.0254 mm = 11.81 thou
    for across, up in lines:
        assert across == pytest.approx([0, 134.885], rel=1e-5)
        assert up == pytest.approx([0, 11.811], rel=1e-4)
    assert {"Side force in lbf", "Bend in thou"} <= set(words(c))
    assert c.axes.get_xlim() == (0, 150) and c.axes.get_ylim() == (0, 15)


def test_a_chart_in_a_dials_own_unit_keeps_it():
    with speaking("inch"):
        c = Chart(x=("Turned", 0, 1), y=("Reading", -0.3, 0.3, "mm"), speaks=False)
    assert c.line([0, 1], [0, 0.3]).axes.lines[-1].get_ydata()[-1] == 0.3
    assert "Reading in mm" in words(c)


def test_a_chart_that_is_metric_stays_as_it_was_when_metric_is_chosen():
    with speaking("metric"):
        assert busy().picture("a 1").svg == busy().picture("a 1").svg
        told = busy().picture("a 1").svg
    assert told == busy().picture("a 1").svg


def test_a_straight_line_that_leaves_the_chart_is_named_where_it_is_seen():
    assert "far" in words(chart().line([0, 1000], [0, 20], "far"))


def test_another_ending_is_refused_in_words(tmp_path):
    with pytest.raises(InputError, match=".png, .svg or .pdf"):
        busy().save(tmp_path / "mine.gif")


def test_a_step_sends_only_what_moves():
    one, other = busy(40).picture("a 1"), busy(47).picture("b 2")
    assert one.slot() == other.slot() and one.moving != other.moving
    assert one.moving in one.svg and one.moving not in one.slot()
