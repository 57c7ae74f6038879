"""What a located nose adds: its own friction against side force, and nothing against torque."""

import numpy as np
import pytest

from tests.slip.slip_cases import EACH_PAD, LOAD, SETUP
from workshop_lib.friction import limit_curve
from workshop_lib.friction.limit_shape import reach
from workshop_lib.quantities import Q_
from workshop_lib.slip import margin
from workshop_lib.slip.criterion import ray_length


@pytest.mark.parametrize(("nose_friction", "sum_of_both"), [(None, 0.4), (0.05, 0.25), (0, 0.2)])
@EACH_PAD
def test_located_nose_adds_its_own_friction_to_side_force_alone(pad, nose_friction, sum_of_both):
    found = margin(pad, "600 N", 0.2, "40 N", "0 N m", "located", nose_friction)
    assert found == pytest.approx(600 * sum_of_both / 40, rel=1e-9)


@EACH_PAD
def test_located_nose_adds_nothing_to_torque(pad):
    load = ("600 N", 0.2, "0 N", "0.4 N m")
    located = margin(pad, *load, "located", 0.5)
    assert located == pytest.approx(margin(pad, *load), rel=1e-9)


@EACH_PAD
def test_slippery_located_nose_is_a_floating_one(pad):
    located = margin(pad, "600 N", 0.2, **LOAD, nose="located", nose_friction=0)
    assert located == pytest.approx(margin(pad, "600 N", 0.2, **LOAD), rel=1e-9)


def test_floating_nose_knows_no_friction_of_its_own():
    assert margin(**SETUP, **LOAD, nose_friction=0.9) == margin(**SETUP, **LOAD)


def test_located_nose_with_friction_unsaid_has_that_of_the_pad():
    unsaid = margin(**SETUP, **LOAD, nose="located")
    assert unsaid == margin(**SETUP, **LOAD, nose="located", nose_friction=0.2)


def test_grippier_nose_never_lowers_the_margin():
    found = margin(**SETUP, **LOAD, nose="located", nose_friction=np.linspace(0, 1, 101))
    assert (np.diff(found) >= -1e-12).all()
    assert found[-1] > found[0]


def test_nose_that_takes_all_the_side_force_leaves_torque_alone():
    # At the margin the side force is 120 N; a nose at 0.3 × 600 N = 180 N takes it all.
    pad = SETUP["pad"]
    alone = margin(**SETUP, side_force="0 N", torque="0.5 N m")
    assert alone * 40 < 180
    assert margin(pad, "600 N", 0.2, **LOAD, nose="located", nose_friction=0.3) == pytest.approx(
        alone, rel=1e-9
    )


@pytest.mark.parametrize("nose_friction", [0.02, 0.1, 0.25])
@pytest.mark.parametrize(("side", "torque"), [(40, 0.5), (100, 0.1), (5, 1.0), (90, 0.9)])
@EACH_PAD
def test_located_nose_agrees_with_bisection_on_the_exact_curve(pad, side, torque, nose_friction):
    def slips(factor):
        push = max(factor * side - 600 * nose_friction, 0) / 120
        turn = factor * torque / (120 * 0.015)
        force, moment = limit_curve_of(pad)
        # Inside a convex curve: below every tangent, whose slope is minus the turning centre.
        return (CENTRES * push + turn > CENTRES * force + moment).any()

    low, high = 0.0, 600 * (0.2 + nose_friction) / side
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if slips(middle) else (middle, high)
    found = margin(pad, "600 N", 0.2, Q_(side, "N"), Q_(torque, "N*m"), "located", nose_friction)
    assert found == pytest.approx(low, rel=2e-6)


CENTRES = np.tan(np.linspace(0, np.pi / 2, 4001)[:-1])


def limit_curve_of(pad, kept={}):  # noqa: B006 - the curves are kept from test to test on purpose
    if pad not in kept:
        kept[pad] = tuple(part[:-1] for part in limit_curve(pad, 4001))
    return kept[pad]


# Lines that do not start at the origin: a nose that helps (grip > 0), an unbalance that waits (< 0)


def bisected(pressure, relief, hold, side, turn, grip):
    """Return the largest factor that is held, by halving alone."""
    low = np.zeros_like(hold)
    high = 2 * (hold + np.abs(grip)) / np.maximum(side, turn)
    for _ in range(200):
        middle = (low + high) / 2
        push, turned = np.maximum(middle * side - grip, 0), middle * turn
        total = push + turned
        slips = total > hold * reach(pressure, relief, turned / np.where(total > 0, total, 1))
        low, high = np.where(slips, low, middle), np.where(slips, middle, high)
    return low


def lines(start, count=400):
    """Return holds, side forces, scaled torques and grips of every size."""
    draw = np.random.default_rng(5)
    hold = 10 ** draw.uniform(0, 4, count)
    side, turn = 10 ** draw.uniform(-3, 3, (2, count))
    small = 10 ** draw.uniform(-9, 0, count)
    grip = {
        "weak nose": hold * small,
        "strong nose": hold / small,
        "unbalance": -hold * draw.uniform(0, 1, count),
        "unbalance that nearly slips": -hold * (1 - small),
        "unbalance that slips": -hold * (1 + small),
    }[start]
    return hold, side, turn, grip


@pytest.mark.parametrize(
    "start",
    [
        "weak nose",
        "strong nose",
        "unbalance",
        "unbalance that nearly slips",
        "unbalance that slips",
    ],
)
@pytest.mark.parametrize(
    ("pressure", "relief"),
    [("uniform", 0.0), ("uniform", 0.99), ("uniform_wear", 0.0), ("rigid_punch", 0.0)],
)
def test_any_line_of_load_leaves_the_curve_where_halving_finds_it(pressure, relief, start):
    hold, side, turn, grip = lines(start)
    found = ray_length(pressure, 1.0, relief, hold, side, turn, grip)
    wanted = bisected(pressure, relief, hold, side, turn, grip)
    # A line that starts close to the edge loses figures: rounding moves where it leaves.
    span = (hold + np.abs(grip)) / np.maximum(side, turn)
    np.testing.assert_array_less(np.abs(found - wanted), 1e-7 * wanted + 1e-12 * span)
    if start == "unbalance that slips":
        assert (found == 0).all()
    else:
        assert (found > 0).all()


def test_an_unbalance_slips_by_itself_or_never_grows():
    assert ray_length("uniform", 1.0, 0.0, 100.0, 0.0, 0.0, -101.0) == 0
    assert ray_length("uniform", 1.0, 0.0, 100.0, 0.0, 0.0, -99.0) == np.inf
