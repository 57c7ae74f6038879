"""Set-ups with a hidden fault: alike for everyone, and true to the parts they are made of."""

import numpy as np
import pytest

from tests.house.thorough import once
from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out import causes
from workshop_lib.run_out import hidden_faults as module
from workshop_lib.run_out.clocking_list import clockings, find_clocking
from workshop_lib.run_out.diagnosis import diagnose
from workshop_lib.run_out.hidden_faults import HIDEABLE, _lobes, _sticking, mystery
from workshop_lib.run_out.readings import Push

EACH_FAULT = pytest.mark.parametrize("cause", HIDEABLE)
# Neither the seeds of the benchmark (0 to 999) nor those by which the tables were tried out.
SEEDS = range(200_000, 200_012)


def readings(setup, key, turn=1):
    return setup.take(key, turn).readings.m_as("um")


def test_a_seed_makes_the_same_set_up_whatever_was_clocked_before():
    one, other = mystery(7), mystery(7)
    for key in ("nose_near", "disc_radial", "nose_push"):
        readings(one, key)
    for key in ("nose_push", "disc_radial", "nose_near"):
        np.testing.assert_array_equal(readings(other, key), readings(one, key))
    assert one.reveal() == other.reveal()


def test_another_seed_another_set_up():
    found = {tuple(readings(mystery(seed), "nose_near")) for seed in SEEDS}
    assert len(found) == len(SEEDS)


def test_where_nothing_is_hidden_the_answer_is_nothing_of_no_size():
    answer = mystery(1, faults=0).reveal()
    assert (answer.cause, answer.size.m_as("um")) == ("nothing_found", 0)


def test_every_fault_is_drawn():
    drawn = {mystery(seed).reveal().cause for seed in range(200_000, 200_200)}
    assert drawn == set(HIDEABLE)


@EACH_FAULT
def test_sizes_lie_between_low_and_high_of_the_table(cause):
    for seed in SEEDS:
        answer = mystery(seed, cause).reveal()
        low, _, high = causes.find_cause(cause, answer.part).sizes
        assert answer.cause == cause
        assert low <= answer.size.m_as("m") <= high
        assert causes.find_cause(cause).name in answer.sentence


def test_readings_are_whole_divisions():
    for seed in SEEDS:
        setup = mystery(seed)
        for key in ("nose_near", "nose_push"):
            steps = setup.take(key).core.readings / setup.graduation.m_as("m")
            np.testing.assert_allclose(steps, np.round(steps), atol=1e-6)


def test_the_needle_stands_within_half_a_division_of_what_is_read():
    setup = mystery(5)
    taken = setup.take("disc_radial")
    needle = setup.needle("disc_radial", taken.angles)
    apart = np.abs((needle - taken.readings).m_as("m"))
    assert apart.max() <= setup.graduation.m_as("m") / 2 + 1e-12
    assert setup.needle("disc_radial", "40 deg").m_as("mm") == pytest.approx(
        setup.needle("disc_radial", ["40 deg"]).m_as("mm")[0]
    )


def test_a_second_turn_differs_by_its_scatter_only():
    setup = mystery(3, "displaced_disc")
    first, second = readings(setup, "disc_radial"), readings(setup, "disc_radial", 2)
    assert not np.array_equal(first, second)
    vectors = [setup.take("disc_radial", turn).fit().core.vector for turn in (1, 2)]
    assert abs(vectors[0] - vectors[1]) < 10e-6


# A needle that sticks


def test_a_needle_that_sticks_follows_half_its_width_behind_and_loses_all_of_it_on_the_way_back():
    # By hand: 2 wide, up to 5 and down to 0. It waits for a pull of more than 1 either way.
    there = _sticking(np.array([0, 0.5, 1, 2, 3, 4, 5.0]), 2.0)
    np.testing.assert_array_equal(there, [0, 0, 0, 1, 2, 3, 4])
    back = _sticking(np.array([0, 5, 4, 3, 2, 1, 0.0]), 2.0)
    np.testing.assert_array_equal(back, [0, 4, 4, 4, 3, 2, 1])


def test_a_needle_without_any_sticking_is_where_it_is_pulled():
    path = np.array([0, 3, -2, 0.5])
    np.testing.assert_array_equal(_sticking(path, 0.0), path)


