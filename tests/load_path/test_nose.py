"""How the tip gives way: play by geometry, what thrust, fit and overhang do, what it holds."""

import numpy as np
import pytest
from scipy.optimize import brentq

from workshop_lib.bearings.ball_bearing import BallBearing, typical_inside
from workshop_lib.load_path.design_tables import designs, find_design
from workshop_lib.load_path.nose import nose_shift, play, side_held, unloading_thrust
from workshop_lib.quantities import Q_, InputError, OutOfRangeWarning, as_numbers

NOSE, ROLLER, PRELOADED = map(find_design, ("pressure_nose", "roller_centre", "preloaded_centre"))


def mm(quantity):
    return as_numbers(quantity.m_as("mm"), "shift")


# Play is geometry


def test_play_under_thrust_is_half_the_fit_of_the_front_ring():
    # The thrust holds balls and rings together; only the ring as a whole can slide in its bore.
    for fit in (6, 18, 36):
        drift = play(NOSE.changed(fit=Q_(fit, "um")), "600 N")
        assert mm(drift) == pytest.approx(fit / 2 / 1000, abs=0.0003)


def test_play_without_thrust_is_that_of_two_loose_bearings_and_a_lever():
    # Front half-play g1, rear half-play g2, overhang a, span L: tip g1 + (g1 + g2) a/L.
    half = (18 + 10.5) / 2 / 1000
    assert mm(play(NOSE, "0 N")) == pytest.approx(half + 2 * half * 25 / 32, abs=0.0005)
    longer = NOSE.changed(overhang="50 mm")
    assert mm(play(longer, "0 N")) == pytest.approx(half + 2 * half * 50 / 32, abs=0.0005)


def test_play_of_the_roller_centre_without_thrust_is_rollers_needles_and_a_lever():
    # C2: 12.5 µm; needles on h5: 33.5 µm; overhang 24, span 50 mm.
    tip = 6.25 + (6.25 + 16.75) * 24 / 50
    assert mm(play(ROLLER, "0 N")) == pytest.approx(tip / 1000, abs=0.0005)


def test_a_preloaded_centre_has_no_play():
    for thrust in ("0 N", "600 N", "1500 N"):
        assert mm(play(PRELOADED, thrust)) < 1e-4


def test_no_play_where_nothing_is_loose():
    tight = NOSE.changed(fit="0 um", clearance="0 um")
    assert mm(play(tight, "0 N")) < 2e-4


# What changes the shift


def test_more_fit_overhang_or_clearance_shifts_the_tip_further():
    for name, values in (
        ("fit", ("2 um", "18 um", "36 um")),
        ("overhang", ("15 mm", "25 mm", "45 mm")),
        ("clearance", ("3 um", "10 um", "25 um")),
    ):
        shifts = [mm(nose_shift(NOSE.changed(**{name: each}), "0 N", "30 N")) for each in values]
        assert np.all(np.diff(shifts) > 0), name


def test_a_longer_span_steadies_the_nose():
    shifts = [mm(nose_shift(NOSE.changed(span=each), "0 N", "30 N")) for each in ("20 mm", "60 mm")]
    assert shifts[1] < shifts[0]


def test_thrust_steadies_the_nose_but_never_below_the_fit():
    shifts = mm(nose_shift(NOSE, Q_([0, 30, 150, 600, 1800], "N"), "10 N"))
    assert np.all(np.diff(shifts) < 0)
    assert shifts[-1] > 0.009


def test_friction_on_its_face_hides_the_play_of_a_ring_until_it_slides():
    gripped = NOSE.changed(ring_friction=0.1)
    assert mm(play(gripped, "600 N")) < 0.0005  # 0.1 × 600 N = 60 N hold the ring still
    below, above = mm(nose_shift(gripped, "600 N", Q_([20, 400], "N")))
    assert below < 0.009
    assert above == pytest.approx(mm(nose_shift(NOSE, "600 N", "400 N")), rel=0.25)
    assert mm(nose_shift(gripped, "0 N", "20 N")) == pytest.approx(
        mm(nose_shift(NOSE, "0 N", "20 N")), rel=1e-6
    )


def test_preload_steadies_a_centre():
    shifts = [
        mm(nose_shift(PRELOADED.changed(preload=each), "100 N", "50 N"))
        for each in ("0 N", "200 N", "600 N", "1200 N")
    ]
    assert np.all(np.diff(shifts) < 0)


def test_in_the_order_of_the_lesson_under_a_cut():
    # 600 N thrust and 20 N from the side: the nose gives most, the preloaded centre least.
    shifts = [mm(nose_shift(design, "600 N", "20 N")) for design in (NOSE, ROLLER, PRELOADED)]
    assert shifts == sorted(shifts, reverse=True)
    assert shifts[0] > 2 * shifts[1] > 2 * shifts[2]


# What it holds


