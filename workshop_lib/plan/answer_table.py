"""What is a plan's answer, in one small table? Load, hold, margin, and what else decides."""

import numpy as np

from workshop_lib.plan.raising import steps
from workshop_lib.plan.reasons import OPEN, brief, share
from workshop_lib.plan.stacked import layer
from workshop_lib.quantities import times_over

HEADINGS = ("Load and hold at the worst pass", "Value", "Use of what is allowed", "From")
UNKNOWN = "not yet"
MOST_SHOWN = 9.99  # times what is allowed; beyond that the number says nothing more


def answer_table(job, reasons):
    """Rows of what, value, use of what is allowed, and source.

    The load: the table's steady cutting force times each named factor. The hold: friction times
    thrust, both low. The margin. Then nose, facing, rim, ringing, speed and plate, each with its
    own use, or "not yet" where something that decides is not known.
    """
    named = {each.about: each for each in reasons}
    return (*_load(job), *_hold(job, named["hold"]), *_others(job, named))


def _load(job):
    worst, rows = job.passes.worst, steps(job)
    steady = brief(worst.cutting_force / rows[-1][2])
    yield "steady cutting force, high", steady, "", "table of sheets"
    for name, factor, _, told in rows:
        yield f"× {name}", brief(factor, 3), "", told
    yield "= load: the cutting force that is judged", brief(worst.cutting_force), "", ""
    felt = f"{brief(worst.side_force)} and {brief(worst.peak_torque)}"
    yield (
        "on the pad: side force and torque",
        felt,
        "",
        "the tool cuts farther out than the pad holds",
    )


def _hold(job, reason):
    low, thrust = job.friction.low, job.low_thrust
    told = f"{job.friction.standing}; one squeeze in twenty is less"
    held = f"{brief(low)} × {brief(thrust, 3)} = {brief(low * thrust)}"
    yield "hold: friction × thrust, both low", held, "", told
    if job.count > 1:
        between = job.friction_between
        inside = f"{brief(between.low)} × {brief(thrust, 3)} = {brief(between.low * thrust)}"
        yield f"… between the {job.count} discs: {layer(job)}", inside, "", between.standing
    yield (
        "margin",
        times_over(reason.value),
        use_in_words(reason),
        "hold against load, see lesson 02",
    )


def use_in_words(reason):
    """The share of what is allowed as a percentage, rounded up; or why there is no number."""
    if not reason.known:
        return UNKNOWN
    if reason.holds == "open" and reason.use == OPEN:
        return "check"
    if not reason.use <= MOST_SHOWN:
        return f"more than {100 * MOST_SHOWN:.0f} %"
    return f"{np.ceil(100 * reason.use - 1e-6):.0f} %"


def _others(job, named):
    shown = {
        "nose": lambda one: f"can take {times_over(float(one.value))} times its load",
        "facing": lambda one: f"{brief(one.value)} of {brief(one.allowed)}",
        "rim": lambda one: f"bends {brief(one.value)} of {brief(one.allowed)}",
        "ringing": lambda one: f"{brief(one.value)} beside a note of {brief(one.allowed)}",
        "speed": lambda one: f"{brief(one.value)} of {brief(one.allowed)}",
        "plate": lambda one: f"{brief(one.value, 3)} under a pad of {brief(one.allowed, 3)}",
    }
    absent = {
        "facing": "a hard face: nothing to crush",
        "rim": "nothing pushes across it",
        "ringing": "no corner strikes",
    }
    for about, words in shown.items():
        one = named.get(about)
        if one is None:
            yield about, absent[about], "", ""
        elif not one.known:
            yield about, "not known", UNKNOWN, one.changes[0].sentence
        elif one.allowed is None:
            yield about, brief(one.value), "no limit set" if one.holds == "yes" else "check", ""
        else:
            use = _plate_use(one) if about == "plate" else use_in_words(one)
            yield about, words(one), use, SOURCES[about]


def _plate_use(reason):
    return f"{np.ceil(100 * share(reason.allowed, reason.value) - 1e-6):.0f} %"


SOURCES = {
    "nose": "high end of the thrust × shock, and the cut's push",
    "facing": "high end of the thrust, where it presses hardest",
    "rim": "last pass, on the pad facing's low stiffness",
    "ringing": "every multiple of the strikes that carries force",
    "speed": "at the corners",
    "plate": "a plate as large as the pad presses all of it",
}
