"""The tables of causes, clockings and words of evidence, and the patterns that causes leave."""

import numpy as np
import pytest

from tests.conftest import stand_in
from workshop_lib import sources
from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out import causes, clocking_list, patterns, weighing
from workshop_lib.run_out.readings import Push, Readings

EIGHT = {
    "eccentric_seat",
    "tilted",
    "three_jaw_lobes",
    "oval",
    "bearing_clearance",
    "displaced_disc",
    "loose_mounting",
    "indicator_setup",
}
TWELVE = np.arange(0, 360, 30.0)


def turn(where="nose", what="radial", degrees=TWELVE, **about):
    return Readings(Q_(degrees, "deg"), Q_(np.zeros(np.size(degrees)), "mm"), where, what, **about)


def pattern(key, part, *tests):
    return patterns.columns(causes.find_cause(key, part), tests)


# The table of causes


def test_the_causes_of_the_plan_are_there_and_that_there_may_be_none():
    assert {cause.key for cause in causes.candidates()} == {*EIGHT, "nothing_found"}


@pytest.mark.parametrize(
    "cause", causes.candidates(), ids=lambda cause: f"{cause.key}-{cause.part}"
)
def test_every_cause_is_larger_than_its_own_background(cause):
    assert sources.find_all(cause.cited)
    assert cause.pattern == "none" or cause.background < cause.sizes[0] <= cause.sizes[1]


def test_play_of_a_bearing_lies_within_the_printed_clearances():
    # ISO 5753-1 by way of skf-2018 table 6: C2 to C5 of bores up to 18 mm, 0 to 45 µm in all; the
    # size here is to either side, and a worn or loose fit may double it.
    low, _, high = causes.find_cause("bearing_clearance").sizes
    assert 0 < 2 * low < 45e-6
    assert high <= 45e-6


def test_find_names_what_is_near():
    assert causes.find_cause("oval", "disc").part == "disc"
    with pytest.raises(InputError, match="^cause: .*mean oval"):
        causes.find_cause("ovall")
    with pytest.raises(InputError, match="^part: .*pad, disc, nose"):
        causes.find_cause("oval", "spindle")


HEAD = (
    "key,name,part,candidate,pattern,harmonic,each,slip,arm_mm,follows,radial,face,push,"
    "low_um,typical_um,high_um,background_um,source,action,mend\n"
)
GOOD = "a,a cause,pad,yes,wave,1,always,0,0,part,pad:1,,,1,2,3,0,common-practice,tap,Tap it."


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("pad:1", "moon:1", "radial ‘moon’ is not a place"),
        ("pad:1", "pad:2", "radial ‘2’ is not between 0 and 1"),
        ("pad:1", "pad", "radial is empty"),
        ("1,2,3", "5,2,3", "low_um .* is greater than typical_um"),
        ("1,2,3", "0,2,3", "low_um must be above zero"),
        ("wave,1", "wave,0", "a wave, and nothing else, has a harmonic"),
        ("wave,1", "drift,1", "a wave, and nothing else, has a harmonic"),
        ("always", "ever", "each ‘ever’ is not a choice"),
        ("common-practice", "hearsay", "source ‘hearsay’"),
    ],
)
def test_a_spoilt_row_is_named_by_its_line(tmp_path, monkeypatch, old, new, said):
    (tmp_path / "causes.csv").write_text(HEAD + GOOD.replace(old, new) + "\n", encoding="utf-8")
    stand_in(monkeypatch, tmp_path)
    with pytest.raises(InputError, match=f"^causes.csv, line 2: {said}"):
        causes.known()


def test_a_teachers_own_cause_appears(tmp_path, monkeypatch):
    (tmp_path / "causes.csv").write_text(HEAD + GOOD + "\n", encoding="utf-8")
    stand_in(monkeypatch, tmp_path)
    assert [cause.key for cause in causes.candidates()] == ["a"]


# Patterns


@pytest.mark.parametrize(
    ("key", "order"), [("eccentric_seat", 1), ("oval", 2), ("three_jaw_lobes", 3)]
)
def test_a_wave_has_so_many_crests_in_a_turn(key, order):
    found, labels, portions = pattern(key, "nose", turn())
    theta = np.radians(TWELVE)
    np.testing.assert_allclose(found, np.stack([np.cos(order * theta), np.sin(order * theta)], 1))
    assert labels[0] == labels[1]
    assert portions == [0.5, 0.5]


def test_a_cause_does_not_show_where_it_is_not():
    assert pattern("eccentric_seat", "nose", turn("pad"))[0].shape == (12, 0)
    assert pattern("displaced_disc", "disc", turn("pad"), turn("spindle"))[0].shape == (24, 0)


def test_a_lean_grows_with_the_distance_and_an_offset_does_not():
    planes = [turn(position=Q_(z, "mm")) for z in (10, 40)]
    for key, ratio in (("tilted", 4), ("eccentric_seat", 1)):
        found = pattern(key, "nose", *planes)[0]
        assert found[12, 0] == pytest.approx(ratio * found[0, 0])
    # At its own arm of 25 mm a lean has its size; without a position a test is taken to be there.
    assert pattern("tilted", "nose", turn())[0][0, 0] == 1


def test_what_belongs_to_the_part_turns_with_it_and_what_belongs_to_the_spindle_does_not():
    turned = turn(index="90 deg")
    own = pattern("eccentric_seat", "nose", turned)[0]
    np.testing.assert_allclose(own[:, 0], np.cos(np.radians(TWELVE - 90)), atol=1e-12)
    of_spindle = pattern("eccentric_seat", "pad", turn("pad", index="90 deg"))[0]
    np.testing.assert_allclose(of_spindle[:, 0], np.cos(np.radians(TWELVE)), atol=1e-12)
    carried = pattern("displaced_disc", "disc", turned)[0]
    np.testing.assert_allclose(carried[:, 0], 0.65 * np.cos(np.radians(TWELVE)), atol=1e-12)