def test_no_dial_sticks_more_than_one_that_may_be_sold():
    # DIN 878:2006 (from memory): 3 µm of hysteresis for a dial gauge graduated in 0.01 mm.
    widths = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "_sticking", lambda path, width: widths.append(width) or path)
        for seed in range(200_000, 200_060):
            mystery(seed, "oval").needle("pad_radial", "0 deg")
    assert len(widths) == 60 and 0 <= min(widths) < 0.2e-6
    assert 1.5e-6 < max(widths) <= 3e-6, "it sticks in earnest, but no more than is allowed"


# True to its parts


def clean(cause, key, seed=200_001):
    """Readings of a fault without any small errors or scatter, in µm; its size; its part."""
    setup = mystery(seed, cause, roughness=0)
    needle = setup.needle(key, Q_(np.arange(0, 360, 10.0), "deg")).m_as("um")
    return needle, setup.reveal().size.m_as("um"), setup.reveal().part


def amplitude(needle, order):
    return 2 * np.abs(np.fft.rfft(needle)[order]) / needle.size


@pytest.mark.parametrize(
    ("cause", "order"), [("eccentric_seat", 1), ("oval", 2), ("three_jaw_lobes", 3)]
)
def test_a_shape_of_a_known_size_shows_in_its_own_harmonic(cause, order):
    for seed in SEEDS:
        part = mystery(seed, cause).reveal().part
        key = {"pad": "pad_radial", "disc": "disc_radial", "nose": "nose_near"}[part]
        needle, size, _ = clean(cause, key, seed)
        assert amplitude(needle, order) == pytest.approx(size, rel=1e-3)
        other = 1 if order > 1 else 2
        assert amplitude(needle, other) < 0.02 * size


def test_a_round_disc_off_its_axis_is_an_exact_circle():
    # A circle of radius R: e cos(x) + sqrt(R² − e² sin²(x)) has an oval of e²/(4 R), crest and all.
    seed = max(SEEDS, key=lambda each: mystery(each, "displaced_disc").reveal().size)
    needle, size, _ = clean("displaced_disc", "disc_radial", seed)
    first, second = 2 * np.fft.rfft(needle)[1:3] / needle.size
    crest = (first / abs(first)) ** 2
    assert size > 100
    assert second / crest == pytest.approx(size**2 / (4 * 39_000), rel=0.01)


def test_the_part_that_is_not_at_fault_runs_true():
    needle, _, part = clean("displaced_disc", "pad_radial")
    assert np.ptp(needle) == pytest.approx(0, abs=1e-9)
    assert part == "disc"


def test_a_displaced_disc_takes_the_nose_along_in_part():
    disc, size, _ = clean("displaced_disc", "disc_radial")
    nose, _, _ = clean("displaced_disc", "nose_near")
    assert amplitude(disc, 1) == pytest.approx(size, rel=1e-3)
    assert 0.3 * size <= amplitude(nose, 1) <= size


def test_a_leaning_part_shows_more_further_out():
    seed = next(s for s in SEEDS if mystery(s, "tilted").reveal().part == "nose")
    (near, size, _), (far, _, _) = (clean("tilted", key, seed) for key in ("nose_near", "nose_far"))
    assert amplitude(near, 1) == pytest.approx(size * 8 / 25, rel=1e-3)
    assert amplitude(far, 1) == pytest.approx(size * 30 / 25, rel=1e-3)


def test_a_leaning_pad_dips_on_its_face_where_its_rim_stands_out():
    seed = next(s for s in SEEDS if mystery(s, "tilted").reveal().part == "pad")
    rim, face = clean("tilted", "pad_radial", seed)[0], clean("tilted", "pad_face", seed)[0]
    assert np.fft.rfft(face)[1] / np.fft.rfft(rim)[1] == pytest.approx(-15 / 10, rel=1e-3)


def test_play_scatters_by_no_more_than_itself_and_moves_when_pushed():
    setup = mystery(200_001, "bearing_clearance", roughness=0)
    needle, size, _ = clean("bearing_clearance", "nose_near")
    assert 0.5 * size < np.ptp(needle) <= 2 * size
    moved = setup.take("nose_push").fit().movement.m_as("um")
    assert moved >= 2 * size - setup.graduation.m_as("um")
    assert np.ptp(clean("bearing_clearance", "disc_radial")[0]) == pytest.approx(0, abs=1e-9)


