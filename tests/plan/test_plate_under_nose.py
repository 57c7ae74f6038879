"""Does all of the pad bear? The plate under the nose, and what a plan takes for granted."""

from tests.plan.job_cases import judged
from workshop_lib import plan


def test_a_plate_smaller_than_the_pad_stops_the_plan_and_the_change_mends_it():
    small = judged(nose__plate_diameter="20 mm")
    assert small.holds == "no" and small.reason("plate").holds == "no"
    mended = small.job.changed(small.reason("plate").changes[0].entries)
    assert plan.assess(mended, draws=0).reason("plate").holds == "yes"


def test_a_job_that_names_no_plate_is_told_what_it_supposes():
    assert any("plate" in each for each in judged(nose__plate_diameter=None).remarks)
    assert not any("plate" in each for each in judged(nose__plate_diameter="90 mm").remarks)


def test_a_larger_pad_takes_its_plate_along():
    thin = judged(nose__plate_diameter="60 mm", pad__outer_diameter="60 mm", thrust__force="300 N")
    wider = [each.entries for each in thin.changes if "pad.outer_diameter" in each.entries]
    assert wider
    for entries in wider:
        assert entries["nose.plate_diameter"] == entries["pad.outer_diameter"]


def test_friction_measured_above_the_table_is_questioned():
    pulls = ["9 N", "9.1 N", "9.05 N", "9.1 N", "9 N"]
    found = judged(measured__pull_forces=pulls, measured__normal_force="10 N")
    assert any("the real pad" in each for each in found.remarks)
