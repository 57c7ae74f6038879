"""Spreads against SciPy's distributions and the moments of JCGM 101; units and bad input."""

import re

import numpy as np
import pytest
from scipy import stats

from workshop_lib import materials
from workshop_lib.quantities import Q_, InputError, Quantity
from workshop_lib.sources.csv_tables import Range
from workshop_lib.uncertainty.spreads import (
    arcsine,
    blurred_even,
    even,
    exactly,
    normal,
    of_range,
    student,
    triangular,
)

DRAWS = 200_000
# Each law with the same distribution from SciPy; SciPy's triangle is given by where its top stands.
LAWS = {
    "normal": (normal(3, 0.5), stats.norm(3, 0.5)),
    "even": (even(-1, 3), stats.uniform(-1, 4)),
    "triangular": (triangular(0.2, 0.3, 0.6), stats.triang(0.25, 0.2, 0.4)),
    "triangular, top at the low end": (triangular(1, 1, 3), stats.triang(0, 1, 2)),
    "triangular, top at the high end": (triangular(1, 3, 3), stats.triang(1, 1, 2)),
    "student": (student(7, 2, 4), stats.t(4, 7, 2)),
    "arcsine": (arcsine(-2, 4), stats.arcsine(-2, 6)),
}
EACH_LAW = pytest.mark.parametrize(("spread", "law"), LAWS.values(), ids=LAWS)


def drawn(spread, size=DRAWS, seed=1):
    return spread.draw(np.random.default_rng(seed), size)


@EACH_LAW
def test_draws_follow_the_law_that_scipy_has_for_it(spread, law):
    assert stats.kstest(drawn(spread, 20_000), law.cdf).pvalue > 0.01


@EACH_LAW
def test_expectation_is_that_of_scipy(spread, law):
    assert spread.best == pytest.approx(law.mean())


@pytest.mark.parametrize("name", [name for name in LAWS if name != "student"])
def test_standard_uncertainty_is_the_standard_deviation(name):
    spread, law = LAWS[name]
    assert spread.standard_uncertainty == pytest.approx(law.std())


def test_standard_uncertainty_of_few_readings_is_the_scale_but_draws_spread_wider():
    # JCGM 100 takes s/sqrt(n); the t distribution of JCGM 101 is wider by sqrt(v/(v − 2)).
    spread = student(0, 3, 10)
    assert spread.standard_uncertainty == 3
    assert np.std(drawn(spread)) == pytest.approx(3 * np.sqrt(10 / 8), rel=0.01)


@EACH_LAW
def test_no_draw_lies_below_the_lowest(spread, law):
    assert spread.lowest == pytest.approx(law.support()[0])
    assert drawn(spread).min() >= spread.lowest


def test_a_blurred_rectangle_has_its_own_variance():
    # JCGM 101, 6.4.3: variance (b − a)²/12 + d²/9; every limit between a − d and a + d.
    spread = blurred_even(-0.05, 0.05, 0.025)
    values = drawn(spread)
    assert spread.standard_uncertainty**2 == pytest.approx(0.1**2 / 12 + 0.025**2 / 9)
    assert np.std(values) == pytest.approx(spread.standard_uncertainty, rel=0.005)
    assert np.mean(values) == pytest.approx(0, abs=4 * 0.03 / np.sqrt(DRAWS))
    assert spread.lowest == pytest.approx(-0.075)
    assert -0.075 <= values.min() < -0.07
    assert 0.07 < values.max() <= 0.075


def test_a_rectangle_without_blur_is_a_plain_one():
    assert stats.kstest(drawn(blurred_even(2, 6, 0), 20_000), stats.uniform(2, 4).cdf).pvalue > 0.01


def test_a_blurred_rectangle_is_flat_in_the_middle_and_falls_off_outside():
    # The limit lies evenly between a − d and a + d, so at a itself half of them are passed.
    values = drawn(blurred_even(0, 10, 1), 1_000_000)
    density, _ = np.histogram(values, bins=[-0.1, 0.1, 4.9, 5.1], density=False)
    at_limit, middle = density[0] / 0.2, density[2] / 0.2
    widths = 10 + 2 * np.linspace(-1, 1, 20_001)  # of the rectangle, for each place of its limit
    inside = np.where(widths > 10, 1 / widths, 0).mean()
    assert at_limit / middle == pytest.approx(inside / (1 / widths).mean(), rel=0.03)


def test_what_is_exact_never_varies():
    spread = exactly("78 mm")
    assert spread.is_exact
    assert (drawn(spread, 5).m_as("mm") == 78).all()
    assert spread.around().m_as("mm") == pytest.approx([78, 78])
    assert not normal(1, 0.1).is_exact


def test_draws_carry_the_unit_and_do_not_depend_on_it():
    metric, inch = even("25.4 mm", "50.8 mm"), even("1 in", "2 in")
    assert isinstance(drawn(inch, 3), Quantity)
    assert drawn(metric, 100).m_as("m") == pytest.approx(drawn(inch, 100).m_as("m"))


def test_a_second_unit_is_converted_to_the_first():
    spread = normal("1 kN", "50 N")
    assert (spread.best, spread.standard_uncertainty) == pytest.approx((1, 0.05))
    assert str(spread.unit) == "kN"


