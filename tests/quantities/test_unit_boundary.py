"""The edge between quantities and bare numbers, tried on small functions of its own."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop_lib.friction import Pad, torque_capacity
from workshop_lib.quantities import Q_, InputError, Quantity, parse_unit, unmistakable
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.unit_boundary import as_shown, boundary, common_shape, to_core
from workshop_lib.sources.csv_tables import Range


@boundary(returns="torque", force="force >= 0", arm="length > 0", share="ratio >= 0")
def lever(force, arm, share=1.0):
    """A force on an arm."""
    return force * arm * share


@boundary(angle="angle", choice=("left", "right"), spare="length > 0")
def bare(angle, choice="left", spare=None, untouched=7):
    """Hands back what it was given."""
    return angle, choice, spare, untouched


# What goes in


@pytest.mark.parametrize(
    ("value", "kind", "core"),
    [
        ("4 thou", "length", 1.016e-4),
        (Q_(4, "thou"), "length", 1.016e-4),
        (Q_(np.float64(4), "thou"), "length", 1.016e-4),
        (Quantity(4, "thou"), "length", 1.016e-4),
        (np.array("4 thou"), "length", 1.016e-4),
        ("250 rev/min", "speed", 250 * np.pi / 30),
        (Q_(250, "rev/min"), "speed", 250 * np.pi / 30),
        (Q_(250, "rpm"), "speed", 250 * np.pi / 30),
        (Q_(10, "rad/s"), "speed", 10),
        (Q_(10, "turn/s"), "speed", 20 * np.pi),
        (Q_(180, "deg/s"), "speed", np.pi),
        (Quantity(0.1, "mm/turn"), "feed", 1e-4),
        (Q_(0.1, "mm/rev"), "feed", 1e-4),
        (Q_(0.1, "mm"), "feed", 1e-4),
        (Quantity(0.004, "inch/turn"), "feed", 1.016e-4),
        (Q_(1, "lbf*ft"), "torque", 1.3558179483314004),
        (Q_(1, "lbf") * Q_(1, "ft"), "torque", 1.3558179483314004),
        (Q_(10, "rad/s") * Q_(30, "mm"), "cutting_speed", 0.3),
        (Q_(0.1, "kg") * Q_(5, "mm") * Q_(20, "rad/s") ** 2, "force", 0.2),
        (0.2, "ratio", 0.2),
        ("20 %", "ratio", 0.2),
        (Q_(20, "%"), "ratio", 0.2),
        (Q_(0.2), "ratio", 0.2),
        (np.float32(0.5), "ratio", 0.5),
        (1, "ratio", 1.0),
        (Q_(1, "mm") / Q_(1, "m"), "ratio", 0.001),
    ],
)
def test_single_values_become_a_bare_float(value, kind, core):
    found = to_core(value, kind, "x")
    assert type(found) is float
    assert found == pytest.approx(core, rel=1e-12)


@pytest.mark.parametrize(
    ("value", "kind", "core"),
    [
        (["1 mm", "1 in"], "length", [0.001, 0.0254]),
        (("1 mm", Q_(1, "in")), "length", [0.001, 0.0254]),
        ([["1 mm"], ["2 mm"]], "length", [[0.001], [0.002]]),
        (np.array(["1 mm", "2 mm"]), "length", [0.001, 0.002]),
        (np.array(["1 mm", Q_(2, "mm")], dtype=object), "length", [0.001, 0.002]),
        (Q_([1, 2], "mm"), "length", [0.001, 0.002]),
        ([Q_([1, 2], "mm"), Q_([3, 4], "mm")], "length", [[0.001, 0.002], [0.003, 0.004]]),
        (Range(Q_(1, "mm"), Q_(2, "mm"), Q_(3, "mm")), "length", [0.001, 0.002, 0.003]),
        ([0.1, "20 %", Q_(30, "%")], "ratio", [0.1, 0.2, 0.3]),
        (np.array([1, 2]), "ratio", [1, 2]),
        ((0.1, 0.2), "ratio", [0.1, 0.2]),
        (Range(0.1, 0.2, 0.3), "ratio", [0.1, 0.2, 0.3]),
    ],
)
def test_many_values_become_a_float_array_of_their_shape(value, kind, core):
    found = to_core(value, kind, "x")
    assert isinstance(found, np.ndarray)
    assert found.dtype == float
    np.testing.assert_allclose(found, core, rtol=1e-12)


def test_an_array_handed_in_is_not_changed():
    given_numbers = np.array([1.0, 2.0])
    lever(Quantity(given_numbers, "kN"), "1 mm")
    assert given_numbers.tolist() == [1.0, 2.0]


class Hostile:
    def __repr__(self):
        raise RuntimeError("no")


SELF = []
SELF.append(SELF)


@pytest.mark.parametrize(
    "value",
    [
        None, True, np.True_, b"5 mm", {}, {"mm": 5}, {5}, object(), Hostile(), print, Pad, 1j,
        [], (), [[]], np.array([]), [None], [True], [b"5 mm"], [object()], SELF, range(3), {5: 5},
        [["1 mm"], ["1 mm", "2 mm"]], ["1 mm", Q_([1, 2], "mm")], np.array(None), np.array([None]),
        np.array([b"5 mm"]), np.array({}), np.datetime64("2026-01-01"), np.ma.array([1], mask=[1]),
        Quantity(np.array([None]), "mm"), Quantity(np.array(["5"]), "mm"), Quantity(1j, "mm"),
        Quantity(np.nan, "mm"), Quantity([1.0, np.inf], "mm"), Quantity(10**400, "mm"),
        Quantity(5, "degC"), Quantity(5, "mol"), Q_(5), Q_(5, "N"), Q_(5, "mm**2"), Q_(5, "deg"),
        pint.UnitRegistry().Quantity(5, "mm"), Q_(1e9, "m"), "1e9 m", "5", "", "five mm", "5 N",
    ],
    ids=lambda value: type(value).__name__,
)  # fmt: skip
def test_what_is_no_length_is_refused_by_name(value):
    with pytest.raises(InputError) as refusal:
        to_core(value, "length", "depth_of_cut")
    assert refusal.value.name == "depth_of_cut"
    assert str(refusal.value).isprintable()
    assert len(str(refusal.value)) < 250


@pytest.mark.parametrize("value", [[], (), np.array([]), np.empty((0, 3))])
@pytest.mark.parametrize("kind", ["length", "ratio"])
def test_nothing_is_refused_as_nothing(value, kind):
    with pytest.raises(InputError, match="^depth: .*no values"):
        to_core(value, kind, "depth")


@pytest.mark.parametrize("value", [5, 5.0, 10**30, np.float64(5), [5], np.array([5.0]), (5, 6)])
def test_a_bare_number_has_no_unit_and_the_refusal_says_what_would_work(value):
    with pytest.raises(InputError, match="^depth: .*no unit.*'30 mm'"):
        to_core(value, "length", "depth")


@pytest.mark.parametrize(
    "value",
    [
        np.nan, np.inf, -np.inf, [0.1, np.nan], "nan", "1e99", 10**30, 10**5000, 1e10, None,
        "0.2 N", Q_(1, "N"), "x", [True, 0.2], "0,2",
    ],
    ids=range(15),
)  # fmt: skip
def test_what_is_no_ratio_is_refused_by_name(value):
    with pytest.raises(InputError) as refusal:
        to_core(value, "ratio", "mu")
    assert refusal.value.name == "mu"


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        (Q_(50, "Hz"), "speed"),
        (Q_(50, "1/s"), "speed"),
        (Q_(50, "kHz"), "speed"),
        (Q_(250, "rev/min"), "frequency"),
        (Q_(10, "rad/s"), "frequency"),
        (Quantity(8, "mm/turn"), "length"),
        (Quantity(8, "mm*turn"), "feed"),
        (Quantity(8, "mm*rpm"), "cutting_speed"),
        (Q_(1, "turn"), "ratio"),
        (Q_(0.5, "rad"), "ratio"),
        (Q_(90), "angle"),
        (Q_(50, "%"), "angle"),
    ],
)
def test_a_hidden_factor_of_two_pi_is_refused(value, kind):
    with pytest.raises(InputError, match="x: .*2 pi"):
        to_core(value, kind, "x")


@pytest.mark.parametrize("sign", ["> 0", ">= 0"])
@pytest.mark.parametrize(
    "value", ["-1 mm", Q_(-1, "um"), ["1 mm", "-1 mm"], Q_([[1.0, -1e-9]], "mm")]
)
def test_a_negative_value_is_refused_where_it_cannot_be(value, sign):
    with pytest.raises(InputError, match="depth: .*must"):
        to_core(value, "length", "depth", sign)
    assert np.min(to_core(value, "length", "depth")) < 0


@pytest.mark.parametrize("value", ["0 mm", "-0 mm", Q_(0, "in"), ["1 mm", "0 mm"]])
def test_zero_is_refused_only_where_it_divides(value):
    assert np.min(to_core(value, "length", "depth", ">= 0")) == 0
    with pytest.raises(InputError, match="depth: .*greater than zero"):
        to_core(value, "length", "depth", "> 0")


# What comes out


@pytest.mark.parametrize("kind", KINDS)
def test_answers_come_in_the_unit_that_people_see(kind):
    found = as_shown(1.5, kind)
    if kind == "ratio":
        assert found == 1.5
        return
    assert found.units == parse_unit(KINDS[kind].shown)
    assert found.m_as(KINDS[kind].core) == pytest.approx(1.5, rel=1e-12)


def test_one_value_answers_with_a_float_and_many_with_an_array():
    assert type(lever("2 N", "500 mm").m) is float
    assert lever(["2 N", "4 N"], "500 mm").m.tolist() == [1.0, 2.0]
    assert lever(["2 N"], "500 mm").m.shape == (1,)
    assert type(as_shown(np.float64(2), "ratio")) is float
    assert as_shown([2, 3], "ratio").tolist() == [2.0, 3.0]


@given(force=st.floats(1e-6, 1e6), arm=st.floats(1e-6, 100))
def test_text_quantities_and_core_give_the_same(force, arm):
    core = lever.core(force, arm)
    assert isinstance(core, float)
    assert lever(Q_(force, "N"), Q_(arm, "m")).m_as("N*m") == pytest.approx(core)
    assert lever(Q_(force / 4.4482216152605, "lbf"), Q_(arm / 0.0254, "in")).m_as(
        "N*m"
    ) == pytest.approx(core, rel=1e-12)
    typed = unmistakable(repr(force), "N")  # 12.125 N might mean thousands
    assert lever(f"{typed} N", f"{arm!r} m").m_as("N*m") == pytest.approx(core, rel=1e-12)


def test_arrays_give_what_single_values_give():
    forces, arms = [1.0, 2.0, 3.0], [[0.1], [0.2]]
    together = lever(Q_(forces, "N"), Q_(arms, "m")).m_as("N*m")
    alone = [[lever(Q_(f, "N"), Q_(a[0], "m")).m_as("N*m") for f in forces] for a in arms]
    np.testing.assert_allclose(together, alone, rtol=1e-15)


def test_infinity_may_come_out():
    assert np.isinf(as_shown(np.inf, "force").m_as("N"))


# The wrapper


def test_core_takes_bare_numbers_and_knows_no_units():
    assert lever.core(2.0, 0.5) == 1.0
    assert lever.core(np.array([2.0]), 0.5).tolist() == [1.0]
    assert lever.core(-2.0, 0.5, 3.0) == -3.0


def test_name_and_docstring_stay_with_the_function():
    assert lever.__name__ == "lever"
    assert lever.__doc__ == "A force on an arm."
    assert set(lever.specs) == {"force", "arm", "share"}
    assert lever.returns == "torque"


def test_what_has_no_spec_passes_untouched():
    thing = object()
    assert bare("0 deg", untouched=thing)[3] is thing
    assert bare("0 deg")[3] == 7


def test_none_passes_only_where_it_is_the_default():
    assert bare("0 deg")[2] is None
    assert bare("0 deg", spare=None)[2] is None
    assert bare("0 deg", spare="1 mm")[2] == 0.001
    for call in (
        lambda: bare(None),
        lambda: bare("0 deg", None),
        lambda: lever("1 N", "1 m", None),
    ):
        with pytest.raises(InputError):
            call()


@pytest.mark.parametrize(
    "choice", ["middle", "LEFT", "", 5, None, ["left"], np.array("left"), b"left"]
)
def test_a_choice_is_refused_with_what_may_be_chosen(choice):
    with pytest.raises(InputError, match="choice: .*left, right"):
        bare("0 deg", choice)


@pytest.mark.parametrize("arguments", [(), ("1 N",), ("1 N", "1 m", 1, 2), ("1 N", "1 m", 1)])
def test_arguments_by_place_and_by_name(arguments):
    if len(arguments) == 3:
        assert lever(*arguments) == lever(share=1, arm="1 m", force="1 N")
        return
    with pytest.raises(TypeError):
        lever(*arguments)


def test_an_unknown_argument_is_named():
    with pytest.raises(TypeError, match="frce"):
        lever("1 N", "1 m", frce="1 N")


def test_a_spec_that_is_none_is_a_mistake_at_once():
    with pytest.raises(TypeError, match="lenght"):
        boundary(arm="lenght")(lambda arm: arm)
    with pytest.raises(TypeError, match="length < 0"):
        boundary(arm="length < 0")(lambda arm: arm)
    with pytest.raises(TypeError, match="leg"):
        boundary(leg="length")(lambda arm: arm)


def test_shapes_that_do_not_fit_are_listed_with_their_names():
    with pytest.raises(InputError, match=r"force \(3,\), arm \(2,\)"):
        lever(Q_([1, 2, 3], "N"), ["1 m", "2 m"])
    pads = Pad(["30 mm", "40 mm"])
    with pytest.raises(InputError, match=r"pad \(2,\).*friction_coefficient \(3,\)"):
        torque_capacity(pads, "600 N", [0.1, 0.2, 0.3])


def test_common_shape_counts_what_has_no_shape_as_one_value():
    assert common_shape(a=1.0, b="text", c=np.zeros((2, 1)), d=np.zeros(3)) == (2, 3)
    assert common_shape() == ()


def test_a_million_values_are_converted_at_once():
    many = Q_(np.ones(10**6), "kN")
    assert to_core(many, "force", "x").sum() == 1e9
