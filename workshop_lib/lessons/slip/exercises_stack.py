"""Which exercise of lesson 02's further reading is about a stack of discs?"""

from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_, show
from workshop_lib.slip import margin, stack_margins
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw

THROWN = (
    "If discs slip inside a stack, the outer ones are thrown. Close the guard, and stand out of "
    "line with the discs."
)


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return (_stack(),)


def _stack(count=4, alone=4.5, pad=0.3, between=0.12):
    hold, load = (Pad("70 mm"), Q_(800, "N")), (Q_(80, "N"), Q_(2, "N*m"))
    scale = float(margin(*hold, pad, *load)) / alone  # the same set-up, as loaded as told
    load = tuple(each * scale for each in load)
    answer = float(stack_margins(*hold, pad, between, count, *load).min())
    return Exercise(
        "l02-task-stack",
        f"You squeeze {count} bare discs together, and the tool passes along the edge. A single "
        f"disc would have a margin of {alone:g}. The low friction is {pad:g} at the pad and "
        f"{between:g} between the discs. What margin does the stack have?",
        answer,
        within="1 %",
        common_wrong=_slips(count, alone, pad, between, answer),
        hints=[
            "Which face grips least, and does the whole load pass through it?",
            f"{alone:g} × {between:g}/{pad:g}.",
        ],
        solution=f"The faces between the discs decide: {alone:g} × {between:g}/{pad:g} = "
        f"{show(answer)}, however many discs there are. "
        f"{'Below 2: lay card between them, or turn them one by one.' if answer < 1.999 else ''}",
        remake=redraw(
            _stack,
            lambda alone, pad, between, **_: between < 0.75 * pad and alone * between / pad > 0.9,
            count=range(3, 9), alone=(3.0, 3.5, 4.0, 4.5, 5.0, 6.0), pad=(0.25, 0.3, 0.35, 0.4),
            between=(0.1, 0.12, 0.15, 0.18, 0.2),
        ),
        paper="hold of each face = μ N, with the whole thrust N; the weakest face decides",
        withheld=True,
        panel="How many discs at once?",
        caution=THROWN,
    )  # fmt: skip


def _slips(count, alone, pad, between, answer):
    """What is usually answered instead."""
    return [
        (alone, "That is the margin at the pad. The load on the outer discs also has to pass the "
         "faces between the discs, which grip less."),
        (alone / count, "The discs do not share the thrust: all of it passes through each of "
         "them, and the tool cuts one disc at a time."),
        (answer / count, "The friction is right. But the tool cuts one disc at a time, so each "
         "face carries the cut of one disc."),
        (alone * pad / between, "The ratio is upside down: less friction cannot hold more."),
        (alone * between, "The friction at the pad is already in the margin: only the ratio of "
         "the two frictions counts."),
        (alone * (pad + between) / pad / 2, "A load that passes two faces in turn is held by "
         "the weaker one, not by their mean."),
    ]  # fmt: skip
