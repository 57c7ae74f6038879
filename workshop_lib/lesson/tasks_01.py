"""The exercises of lesson 01: gauges, torque radius, side hold, thrust from a pull."""

from workshop_lib import gauges
from workshop_lib.friction import Pad, side_capacity, torque_capacity
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.quantities import Q_, show
from workshop_lib.thrust import Screw, from_torque


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _gauge(), _relief(), _side(), _handle()


def _gauge():
    answer = gauges.thickness(18, "galvanized_steel")
    others = {
        "uncoated_steel": "That is 18 gauge of uncoated sheet: the zinc is counted in.",
        "stainless_steel": "That is 18 gauge of stainless sheet; look in the zinc-coated table.",
        "awg": "That is 18 in the American wire gauge; look in the zinc-coated table.",
    }
    return Exercise(
        "l01-task-gauge",
        "The tide gauge's 112 mm lid is cut from 18 gauge zinc-coated steel. How thick is it?",
        answer,
        within="0.5 %",
        common_wrong=[(gauges.thickness(18, key), words) for key, words in others.items()],
        hints=[
            "gauges.thickness(number, table) looks it up; gauges.tables() lists the tables.",
            "Zinc-coated sheet has its own table, galvanized_steel.",
        ],
        solution=f"gauges.thickness(18, 'galvanized_steel') gives {show(answer)}: 32 ounces a "
        "square foot and 2.5 of zinc, divided by 669.12.",
    )


def _relief():
    pad = Pad("50 mm", "30 mm")
    answer = torque_capacity(pad, "700 N", 0.3)
    return Exercise(
        "l01-task-relief",
        "A pad of 50 mm is relieved to 30 mm in the middle. It presses evenly with 700 N at a "
        "friction of 0.3. What torque can it hold?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces, or took the diameters for radii. The nose turns "
             "freely: only the pad's face drives."),
            (torque_capacity(Pad("50 mm"), "700 N", 0.3), "You left the relief out: 2/3 of the "
             "outer radius is for a full pad."),
            (Q_(0.3 * 700 * 0.025, "N*m"), "You let all the friction act at the rim."),
        ],
        hints=[
            "The friction force is μN. What is the radius at which it acts, on average?",
            "r_t = 2/3 (r_o³ − r_i³)/(r_o² − r_i²), with radii of 25 and 15 mm.",
        ],
        solution=f"r_t = {show(pad.torque_radius, figures=4)}, and 0.3 × 700 N × r_t = "
        f"{show(answer)}.",
    )  # fmt: skip


def _side():
    answer = side_capacity("700 N", 0.3)
    return Exercise(
        "l01-task-side",
        "The same pad, the same thrust of 700 N and friction of 0.3. What side force can it hold, "
        "if no torque acts and the nose can float?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces. A floating nose moves aside with the disc."),
            (Q_(700, "N"), "That is the thrust itself: friction holds only μ times it."),
        ],
        hints=["Side hold has nothing to do with the pad's size.", "F = μN."],
        solution=f"0.3 × 700 N = {show(answer)}, whatever the pad.",
    )


def _handle():
    screw = Screw("16 mm", "4 mm", "15 deg", 0.12, "22 mm", 0.12)
    answer = from_torque(screw, "3 N m")
    lossless = from_torque(Screw("16 mm", "4 mm", "15 deg", 0, "22 mm", 0), "3 N m")
    bare = from_torque(Screw("16 mm", "4 mm", "15 deg", 0.12, "0 mm", 0.12), "3 N m")
    return Exercise(
        "l01-task-handle",
        "A tailstock screw: 16 mm pitch diameter, 4 mm advance in a turn, 15° flanks, friction "
        "0.12 in the thread and in a 22 mm collar. What thrust do 3 N·m on the handwheel give?",
        answer,
        within="2 %",
        common_wrong=[
            (lossless, "You left all the friction out: that is 2πT over the lead."),
            (bare, "You left the thrust collar out; it takes almost half of your torque."),
        ],
        hints=[
            "Screw(...) takes the thread and the collar; from_torque gives the thrust.",
            "T = N [d/2 (l + πf'd)/(πd − f'l) + f_c d_c/2], with f' = f/cos 15°.",
        ],
        solution=f"from_torque(Screw('16 mm', '4 mm', '15 deg', 0.12, '22 mm', 0.12), '3 N m') "
        f"gives {show(answer)}.",
    )
