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
    steady = found.job.steady_passes.worst.cutting_force
    assert (found.job.passes.worst.cutting_force / steady).m == pytest.approx(rows[-1][2])
    assert [row[0] for row in found.load_table][0] == "steady cutting force, high"
    assert found.load_table[-1][0] == "margin"
