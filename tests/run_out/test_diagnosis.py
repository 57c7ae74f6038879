"""Plain cases that any fitter would call, what must stay open, and how a diagnosis is worded."""

import re

import numpy as np
import pytest

from tests.run_out.run_out_cases import PLAIN, TURN, clocked, wave
from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out import verdicts
from workshop_lib.run_out.clocking_list import clockings
from workshop_lib.run_out.corrections import CAUTION
from workshop_lib.run_out.diagnosis import diagnose
from workshop_lib.run_out.evidence import Evidence
from workshop_lib.run_out.evidence_totals import log_likelihood
from workshop_lib.run_out.hidden_faults import mystery
from workshop_lib.run_out.readings import Push, Readings, Total

EACH_CASE = pytest.mark.parametrize("key", PLAIN)


@EACH_CASE
def test_plain_cases_are_called_as_any_fitter_would(key):
    found = diagnose(PLAIN[key])
    assert found.leader.cause == key
    assert found.leader.share > 0.7
    assert found.explained
    assert sum(finding.share for finding in found.findings) == pytest.approx(1)


@EACH_CASE
def test_the_leader_has_evidence_with_numbers_and_its_rivals_have_it_against_them(key):
    found = diagnose(PLAIN[key])
    if key != "nothing_found":
        assert any(re.search(r"\d mm", said) for said in found.leader.speaks_for)
        assert found.findings[-1].speaks_against
    for finding in found.findings:
        for said in (*finding.speaks_for, *finding.speaks_against):
            assert re.fullmatch(
                r".+: .+\. This speaks( very| )*( strongly)? (for|against) it \(.+\)\.", said
            )


@EACH_CASE
def test_turning_all_marks_turns_the_answer_along(key):
    def turned(test):
        if isinstance(test, Push):
            return test
        angles = test.angles + Q_(50, "deg")
        return Readings(
            angles,
            test.readings,
            test.where,
            test.what,
            Q_(test.core.position, "m"),
            graduation="2 um",
        )

    plain, moved = diagnose(PLAIN[key]), diagnose([turned(test) for test in PLAIN[key]])
    assert [f.cause for f in moved.findings[:2]] == [f.cause for f in plain.findings[:2]]
    assert moved.leader.share == pytest.approx(plain.leader.share, abs=1e-6)
    if plain.leader.vector is not None:
        apart = (moved.leader.mark - plain.leader.mark).m_as("deg") % 360
        assert apart == pytest.approx(50, abs=1e-4)


def test_a_displaced_disc_is_tapped_at_its_high_spot_by_half_its_total():
    mend = diagnose(PLAIN["displaced_disc"]).leader.correction
    assert mend.action == "tap"
    assert mend.tap_at.m_as("deg") == pytest.approx(210, abs=2)
    assert mend.tap_by.m_as("um") == pytest.approx(70, rel=0.05)
    assert re.search(r" 2(09|10|11)° .* 0\.07 mm\b", mend.sentence)
    assert mend.caution == CAUTION


def test_a_leaning_pad_is_shimmed_where_it_lies_low():
    found = diagnose(PLAIN["tilted"]).leader
    assert found.part == "pad"
    assert found.mark.m_as("deg") == pytest.approx(100, abs=3)
    assert found.size.m_as("um") == pytest.approx(40, rel=0.1)  # at the arm of 25 mm
    assert re.search(r"shim .* 2(79|80|81)°", found.correction.sentence)


def test_what_cannot_be_tapped_offers_no_tap():
    for key in ("oval", "bearing_clearance", "indicator_setup"):
        mend = diagnose(PLAIN[key]).leader.correction
        assert np.isnan(mend.tap_at.m) and np.isnan(mend.tap_by.m)
        assert "{" not in mend.sentence


def test_sentences_speak_in_the_unit_that_was_asked_for():
    found = diagnose(PLAIN["displaced_disc"], unit="thou")
    assert any("thou" in said for said in found.leader.speaks_for)
    assert "thou" in found.leader.correction.sentence
    # The name of a test may hold its position, which stays in mm.
    assert not any(" mm" in said.split(": ")[1] for said in found.leader.speaks_for)


def test_only_turns_show_that_all_is_slight():
    setup = mystery(0, faults=0)
    tests = [setup.take(clocking.key) for clocking in clockings()]
    assert diagnose(tests).slight
    assert not diagnose([test for test in tests if isinstance(test, Push)]).slight


def test_rows_serve_a_table():
    found = diagnose(PLAIN["displaced_disc"])
    name, part, share, size = found.rows[0]
    assert (name, part) == ("displaced disc", "disc")
    assert share == "above 99 %"
    assert size.m_as("um") == pytest.approx(70, rel=0.05)
    causes, shares = [row[:2] for row in found.rows], [one.share for one in found.findings]
    assert causes == [(one.name, one.part) for one in found.findings]
    assert len(set(causes)) == len(causes), "no cause of one part is told twice"
    assert sum(shares) == pytest.approx(1) and shares == sorted(shares, reverse=True)


# What must stay open