def test_a_tip_within_its_play_holds_nothing():
    drift = mm(play(NOSE, "600 N"))
    held = side_held(NOSE, "600 N", Q_([0, 0.5 * drift, 0.98 * drift, 1.5 * drift], "mm"))
    assert held.m_as("N")[:3] == pytest.approx([0, 0, 0], abs=0.05)
    assert held.m_as("N")[3] > 1


@pytest.mark.parametrize("design", designs(), ids=lambda each: each.key)
def test_holding_is_the_inverse_of_giving_way(design):
    shift = nose_shift(design, "600 N", ["5 N", "60 N"])
    assert side_held(design, "600 N", shift).m_as("N") == pytest.approx([5, 60], rel=1e-3)


# Preload lost


def test_two_bearings_alike_lose_a_preload_at_2_83_times_it():
    # Each gives as force^(2/3), one is let go by all that it was squeezed, the other is squeezed
    # twice as far: 2^(3/2). Held here on one bearing's own law, F(2 d) = 2^1.5 F(d), at 90°.
    inside = typical_inside("51102")
    squeeze = inside.equilibrium("400 N").axial_shift
    more = inside.equilibrium(Q_(400 * 2**1.5, "N")).axial_shift
    assert more.m == pytest.approx(2 * squeeze.m, rel=1e-6)


def test_the_unloading_thrust_is_where_the_front_bearing_lets_go():
    limit = unloading_thrust(PRELOADED).m_as("N")
    by_hand = _unloading_by_root_finding(PRELOADED.preload)
    assert limit == pytest.approx(by_hand, rel=1e-4)


def _unloading_by_root_finding(preload):
    """Squeeze of both at the preload, then the force of the thrust bearing at their sum."""
    slanted, thrust = typical_inside("7202 B"), typical_inside("51102")
    both = sum(
        bearing.equilibrium(Q_(preload, "N")).axial_shift.m_as("mm")
        for bearing in (slanted, thrust)
    )
    return brentq(
        lambda force: thrust.equilibrium(Q_(force, "N")).axial_shift.m_as("mm") - both, 1, 4000
    )


def test_the_unloading_thrust_grows_with_the_preload():
    limits = [
        unloading_thrust(PRELOADED.changed(preload=each)).m for each in ("0 N", "300 N", "900 N")
    ]
    assert limits[0] == pytest.approx(0, abs=1e-6)
    assert limits[1] < limits[2]


def test_beyond_the_unloading_thrust_the_centre_gives_more():
    limit = unloading_thrust(PRELOADED).m_as("N")
    below, above = mm(nose_shift(PRELOADED, Q_([0.9 * limit, 1.4 * limit], "N"), "30 N"))
    assert above > below


def test_a_design_without_preload_has_none_to_lose():
    with pytest.raises(InputError, match="^design: .* no preload"):
        unloading_thrust(NOSE)


# Arrays, units, refusals


def test_arrays_broadcast():
    found = nose_shift(NOSE, Q_([100, 600], "N"), Q_([[0], [10], [50]], "N"))
    assert found.shape == (3, 2)
    alone = nose_shift(NOSE, "600 N", "10 N")
    assert found[1, 1].m == pytest.approx(alone.m, rel=1e-5)
    assert np.ndim(alone.m) == 0


def test_pound_force_agrees_with_newton():
    assert mm(nose_shift(NOSE, "100 lbf", "10 lbf")) == pytest.approx(
        mm(nose_shift(NOSE, "444.822 N", "44.4822 N")), rel=1e-4
    )


@pytest.mark.parametrize("call", [nose_shift, side_held, play])
@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"design": "nose"}, "design"),
        ({"thrust": "-1 N"}, "thrust"),
        ({"thrust": 600}, "thrust"),
        ({"thrust": float("nan")}, "thrust"),
        ({"shaft": "wooden"}, "shaft"),
    ],
)
def test_nonsense_is_refused_by_name(call, changed, name):
    given = {"design": NOSE, "thrust": "600 N"} | changed
    given |= {nose_shift: {"side_force": "1 N"}, side_held: {"shift": "1 um"}, play: {}}[call]
    with pytest.raises(InputError, match=f"^{name}:"):
        call(**given)


def test_a_load_that_marks_the_grooves_is_warned_of_and_a_crushing_one_refused():
    with pytest.warns(OutOfRangeWarning, match="4200 MPa") as warned:
        nose_shift(NOSE, "600 N", ["50 N", "3000 N"])
    assert len(warned) == 1
    assert warned[0].filename == __file__
    with pytest.raises(InputError, match="^side_force: .*crush"):
        nose_shift(NOSE, "600 N", "1e7 N")


def test_a_bearing_is_not_a_design():
    with pytest.raises(InputError, match="^design: "):
        nose_shift(BallBearing(8, "5 mm", "25 mm"), "600 N", "1 N")


def test_find_gives_the_same_as_the_key():
    assert mm(nose_shift("pressure_nose", "600 N", "10 N")) == mm(
        nose_shift(find_design("pressure_nose"), "600 N", "10 N")
    )
