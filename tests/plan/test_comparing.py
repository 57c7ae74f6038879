"""Two jobs side by side: what differs, in words, and which is the better."""

import re

import pytest

from tests.plan.job_cases import COVER, FILES, full, plain
from workshop_lib import plan
from workshop_lib.quantities import InputError


def test_a_job_does_not_differ_from_itself():
    found = plan.compare(plain(), plain())
    assert found.typed == () and found.better == 0
    assert all(first == second for _, first, second in found.follows)


def test_the_same_length_in_inches_and_a_usual_value_typed_out_are_no_difference():
    other = plain(disc__diameter=f"{100 / 25.4!r} in", cut__margin=2, pad__condition="dry")
    assert plan.compare(plain(), other).typed == ()


def test_more_thrust_is_the_better_whichever_stands_first():
    weak, strong = plain(), plain(thrust__force="1200 N")
    assert plan.compare(weak, strong).better == 2
    found = plan.compare(strong, weak)
    assert found.better == 1 and "the first" in found.verdict
    ((what, *values),) = found.typed
    assert what.startswith("Thrust") and values == ["1200 N", "800 N"]


def test_the_better_verdict_comes_before_the_greater_margin():
    sound, fast = plain(), plain(thrust__force="1200 N", cut__speed="1500 rev/min")
    assert plan.compare(sound, fast).better == 1


def test_lists_that_differ_in_one_value_are_told_apart():
    one = plain(sheet__readings=["1.00 mm", "1.01 mm", "1.02 mm", "1.03 mm"])
    other = plain(sheet__readings=["1.00 mm", "1.01 mm", "1.02 mm", "1.05 mm"])
    ((what, first, second),) = plan.compare(one, other).typed
    assert "readings" in what
    assert re.match("4 .*1 mm .*1.03 mm", first) and re.match("4 .*1 mm .*1.05 mm", second)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_raw_key_stands_in_a_row(path):
    found = plan.compare(plan.load(path), full())
    cells = [cell for row in (*found.typed, *found.follows) for cell in row]
    for raw in ("hss", "stainless_steel", "uniform", "moulded_lining", "pressure_nose", "_"):
        assert not any(raw in cell.split() for cell in cells)
    assert all(isinstance(cell, str) and "_" not in cell and len(cell) < 130 for cell in cells)


def test_the_chance_is_told_when_it_is_asked_for():
    found = plan.compare(plain(), plain(), draws=2000)
    assert found.follows[-1][0] == "Chance of slip" and "2 000 draws" in found.follows[-1][1]


def test_what_is_no_job_is_refused():
    with pytest.raises(InputError, match="is not a job"):
        plan.compare(plain(), str(COVER))


@pytest.mark.parametrize("doubt", [None, "60 N"])
def test_the_thrust_to_aim_at_brings_the_margin_that_is_wanted(doubt):
    weak = plain(thrust__force="500 N", thrust__uncertainty=doubt)
    rows = {name: first for name, first, _ in plan.compare(weak, plain()).follows}
    aim = rows["Thrust to aim at for the margin wanted"]
    mended = weak.changed({"thrust.force": aim})
    assert 2 <= float(mended.passes.worst.margin) < 2.1, "steps of ten newtons"
