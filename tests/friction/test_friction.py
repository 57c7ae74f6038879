"""Pads: torque radii, pressures, and capacities, against clutches and quadrature."""

import numpy as np
import pytest
from scipy.integrate import quad

from workshop_lib import friction
from workshop_lib.friction import PRESSURES, Pad, contact_pressure
from workshop_lib.quantities import Q_, InputError

SIZES = [("30 mm", "0 mm"), ("30 mm", "12 mm"), ("30 mm", "29 mm")]


def pads():
    for pressure in PRESSURES:
        for outer, inner in SIZES if pressure.startswith("uniform") else SIZES[:1]:
            yield pytest.param(Pad(outer, inner, pressure), id=f"{pressure} {inner}")


# Torque radius and capacity


@pytest.mark.parametrize("pad", list(pads()))
def test_torque_radius_is_the_mean_of_radius_over_the_pressure(pad):
    def moment(radius):
        ring = 2 * np.pi * radius * contact_pressure.core(pad, 1.0, radius)
        return ring * radius

    # r = R sin(u) takes the infinite pressure at a punch's rim out of the integral.
    outer, inner = pad.outer_radius, pad.inner_radius
    start, end = np.arcsin(inner / outer), np.pi / 2 - 1e-9
    total = quad(lambda u: moment(outer * np.sin(u)) * outer * np.cos(u), start, end)[0]
    assert pad.torque_radius.m_as("m") == pytest.approx(total, rel=1e-8)


@pytest.mark.parametrize("pad", list(pads()))
def test_pressure_adds_up_to_the_thrust(pad):
    def load(radius):
        return 2 * np.pi * radius * contact_pressure.core(pad, 600.0, radius)

    outer, inner = pad.outer_radius, pad.inner_radius
    start, end = np.arcsin(inner / outer), np.pi / 2 - 1e-9
    total = quad(lambda u: load(outer * np.sin(u)) * outer * np.cos(u), start, end)[0]
    assert total == pytest.approx(600, rel=1e-8)


# One pair of faces, D 300 mm, d 225 mm, mu 0.25, F 5000 N (ME 452, homework 14, after Shigley's
# equations 16-23 to 16-25): uniform wear 164.063 N·m and 188 628 Pa at the inner edge; uniform
# pressure 161 681 Pa (printed), 165.18 N·m (worked from the same equation).
@pytest.mark.parametrize(
    ("pressure", "torque", "at_inner_edge"),
    [("uniform_wear", 164.063, 188_628), ("uniform", 165.18, 161_681)],
)
def test_clutch_of_a_published_exercise(pressure, torque, at_inner_edge):
    clutch = Pad("300 mm", "225 mm", pressure)
    held = friction.torque_capacity(clutch, "5000 N", 0.25)
    assert held.m_as("N*m") == pytest.approx(torque, abs=0.005)
    edge = contact_pressure(clutch, "5000 N", "112.5 mm")
    assert edge.m_as("Pa") == pytest.approx(at_inner_edge, abs=0.5)


# Friction that grows with radius, mu = 0.01 r (r in mm), r_i 20, r_o 40 mm, uniform 0.5 MPa:
# T = 18.85 kN·mm (published exercise). Here each thin ring is a pad of its own.
def test_rings_of_changing_friction_add_up_to_a_published_exercise():
    edges = np.linspace(20, 40, 2001)
    rings = Pad(Q_(2 * edges[1:], "mm"), Q_(2 * edges[:-1], "mm"))
    thrust = Q_(0.5, "MPa") * rings.area
    middle = (edges[1:] + edges[:-1]) / 2
    held = friction.torque_capacity(rings, thrust, 0.01 * middle)
    assert held.m_as("N*m").sum() == pytest.approx(18.85, abs=0.005)


def test_solid_disc_holds_two_thirds_mu_n_r():
    held = friction.torque_capacity(Pad("80 mm"), "1000 N", 0.3)
    assert held.m_as("N*m") == pytest.approx(2 / 3 * 0.3 * 1000 * 0.040, rel=1e-12)


