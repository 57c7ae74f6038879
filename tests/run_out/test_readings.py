"""What was clocked is kept as it was read, and nonsense is refused by name."""

import numpy as np
import pytest

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.push import push_test
from workshop_lib.run_out.readings import MOST_READINGS, PLACES, Push, Readings, Total
from workshop_lib.run_out.round_fit import fit

TURN = ["0 deg", "90 deg", "180 deg", "270 deg"]
VALUES = ["3 thou", "1 thou", "-1 thou", "1 thou"]


def test_readings_keep_what_was_handed_in():
    taken = Readings(TURN, VALUES, "nose", position="8 mm", index="450 deg", graduation="0.5 thou")
    np.testing.assert_allclose(taken.angles.m_as("deg"), [0, 90, 180, 270])
    np.testing.assert_allclose(taken.readings.m_as("thou"), [3, 1, -1, 1])
    assert taken.total.m_as("thou") == pytest.approx(4)
    assert taken.core.position == pytest.approx(0.008)
    assert taken.core.index == pytest.approx(np.pi / 2)  # 450° is a quarter turn
    assert taken.core.graduation == pytest.approx(12.7e-6)


def test_its_fit_is_the_fit_of_its_numbers():
    for direction in ("in", "out"):
        taken = Readings(TURN, VALUES, graduation="1 thou", direction=direction)
        plain = fit(TURN, VALUES, "1 thou", direction)
        assert taken.fit().core.vector == plain.core.vector
        assert taken.fit().core.reading_uncertainty == plain.core.reading_uncertainty
        assert taken.harmonics(1)[1].vector.core == pytest.approx(plain.core.vector)


def test_a_push_is_solved_as_the_push_test_does():
    forces, values = ["-20 N", "-10 N", "10 N", "20 N"], ["-7 um", "-6 um", "6 um", "7 um"]
    for direction in ("in", "out"):
        taken = Push(forces, values, graduation="1 um", direction=direction)
        assert taken.fit().clearance == push_test(forces, values, "1 um", direction).clearance
    np.testing.assert_allclose(taken.forces.m_as("N"), [-20, -10, 10, 20])
    assert taken.total.m_as("um") == pytest.approx(14)


def test_a_total_has_a_size_and_nothing_else():
    taken = Total("4 thou", "nose", state="before")
    assert taken.total.m_as("thou") == pytest.approx(4)
    assert taken.label.split(", ") == ["nose", "radial", "total only", "before"]


@pytest.mark.parametrize("where", PLACES)
def test_labels_say_where_it_was_taken(where):
    taken = Readings(TURN, VALUES, where, "face", position="15 mm", index="90 deg", state="after")
    assert taken.label == f"{where}, face at 15 mm, turned by 90°, after"
    assert Readings(TURN, VALUES, where, name="my own").label == "my own"
    assert repr(Push(["1 N"], ["1 um"], where)) == f"<{where}, pushed: 1 reading>"


@pytest.mark.parametrize(
    ("values", "step"),
    [
        ([0, 10, 20, -30], 10),  # µm: a dial of 0.01 mm
        ([0, 12, -4, 2], 2),
        ([0, 25.4, 50.8, -25.4], 25.4),  # whole thou
        ([0, 12.7, 50.8, -25.4], 12.7),
        ([0, 1.2345, 3.3, 2.1], None),
        ([5, 5, 5, 5], None),  # one value shows no step
    ],
)
def test_the_division_is_seen_in_the_readings_when_it_was_not_given(values, step):
    taken = Readings(TURN, Q_(values, "um"))
    assert taken.core.graduation is None
    assert taken.division == (pytest.approx(step * 1e-6) if step else None)
    assert Readings(TURN, Q_(values, "um"), graduation="3 um").division == pytest.approx(3e-6)


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("angles", {"angles": [0, 90, 180, 270]}),
        ("angles", {"angles": "x"}),
        ("readings", {"readings": ["1 um"] * 3}),
        ("readings", {"readings": ["1 um", "2 um", "3 um", "1 m"]}),
        ("readings", {"readings": [["1 um"] * 4] * 2}),
        ("readings", {"readings": None}),
        ("where", {"where": "mandrel"}),
        ("where", {"where": None}),
        ("what", {"what": "axial"}),
        ("what", {"what": "push"}),
        ("position", {"position": "-1 mm"}),
        ("position", {"position": ["1 mm", "2 mm"]}),
        ("index", {"index": 90}),
        ("index", {"index": ["1 deg", "2 deg"]}),
        ("graduation", {"graduation": "0 mm"}),
        ("graduation", {"graduation": ["1 um", "2 um"]}),
        ("direction", {"direction": 1}),
        ("name", {"name": 7}),
        ("name", {"name": "a\nb"}),
        ("state", {"state": "x" * 61}),
    ],
)
def test_bad_readings_are_refused_by_name(name, settings):
    with pytest.raises(InputError, match=f"^{name}: "):
        Readings(**{"angles": TURN, "readings": VALUES, **settings})


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("forces", {"forces": ["1 mm"]}),
        ("readings", {"readings": ["1 um", "2 um"]}),
        ("where", {"where": "bench"}),
        ("graduation", {"graduation": "x"}),
        ("direction", {"direction": "left"}),
        ("state", {"state": None}),
    ],
)
def test_a_bad_push_is_refused_by_name(name, settings):
    with pytest.raises(InputError, match=f"^{name}: "):
        Push(**{"forces": ["1 N"], "readings": ["1 um"], **settings})


@pytest.mark.parametrize("total", ["-1 um", "4", "2 m", ["1 um", "2 um"], None, 4])
def test_a_bad_total_is_refused(total):
    with pytest.raises(InputError, match="^total: "):
        Total(total)


def test_too_many_readings_are_refused():
    many = np.zeros(MOST_READINGS + 1)
    with pytest.raises(InputError, match="^readings: more than"):
        Readings(Q_(many, "deg"), Q_(many, "mm"))
