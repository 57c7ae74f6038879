"""Sentences about a job that somebody acts on: each is held against the job that it speaks of."""

import re

import pytest

from tests.plan.job_cases import judged, plain
from workshop_lib.quantities import Q_, Quantity
from workshop_lib.run_out import diagnose
from workshop_lib.write_up.doing import steps
from workshop_lib.write_up.page_parts import Table, Text
from workshop_lib.write_up.sections import run_out_parts

# The nose


@pytest.mark.parametrize("thrust", ["1900 N", "2000 N", "2500 N"])
def test_the_most_thrust_that_is_named_for_a_nose_is_the_most_that_it_bears(thrust):
    # By hand: the front bearing, a 6202, bears 0.5 C0 = 0.5 × 3750 N = 1875 N (SKF 2018); the
    # thrust is set in steps of ten newtons, and the cut pushes along the axis with 22 N beside it
    # (half of the high cutting force of a 0.2 mm pass, 44.5 N): 1852 N are left. For the blows of
    # the corners the thrust counts 1.5 times (static safety for shocks, SKF 2018): 1235 N.
    (change,) = (
        each for each in judged(thrust__force=thrust).reason("nose").changes if each.entries
    )
    assert re.search(r"no more than (\d+) N", change.sentence)[1] == "1230"
    assert Quantity(change.entries["thrust.force"]) == Q_(1230, "N")
    assert judged(thrust__force="1230 N").reason("nose").holds == "yes"
    assert judged(thrust__force="1240 N").reason("nose").holds == "no"


# The way of the tool


def test_the_tool_travels_so_that_its_push_presses_the_sheet_onto_the_pad():
    # The push along the axis goes the way of the travel. Only the pad stands behind the rim.
    (way,) = (each for each in steps(plain()) if "travel" in each)
    start, end = re.search(r"travel from (.+?) towards (.+?)\.", way).groups()
    assert "tailstock" in start and "pad" not in start
    assert "pad" in end and "tailstock" not in end


def test_a_plunge_has_no_way_along_the_axis():
    assert not any("travel" in each for each in steps(plain(cut__kind="plunge")))


# The speed


def test_slower_is_said_to_be_allowed_where_it_is_slower_than_usual_and_only_there():
    said = {}
    for turns in (60, 120, 200, 300, 400, 900):
        reason = judged(cut__speed=f"{turns} rev/min").reason("speed")
        # The farthest corner of a hexagon of 104 mm across flats swings on 120.09 mm.
        rim = 3.14159265 * 0.12008886 * turns
        low = float(re.search(r"; ([0-9.]+) to ", reason.sentence)[1])
        said[turns] = "slower is allowed" in reason.sentence
        assert said[turns] == (rim < low), reason.sentence
        if said[turns]:
            assert reason.holds == "yes"
    assert True in said.values() and False in said.values()


# Run-out

CLOCKED = {
    "a disc alone": [{"where": "disc", "total": "0.2 mm"}],
    "disc and pad": [{"where": "disc", "total": "0.2 mm"}, {"where": "pad", "total": "0.01 mm"}],
    "a nose alone": [{"where": "nose", "total": "0.05 mm"}],
}


@pytest.mark.parametrize("tests", CLOCKED.values(), ids=CLOCKED)
def test_up_to_four_causes_are_named_and_none_that_is_believed_below_one_in_a_hundred(tests):
    job = plain(run_out__tests=tests)
    found = diagnose(job.tests)
    likely = [each for each in found.findings if each.share >= 0.01][:4]
    (table,) = (
        part
        for part in run_out_parts(job)
        if isinstance(part, Table) and part.headings[0] == "Cause"
    )
    assert [row[2] for row in table.rows] == [f"{100 * each.share:.0f} %" for each in likely]
    assert any(0.02 < each.share < 0.3 for each in likely), "a cause that is likely in part"
    assert table.rows[0][0] in found.verdict


GOOD_RIM = {"run_out__allowed": "0.1 mm"}


def told(parts):
    return " ".join(each.words for each in parts if isinstance(each, Text))


@pytest.mark.parametrize("tests", [CLOCKED["a disc alone"], CLOCKED["disc and pad"]])
def test_nobody_is_told_to_clock_what_was_clocked(tests):
    for words in (
        told(run_out_parts(plain(run_out__tests=tests))),
        judged(run_out__tests=tests).reason("run-out").sentence,
    ):
        assert "rim of the disc" not in words and "Repeat" not in words
        assert len(tests) == 1 or "rim of the pad" not in words


def test_a_rim_that_runs_true_gets_no_causes():
    job = plain(run_out__tests=[{"where": "disc", "total": "0.04 mm"}], **GOOD_RIM)
    parts = run_out_parts(job)
    assert "in total; 0.1 mm is allowed" in told(parts) and "clock" not in told(parts).lower()
    assert not any(isinstance(each, Table) and each.headings[0] == "Cause" for each in parts)
    bad = run_out_parts(plain(run_out__tests=[{"where": "disc", "total": "0.2 mm"}], **GOOD_RIM))
    assert any(isinstance(each, Table) and each.headings[0] == "Cause" for each in bad)
