"""Offset and tilt from planes and faces, against a rigid body turned by a rotation matrix."""

import numpy as np
import pytest

from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out.planes import _from_a_line, axis_through, face_tilt, out_of_square
from workshop_lib.run_out.readings import Readings, Total
from workshop_lib.run_out.round_fit import fit

TWELVE = np.arange(0, 360, 30.0)
RADIUS = 15.0  # mm


def clocked(values, **about):
    return Readings(Q_(TWELVE, "deg"), Q_(values, "mm"), **about)


def leaning(offset, slope, towards):
    """A cylinder leaning by a small slope towards a mark: rim readings at z, and its face's."""

    def rim(z):
        centre = offset + slope * z * np.exp(1j * np.radians(towards))
        return (centre * np.exp(-1j * np.radians(TWELVE))).real

    # The face is the plane square to the leaning axis: it dips by slope × r under the lean.
    face = -slope * RADIUS * np.cos(np.radians(TWELVE - towards))
    return rim, face


def test_a_plane_turned_by_a_rotation_matrix_dips_where_the_axis_leans():
    # Independent of the library: tilt by 1e-3 about the y axis moves the axis towards +x (mark 0°).
    tilt = 1e-3
    matrix = np.array(
        [[np.cos(tilt), 0, np.sin(tilt)], [0, 1, 0], [-np.sin(tilt), 0, np.cos(tilt)]]
    )
    assert (matrix @ [0, 0, 1])[0] > 0
    points = RADIUS * np.stack([np.cos(np.radians(TWELVE)), np.sin(np.radians(TWELVE)), 0 * TWELVE])
    _, face = leaning(0, tilt, 0)
    np.testing.assert_allclose((matrix @ points)[2], face, atol=1e-7)


def test_offset_and_lean_come_out():
    rim, _ = leaning(0.02j, 1e-3, 40)
    tests = [clocked(rim(z), position=Q_(z, "mm")) for z in (8, 30, 55)]
    axis = axis_through(tests)
    assert axis.inclination.m_as("rad") == pytest.approx(1e-3, rel=1e-5)
    assert axis.direction.m_as("deg") == pytest.approx(40)
    assert axis.over("25 mm").m_as("mm") == pytest.approx(0.025)
    assert axis.at("0 mm").size.m_as("mm") == pytest.approx(0.02)
    assert axis.at("0 mm").angle.m_as("deg") == pytest.approx(90)
    assert axis.remarks == ()


def test_at_a_plane_the_axis_shows_what_was_clocked_there():
    rim, _ = leaning(0.02j, 1e-3, 40)
    tests = [clocked(rim(z)) for z in (8, 30)]
    axis = axis_through(tests, ["8 mm", "30 mm"])
    seen = axis.at(["8 mm", "30 mm"])
    for place, test in enumerate(tests):
        assert seen.core[place] == pytest.approx(test.fit().core.vector)


def test_fits_serve_as_well_as_readings():
    rim, _ = leaning(0.01, 2e-3, 10)
    tests = [clocked(rim(z)) for z in (8, 30)]
    by_fit = axis_through([test.fit() for test in tests], Q_([8, 30], "mm"))
    assert by_fit.slope.core == pytest.approx(axis_through(tests, ["8 mm", "30 mm"]).slope.core)


def test_planes_further_apart_are_surer_of_the_lean():
    rim, _ = leaning(0.01, 2e-3, 10)

    def unsure(far):
        tests = [clocked(rim(z), graduation="0.01 mm", position=Q_(z, "mm")) for z in (8, far)]
        return axis_through(tests).inclination_uncertainty.m_as("rad")

    # Two planes: sqrt(2) × the uncertainty of one vector / distance.
    assert unsure(30) == pytest.approx(
        np.sqrt(2) * 0.01 / np.sqrt(12) * np.sqrt(1 / 6) / 22, rel=1e-4
    )
    assert unsure(52) == pytest.approx(unsure(30) / 2, rel=1e-4)


def test_beyond_its_planes_the_axis_is_less_sure():
    # By hand: at z = 0 the planes at 8 and 30 mm weigh 30/22 and −8/22.
    tests = [clocked(0 * TWELVE, graduation="0.01 mm", position=Q_(z, "mm")) for z in (8, 30)]
    axis, alone = axis_through(tests), tests[0].fit().vector.along(1)
    assert axis.at("8 mm").along(1) == pytest.approx(alone)
    assert axis.at("0 mm").along(1) == pytest.approx(alone * np.hypot(30, 8) / 22)


def test_two_planes_own_up_and_a_third_shows_a_bend():
    rim, _ = leaning(0.0, 2e-3, 10)
    noise = np.random.default_rng(1).normal(0, 1e-4, (3, 12))
    straight = [
        clocked(rim(z) + n, position=Q_(z, "mm")) for z, n in zip((8, 30, 55), noise, strict=True)
    ]
    assert "Only a third" in axis_through(straight[:2]).remarks[0]
    assert axis_through(straight).remarks == ()
    bent = [*straight[:2], clocked(rim(55) + 0.05 * np.cos(np.radians(TWELVE)), position="55 mm")]
    assert "is bent" in axis_through(bent).remarks[0]