def test_solid_worn_disc_holds_half_mu_n_r():
    held = friction.torque_capacity(Pad("80 mm", pressure="uniform_wear"), "1000 N", 0.3)
    assert held.m_as("N*m") == pytest.approx(0.5 * 0.3 * 1000 * 0.040, rel=1e-12)


@pytest.mark.parametrize("pressure", ["uniform", "uniform_wear"])
def test_relieving_the_middle_buys_torque(pressure):
    inner = Q_(np.linspace(0, 29.9, 50), "mm")
    held = friction.torque_capacity(Pad("30 mm", inner, pressure), "600 N", 0.2)
    assert (np.diff(held.m_as("N*m")) > 0).all()


def test_pressure_pushed_outwards_holds_more_torque():
    ordered = ["uniform_wear", "hertz", "uniform", "rigid_punch"]
    radii = [Pad("30 mm", pressure=p).torque_radius.m_as("mm") for p in ordered]
    assert radii == sorted(radii)
    assert len(set(radii)) == 4


def test_thin_ring_holds_at_its_own_radius():
    for pressure in ("uniform", "uniform_wear"):
        ring = Pad("30 mm", "29.9999 mm", pressure)
        assert ring.torque_radius.m_as("mm") == pytest.approx(15, abs=1e-4)


@pytest.mark.parametrize("factor", [0.0, 0.5, 2.0, 10.0])
def test_capacities_grow_in_step_with_thrust_and_friction(factor):
    pad = Pad("30 mm", "10 mm")
    base = friction.torque_capacity(pad, "600 N", 0.2)
    assert friction.torque_capacity(pad, Q_(600 * factor, "N"), 0.2).m == pytest.approx(
        factor * base.m
    )
    assert friction.torque_capacity(pad, "600 N", 0.2 * factor).m == pytest.approx(factor * base.m)
    assert friction.side_capacity(Q_(600 * factor, "N"), 0.2).m_as("N") == pytest.approx(
        factor * 120
    )


def test_side_capacity_knows_no_pad():
    assert friction.side_capacity("600 N", 0.2).m_as("N") == pytest.approx(120)


def test_torque_capacity_grows_in_step_with_size():
    small, large = Pad("20 mm", "6 mm"), Pad("60 mm", "18 mm")
    held = [friction.torque_capacity(p, "600 N", 0.2).m for p in (small, large)]
    assert held[1] == pytest.approx(3 * held[0])


def test_inches_and_pounds_force_give_the_same():
    metric = friction.torque_capacity(Pad("30.48 mm", "10.16 mm"), "444.82216152605 N", 0.2)
    inch = friction.torque_capacity(Pad("1.2 in", "0.4 in"), "100 lbf", 0.2)
    assert inch.m_as("N*m") == pytest.approx(metric.m_as("N*m"), rel=1e-12)


def test_area_of_a_ring():
    assert Pad("30 mm", "10 mm").area.m_as("mm**2") == pytest.approx(np.pi * (15**2 - 5**2))


# Contact pressure


def test_pressures_at_the_middle_by_hand():
    # N/(pi R²) = 600/(pi 15²) = 0.8488 MPa; a punch has half of it there, Hertz one and a half.
    mean = 600 / (np.pi * 15**2)
    for pressure, factor in (("uniform", 1), ("rigid_punch", 0.5), ("hertz", 1.5)):
        found = contact_pressure(Pad("30 mm", pressure=pressure), "600 N", "0 mm")
        assert found.m_as("MPa") == pytest.approx(factor * mean)


def test_worn_pad_presses_as_one_over_radius():
    found = contact_pressure(
        Pad("30 mm", "4 mm", "uniform_wear"), "600 N", ["3 mm", "6 mm", "12 mm"]
    )
    assert found.m_as("MPa") * [3, 6, 12] == pytest.approx([600 / (2 * np.pi * 13)] * 3)


def test_nothing_presses_off_the_pad():
    found = contact_pressure(Pad("30 mm", "10 mm"), "600 N", ["4.9 mm", "15.1 mm", "1 m"])
    assert (found.m_as("MPa") == 0).all()


