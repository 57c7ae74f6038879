"""Jobs in a program: made, changed, and what follows from their entries."""

import pickle
import tomllib

import numpy as np
import pytest

from tests.plan.job_cases import PLAIN, plain, without_none
from workshop_lib import plan
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.quantities import Q_, InputError, Quantity, read


def test_a_changed_job_leaves_the_old_one_as_it_was():
    job = plain()
    other = job.changed({"cut.depth": "0.1 mm", "rim.bend_allowed": None})
    assert job["cut.depth"].m == 0.2 and other["cut.depth"].m == 0.1
    assert job["rim.bend_allowed"] is not None and other["rim.bend_allowed"] is None


def test_a_change_that_cannot_be_is_refused_by_its_key():
    with pytest.raises(plan.JobFaults) as refusal:
        plain().changed({"cut.depth": "0.1 N", "cut.deph": "0.1 mm"})
    assert [each.name for each in refusal.value.faults] == ["cut.depth", "cut.deph"]


OTHERS = {
    "sheet.material": "acrylic",
    "sheet.thickness": "2 mm",
    "blank.across_flats": "108 mm",
    "blank.centre": ["0.5 mm", "0 mm"],
    "disc.diameter": "96 mm",
    "pad.outer_diameter": "60 mm",
    "pad.facing": "cork",
    "thrust.force": "500 N",
    "thrust.uncertainty": "40 N",
    "cut.depth": "0.2 mm",
    "cut.feed": "0.02 mm/rev",  # a chip so thin is remarked on
    "cut.speed": "600 rev/min",
    "cut.finishing_depth": "0.1 mm",
    "measured.scale_readings": ["600 N", "610 N", "605 N"],
    "run_out.tests": [{"where": "disc", "total": "0.1 mm"}],
    "notes.remarks": ["One."],
}


@pytest.mark.parametrize("key", OTHERS)
@pytest.mark.parametrize("before", [{}, OTHERS], ids=["from the plain one", "from another"])
def test_a_changed_job_is_what_its_entries_make_it(key, before):
    changed = plan.job(PLAIN | before).changed({key: (PLAIN if before else OTHERS).get(key)})
    anew = plan.job(changed.values)
    columns = [vars(each.passes.core) for each in (changed, anew)]
    assert all((columns[0][name] == columns[1][name]).all() for name in columns[0])
    for name in ("friction", "thrust", "low_thrust", "thickness", "remarks"):
        assert getattr(changed, name) == getattr(anew, name)
    assert vars(changed.pad) == vars(anew.pad) and len(changed.tests) == len(anew.tests)
    judged = [plan.assess(each, draws=0) for each in (changed, anew)]
    assert judged[0].verdict == judged[1].verdict and judged[0].remarks == judged[1].remarks
    assert judged[0].reasons == judged[1].reasons


@pytest.mark.parametrize("strange", [None, 5, "disc.diameter", [("a", 1)], {5: 5}, {None: 1}])
def test_what_is_no_set_of_entries_is_refused(strange):
    with pytest.raises(InputError, match="not a set of entries"):
        plan.job(strange)
    with pytest.raises(InputError, match="not a set of entries"):
        plain().changed(strange)


def test_an_entry_may_be_a_quantity_and_is_kept_in_a_unit_that_can_be_typed(tmp_path):
    job = plain(disc__diameter=Q_(0.1, "m"), thrust__force=Q_(np.float64(0.8), "kN"))
    odd = plain(disc__diameter=Quantity(0.0001, "km"), cut__margin=np.float64(2.5))
    for each in (job, odd):
        again = plan.load(plan.save(each, tmp_path / "job.toml"))
        assert again["disc.diameter"].m_as("mm") == pytest.approx(100, rel=1e-15)
        assert again.thrust.m_as("N") == 800
    for wrong in (Q_(1, "N"), Q_([1, 2], "mm"), Q_(-1, "mm")):
        with pytest.raises(plan.JobFaults, match=r"disc\.diameter"):
            plain(disc__diameter=wrong)


def test_what_was_left_out_stands_at_its_usual_value():
    job = plain()
    assert job["cut.margin"] == 2 and job["pad.condition"] == "dry"
    assert job["about.purpose"] is None
    with pytest.raises(InputError, match=r"Did you mean disc\.diameter"):
        job["disc.diametr"]


