"""What makes a job harder never makes its verdict better: laws held over drawn jobs."""

import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.house.thorough import among
from tests.plan.job_cases import plain
from workshop_lib import plan
from workshop_lib.quantities import Q_

ORDER = ("yes", "open", "no")


def judged(job):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return plan.assess(job, draws=0)


def no_better(easy, hard, *abouts):
    """The harder job's reasons of these names are no better, and its whole verdict neither."""
    one, other = judged(easy), judged(hard)
    for about in abouts:
        ranks = [ORDER.index(each.reason(about).holds) for each in (one, other)]
        assert ranks[0] <= ranks[1], about
        assert one.reason(about).use <= other.reason(about).use * (1 + 1e-9), about
    return one, other


JOBS = {
    "thrust": st.floats(300, 1500),
    "depth": st.floats(0.05, 0.5),
    "feed": st.floats(0.03, 0.2),
    "speed": st.floats(40, 300),
}
drawn = given(more=st.floats(0.0, 1.0), **JOBS)
few = settings(max_examples=among(6, 12), deadline=None)


def job(thrust, depth, feed, speed, **more):
    sizes = {"thrust__force": Q_(thrust, "N"), "cut__depth": Q_(depth, "mm")}
    sizes |= {"cut__feed": Q_(feed, "mm/turn"), "cut__speed": Q_(speed, "rpm")}
    return plain(**(sizes | more))


@drawn
@few
def test_a_blunter_edge_never_helps(more, **drawn_job):
    sharp, unknown, blunt = (job(**drawn_job, cut__edge=e) for e in ("fresh", None, "in use"))
    no_better(sharp, blunt, "hold", "rim", "tipping")
    no_better(sharp, unknown, "hold", "rim", "tipping")


@drawn
@few
def test_a_rounder_tool_and_less_rake_never_help(more, **drawn_job):
    keen = {"cut__nose_radius": "0.1 mm", "cut__rake": "12 deg"}
    dull = {"cut__nose_radius": Q_(0.1 + more, "mm"), "cut__rake": Q_(12 - 12 * more, "deg")}
    no_better(job(**drawn_job, **keen), job(**drawn_job, **dull), "hold", "rim", "tipping")


@drawn
@few
def test_a_softer_set_up_never_holds_better(more, **drawn_job):
    stiff, soft = ({"cut__own_frequency": Q_(f, "Hz")} for f in (800, 800 - 700 * more))
    no_better(job(**drawn_job, **stiff), job(**drawn_job, **soft), "hold")


@drawn
@few
def test_less_thrust_and_more_doubt_never_hold_better(more, **drawn_job):
    less = job(**drawn_job).changed({"thrust.force": Q_(drawn_job["thrust"] * (1 - more / 2), "N")})
    no_better(job(**drawn_job), less, "hold", "tipping")
    doubtful = job(**drawn_job, thrust__uncertainty=Q_(100 * more, "N"))
    no_better(job(**drawn_job), doubtful, "hold", "nose", "facing", "tipping")


@drawn
@few
def test_lower_friction_never_holds_better(more, **drawn_job):
    one, other = ([mu, mu + 0.1, mu + 0.2] for mu in (0.3, 0.3 - 0.2 * more))
    no_better(job(**drawn_job, pad__friction=one), job(**drawn_job, pad__friction=other), "hold")


@drawn
@few
def test_a_smaller_pad_never_helps(more, **drawn_job):
    small = job(**drawn_job, pad__outer_diameter=Q_(90 - 40 * more, "mm"))
    no_better(job(**drawn_job), small, "hold", "rim", "tipping", "facing")


@drawn
@few
def test_a_thicker_facing_never_stiffens_the_rim(more, **drawn_job):
    soft = job(**drawn_job, pad__facing_thickness=Q_(1 + 4 * more, "mm"))
    no_better(job(**drawn_job), soft, "rim")


