"""Is an answer right that a learner reads off: from the panel that is named, or rounded?"""

import re

import pytest

from tests.house.laws import held_for
from tests.house.thorough import among
from tests.lessons.hand_working import numbers_in
from workshop_lib.lessons.holding.panels import screw_scene
from workshop_lib.lessons.light_cuts.panels_rim import rim_scene
from workshop_lib.lessons.nose.panels import press_scene
from workshop_lib.lessons.run_out.panels_shifts import index_scene, knock_scene
from workshop_lib.lessons.slip.panels import creep_scene, faces_scene
from workshop_lib.quantities import read, show, speaking, unmistakable
from workshop_lib.teaching import task_list

SYSTEMS = ("metric", "inch")
SEEDS = (None, *range(among(3, 40)))


def rim(q, disc, thick, pad, force):
    return {"disc_diameter": f"{disc!r} mm", "thickness": f"{thick!r} mm", "facing": "clamped",
            "pad_diameter": f"{pad!r} mm", "force": f"{force!r} N"}  # fmt: skip


def screw(q, mean, lead, _flank, friction, collar, _torque, pull, arm):
    return {"mean_diameter": f"{mean!r} mm", "lead": f"{lead!r} mm", "friction": f"{friction!r}",
            "collar": f"{collar!r} mm", "pull": f"{pull!r} N", "handle": f"{arm!r} mm"}  # fmt: skip


def faces(q, pad, thrust, friction, side, torque):
    return {"pad_diameter": f"{pad!r} mm", "thrust": f"{thrust!r} N", "mu": f"{friction!r}",
            "side": f"{side!r} N", "torque": f"{torque!r} N m"}  # fmt: skip


def creep(q, pad, friction, thrust, stiffness, side, torque):
    given = faces(q, pad, thrust, friction, side, torque)
    return given | {"stiffness": f"{stiffness!r} kN/mm", "creep": "0 mm"}


def knock(q, before, mark, after, again):
    unit = "thou" if " thou" in q else "mm"
    return {"before": f"{before!r} {unit}", "first": f"{mark!r} deg", "unit": unit,
            "after": f"{after!r} {unit}", "second": f"{again!r} deg"}  # fmt: skip


def turned(q, first, mark, second, again):
    return {"first": f"{2 * first!r} um", "first_mark": f"{mark!r} deg", "index": "180 deg",
            "second": f"{2 * second!r} um", "second_mark": f"{again!r} deg"}  # fmt: skip


def press(q, _designation, _static, _share, blows):
    size = re.search(r"two ([0-9]+)", q)[1]
    return {"front": size, "rear": size, "shock": f"{blows:g}"}


# What is shown, by the task's key: the panel, its values from the numbers of the question, and
# the unit that these have.
PANELS = {
    "l03-task-rim": (rim_scene, rim, "mm"),
    "l01-task-handle": (screw_scene, screw, "N"),
    "l02-task-faces": (faces_scene, faces, ""),
    "l02-task-creep": (creep_scene, creep, "mm"),
    "l05-task-knock": (knock_scene, knock, "thou"),
    "l05-task-turned": (index_scene, turned, "um"),
    "l08-task-press": (press_scene, press, "N"),
}
SHOWN = re.compile(
    r"(?<![\w.])[0-9]+(?:\.[0-9]+)?(?: (?:mm|µm|in|thou|N|lbf|N·m|lbf·in))?(?![\w.])"
)


def task(key, seed):
    found = task_list.by_name(key[1:3])[key.rpartition("-")[2]]
    return found if seed is None else found.with_seed(seed)


@held_for(PANELS, SEEDS, SYSTEMS)
def test_what_the_named_panel_shows_for_the_numbers_of_a_question_is_a_right_answer(
    key, seed, system
):
    with speaking(system):
        asked = task(key, seed)
        make, fields, unit = PANELS[key]
        scene = make()
        assert scene.title == asked.panel
        given = scene.given() | fields(asked.question, *numbers_in(asked.question, unit))
        if given.get("shock") in ("1.3", "1.8"):
            return  # the panel has no such choice
        view = scene.look(given).view
        assert view is not None, scene.look(given).complaints
        parts = [each if isinstance(each, str) else each.text() for each in view.details]
        shown = SHOWN.findall(" ".join([view.verdict, *parts]))
        assert any(asked.judged(each).right for each in shown), (asked.answer_words(), shown)


PRECISE = {"l07-task-ring", "l08-task-inches", "l08-task-seat", "l08-task-sleeve"}
OTHER = {"in": "mm", "thou": "mm", "lbf": "N", "lbf·in": "N*m", "psi": "MPa", "mm": "inch",
         "µm": "thou", "N": "lbf", "N·m": "lbf*inch", "MPa": "psi"}  # fmt: skip


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_rounded_answer_is_right_or_told_how_far_it_goes(system):
    """Three figures are right in the unit that is asked, five in the other system's; where more
    are wanted the question says so. What is rounded further is told just that.
    """
    broken, asked_for_more, coarse = [], set(), 0
    with speaking(system):
        for task in (each for lesson in task_list.lessons() for each in task_list.tasks_of(lesson)):
            if task.options is not None or isinstance(task.answer, int):
                continue
            for asked in [task, *(map(task.with_seed, SEEDS[1:]) if task.remake else ())]:
                rough, fine, other = _rounded(asked)
                if not asked.judged(fine).right:
                    asked_for_more.add(asked.key)
                    if not re.search(r" to (a|three|five) ", asked.question):
                        broken.append((asked.question, fine))
                if other and asked.key not in PRECISE and not asked.judged(other).right:
                    broken.append((asked.question, other))
                found = asked.judged(rough)
                if found.state == "wrong" and _only_rounded(rough, asked):
                    coarse += 1
                    if "right as far as it goes" not in found.said:
                        broken.append((asked.question, rough, found.said))
    assert not broken, broken[:10]
    assert asked_for_more <= PRECISE and coarse > 20


def _rounded(asked):
    """An answer to two figures and to three, and to five in a unit of the other system."""
    unit = getattr(asked.answer, "units", None)
    other = OTHER.get(asked.unit)
    rough, fine = (show(asked.answer, unit, figures) for figures in (2, 3))
    if not other:
        return rough, fine, None
    number, _, rest = show(asked.answer.to(other), other, 5).partition(" ")
    return rough, fine, f"{unmistakable(number, rest)} {rest}"  # 43.838 lbf is asked back


def _only_rounded(said, asked):
    """By the letters: the answer written out, cut to the places that were typed, is what was."""
    number, places = re.match(r"-?[0-9.]+", said)[0], len(said.split()[0].partition(".")[2])
    if len(number.replace(".", "").strip("-").lstrip("0")) < 2:
        return False
    unit = getattr(read(said, asked._kind), "units", None) if asked.unit else None
    right = asked.answer if unit is None else asked.answer.m_as(unit)
    return f"{float(right) * (1 + 1e-12):.{places}f}" == number