def test_a_creeping_stand_does_not_come_back():
    setup = mystery(200_001, "indicator_setup", roughness=0)
    ends = setup.needle("spindle_radial", ["0 deg", "360 deg"]).m_as("um")
    assert abs(ends[1] - ends[0]) == pytest.approx(setup.reveal().size.m_as("um"), rel=1e-6)


def test_a_loose_pad_lies_elsewhere_in_every_turn():
    setup = mystery(200_001, "loose_mounting", roughness=0)
    vectors = [setup.take("pad_radial", turn).fit().core.vector for turn in (1, 2, 3)]
    assert min(abs(vectors[0] - vectors[1]), abs(vectors[1] - vectors[2])) > 1e-6


def test_turning_the_nose_takes_its_own_high_spot_along():
    seed = next(s for s in SEEDS if mystery(s, "eccentric_seat").reveal().part == "nose")
    straight, turned = (
        clean("eccentric_seat", key, seed)[0] for key in ("nose_near", "nose_turned")
    )
    assert np.fft.rfft(turned)[1] == pytest.approx(-np.fft.rfft(straight)[1], rel=1e-6)


def test_roughness_multiplies_the_small_errors():
    def scatter(roughness):
        return mystery(9, "oval", roughness)._scatter

    assert scatter(0) == 0
    assert scatter(2.0) == pytest.approx(2 * scatter(1.0))


# Diagnosed


@once
def test_most_faults_are_found_by_the_usual_clockings():
    keys = [clocking.key for clocking in clockings()]
    first = 0
    for seed in range(200_000, 200_040):
        setup = mystery(seed)
        found = diagnose([setup.take(key) for key in keys])
        first += found.leader.cause == setup.reveal().cause
    assert first >= 32  # the benchmark says how many of a thousand; by guessing it would be 5


@once
def test_following_the_suggestions_beats_the_first_clocking():
    after_one = after_four = 0
    for seed in range(200_000, 200_024):
        setup = mystery(seed)
        tests = [setup.take("nose_near")]
        after_one += diagnose(tests).leader.cause == setup.reveal().cause
        for turn in (2, 3, 4):
            tests.append(setup.take(diagnose(tests).next_test.clocking, turn))
        after_four += diagnose(tests).leader.cause == setup.reveal().cause
    assert after_four >= after_one + 6


# Bad input


@pytest.mark.parametrize("seed", [-1, 1.5, "7", None, True, 10**13])
def test_a_seed_that_is_none_is_refused(seed):
    with pytest.raises(InputError, match="^seed: "):
        mystery(seed)


@pytest.mark.parametrize("cause", ["gremlins", "nothing_found", 7])
def test_a_fault_that_cannot_be_hidden_is_refused(cause):
    with pytest.raises(InputError, match="^cause: "):
        mystery(1, cause)


@pytest.mark.parametrize("roughness", [-1, 11, "x", [1, 2], None])
def test_a_roughness_that_is_none_is_refused(roughness):
    with pytest.raises(InputError, match="^roughness: "):
        mystery(1, roughness=roughness)


def test_bad_clockings_turns_and_angles_are_refused():
    setup = mystery(1)
    with pytest.raises(InputError, match="^clocking: "):
        setup.take("nose")
    with pytest.raises(InputError, match="^turn: "):
        setup.take("nose_near", 0)
    with pytest.raises(InputError, match="^angles: "):
        setup.take("nose_near", angles=[0, 90])
    with pytest.raises(InputError, match="^forces: "):
        setup.take("nose_push", forces="1 mm")
    with pytest.raises(InputError, match="^angle: "):
        setup.needle("nose_near", 40)
    with pytest.raises(InputError, match="^clocking: .*push"):
        setup.needle("nose_push", "40 deg")


def test_own_angles_and_forces_are_taken():
    setup = mystery(1)
    assert setup.take("nose_near", angles=["0 deg", "90 deg"]).core.angles.size == 2
    taken = setup.take("nose_push", forces=["30 N", "-30 N"])
    assert isinstance(taken, Push)
    np.testing.assert_allclose(taken.forces.m_as("N"), [30, -30])


# How large the small errors are


