"""The exercises of lesson 06: friction of one's own, the facing's pressure, what to plan on."""

import numpy as np

from workshop_lib.lesson.exercises import Exercise
from workshop_lib.lesson.redraw import redraw
from workshop_lib.measured import pull_test
from workshop_lib.quantities import Q_, show
from workshop_lib.uncertainty import share_interval


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _pull(), _pressure(), _low(), _chance()


def _pull(first=5, step=0.2, weight=15):
    pulls = [first + step * turn for turn in (0, 2, 1, 3, -1)]
    found = pull_test([Q_(pull, "N") for pull in pulls], Q_(weight, "N"))
    listed = ", ".join(f"{pull:.1f}" for pull in pulls)
    mean = np.mean(pulls)
    return Exercise(
        "l06-task-pull",
        f"A sheet on its facing, one face only, under {weight} N, begins to slide at {listed} N. "
        "What is the friction coefficient?",
        found.value,
        kind="ratio",
        within="1 %",
        common_wrong=[
            (found.value / 2, "You counted two faces. The sheet lies on one facing only."),
            (1 / found.value, "Upside down: friction is pull over weight."),
            (max(pulls) / weight, "That is the largest pull alone; the mean is the typical value."),
            (min(pulls) / weight, "That is the smallest pull alone. It is a cautious thought, but "
             "the low value comes from the scatter, not from one reading."),
            (mean, "That is the mean pull in newtons. Divide by the weight."),
        ],
        hints=["Average the pulls first.", "μ = F/N, with N the weight on the sheet."],
        solution=f"The mean pull is {mean:.2f} N; {mean:.2f} N / {weight} N = {found.value:.3f}.",
        remake=redraw(
            _pull, first=(4, 5, 6, 7, 8), step=(0.2, 0.3, 0.4), weight=(12, 15, 20, 25),
        ),
        paper="μ = F/N, with F the mean pull and N the weight",
        withheld=True,
    )  # fmt: skip


def _pressure(outer=90, relief=50, thrust=1200):
    area = np.pi / 4 * (outer**2 - relief**2)
    answer = Q_(thrust / area, "MPa")
    full = Q_(thrust / (np.pi / 4 * outer**2), "MPa")
    return Exercise(
        "l06-task-pressure",
        f"A pad of {outer} mm, relieved to {relief} mm in the middle, presses with {thrust} N. "
        "What is the mean pressure on its facing?",
        answer,
        within="1 %",
        common_wrong=[
            (full, "You took the full circle. The relieved middle carries nothing."),
            (answer / 4, "You took the diameters for radii: the area is π/4 (D² − d²)."),
            (answer / 2, "The thrust is not shared between two faces: each face feels all of it."),
            (Q_(thrust / (np.pi / 4 * (outer - relief) ** 2), "MPa"), "You took the difference of "
             "the diameters first. Take each area, then the difference."),
        ],
        hints=["Which area touches the sheet?", "p = N / (π/4 (D² − d²)); 1 N/mm² is 1 MPa."],
        solution=f"π/4 ({outer}² − {relief}²) mm² = {area:.0f} mm²; {thrust} N / {area:.0f} mm² = "
        f"{show(answer)}.",
        remake=redraw(
            _pressure, outer=range(60, 145, 5), relief=range(20, 70, 5),
            thrust=range(400, 2050, 50), fits=lambda outer, relief, thrust: relief < 0.8 * outer,
        ),
        paper="p = N / (π/4 (D² − d²)); 1 N/mm² = 1 MPa",
    )  # fmt: skip


PLANS = {
    "low": "the low value: what one squeeze in twenty falls below",
    "mean": "the mean: it is the likeliest",
    "high": "the high value: the facing was good",
    "surest": "the mean less its standard uncertainty: the mean is that sure",
}


def _low():
    return Exercise(
        "l06-task-low",
        "Twenty pulls give you a mean friction that is sure to one in a hundred. Which friction do "
        "you plan the cut on?",
        "low",
        options=PLANS,
        common_wrong=[
            ("mean", "Half of your squeezes would hold less than you planned for."),
            ("high", "Nearly all of your squeezes would hold less than you planned for."),
            ("surest", "That tells how sure the mean is. The next squeeze is a single draw out of "
             "the scatter, and that does not shrink with more readings."),
        ],
        hints=[
            "The disc meets one squeeze, not the mean of twenty.",
            "Which of them does the scatter of single readings decide?",
        ],
        solution="The low value. More readings make the mean surer, but the next squeeze scatters "
        "as the single readings did.",
    )  # fmt: skip


def _chance(draws=10_000):
    answer = Q_(100 * share_interval(0, draws)[1], "percent")
    return Exercise(
        "l06-task-chance",
        f"In {draws} draws the disc never slipped. Below what chance, in per cent, can you put it, "
        "95 times in 100? (Rule for none of n: 3.84 / (n + 3.84).)",
        answer,
        kind="ratio",
        within="3 %",
        common_wrong=[
            (Q_(0.0, "percent"), "None in so many is not never. The next draw can be the first."),
            (answer * 100, "A hundred times too much: write the sign % behind it, or the share."),
            (Q_(100 / draws, "percent"), "One in so many is too bold: with that chance, none would "
             "come out in more than a third of all tries."),
        ],
        hints=["How much could hide behind none of n?", f"3.84 / ({draws} + 3.84), in per cent."],
        solution=f"3.84 / ({draws} + 3.84) = {show(answer, figures=2)}.",
        remake=redraw(_chance, draws=range(1_000, 51_000, 1_000)),
        paper="none of n: chance below 3.84 / (n + 3.84)",
    )  # fmt: skip
