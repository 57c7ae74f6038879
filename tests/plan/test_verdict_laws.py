"""What makes a job harder never makes its verdict better: laws held over drawn jobs."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.house.thorough import among
from tests.plan.job_cases import assessed, plain
from workshop_lib import plan
from workshop_lib.quantities import Q_

ORDER = ("yes", "open", "no")


def no_better(easy, hard, *abouts):
    """The harder job's reasons of these names are no better, and its whole verdict neither."""
    one, other = assessed(easy), assessed(hard)
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
    duller = {"cut__nose_radius": Q_(0.1 + more, "mm")}, {"cut__rake": Q_(12 - 12 * more, "deg")}
    for dull in duller:
        easy, hard = job(**drawn_job, **keen), job(**drawn_job, **(keen | dull))
        no_better(easy, hard, "hold", "rim", "tipping")


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
    assert assessed(plain()).holds == "yes"
    assert assessed(plain(**{left_out: None})).holds == "open"


def test_a_pull_test_counts_upwards_only_near_the_pressure_of_the_pad():
    pulls = {"measured__normal_force": "10 N", "measured__pull_forces": ["4.5 N"] * 5}
    table = plain().friction.low
    assert plain(**pulls).friction.low == table
    assert plain(**pulls, measured__test_pressure="7 kPa").friction.low == table
    assert plain(**pulls, measured__test_pressure="0.12 MPa").friction.low > 1.4 * table
    low = {"measured__normal_force": "10 N", "measured__pull_forces": ["2 N"] * 5}
    assert plain(**low).friction.low < 0.7 * table


def test_a_slow_carbide_and_a_chip_too_thin_are_told():
    slow = assessed(plain(cut__tool="carbide", cut__speed="10 rev/min")).reason("speed")
    assert slow.holds == "open" and "too slow for carbide" in slow.sentence
    assert assessed(plain(cut__feed="0.004 mm/rev")).reason("chip").holds == "no"
    assert assessed(plain(cut__feed="0.01 mm/rev")).reason("chip").holds == "open"


def test_the_table_of_the_load_multiplies_up_to_what_is_judged():
    found = assessed(plain(cut__nose_radius="0.8 mm", cut__own_frequency="300 Hz"))
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
    found = assessed(plain(**left_out))
    assert found.holds in ("open", "no") and found.reason(row).changes
    assert {what: use for what, _, use, _ in found.table}[row] == "not yet"


def test_a_facing_that_nothing_is_printed_of_counts_as_it_was_tried():
    # by hand: 800 N on a face of 90 mm: 0.1258 MPa
    crushed, whole = (
        assessed(plain(pad__facing="card", pad__pressure_tried=tried)).reason("facing")
        for tried in ("0.12 MPa", "0.13 MPa")
    )
    assert (crushed.holds, whole.holds) == ("no", "yes")
    assert crushed.use == pytest.approx(0.1258 / 0.12, rel=1e-3)
    printed = assessed(plain(pad__pressure_tried="3 MPa")).reason("facing")  # leather: 0.25 MPa
    assert printed.allowed.m_as("MPa") == pytest.approx(0.25)


def test_a_face_error_across_a_stiff_facing_is_told_with_its_pressure():
    # by hand: leather of 50 MPa, 1 mm thick, leaning by 0.02 mm: 50 MPa × 0.01 mm / 1 mm at an edge
    assert "takes 0.5 MPa of pressure off" in plan.squareness(plain())
    assert plan.squareness(plain(pad__facing_thickness="5 mm")) is None  # 0.1 MPa beside 0.126


