"""The exercises of lesson 03: marking out, the corner, the first pass, the rim."""

from workshop_lib.blank import Blank
from workshop_lib.friction import Pad
from workshop_lib.lesson.exercises import Exercise
from workshop_lib.overhang import rim_deflection, ring_deflection
from workshop_lib.passes import passes
from workshop_lib.quantities import Q_, show
from workshop_lib.turning import Turning

CENTRE = (Q_(0, "mm"), Q_(0, "mm"))


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _mark(), _corner(), _pass(), _rim()


def _mark():
    blank = Blank.regular(12, across_flats="118 mm")
    answer = blank.mark(("1.5 mm", "0 mm")).diameter
    return Exercise(
        "l03-task-mark",
        "The tide gauge's lid is snipped as a twelve-sided blank, 118 mm across flats, and marked "
        "1.5 mm off its middle, straight towards a side. What is the largest disc about the mark?",
        answer,
        within="0.3 %",
        common_wrong=[
            (Q_(118, "mm"), "That is the disc about the true middle."),
            (Q_(116.5, "mm"), "The mark costs 1.5 mm of the radius, so 3 mm of the diameter."),
        ],
        hints=["How near does the mark come to the nearest side?", "2 × (59 − 1.5) mm."],
        solution=f"The nearest side is 59 − 1.5 mm away: {show(answer)} in diameter.",
    )


def _corner():
    answer = Blank.square("160 mm").corner_radius(CENTRE)
    return Exercise(
        "l03-task-corner",
        "The 150 mm dust cover is sawn as a square of 160 mm. At what radius must the tool start?",
        answer,
        within="0.5 %",
        common_wrong=[
            (Q_(80, "mm"), "That is to the middle of a side: the corners would strike the tool."),
            (2 * answer, "That is across the corners: the tool starts at half of it."),
        ],
        hints=["Where is the farthest point of a square?", "80 mm × √2, and a little clearance."],
        solution=f"The corner stands at 80 × √2 = {show(answer)}; start outside it.",
    )


def _pass():
    blank = Blank.square("70 mm")
    grip = (Pad("50 mm"), "700 N", 0.3, 0.5)
    turning = Turning("aluminium", "1 mm", "0.05 mm/rev", "100 rev/min", *grip)
    first = passes(blank, "64 mm", "0.5 mm", turning)[0]
    answer = first.peak_torque
    at_disc = first.cutting_force * Q_(32, "mm")
    at_side = first.cutting_force * Q_(35, "mm")
    return Exercise(
        "l03-task-pass",
        "A 70 mm square of soft aluminium is to become a 64 mm disc: traverse cuts 0.5 mm deep, "
        "0.05 mm a turn, kc1.1 = 700 N/mm² and m_c = 0.25. What is the peak torque of the first "
        "pass?",
        answer.to("N*m"),
        within="2 %",
        common_wrong=[
            (at_disc.to("N*m"), "You took the radius of the finished disc; the first pass cuts at "
             "the corners."),
            (at_side.to("N*m"), "You took the middle of a side; the first pass cuts the corners."),
            ((2 * answer).to("N*m"), "You took the diameter: torque is force times radius."),
        ],
        hints=[
            "Fc = kc1.1 b h^(1−m_c), with b = 0.5 mm and h = 0.05 mm.",
            "The corner of a 70 mm square stands at 35 × √2 = 49.5 mm.",
        ],
        solution=f"Fc = 700 × 0.5 × 0.05^0.75 = {show(first.cutting_force)}; times 49.5 mm: "
        f"{show(answer.to('N*m'))}.",
    )  # fmt: skip


def _rim():
    disc = ("78 mm", "50 mm", "0.6 mm", "stainless_steel")
    answer = rim_deflection("4 N", *disc)
    return Exercise(
        "l03-task-rim",
        "A 78 mm disc of 0.6 mm stainless sits on a 50 mm pad. The tool pushes across its rim with "
        "4 N. How far does the rim bend at the tool?",
        answer,
        within="3 %",
        common_wrong=[
            (ring_deflection("4 N", *disc), "That spreads the force all round the rim. The tool "
             "pushes at one spot."),
            (rim_deflection("4 N", "78 mm", "25 mm", "0.6 mm", "stainless_steel"), "You took the "
             "pad's radius for its diameter."),
        ],
        hints=[
            "rim_deflection takes the force, the disc, the pad, the thickness and the material.",
            "rim_deflection('4 N', '78 mm', '50 mm', '0.6 mm', 'stainless_steel')",
        ],
        solution=f"rim_deflection gives {show(answer)}.",
    )  # fmt: skip
