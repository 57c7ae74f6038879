"""The exercises of lesson 02: torque, faces, the thrust that is needed, creep."""

from workshop_lib.friction import Pad, torque_capacity
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.quantities import Q_, show
from workshop_lib.slip import margin, thrust_needed


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _torque(), _faces(), _thrust(), _creep()


def _torque():
    answer = torque_capacity(Pad("40 mm"), "900 N", 0.25)
    return Exercise(
        "l02-task-torque",
        "A full pad of 40 mm presses evenly with 900 N on brass; friction 0.25. What torque can "
        "it hold, with no side force?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces, or took the diameter for the radius: one face "
             "drives, and the torque radius is 2/3 of 20 mm."),
            (Q_(0.25 * 900 * 0.02, "N*m"), "You let all the friction act at the rim of the pad."),
            (Q_(0.25 * 900 * 0.01, "N*m"), "That is the worn pad's torque radius, half of the "
             "outer radius; here the pressure is even."),
        ],
        hints=["Which radius does the friction act at, on average?", "M = μN × 2/3 r_o."],
        solution=f"0.25 × 900 N × 2/3 × 20 mm = {show(answer)}.",
    )  # fmt: skip


def _faces():
    setup = (Pad("60 mm"), "800 N", 0.3, "150 N", "1.5 N m")
    answer = margin(*setup)
    located = margin(*setup, nose="located", nose_friction=0.3)
    alone_side, alone_turn = 240 / 150, 4.8 / 1.5
    return Exercise(
        "l02-task-faces",
        "A full 60 mm pad, 800 N, friction 0.3. The cut pushes with 150 N sideways and 1.5 N·m. "
        "The nose can float. What is the margin?",
        answer,
        within="2 %",
        common_wrong=[
            (2 * answer, "You counted both faces. Only the pad's face drives and locates."),
            (located, "That counts the nose as located. It can float, so it holds nothing."),
            (alone_side, "That is the side force alone. The torque spends friction too."),
            (alone_turn, "That is the torque alone. The side force spends friction too."),
            (1 / (1 / alone_side**2 + 1 / alone_turn**2) ** 0.5, "That is the ellipse. It lies "
             "outside the true curve and promises too much."),
        ],
        hints=[
            "Neither check alone is enough: use margin(pad, thrust, friction, side, torque).",
            "margin(Pad('60 mm'), '800 N', 0.3, '150 N', '1.5 N m')",
        ],
        solution=f"On the limit curve both loads can grow {show(answer)} times.",
    )  # fmt: skip


def _thrust():
    answer = thrust_needed(Pad("50 mm"), 0.3, "60 N", "1.2 N m", margin=2)
    once = thrust_needed(Pad("50 mm"), 0.3, "60 N", "1.2 N m", margin=1)
    return Exercise(
        "l02-task-thrust",
        "A full 50 mm pad, friction 0.3 at the low end. The cut asks for 60 N and 1.2 N·m. What "
        "thrust gives a margin of 2?",
        answer,
        within="2 %",
        common_wrong=[
            (once, "That thrust only just holds: its margin is 1."),
            (Q_(2 * 1.2 / (0.3 * 0.05 / 3), "N"), "That covers the torque alone; the side force "
             "is forgotten."),
            (Q_(2 * 60 / 0.3, "N"), "That covers the side force alone; the torque is forgotten."),
        ],
        hints=[
            "thrust_needed asks margin's question the other way round.",
            "thrust_needed(Pad('50 mm'), 0.3, '60 N', '1.2 N m', margin=2)",
        ],
        solution=f"thrust_needed gives {show(answer)}; at half of that it just slips.",
    )  # fmt: skip


def _creep():
    needed = thrust_needed(Pad("60 mm"), 0.3, "80 N", "2 N m", margin=1)
    answer = ((Q_(800, "N") - needed) / Q_(2000, "N/mm")).to("mm")
    return Exercise(
        "l02-task-creep",
        "A full 60 mm pad, friction 0.3, set to 800 N in a squeeze of 2 kN/mm. The cut asks for "
        "80 N and 2 N·m. How far may the tailstock creep back before the disc slips?",
        answer,
        within="3 %",
        common_wrong=[
            (Q_(0.4, "mm"), "That is where all the thrust is gone. It slips before that."),
            (needed / Q_(2000, "N/mm"), "That is the squeeze of the thrust that must stay, not "
             "of the thrust that may go."),
        ],
        hints=[
            "At which thrust is the margin just 1? Use thrust_needed with margin=1.",
            "The thrust that may go, divided by the stiffness.",
        ],
        solution=f"It slips below {show(needed)}. (800 N − {show(needed)}) / 2000 N/mm = "
        f"{show(answer)}.",
    )  # fmt: skip
