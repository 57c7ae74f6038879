"""What a pass asks of the hold, in bare numbers: the unbalance on its way, against plain maxima."""

import numpy as np
import pytest

from tests.blank.outline_cases import HOOK
from tests.blank.turning_cases import TURNING, of
from workshop_lib.blank.engagement import remaining, seen_from
from workshop_lib.blank.roughing import TRIMS, Loads, _peaks


def loads(pulls):
    """Return the loads of a hooked blank with other pulls at its radii."""
    made = Loads(TURNING, seen_from(of(HOOK).points, (25e-3, 25e-3)), 25e-3)
    made.pulls, made.peaks = pulls, _peaks(pulls)
    return made


def test_pulls_are_density_thickness_moment_and_speed_squared():
    sight = seen_from(of(HOOK).points, (25e-3, 25e-3))
    made = Loads(TURNING, sight, 20e-3)
    moment = np.hypot(*remaining(sight, made.radii)[1].T)
    assert made.pulls == pytest.approx(7850 * 1e-3 * moment * (200 * 2 * np.pi / 60) ** 2)
    assert made.radii[[0, -1]] == pytest.approx([20e-3, sight.reach])


def test_unbalance_of_a_pass_is_the_plain_maximum_between_its_radii():
    draw = np.random.default_rng(0)
    pulls = draw.uniform(0, 1, TRIMS)
    made = loads(pulls)
    low, high = made.radii[[0, -1]]
    inner = draw.uniform(low, high, 3000)
    outer = inner + (high - inner) * draw.uniform(0, 1, 3000) ** 4
    inner[:40], outer[:40] = made.radii[:40], made.radii[2:42]  # exactly on the listed radii
    inner[40], outer[40] = low, high
    expected = [
        max(
            pulls[(made.radii > start) & (made.radii < end)].max(initial=0),
            *np.interp([start, end], made.radii, pulls),
        )
        for start, end in zip(inner, outer, strict=True)
    ]
    assert (made.unbalance(inner, outer) == expected).all()


def test_a_pass_that_starts_farther_out_never_has_the_lesser_unbalance():
    made = loads(np.random.default_rng(1).uniform(0, 1, TRIMS))
    outer = np.linspace(30e-3, made.corner, 500)
    assert (np.diff(made.unbalance(np.full(500, 27e-3), outer)) >= 0).all()
    inner = np.linspace(25e-3, 45e-3, 500)
    assert (np.diff(made.unbalance(inner, np.full(500, 45e-3))) <= 0).all()