@pytest.mark.parametrize(
    ("spread", "kind", "best", "unsure", "lowest"),
    [
        (normal("1 lbf", "0.1 lbf"), "force", 4.4482216, 0.44482216, -np.inf),
        (even("1 in", "2 in"), "length", 0.0381, 0.0254 / np.sqrt(12), 0.0254),
        (even("10 %", "20 %"), "ratio", 0.15, 0.1 / np.sqrt(12), 0.1),
        (even(0, 3), "ratio", 1.5, np.sqrt(0.75), 0),
    ],
)
def test_bare_numbers_are_in_core_units(spread, kind, best, unsure, lowest):
    bare = spread.bare(kind)
    assert bare.unit is None
    assert (bare.best, bare.standard_uncertainty, bare.lowest) == pytest.approx(
        (best, unsure, lowest)
    )
    assert np.mean(drawn(bare)) == pytest.approx(best, abs=5 * unsure / np.sqrt(DRAWS))


@pytest.mark.parametrize(
    ("spread", "kind", "said"),
    [
        (even(1, 2), "force", "grip: is a spread of plain numbers, not of forces"),
        (even("1 mm", "2 mm"), "force", "grip: ‘mm’ is not a unit of force"),
        (even("1 deg", "2 deg"), "ratio", "grip: .*2 pi"),
    ],
)
def test_a_spread_of_another_kind_is_refused(spread, kind, said):
    with pytest.raises(InputError, match=said):
        spread.bare(kind, "grip")


def test_below_zero_counts_as_zero_where_that_cannot_be():
    values = drawn(normal(0.1, 0.2).not_below_zero())
    assert values.min() == 0
    assert np.mean(values == 0) == pytest.approx(stats.norm.cdf(-0.5), abs=0.005)
    plain = even(0, 1)
    assert plain.not_below_zero() is plain


# Assumed triples


def test_an_assumed_triple_is_a_triangle():
    span = Range(Q_(30, "N"), Q_(40, "N"), Q_(60, "N"))
    found, triangle = of_range(span), triangular("30 N", "40 N", "60 N")
    assert (found.best, found.standard_uncertainty) == (
        triangle.best,
        triangle.standard_uncertainty,
    )
    assert found.best == pytest.approx(130 / 3)
    assert re.fullmatch("triang.* 30 N .*60 N.* 40 N", str(found))


def test_every_facing_of_the_workbook_can_be_drawn():
    for facing in materials.facings():
        span = materials.friction(facing.key, "aluminium")
        values = drawn(of_range(span), 1000)
        assert span.low <= values.min() <= values.max() <= span.high


def test_a_triple_of_one_value_is_exact():
    assert of_range((0.3, 0.3, 0.3)).is_exact
    assert of_range(("3 N", "3 N", "3 N")).best == 3


@pytest.mark.parametrize("span", [(1, 2), (1, 2, 3, 4), 3, "1 2 3", None, {"low": 1}])
def test_what_is_no_triple_is_refused(span):
    with pytest.raises(InputError, match="^span: .*three values"):
        of_range(span)


# Bad input, by name


@pytest.mark.parametrize(
    ("make", "arguments", "said"),
    [
        (normal, (1, -0.1), "standard_uncertainty: must not be negative"),
        (normal, ("600 N", 30), "standard_uncertainty: ‘30’ has no unit, but another has N"),
        (normal, (600, "30 N"), "mean: ‘600’ has no unit"),
        (
            normal,
            ("600 N", "30 mm"),
            "standard_uncertainty: .* not in the same kind of unit as the others",
        ),
        (normal, ("3,5 N", "1 N"), "mean: .*comma"),
        (normal, ("600 Newt", "1 N"), "mean: ‘Newt’ is not a unit"),
        (normal, (np.nan, 1), "mean: not a finite number"),
        (normal, (1, np.inf), "standard_uncertainty: not a finite number"),
        (normal, (None, 1), "mean: "),
        (normal, (True, 1), "mean: "),
        (normal, ([1, 2], 1), "mean: give one value"),
        (normal, (Q_([1.0, 2.0], "N"), "1 N"), "mean: give one value"),
        (normal, ("20 deg", 1), "standard_uncertainty: "),
        (normal, (20, "1 deg"), "mean: "),
        (
            normal,
            ("20 deg", "1 %"),
            "standard_uncertainty: .* not in the same kind of unit as the others",
        ),
        (even, (2, 2), "high: must be greater than low. For a value with no spread"),
        (even, ("3 N", "2 N"), "high: must be greater"),
        (arcsine, (2, 1), "high: must be greater"),
        (triangular, (1, 1, 1), "high: must be greater"),
        (triangular, (1, 4, 3), "typical: must lie between"),
        (triangular, (2, 1, 3), "typical: must lie between"),
        (of_range, ((1, 4, 3),), "typical: must lie between"),
        (student, (1, -1, 4), "scale: must not be negative"),
        (student, (1, 1, 0), "degrees_of_freedom: must be a plain number greater"),
        (student, (1, 1, "4 N"), "degrees_of_freedom: must be a plain number greater"),
        (blurred_even, (0, 1, -0.1), "blur: must lie between"),
        (blurred_even, (0, 1, 0.6), "blur: must lie between"),
        (exactly, ("",), "value: "),
    ],
)
def test_bad_input_is_refused_by_name(make, arguments, said):
    with pytest.raises(InputError, match=f"^{said}"):
        make(*arguments)


def test_zero_needs_no_unit():
    assert even(0, "5 N").best == 2.5


def test_angles_keep_their_unit():
    spread = normal("20 deg", "1 deg")
    assert spread.bare("angle").best == pytest.approx(np.pi / 9)
