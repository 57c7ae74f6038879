"""Axes: round ticks inside the range, true places, logarithmic decades."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.drawings.frame import Axis, frame, round_step
from workshop_lib.quantities import InputError

spans = st.tuples(st.floats(-1e6, 1e6, allow_nan=False), st.floats(1e-3, 1e6, allow_nan=False)).map(
    lambda pair: (pair[0], pair[0] + pair[1])
)


def as_number(text):
    return float(text.replace("−", "-"))


@given(spans, st.floats(2, 20))
def test_ticks_are_round_inside_the_range_and_not_too_many(span, most):
    axis = Axis("x", *span)
    ticks = axis.ticks(most)
    values = np.array([value for value, _ in ticks])
    reach = 1e-6 * (span[1] - span[0])
    assert ((values >= span[0] - reach) & (values <= span[1] + reach)).all()
    assert len(ticks) <= most + 1
    step = round_step((span[1] - span[0]) / most)
    assert np.allclose(np.diff(values), step)


@given(spans)
def test_each_tick_is_written_as_its_value(span):
    for value, text in Axis("x", *span).ticks(8):
        assert as_number(text) == pytest.approx(value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("low", "high", "most", "texts"),
    [
        (0, 2, 4.4, ["0", "0.5", "1.0", "1.5", "2.0"]),
        (-20, 20, 4, ["−20", "−10", "0", "10", "20"]),
        (0, 1, 4, ["0", "0.25", "0.50", "0.75", "1.00"]),
    ],
)
def test_ticks_by_hand(low, high, most, texts):
    assert [text for _, text in Axis("x", low, high).ticks(most)] == texts


def test_logarithmic_ticks_are_decades_and_equally_far_apart():
    axis = Axis("x", 1, 1000, log=True)
    assert [value for value, _ in axis.ticks(4)] == [1, 10, 100, 1000]
    assert np.allclose(np.diff(axis.share([1, 10, 100, 1000])), 1 / 3)


def test_what_has_no_logarithm_has_no_place():
    assert np.isnan(Axis("x", 1, 10, log=True).share([0, -1])).all()


def test_the_ends_of_an_axis_are_the_edges_of_the_plot():
    f = frame(Axis("x", 10, 20), Axis("y", -1, 1), (130, 85))
    across, down = f.place([10, 20], [1, -1])
    assert across == pytest.approx([0, f.width])
    assert down == pytest.approx([0, f.height])


def test_equal_scales_draw_a_circle_round():
    f = frame(Axis("x", 0, 40), Axis("y", 0, 10), (130, 85), True)
    across, down = f.place([0, 10], [0, 10])
    assert np.ptp(across) == pytest.approx(np.ptp(down))
    assert f.sheet[1] < 85  # the sheet shrinks with the plot


@pytest.mark.parametrize(
    ("low", "high", "log"),
    [(1, 1, False), (2, 1, False), (0, np.inf, False), (np.nan, 1, False), (0, 10, True)],
)
def test_an_axis_that_cannot_be_is_refused_by_its_label(low, high, log):
    with pytest.raises(InputError, match="Thrust"):
        Axis("Thrust", low, high, log=log)


def test_a_sheet_without_room_is_refused():
    with pytest.raises(InputError, match="no room"):
        frame(Axis("x", 0, 1), Axis("y", 0, 1), (20, 15))