def test_a_thrust_that_nobody_doubted_counts_with_a_tenth_of_doubt():
    # by hand, one squeeze in twenty: 1 − 1.645 × 0.1 and 1 + 1.645 × 0.1 of 800 N
    found = assessed(plain(thrust__uncertainty=None))
    assert found.job.low_thrust.m_as("N") == pytest.approx(668.4)
    assert found.job.high_thrust.m_as("N") == pytest.approx(931.6)
    assert any("uncertain by a tenth" in each for each in found.remarks)
    aim = plan.thrust_for(found.job, 2.0) / 0.8355  # it grows with the thrust
    weak = assessed(plain(thrust__uncertainty=None, thrust__force="300 N"))
    told = next(each for each in weak.changes if "thrust.force" in each.entries)
    said = float(told.entries["thrust.force"].removesuffix(" N"))
    assert said == pytest.approx(aim, rel=0.02)
    assert assessed(weak.job.changed(told.entries)).reason("hold").holds == "yes"


def test_a_friction_of_ones_own_counts_upwards_only_where_it_was_tested():
    listed = plain().listed_friction
    boast = {"pad__friction": [0.9, 1.0, 1.2]}
    assert tuple(plain(**boast).friction) == tuple(listed)
    assert any("Your own friction, 0.9" in each for each in assessed(plain(**boast)).remarks)
    assert plain(**boast, measured__test_pressure="0.12 MPa").friction.low == 0.9
    assert plain(pad__friction=[0.1, 0.2, 0.3]).friction.low == 0.1


def test_a_light_pass_on_a_round_tool_only_rubs():
    # by hand: 0.05 mm deep on a nose of 3 mm, cos phi = 1 − 0.05/3, sin phi = 0.182: of 0.1 mm a
    # turn 0.018 mm; and no chip is thicker than a pass of 0.008 mm, whatever the feed
    rubs = {"cut__nose_radius": "3 mm", "cut__depth": "0.05 mm"}
    found = assessed(plain(**rubs)).reason("chip")
    assert found.holds == "open" and found.value.m_as("mm") == pytest.approx(0.0182, abs=1e-4)
    thin = assessed(plain(cut__finishing_depth="0.008 mm")).reason("chip")
    assert thin.holds == "open" and thin.value.m_as("mm") == pytest.approx(0.008)
    assert "Take no pass of less than" in thin.changes[0].sentence
    assert assessed(plain()).reason("chip").value.m_as("mm") == pytest.approx(0.1)


def test_no_rake_beyond_thirty_degrees_helps():
    rakes = [plain(cut__rake=f"{each} deg").passes.worst.margin for each in (12, 30, 44)]
    assert rakes[0] < rakes[1] == rakes[2]
    with pytest.raises(plan.JobFaults, match="cut.rake"):
        plain(cut__rake="80 deg")


def test_a_note_that_no_lathe_gives_is_remarked_on():
    assert any("rarely swing faster" in each for each in assessed(plain()).remarks)
    usual = assessed(plain(cut__own_frequency="400 Hz"))
    assert not any("rarely swing" in each for each in usual.remarks)


def test_equal_readings_of_a_scale_prove_no_sure_thrust():
    # by hand: 800 N × (1 − 1.645 × 0.1), as if nothing had been said
    same = plain(measured__scale_readings=["800 N"] * 3, thrust__uncertainty=None)
    assert same.low_thrust.m_as("N") == pytest.approx(668.4)
    spread = plain(measured__scale_readings=["795 N", "800 N", "805 N", "800 N", "798 N"])
    assert 668.4 < spread.low_thrust.m_as("N") < 799.6


def test_what_no_job_has_is_remarked_on():
    def said(**changes):
        return " ".join(assessed(plain(**changes)).remarks)

    steep = {"measured__tilt_angles": ["45 deg", "46 deg", "45.5 deg", "45 deg", "46 deg"]}
    assert "the highest known for this pair" in said(**steep, measured__test_pressure="0.12 MPa")
    assert "neither the rim's bend nor tipping" in said(rim__axial_share=0)
    assert "sticks or digs in" not in said() and "neither" not in said()


def test_a_plate_that_nearly_reaches_the_edge_is_looked_at_again():
    for size, holds in (("98.8 mm", "yes"), ("99.2 mm", "open")):
        near = assessed(plain(pad__outer_diameter=size, nose__plate_diameter=size)).reason("plate")
        assert near.holds == holds
    assert "0.4 mm of the finished edge" in near.sentence