@pytest.mark.parametrize("pressure", PRESSURES)
def test_without_thrust_nothing_presses(pressure):
    found = contact_pressure(Pad("30 mm", pressure=pressure), "0 N", ["0 mm", "7 mm", "15 mm"])
    assert (found.m_as("MPa") == 0).all()


def test_edges_that_are_infinite_in_theory_are_infinite_without_a_warning():
    assert np.isinf(contact_pressure(Pad("30 mm", pressure="rigid_punch"), "1 N", "15 mm").m)
    assert np.isinf(contact_pressure(Pad("30 mm", pressure="uniform_wear"), "1 N", "0 mm").m)


# Pads in arrays, and refusals


def test_pads_in_an_array_are_the_pads_one_by_one():
    outer, inner = np.array([[20.0], [30.0]]), np.array([0.0, 5.0, 12.0])
    together = Pad(Q_(outer, "mm"), Q_(inner, "mm"))
    assert together.shape == (2, 3)
    assert together.torque_radius.shape == (2, 3)
    for i, j in np.ndindex(2, 3):
        alone = Pad(Q_(outer[i, 0], "mm"), Q_(inner[j], "mm"))
        assert alone.shape == ()
        assert together.torque_radius[i, j].m == pytest.approx(alone.torque_radius.m)
        assert together.area[i, j].m == pytest.approx(alone.area.m)


def test_pad_writes_itself_as_it_is_typed():
    assert repr(Pad("30 mm", "10 mm")) == "Pad('30 mm', '10 mm', 'uniform')"
    assert eval(repr(Pad("30 mm", "10 mm")), {"Pad": Pad}).inner_radius == 0.005
    assert "2" in repr(Pad(["30 mm", "40 mm"]))


def test_pad_cannot_be_changed():
    with pytest.raises(AttributeError):
        Pad("30 mm").outer_radius = 1.0


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("0 mm",), "outer_diameter"),
        (("-30 mm",), "outer_diameter"),
        ((30,), "outer_diameter"),
        (("30 N",), "outer_diameter"),
        ((None,), "outer_diameter"),
        ((Q_(30, "deg"),), "outer_diameter"),
        (("30 mm", "-1 mm"), "inner_diameter"),
        (("30 mm", "30 mm"), "inner_diameter"),
        (("30 mm", "31 mm"), "inner_diameter"),
        ((["30 mm", "5 mm"], "10 mm"), "inner_diameter"),
        (("30 mm", None), "inner_diameter"),
        ((["30 mm", "40 mm"], ["1 mm", "2 mm", "3 mm"]), "inner_diameter (3,)"),
        (("30 mm", "0 mm", "even"), "pressure"),
        (("30 mm", "0 mm", None), "pressure"),
        (("30 mm", "0 mm", ["uniform"]), "pressure"),
        (("30 mm", "1 mm", "hertz"), "inner_diameter"),
        (("30 mm", "1 mm", "rigid_punch"), "inner_diameter"),
    ],
)
def test_an_impossible_pad_is_refused_by_name(arguments, named):
    with pytest.raises(InputError) as refusal:
        Pad(*arguments)
    assert named in str(refusal.value)


@pytest.mark.parametrize(
    ("call", "arguments", "named"),
    [
        (friction.torque_capacity, (Pad("30 mm"), "-1 N", 0.2), "thrust"),
        (friction.torque_capacity, (Pad("30 mm"), "1 N", -0.2), "friction_coefficient"),
        (friction.torque_capacity, ("30 mm", "1 N", 0.2), "pad"),
        (friction.side_capacity, ("-1 N", 0.2), "thrust"),
        (friction.side_capacity, ("1 N", -0.2), "friction_coefficient"),
        (friction.side_capacity, ("1 N", None), "friction_coefficient"),
        (contact_pressure, (Pad("30 mm"), "-1 N", "1 mm"), "thrust"),
        (contact_pressure, (Pad("30 mm"), "1 N", "-1 mm"), "radius"),
        (contact_pressure, (None, "1 N", "1 mm"), "pad"),
    ],
)
def test_impossible_values_are_refused_by_name(call, arguments, named):
    with pytest.raises(InputError) as refusal:
        call(*arguments)
    assert refusal.value.name == named
