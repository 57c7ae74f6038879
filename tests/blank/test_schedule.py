"""Schedules and first depths keep their margin and use it up; brute force finds none shorter."""

from collections import deque

import numpy as np
import pytest

from tests.blank.turning_cases import BLANKS, CONDITIONS, EACH_BLANK, SQUARE, TURNING, disc_of
from tests.house.thorough import only_thorough
from workshop_lib import slip
from workshop_lib.blank.pass_plan import largest_first_depth, passes, schedule
from workshop_lib.blank.roughing import Roughing
from workshop_lib.blank.turning import Turning
from workshop_lib.quantities import Q_, InputError


@EACH_BLANK
def test_the_largest_first_depth_just_keeps_the_margin(blank):
    disc = disc_of(blank)
    depth = largest_first_depth(blank, disc, TURNING, margin=2).m_as("mm")
    whole = (passes(blank, disc, "5 mm", TURNING)[0].from_radius - disc / 2).m_as("mm")
    assert 0 < depth < whole
    just = passes(blank, disc, Q_(depth, "mm"), TURNING)[0]
    over = passes(blank, disc, Q_(depth * (1 + 1e-5), "mm"), TURNING)[0]
    assert just.margin == pytest.approx(2, rel=1e-6)
    assert over.margin < 2


def test_without_unbalance_it_is_the_deepest_cut_at_the_corners():
    hold = {name: CONDITIONS[name] for name in ("pad", "thrust", "friction_coefficient")}
    cut = {name: CONDITIONS[name] for name in ("material", "feed", "radial_share")}
    across = 2 * SQUARE.corner_radius(("0 mm", "0 mm"))
    deepest = slip.deepest_cut(**hold, **cut, disc_diameter=across, margin=2, estimate="typical")
    depth = largest_first_depth(SQUARE, "78 mm", TURNING, margin=2)
    assert depth.m_as("mm") == pytest.approx(deepest.m_as("mm"), rel=1e-8)


def test_a_hold_that_does_not_slip_at_all_takes_it_in_one():
    strong = Turning(**CONDITIONS | {"thrust": "90 kN"})
    depth = largest_first_depth(SQUARE, "78 mm", strong, margin=2)
    assert depth.m_as("mm") == pytest.approx(np.hypot(40, 28) - 39)
    found = schedule(SQUARE, "78 mm", strong, margin=2)
    assert len(found) == 1
    assert repr(found).startswith("<1 pass, least margin ")


def test_no_hold_allows_no_depth_and_no_schedule():
    weak = Turning(**CONDITIONS | {"thrust": "0 N"})
    assert largest_first_depth(SQUARE, "78 mm", weak, margin=2).m_as("mm") == 0
    with pytest.raises(InputError, match=r"48\.8 mm no pass") as refusal:
        schedule(SQUARE, "78 mm", weak, margin=2)
    assert refusal.value.name == "margin"


@EACH_BLANK
@pytest.mark.parametrize("margin", [1.2, 2, 3])
def test_a_schedule_keeps_its_margin_and_uses_it_up(blank, margin):
    found = schedule(blank, disc_of(blank), TURNING, margin)
    assert (found.margin >= margin * (1 - 1e-9)).all()
    assert found.margin[:-1] == pytest.approx(np.full(len(found) - 1, margin), rel=2e-5)


def fewest(job, edges, margin, deepest):
    """Return the least number of passes between neighbours of a fine list of radii, by search."""
    outer, inner = np.meshgrid(edges, edges, indexing="ij")
    real = (outer > inner + 1e-12) & (outer - inner <= deepest + 1e-12)
    keeps = np.zeros(real.shape, bool)
    keeps[real] = job.loads.margin(inner[real], outer[real])[0] >= margin
    counts, queue = {0: 0}, deque([0])
    while queue:
        here = queue.popleft()
        for there in np.flatnonzero(keeps[here]):
            if there not in counts:
                counts[there] = counts[here] + 1
                queue.append(there)
    return counts.get(len(edges) - 1)


# At such a speed the unbalance is a good part of the load; it does not fall evenly.
FAST = Turning(**CONDITIONS | {"speed": "12000 rev/min"})