def test_a_face_by_hand():
    # A total of 0.06 mm at a radius of 15 mm: 0.03/15 = 0.002 in each mm, 0.1 mm across 50 mm.
    lean = face_tilt(clocked(0.03 * np.cos(np.radians(TWELVE - 70))), "15 mm")
    assert lean.inclination.m_as("rad") == pytest.approx(np.arctan(0.002))
    assert lean.direction.m_as("deg") == pytest.approx(70)
    assert lean.over("50 mm").m_as("mm") == pytest.approx(0.1)


def test_the_same_lean_shows_more_at_a_larger_radius():
    near, far = (
        face_tilt(clocked(r * 2e-3 * np.cos(np.radians(TWELVE))), Q_(r, "mm")) for r in (10, 30)
    )
    assert near.slope.core == pytest.approx(far.slope.core)


def test_a_spindle_that_slips_along_its_axis_is_told_from_a_lean_by_two_radii():
    slip = 0.008 * np.exp(1j * np.radians(100))
    lean = 1e-3 * np.exp(1j * np.radians(20))
    marks = np.exp(-1j * np.radians(TWELVE))
    faces = [clocked(((slip + lean * r) * marks).real, position=Q_(r, "mm")) for r in (10, 35)]
    found = axis_through(faces)
    assert found.at("0 mm").size.m_as("mm") == pytest.approx(0.008)
    assert found.inclination.m_as("rad") == pytest.approx(1e-3, rel=1e-5)
    assert found.direction.m_as("deg") == pytest.approx(20)


def test_a_part_that_leans_as_a_whole_is_square():
    rim, face = leaning(0.02, 1.5e-3, 250)
    axis = axis_through([clocked(rim(z), position=Q_(z, "mm")) for z in (8, 40)])
    left = out_of_square(axis, face_tilt(clocked(face), Q_(RADIUS, "mm")))
    assert left.inclination.m_as("rad") == pytest.approx(0, abs=1e-9)


def test_a_face_that_leans_on_a_true_part_is_out_of_square():
    rim, _ = leaning(0.02, 0.0, 0)
    _, face = leaning(0, 1.5e-3, 250)
    axis = axis_through([clocked(rim(z), position=Q_(z, "mm")) for z in (8, 40)])
    left = out_of_square(axis, face_tilt(clocked(face), Q_(RADIUS, "mm")))
    assert left.inclination.m_as("rad") == pytest.approx(1.5e-3, rel=1e-5)
    assert left.direction.m_as("deg") == pytest.approx(70)  # across from where the axis would lean


PLANE = clocked(np.cos(np.radians(TWELVE)), position="8 mm")
OTHER = clocked(np.cos(np.radians(TWELVE)), position="30 mm")


@pytest.mark.parametrize(
    ("name", "tests", "positions"),
    [
        ("tests", [PLANE], None),
        ("tests", [], None),
        ("tests", None, None),
        ("tests", [PLANE, Total("1 um")], ["1 mm", "2 mm"]),
        (
            "tests",
            [PLANE, fit(TWELVE * Q_(1, "deg"), Q_(np.ones((2, 12)), "mm"))],
            ["1 mm", "2 mm"],
        ),
        ("positions", [PLANE, PLANE], None),
        ("positions", [PLANE, clocked(np.zeros(12))], None),
        ("positions", [PLANE.fit(), OTHER.fit()], None),
        ("positions", [PLANE, OTHER], ["1 mm"]),
        ("positions", [PLANE, OTHER], ["1 N", "2 N"]),
        ("positions", [PLANE, OTHER], ["2 mm", "2 mm"]),
    ],
)
def test_what_shows_no_axis_is_refused(name, tests, positions):
    with pytest.raises(InputError, match=f"^{name}: "):
        axis_through(tests, positions)


def test_bad_faces_and_lengths_are_refused():
    with pytest.raises(InputError, match="^radius: "):
        face_tilt(PLANE, "0 mm")
    with pytest.raises(InputError, match="^face: "):
        face_tilt("0.1 mm", "10 mm")
    with pytest.raises(InputError, match="^axis: "):
        out_of_square(face_tilt(PLANE, "10 mm"), face_tilt(PLANE, "10 mm"))
    with pytest.raises(InputError, match="^length: "):
        face_tilt(PLANE, "10 mm").over("10 N")
    with pytest.raises(InputError, match="^position: "):
        axis_through([PLANE, OTHER]).at("10 N")


def test_how_far_planes_lie_from_a_line_is_numpys_weighted_fit():
    places = np.array([10.0, 25.0, 40.0, 60.0])
    values = np.array([3 + 1j, 5 - 2j, 6 + 4j, 12 - 1j])
    deviation = np.array([0.5, 1.0, 2.0, 0.7])
    expected = 0.0
    for part in (values.real, values.imag):
        line = np.polyval(np.polyfit(places, part, 1, w=1 / deviation), places)
        expected += np.sum(((part - line) / deviation) ** 2)
    assert _from_a_line(places, values, deviation**2) == pytest.approx(expected)