@pytest.mark.parametrize("left_out", ["nose__plate_diameter", "pad__facing_thickness"])
def test_what_decides_and_is_not_known_is_not_yet(left_out):
    assert judged(plain()).holds == "yes"
    assert judged(plain(**{left_out: None})).holds == "open"


def test_a_pull_test_counts_upwards_only_near_the_pressure_of_the_pad():
    pulls = {"measured__normal_force": "10 N", "measured__pull_forces": ["4.5 N"] * 5}
    table = plain().friction.low
    assert plain(**pulls).friction.low == table
    assert plain(**pulls, measured__test_pressure="7 kPa").friction.low == table
    assert plain(**pulls, measured__test_pressure="0.12 MPa").friction.low > 1.4 * table
    low = {"measured__normal_force": "10 N", "measured__pull_forces": ["2 N"] * 5}
    assert plain(**low).friction.low < 0.7 * table


def test_a_slow_carbide_and_a_chip_too_thin_are_told():
    slow = judged(plain(cut__tool="carbide", cut__speed="10 rev/min")).reason("speed")
    assert slow.holds == "open" and "too slow for carbide" in slow.sentence
    assert judged(plain(cut__feed="0.004 mm/rev")).reason("chip").holds == "no"
    assert judged(plain(cut__feed="0.01 mm/rev")).reason("chip").holds == "open"


def test_the_table_of_the_load_multiplies_up_to_what_is_judged():
    found = judged(plain(cut__nose_radius="0.8 mm", cut__own_frequency="300 Hz"))
    rows = plan.raising.steps(found.job)
    steady = found.job.passes_at("high", plain=True).worst.cutting_force
    assert (found.job.passes.worst.cutting_force / steady).m == pytest.approx(rows[-1][2])
    table = {what: (value, use) for what, value, use, _ in found.table}
    assert next(iter(table)) == "steady cutting force, high"
    assert list(table)[-7:] == ["margin", "nose", "facing", "rim", "ringing", "speed", "plate"]
    # by hand: friction of dry leather, low, 0.3, times 800 N; 800 N on 90 mm: 0.126 of 0.25 MPa
    assert table["hold: friction × thrust, both low"][0] == "0.3 × 800 N = 240 N"
    assert table["facing"] == ("0.13 MPa of 0.25 MPa", "51 %")
    assert table["plate"] == ("90 mm under a pad of 90 mm", "100 %")


@pytest.mark.parametrize(
    ("row", "left_out"),
    [
        ("plate", {"nose__plate_diameter": None}),
        ("rim", {"pad__facing_thickness": None}),
        ("facing", {"pad__facing": "rubber"}),
        ("facing", {"pad__facing": "card"}),
    ],
)
def test_the_table_says_not_yet_where_something_that_decides_is_not_known(row, left_out):
    found = judged(plain(**left_out))
    assert found.holds in ("open", "no") and found.reason(row).changes
    assert {what: use for what, _, use, _ in found.table}[row] == "not yet"


def test_a_facing_that_nothing_is_printed_of_counts_as_it_was_tried():
    # by hand: 800 N on a face of 90 mm: 0.1258 MPa
    crushed, whole = (
        judged(plain(pad__facing="card", pad__pressure_tried=tried)).reason("facing")
        for tried in ("0.12 MPa", "0.13 MPa")
    )
    assert (crushed.holds, whole.holds) == ("no", "yes")
    assert crushed.use == pytest.approx(0.1258 / 0.12, rel=1e-3)
    printed = judged(plain(pad__pressure_tried="3 MPa")).reason("facing")  # leather: 0.25 MPa
    assert printed.allowed.m_as("MPa") == pytest.approx(0.25)


def test_a_face_error_across_a_stiff_facing_is_told_with_its_pressure():
    # by hand: leather of 50 MPa, 1 mm thick, leaning by 0.02 mm: 50 MPa × 0.01 mm / 1 mm at an edge
    assert "takes 0.5 MPa of pressure off" in plan.squareness(plain())
    assert plan.squareness(plain(pad__facing_thickness="5 mm")) is None  # 0.1 MPa beside 0.126