@EACH_BLANK
@pytest.mark.parametrize(
    ("turning", "deepest"),
    [
        (TURNING, None),
        (FAST, "1.3 mm"),
        pytest.param(TURNING, "1.3 mm", marks=only_thorough),
        pytest.param(FAST, None, marks=only_thorough),
    ],
    ids=["slow", "fast-capped", "slow-capped", "fast"],
)
def test_no_choice_of_passes_in_whole_steps_is_shorter(blank, turning, deepest):
    disc = disc_of(blank)
    job = Roughing(blank, disc.m_as("m"), turning, None)
    step = 0.5e-3
    edges = np.append(np.arange(job.corner, job.radius, -step), job.radius)
    cap = np.inf if deepest is None else 1.3e-3
    best = fewest(job, edges, 1.5, cap)
    if best is None:
        with pytest.raises(InputError, match="no pass keeps it"):
            schedule(blank, disc, turning, 1.5, deepest=deepest, step="0.5 mm")
        return
    stepped = schedule(blank, disc, turning, 1.5, deepest=deepest, step="0.5 mm")
    assert len(stepped) == best
    assert len(schedule(blank, disc, turning, 1.5, deepest=deepest)) <= best


def test_brute_force_sees_schedules_of_many_lengths():
    lengths = set()
    for blank in BLANKS:
        for turning in (TURNING, FAST):
            try:
                lengths.add(len(schedule(blank, disc_of(blank), turning, 1.5, step="0.5 mm")))
            except InputError:
                lengths.add(None)
    assert len(lengths) > 6


def test_depths_are_whole_steps_but_the_last_roughing_one():
    found = schedule(SQUARE, "78 mm", TURNING, 2, step="0.05 mm", finishing_depth="0.12 mm")
    steps = (found.from_radius - found.tool_radius).m_as("mm")
    assert steps[-1] == pytest.approx(0.12)
    assert steps[:-2] / 0.05 == pytest.approx(np.round(steps[:-2] / 0.05))
    assert (found.margin >= 2 * (1 - 1e-9)).all()


def test_a_cap_of_whole_steps_is_used_whole():
    found = schedule(SQUARE, "78 mm", TURNING, 1, deepest="0.3 mm", step="0.1 mm")
    steps = (found.from_radius - found.tool_radius).m_as("mm")
    assert steps[:-1] == pytest.approx(np.full(len(found) - 1, 0.3))


def test_a_cap_is_kept():
    found = schedule(SQUARE, "78 mm", TURNING, 1, deepest="0.3 mm")
    steps = (found.from_radius - found.tool_radius).m_as("mm")
    assert steps[:-1] == pytest.approx(np.full(len(found) - 1, 0.3))
    assert len(found) == np.ceil((np.hypot(40, 28) - 39) / 0.3)


def test_a_wanted_margin_never_shortens_the_schedule():
    counts = [len(schedule(SQUARE, "78 mm", TURNING, margin)) for margin in (1, 1.5, 2, 3, 4)]
    assert counts == sorted(counts)
    assert counts[0] < counts[-1]


def test_a_plunge_that_does_not_hold_is_not_cut_into_crumbs():
    weak = Turning(**CONDITIONS | {"cut": "plunge", "thrust": "900 N"})
    with pytest.raises(InputError, match="no pass keeps it"):
        schedule(SQUARE, "78 mm", weak, margin=3)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"margin": 0}, "margin"),
        ({"margin": [2, 3]}, "margin"),
        ({"margin": "2 mm"}, "margin"),
        ({"deepest": "0 mm"}, "deepest"),
        ({"step": "2 mm"}, "margin"),
        ({"step": "-1 mm"}, "step"),
        ({"finishing_depth": "2 mm"}, "finishing_depth"),
        ({"deepest": "1 um"}, "margin"),
    ],
)
def test_schedules_refuse_bad_input_by_name(change, name):
    with pytest.raises(InputError) as refusal:
        schedule(
            **{"blank": SQUARE, "disc_diameter": "78 mm", "turning": TURNING, "margin": 2} | change
        )
    assert refusal.value.name == name