def test_thickness_is_the_mean_of_readings_before_what_was_given_before_the_gauge():
    gauge = {"sheet.gauge": 20, "sheet.gauge_table": "uncoated_steel"}
    # Manufacturers' Standard Gauge No. 20: 0.0359 in
    bare = without_none(PLAIN | gauge | {"sheet.thickness": None})
    assert plan.job(bare).thickness.m_as("inch") == pytest.approx(0.0359)
    given_too = bare | {"sheet.thickness": "0.93 mm"}
    assert plan.job(given_too).thickness.m_as("mm") == 0.93
    read_too = given_too | {"sheet.readings": ["0.90 mm", "0.92 mm", "0.94 mm"]}
    assert plan.job(read_too).thickness.m_as("mm") == pytest.approx(0.92)


def test_friction_is_measured_before_own_before_listed():
    job = plain()
    assert tuple(job.friction) == (0.3, 0.4, 0.6)  # data/facings.csv, leather on metal, dry
    own = job.changed({"pad.friction": [0.2, 0.25, 0.3]})
    assert own.friction.low == 0.2
    pulls = {"measured.normal_force": "10 N", "measured.pull_forces": ["3.4 N", "3.5 N", "3.6 N"]}
    found = own.changed(pulls)
    assert found.friction.typical == pytest.approx(0.35) and found.friction.low < 0.34
    tilted = job.changed({"measured.tilt_angles": ["19 deg", "20 deg", "21 deg"]})
    assert tilted.friction.typical == pytest.approx(np.tan(np.radians(20)))


def test_thrust_comes_from_a_screw_as_the_handbook_has_it():
    # Shigley, Example 8-1: mean diameter 30 mm, lead 8 mm, friction 0.08, collar 40 mm at 0.08:
    # raising 6.4 kN takes 26.18 N·m.
    screw = {
        "mean_diameter": "30 mm",
        "lead": "8 mm",
        "flank_angle": "0 deg",
        "friction_coefficient": 0.08,
        "collar_diameter": "40 mm",
        "collar_friction": 0.08,
    }
    job = plain(thrust__force=None, thrust__handwheel_torque="26.18 N m", thrust__screw=screw)
    assert job.thrust.m_as("N") == pytest.approx(6400, rel=1e-3)


def test_thrust_that_is_counted_on_lies_below_what_is_aimed_at():
    # 5 % of a normal distribution lie more than 1.645 standard deviations below its mean.
    unsure = plain(thrust__uncertainty="100 N")
    assert unsure.thrust.m == 800
    assert unsure.low_thrust.m_as("N") == pytest.approx(800 - 164.5, abs=0.1)
    assert plain().low_thrust.m == 800
    assert plain(thrust__uncertainty="700 N").low_thrust.m == 0


def test_entries_tell_every_key_and_which_are_needed():
    rows = plan.entries()
    assert [row[0] for row in rows] == list(ENTRIES)
    for key, _, example, _, _ in rows:
        ENTRIES[key].read(tomllib.loads(f"x = {example}")["x"], key)
    needed = {row[0] for row in rows if row[-1]}
    assert needed < set(PLAIN)
    for key in needed:
        with pytest.raises(plan.JobFaults, match=key):
            plan.job({k: v for k, v in PLAIN.items() if k != key})


def test_faults_travel_between_processes():
    with pytest.raises(plan.JobFaults) as refusal:
        plan.job({})
    again = pickle.loads(pickle.dumps(refusal.value))
    assert str(again) == str(refusal.value) and len(again.faults) == len(refusal.value.faults)


def test_the_same_entries_in_inches_are_the_same_job():
    inches = {
        key: f"{read(value, 'length').m_as('inch')!r} in"
        for key, value in PLAIN.items()
        if isinstance(value, str) and value.endswith(" mm")
    }
    assert len(inches) == 9
    metric, imperial = plain(), plan.job(PLAIN | inches)
    assert imperial.passes.worst.margin == pytest.approx(metric.passes.worst.margin, rel=1e-9)
    assert plan.compare(metric, imperial).typed == ()
