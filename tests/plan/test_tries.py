"""Several attempts in one job: each keeps its own settings and end, the last one is judged."""

import pytest

from tests.house.laws import held_for
from tests.plan.job_cases import COVER, OTHER_WAYS, full, judged, plain
from workshop_lib import plan

SLIPPED = {"happened": "It moved.", "changed": "Pressed harder.", "slipped": True}
HELD = {"happened": "It held.", "slipped": False}
TRIES = {
    "deeper": {"cut.depth": "0.4 mm"},
    "less thrust": {"thrust.force": "400 N"},
    "another facing": {"pad.facing": "bare_steel", "pad.condition": "oily"},
    "faster": {"cut.speed": "300 rev/min", "cut.feed": "0.05 mm/rev"},
    "another blank": {"blank.side": "110 mm"},
}


@held_for(TRIES)
def test_an_attempts_margin_is_that_of_a_job_with_its_settings(name):
    given = TRIES[name]
    job = plain(attempt=[SLIPPED | {"set": given}, HELD])
    first, last = plan.attempts(job)
    other = {"blank__corners": None, "blank__across_flats": None} if "blank.side" in given else {}
    alone = plain(**{k.replace(".", "__"): v for k, v in given.items()}, **other)
    assert first.margin == pytest.approx(float(alone.passes.worst.margin), rel=1e-12)
    assert last.margin == float(plain().passes.worst.margin) and last.settings == ()
    assert len(first.settings) == len(given) and first.slipped and not last.slipped


def test_the_scale_showed_the_thrust_of_the_last_attempt_only():
    job = plain(
        measured__scale_readings=["790 N", "805 N", "805 N"],
        attempt=[SLIPPED | {"set": {"thrust.force": "400 N"}}, HELD],
    )
    first, last = plan.attempts(job)
    alone = float(plain(thrust__force="400 N").passes.worst.margin)
    assert first.margin == pytest.approx(alone, rel=1e-12)
    assert last.margin == float(job.passes.worst.margin)


@held_for(OTHER_WAYS)
def test_a_setting_takes_the_place_of_what_says_the_same(way):
    job = full(way).changed({"attempt": [SLIPPED | {"set": {"thrust.force": "900 N"}}, HELD]})
    first = plan.attempts(job)[0]
    assert first.margin is not None and first.settings[0][1] == "900 N"


def test_the_verdict_is_the_last_attempts():
    ready = judged().holds
    assert judged(attempt=[SLIPPED, HELD]).holds == ready == "yes"
    assert judged(attempt=[SLIPPED, {"happened": "It turned."}]).holds == "yes"
    found = judged(attempt=[HELD, SLIPPED])
    assert found.holds == "no" and found.reasons[0].about == "slipped"


def test_an_attempt_that_cannot_stand_is_told_without_a_margin():
    job = plain(attempt=[SLIPPED | {"set": {"pad.outer_diameter": "120 mm"}}, HELD])
    first, last = plan.attempts(job)
    assert first.margin is None and first.settings[0][1] == "120 mm" and last.margin


def test_settings_are_read_below_their_part_or_with_dots():
    text = COVER.read_text(encoding="utf-8")
    dotted = text.replace("{ cut.depth =", '{ "cut.depth" =')
    assert dotted != text and plan.parse(dotted).values == plan.parse(text).values
    first, last = plan.attempts(plan.parse(text))
    assert first.settings == (("Depth of each pass, off the radius", "0.2 mm"),)
    assert first.margin < last.margin


def test_one_attempt_alone_is_written_as_several_are():
    text = COVER.read_text(encoding="utf-8").partition("[[attempt]]")[0]
    with pytest.raises(plan.JobFaults, match=r"Write each as \[\[attempt\]\]"):
        plan.parse(f'{text}[attempt]\nhappened = "x"\n')
    with pytest.raises(plan.JobFaults, match="attempt.*20"):
        plain(attempt=[HELD] * 21)
    with pytest.raises(plan.JobFaults, match="happened: is missing"):
        plain(attempt=[{"slipped": True}])