def test_a_share_that_is_not_known_well_keeps_its_mean_square():
    # A share from 0.3 to 1: mean 0.65, standard deviation 0.7/sqrt(12).
    found = pattern("displaced_disc", "disc", turn())[0]
    assert found.shape == (12, 4)
    assert found[0, 0] == pytest.approx(0.65)
    assert found[0, 2] == pytest.approx(0.7 / np.sqrt(12))


def test_a_displaced_disc_is_another_one_after_a_knock_and_a_seat_is_not():
    states = [turn("disc", state=state) for state in ("before", "after", "after")]
    assert pattern("displaced_disc", "disc", *states)[0].shape == (36, 4)
    assert pattern("oval", "disc", *states)[0].shape == (36, 2)


def test_a_loose_pad_is_another_one_in_every_test_and_every_turn():
    once, labels, _ = pattern("loose_mounting", "pad", turn("pad"), turn("disc"))
    assert once.shape == (24, 8)
    assert not np.any(once[:12, 4:]) and not np.any(once[12:, :4])
    assert [label.name for label in labels[:4:2]] == ["0", "slip0"]
    two_turns = turn("pad", degrees=np.arange(0, 720, 30.0))
    assert pattern("loose_mounting", "pad", two_turns)[0].shape == (24, 8)


def test_a_loose_pad_may_slip_as_the_turn_closes():
    closed = turn("pad", degrees=np.arange(0, 361, 30.0))
    found = pattern("loose_mounting", "pad", closed)[0]
    assert found.shape == (13, 6)
    np.testing.assert_array_equal(found[-1, :4], 0)
    np.testing.assert_array_equal(found[:-1, 4:], 0)
    np.testing.assert_allclose(found[-1, 4:], [1, 0], atol=1e-12)


def test_a_needle_that_creeps_shows_everywhere_from_first_to_last():
    found = pattern("indicator_setup", "indicator", turn("spindle"), turn("disc", "face"))[0]
    assert found.shape == (24, 2)
    assert found[11, 0] - found[0, 0] == pytest.approx(1)


def test_a_needle_that_runs_the_other_way_turns_every_pattern_round():
    for cause in causes.candidates():
        into, out = (
            patterns.columns(cause, [turn("nose", direction=direction)])[0]
            for direction in ("in", "out")
        )
        np.testing.assert_allclose(out, -into)


def test_free_play_stays_where_it_was_pushed_to():
    test = Push(["0 N", "20 N", "0 N", "-20 N", "0 N"], ["0 um"] * 5, "nose")
    found, labels, portions = pattern("bearing_clearance", "nose", test)
    np.testing.assert_allclose(found[:, 0], [0, 1, 0, -1, 0])
    np.testing.assert_allclose(found[:, 1], [0, 0, 1, 0, -1])
    np.testing.assert_allclose(found[:, 2], [1, 0, 0, 0, 0])  # anywhere until it is pushed
    assert [label.name for label in labels] == ["pushed", "resting", "before"]
    assert portions == [1, 1, 1]
    assert patterns.scatter(causes.find_cause("bearing_clearance"), test) == 0
    assert patterns.scatter(causes.find_cause("bearing_clearance"), turn()) == pytest.approx(0.5)


def test_give_is_in_step_with_the_force():
    give = next(cause for cause in causes.known() if cause.pattern == "give")
    test = Push(["0 N", "20 N", "-10 N"], ["0 um"] * 3, "nose")
    np.testing.assert_allclose(patterns.columns(give, [test])[0][:, 0], [0, 1, -0.5])


# Clockings


def test_every_clocking_can_be_taken_and_says_how():
    for clocking in clocking_list.clockings():
        count = 7 if clocking.what == "push" else 13
        taken = clocking.test(np.zeros(count), graduation=1e-5, name="x", state="y")
        assert (taken.where, taken.what, taken.name) == (clocking.where, clocking.what, "x")
        assert clocking.how.endswith(".")
        assert clocking_list.find_clocking(clocking.key) is clocking_list.find_clocking(clocking)


def test_every_cause_shows_in_some_clocking():
    usual = clocking_list.clockings()
    tests = [one.test(np.zeros(7 if one.what == "push" else 13)) for one in usual]
    for cause in causes.candidates():
        seen = patterns.columns(cause, tests)[0].size + sum(
            patterns.scatter(cause, test) for test in tests
        )
        assert seen > 0 or cause.pattern == "none"


def test_an_unknown_clocking_is_refused():
    with pytest.raises(InputError, match="^clocking: .*mean nose_near"):
        clocking_list.find_clocking("nose_nearer")


# Words of evidence


@pytest.mark.parametrize(
    # kass-raftery-1995 as quoted: 3 to 20 positive, 20 to 150 strong, above very strong.
    ("factor", "word"),
    [
        (2.9, ""),
        (3.1, "speaks"),
        (19, "speaks"),
        (21, "speaks strongly"),
        (151, "speaks very strongly"),
    ],
)
def test_words_follow_the_published_scale(factor, word):
    assert weighing.word(np.log(factor)) == word


def test_a_number_that_is_not_taken_for_granted_is_refused():
    with pytest.raises(InputError, match="^key: .*mean misfit"):
        weighing.setting("misfits")