MANY = [mystery(seed) for seed in range(300_000, 300_400)]
# The most of each usual small error, µm: offset, lean at 25 mm, oval, lobes (common practice).
MOST = {
    "spindle": (5, 1, 1, 1),
    "pad": (5, 3, 2, 1.5),
    "disc": (7, 6, 2.5, 1),
    "nose": (7, 3, 2, 1.5),
}


def spans(values, low, high):
    """Whether so many numbers fill the span from low to high and keep inside it."""
    room = 0.02 * (high - low)
    return low <= min(values) < low + room and high - room < max(values) <= high


@pytest.mark.parametrize("place", MOST)
@pytest.mark.parametrize("number", range(4), ids=("offset", "lean", "oval", "lobes"))
def test_small_errors_go_from_nothing_up_to_their_most(place, number):
    shape = ("offset", "lean", "oval", "lobes")[number]
    sound = [s for s in MANY if s.reveal().part != place]  # no fault hidden there
    sizes = [1e6 * abs(setup._shape[place, shape]) for setup in sound]
    assert spans(sizes, 0, MOST[place][number])


@pytest.mark.parametrize(("order", "most"), [(2, 25), (3, 8)])
def test_a_sheet_that_is_not_flat_waves_up_to_its_most(order, most):
    assert spans([1e6 * abs(setup._waves[order]) for setup in MANY], 0, most)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("_scatter", 0.5e-6, 2e-6),
        ("_sticking", 0, 2e-6),
        ("_slowing", 0.3, 3),  # turns
        ("_follows", 0.3, 1),
        ("_give", 0.05e-6, 0.3e-6),  # m for each newton, at 20 N
        ("_drag", 1, 8),  # N
    ],
)
def test_what_else_is_small_lies_in_its_span(name, low, high):
    assert spans([vars(setup)[name] for setup in MANY], low, high)


def test_what_is_no_fault_is_small():
    for name, cause in (("_play", "bearing_clearance"), ("_shuffle", "loose_mounting")):
        sound = [vars(setup)[name] for setup in MANY if setup.reveal().cause != cause]
        assert spans(sound, 0, 1e-6)
    creeps = [s._creep for s in MANY if s.reveal().cause != "indicator_setup"]
    assert spans(np.abs(creeps), 0, 1.5e-6)


@pytest.mark.parametrize("cause", ["indicator_setup", "oval"])
def test_a_stand_creeps_either_way(cause):
    signs = {np.sign(mystery(seed, cause)._creep) for seed in SEEDS}
    assert signs == {-1.0, 1.0}


def test_a_loose_pad_leans_by_three_tenths_of_what_it_shifts():
    # On its face at radius r it shows at most 0.3 × size × r/25 mm, and nearly that in some turn.
    reach = find_clocking("pad_face").position / 25e-3
    found = []
    for seed in range(200_000, 200_040):
        needle, size, _ = clean("loose_mounting", "pad_face", seed)
        found.append(np.ptp(needle) / (2 * 0.3 * size * reach))
    assert 0.8 < max(found) <= 1


def test_a_push_gives_as_hertz_says():
    # Depth goes with force to the power 2/3: eight times the force, four times the give.
    setup = mystery(200_001, "oval", roughness=0)
    push = find_clocking("nose_push")
    soft, hard, back = setup._pushed(push, 1, np.array([20.0, 160.0, -20.0]))
    assert soft == pytest.approx(20 * setup._give)
    assert hard == pytest.approx(4 * soft)
    assert back == pytest.approx(-soft)


def test_lobes_stand_highest_at_their_crest():
    # 2 µm with crests at 40° and 220°: full height there, as deep 90° further on.
    wave = 2.0 * np.exp(1j * np.radians(2 * 40))
    assert _lobes(wave, 2, np.radians([40, 220, 130])) == pytest.approx([2, 2, -2])
    third = 3.0 * np.exp(1j * np.radians(3 * 10))
    assert _lobes(third, 3, np.radians([10, 130, 250, 70])) == pytest.approx([3, 3, 3, -3])


def test_pushes_are_of_10_and_20_newtons_and_turns_of_thirteen_marks():
    setup = mystery(1)
    forces = setup.take("nose_push").forces.m_as("N")
    assert forces == pytest.approx([0, 10, 20, 0, -10, -20, 0])
    assert setup.take("nose_near").angles.m_as("deg") == pytest.approx(30 * np.arange(13))