def test_one_plane_of_a_nose_does_not_decide_between_off_centre_tilt_and_disc():
    found = diagnose([clocked("nose", wave(40, 10))])
    open_ones = {found.leader.cause, *(one.cause for one in found.not_excluded)}
    assert {"eccentric_seat", "displaced_disc"} <= open_ones
    assert found.verdict.startswith("Not decided yet: ")
    assert any("one plane only" in said for said in found.remarks)
    assert found.next_test.clocking.key != "nose_near"


def test_a_pad_off_centre_in_one_plane_may_as_well_lean():
    found = diagnose([clocked("pad", wave(20, 10)), clocked("disc"), clocked("nose")])
    assert {found.leader.cause, found.not_excluded[0].cause} == {"eccentric_seat", "tilted"}
    assert found.next_test.clocking.what == "face"


def test_totals_alone_tell_no_mark_and_own_up():
    totals = [Total("2 thou", "nose", state="before"), Total("6 thou", "nose", state="after")]
    found = diagnose(totals, "thou")
    assert found.leader.cause == "displaced_disc"
    assert found.not_excluded
    assert np.isnan(found.leader.mark.m)
    assert np.isnan(found.leader.correction.tap_at.m)
    assert "at its high spot" in found.leader.correction.sentence
    assert any("no direction" in said for said in found.remarks)


def test_the_same_total_before_and_after_does_not_speak_for_a_disc_that_moved():
    def share(after):
        totals = [Total("2 thou", "nose", state="before"), Total(after, "nose", state="after")]
        found = diagnose(totals)
        return next(one.share for one in found.findings if one.cause == "displaced_disc")

    assert share("6 thou") > 2 * share("2 thou")


def test_totals_beside_readings_count_as_evidence():
    found = diagnose(
        [clocked("nose", wave(50, 20)), Total("0.13 mm", "disc"), Total("0.004 mm", "pad")]
    )
    assert found.leader.cause == "displaced_disc"
    assert any("total of 0.0040 mm" in said for said in found.leader.speaks_for)


def test_two_faults_at_once_are_not_explained_by_one():
    found = diagnose(
        [clocked("disc", wave(200, 10)), clocked("pad", wave(35, 0, 3)), clocked("nose")]
    )
    assert not found.explained and not found.sure
    assert found.verdict.startswith("No single cause ")
    assert set(found.together) == {"displaced disc (disc)", "three-jaw lobes (pad)"}
    assert "two faults" in found.remarks[0]


def test_three_faults_at_once_are_not_explained_by_one_either():
    found = diagnose(
        [clocked("disc", wave(200, 10)), clocked("pad", wave(35, 0, 3) + wave(140, 90))]
    )
    assert not found.explained


def test_readings_in_the_wrong_unit_are_not_explained():
    huge = Readings(Q_(TURN, "deg"), Q_(0.05 * wave(60, 20), "mm"), "pad", graduation="0.01 mm")
    assert not diagnose([huge]).explained


def test_a_single_reading_or_two_decide_nothing():
    for count in (1, 2):
        few = Readings(Q_(TURN[:count], "deg"), Q_(np.zeros(count), "mm"), "disc")
        found = diagnose([few])
        assert len(found.not_excluded) == 8
        assert any("three different angles" in said for said in found.remarks)


def test_a_test_is_no_evidence_when_it_says_the_same_of_all():
    found = diagnose([*PLAIN["displaced_disc"], Readings(["0 deg"], ["1 um"], "spindle")])
    assert not any(said.startswith("spindle") for said in found.leader.speaks_for)


# Bad input


@pytest.mark.parametrize(
    "tests", [None, [], {}, "x", 7, [7], [clocked("pad"), None], [clocked("pad")] * 61]
)
def test_what_is_no_list_of_tests_is_refused(tests):
    with pytest.raises(InputError, match="^tests: "):
        diagnose(tests)


def test_a_unit_that_is_none_is_refused():
    with pytest.raises(InputError, match="^unit: "):
        diagnose([clocked("pad")], unit="deg")


def test_a_mapping_from_a_file_is_taken():
    tests = dict(enumerate(PLAIN["oval"]))
    assert diagnose(tests).leader.cause == "oval"


def test_support_is_what_is_lost_when_a_test_is_left_out():
    # Each cause in its likeliest size, found one by one; a bare total among the tests.
    tests = [clocked("pad"), clocked("disc", wave(50, 120)), Total("6 thou", "nose")]
    found = diagnose(tests)
    whole, best = found.likelihood, found._best
    for left_out, support in enumerate(found.support):
        turns = [test for n, test in enumerate(tests) if n not in (left_out, 2)]
        bare = [] if left_out == 2 else tests[2:]
        without = Evidence(turns).log_likelihood() + log_likelihood(turns, bare)
        for number, key in enumerate(found.keys):
            parts = [n for n, c in enumerate(found.evidence.candidates) if c.key == key]
            with_it, less = (
                np.log(np.mean([np.exp(each[n, best[n]]) for n in parts]))
                for each in (whole, without)
            )
            assert support[number] == pytest.approx(with_it - less, abs=1e-6)


def test_many_words_are_listed_as_three_and_others():
    assert verdicts._listed(["a"], "and") == "a"
    assert verdicts._listed(["a", "b", "c"], "and") == "a, b and c"
    assert verdicts._listed(["a", "b", "c", "d", "e"], "or") == "a, b, c or others"
