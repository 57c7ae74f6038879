"""What the panels of lesson 04 say: a limit that is told can be gone by."""

import re

import pytest

from workshop_lib.lessons.bearings import panels
from workshop_lib.load_path import designs, live_centre
from workshop_lib.quantities import Q_

LIVE = panels.live_scene()


def view(**given):
    """What the panel of the live centre shows for some settings."""
    look = LIVE.look(LIVE.given() | given)
    assert look.view is not None, look.complaints
    return look.view


def told(shown):
    """The side forces up to which the panel says that a design would do, in N."""
    text = "\n".join(each.text() for each in shown.details if hasattr(each, "text"))
    return [float(each) for each in re.findall(r" ([0-9.]+) N$", text, re.MULTILINE)]


@pytest.mark.parametrize("design", [each.key for each in designs()])
@pytest.mark.parametrize("allowed", range(10, 40, 3))
def test_a_side_force_that_is_told_as_a_limit_keeps_within_it(design, allowed):
    given = {"design": design, "allowed": f"{allowed} um"}
    least = min(told(view(**given)))
    assert view(**given, side=f"{least} N").holds == "yes"
    above = 1.1 * least  # the second of two figures is at most a tenth of the whole
    assert view(**given, side=f"{above} N").holds == "no"


def test_no_limit_is_told_greater_than_it_is():
    rounded_away = 0
    for design in designs():
        for allowed in range(10, 40, 3):
            shown = told(view(design=design.key, allowed=f"{allowed} um"))
            case = design, "600 N", "50 N", Q_(allowed, "um"), "shock"
            exact = [each.side_force.m_as("N") for each in live_centre(*case).limits]
            exact = [each for each in exact if each < float("inf")]
            assert len(shown) == len(exact)
            pairs = list(zip(shown, exact, strict=True))
            assert all(0.9 * true < said <= true * (1 + 1e-9) for said, true in pairs)
            rounded_away += sum(float(f"{true:.2g}") > true for _, true in pairs)
    assert rounded_away > 10, "among them are many that plain rounding would make too great"
