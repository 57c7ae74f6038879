"""Which exercises does lesson 03 set, with which answers and which usual mistakes?"""

import warnings

import numpy as np

from workshop_lib.blank import Blank, Turning, machine_speed, passes
from workshop_lib.drawings import page
from workshop_lib.friction import Pad
from workshop_lib.overhang import rim_deflection, ring_deflection
from workshop_lib.quantities import Q_, OutOfRangeWarning, either, show, spoken
from workshop_lib.teaching.exercises import Exercise, told_apart
from workshop_lib.teaching.redraw import redraw, sized
from workshop_lib.teaching.round_inch import round_in
from workshop_lib.torque import spindle_speed

CENTRE = (Q_(0, "mm"), Q_(0, "mm"))
SIDES = {6: "six-sided", 8: "eight-sided", 12: "twelve-sided"}
# What the table of the bending rim is for: one push on one thickness.
BASE = {"metric": (Q_(1, "N"), Q_(1, "mm")), "inch": (Q_(1, "lbf"), Q_(40, "thou"))}
OUTSIDE = (
    "Set the tool clear outside the farthest corner. With the machine isolated turn the spindle "
    "round by hand, by the spindle and not by the sheet, before you start."
)


MACHINES = (
    (55, 90, 145, 230, 370, 600),
    (60, 100, 160, 250, 400, 640),
    (70, 120, 200, 300, 500, 800),
)


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _mark(), _corner(), _pass(), _rim(), _strikes(), _count(), _speed()


@sized(flats="mm", off="mm")
def _mark(sides=12, flats=118, off=1.5):
    blank = Blank.regular(sides, across_flats=Q_(flats, "mm"))  # a side lies at the bottom
    answer = blank.mark((Q_(0, "mm"), Q_(-off, "mm"))).diameter
    disc = "The tide gauge's lid" if (sides, flats) == (12, 118) else "A disc"
    return Exercise(
        "l03-task-mark",
        f"{disc} is snipped as {'an' if sides == 8 else 'a'} {SIDES[sides]} blank, {flats} mm "
        f"across flats. Its centre mark is {off:g} mm off the middle, straight towards a side. "
        "What is the largest disc that you can cut about the mark?",
        answer,
        within="0.3 %",
        common_wrong=[
            (Q_(flats, "mm"), "That is the largest disc about the true middle."),
            (Q_(flats - off, "mm"), f"The mark costs {off:g} mm of the radius, so {2 * off:g} mm "
             "of the diameter."),
            (answer / 2, "That is the disc's radius. The question asks for its diameter."),
            (Q_(flats + 2 * off, "mm"), "The mark is nearer to a side, so the disc is smaller, "
             "not larger."),
        ],
        hints=[
            "How far is the mark from the nearest side?",
            f"2 × ({flats / 2:g} mm − {off:g} mm).",
        ],
        solution=f"The nearest side is {flats / 2:g} mm − {off:g} mm away: "
        f"a diameter of {show(answer, figures=4)}.",
        remake=redraw(
            _mark, sides=list(SIDES), flats=range(60, 162, 2), off=(1, 1.5, 2, 2.5, 3, 3.5, 4)
        ),
    )  # fmt: skip


@sized(side="mm")
def _corner(side=160):
    answer = Blank.square(Q_(side, "mm")).corner_radius(CENTRE)
    size = round_in(side - 10, "mm")
    disc = "The 150 mm dust cover" if side == 160 else f"A {size:g} mm disc"
    return Exercise(
        "l03-task-corner",
        f"{disc} is sawn as a square of {side} mm. How far are its corners from the middle? (The "
        "tool has to start clear outside that.)",
        answer,
        within="0.5 %",
        common_wrong=[
            (Q_(side / 2, "mm"), "That is the distance to the middle of a side. The corners would "
             "hit the tool."),
            (2 * answer, "That is from corner to corner. Take half of it."),
            (Q_(side, "mm"), "That is the side of the square."),
            (Q_(size / 2, "mm"), "That is the radius of the finished disc. The tool ends there; "
             "the corners are further out."),
        ],
        hints=[
            "Which point of a square is furthest from its middle?",
            f"{side / 2:g} mm × √2.",
        ],
        solution=f"The corners are at {side / 2:g} mm × √2 = {show(answer, figures=4)}. The tool "
        "starts clear outside that.",
        remake=redraw(_corner, side=range(50, 200, 2)),
        caution=OUTSIDE,
    )  # fmt: skip


@sized(side="mm", depth="mm", feed="mm")
def _pass(side=70, depth=0.5, feed=0.05):
    disc = round_in(side - 6, "mm")
    grip = (Pad("50 mm"), "700 N", 0.3, 0.5)
    turning = Turning("aluminium", "1 mm", Q_(feed, "mm"), "100 rev/min", *grip)
    first = passes(Blank.square(Q_(side, "mm")), Q_(disc, "mm"), Q_(depth, "mm"), turning)[0]
    force, answer = first.cutting_force, first.peak_torque.to("N*m")
    corner = side / 2**0.5
    chip = f"b = {depth:g} mm and h = {feed:g} mm."
    metal, law, sums, ways = either(_in_metric, _in_inch)(depth, feed, corner)
    return Exercise(
        "l03-task-pass",
        f"A {side} mm square of soft aluminium is to become a {disc:g} mm disc. The traverse cuts "
        f"are {depth:g} mm deep at {feed:g} mm per turn{metal} What is the peak torque of the "
        "first pass?",
        answer,
        within="2 %",
        common_wrong=[
            ((force * Q_(disc / 2, "mm")).to("N*m"), "You used the radius of the finished disc. "
             "The first pass cuts at the corners."),
            ((force * Q_(side / 2, "mm")).to("N*m"), "You used the middle of a side. The first "
             "pass cuts the corners."),
            (2 * answer, "You used the diameter. Torque is force times radius."),
            *ways,
        ],
        hints=[
            f"{law}, with {chip}",
            f"The corners of a {side} mm square are at {side / 2:g} mm × √2 = {corner:.6g} mm.",
        ],
        solution=f"Fc = {sums} = {show(force)}; times {corner:.6g} mm: {show(answer)}.",
        remake=redraw(
            _pass, side=range(50, 165, 5), depth=(0.3, 0.4, 0.5, 0.6, 0.8),
            feed=(0.05, 0.06, 0.08, 0.1),
        ),
        paper=either(
            "F_{c} = k_{c1.1} b h^{1−m_c}, for a traverse cut: b is the depth of cut and h the "
            "feed per turn, both in mm",
            "F_{c} = k_{c} b h, for a traverse cut: b is the depth of cut, h the feed per turn",
        ),
        caution=OUTSIDE,
    )  # fmt: skip


def _in_metric(depth, feed, corner):
    """What the metal is, the law, the sums, and two slips, where k_c1.1 holds for 1 mm."""
    slips = [
        (Q_(700 * depth * feed * corner / 1e3, "N*m"), "You left out the exponent. A thin chip "
         "takes more force for its size: h^(1 − m_c) instead of h."),
        (Q_(700 * depth * feed**0.25 * corner / 1e3, "N*m"), "You used h^m_c. The exponent is 1 − "
         "m_c."),
    ]  # fmt: skip
    metal = "; kc1.1 is 700 N/mm² and m_c is 0.25."
    return metal, "Fc = kc1.1 b h^(1−m_c)", f"700 × {depth:g} × {feed:g}^0.75", slips


def _in_inch(depth, feed, _corner):
    """The same where the chip's own specific cutting force is told: an exponent counts in mm."""
    takes = show(Q_(700 / feed**0.25, "MPa"))
    metal = f". For so thin a chip the specific cutting force k_c is {takes}."
    return metal, "Fc = k_c b h", f"{takes} × {depth:g} mm × {feed:g} mm", []


@sized(force="N", disc="mm", pad="mm", thickness="mm")
def _rim(force=4, disc=78, pad=50, thickness=0.6):
    sheet = Q_(disc, "mm"), Q_(pad, "mm"), Q_(thickness, "mm"), "stainless_steel"
    push, one, base = Q_(force, "N"), *BASE[either("metric", "inch")]
    times, thinner = float(f"{(push / one).m_as(''):.6g}"), (base / sheet[2]).m_as("")
    pushed, thick = (show(each, figures=1) for each in (one, base))
    by_cube = either(f"divided by {thickness:g}³", f"times ({thick} / {thickness:g} mm)³")
    answer = rim_deflection(push, *sheet)
    with warnings.catch_warnings():  # a slip may lie beyond the formula's range; the answer not
        warnings.simplefilter("ignore", OutOfRangeWarning)
        halved = rim_deflection(push, sheet[0], sheet[1] / 2, *sheet[2:])
    return Exercise(
        "l03-task-rim",
        f"A {disc} mm disc of {thickness:g} mm stainless is clamped on a {pad} mm pad. The tool "
        f"pushes across its rim with {force:g} N. How far does the rim bend at the tool?",
        answer,
        within="3 %",
        common_wrong=[
            (ring_deflection(push, *sheet), "That is for a force spread all round the rim. The "
             "tool pushes at one spot."),
            (halved, "You used the pad's radius as its diameter."),
            *([(answer / times, f"That is for a push of {pushed}.")] if times != 1 else []),
            (answer / thinner**2, "You divided by the thickness once: use its cube."),
        ],
        hints=[
            "In the panel set all four numbers, and a facing with no give. On paper start from "
            "the table.",
            f"The table is for {pushed} and {thick}: times {times:g}, and {by_cube}.",
        ],
        solution=f"{show(answer)}: {show(answer / thinner**3 / times)} for {pushed} on a sheet of "
        f"{thick}, times {times:g}, and {by_cube}.",
        remake=redraw(
            _rim,
            lambda disc, pad, **_: 0.6 * disc < pad < 0.85 * disc,
            force=(1.5, 2, 2.5, 3, 4, 5), disc=(70, 78, 90, 100, 112), pad=(50, 60, 70, 80, 90),
            thickness=(0.5, 0.6, 0.7, 0.8),
        ),
        paper=lambda: _rim_on_paper(disc),
        panel="How far does the rim bend?",
    )  # fmt: skip


def _rim_on_paper(disc):
    """How far a sheet bends for one push, by pad, and how force and thickness change that."""
    one, base = BASE[either("metric", "inch")]
    pads = [round_in(pad, "mm") for pad in range(30, 100, 10) if 0.4 * disc < pad < 0.9 * disc]
    rows = []
    for pad in pads:
        sizes = Q_(disc, "mm"), Q_(pad, "mm"), base, "stainless_steel"
        bend = show(rim_deflection(one, *sizes).to("um"), figures=4)
        rows.append([spoken(f"{pad} mm", parts=True), bend])
    size = spoken(f"{disc} mm", parts=True)
    caption = (
        f"Bend at the tool of a {size} stainless disc {show(base, figures=1)} thick, for "
        f"{show(one, figures=1)}"
    )
    return (
        "The bend grows in step with the force and falls with the cube of the thickness.",
        page.table(rows, ["Pad diameter", "Bend"], caption),
    )


def _strikes(sides=8, speed=150):
    blank = Blank.regular(sides, across_flats="100 mm")
    corner = blank.corner_radius(CENTRE)
    met = blank.engagement(CENTRE, corner - Q_(0.5, "mm"), Q_(0.5, "mm"))
    turns = Q_(speed, "rev/min").m_as("turn/s")
    answer = Q_(met.strikes * turns, "Hz")
    return Exercise(
        "l03-task-strikes",
        f"{'An' if sides == 8 else 'A'} {SIDES[sides]} blank turns at {speed} rev/min. The tool "
        "cuts only the corners. How many times a second does it strike? (Write the answer in Hz, "
        "which means times a second.)",
        answer,
        kind="frequency",
        within="2 %",
        common_wrong=[
            (Q_(turns, "Hz"), "That is the number of turns in a second. Each corner strikes once "
             "a turn."),
            (Q_(sides, "Hz"), "That is how many times it strikes in one turn."),
            (Q_(sides * speed, "Hz"), "That is the number of strikes in a minute."),
            (Q_(sides * turns * 2 * np.pi, "Hz"), "You used radians as turns: that is 2π too "
             "many."),
            (answer / 2, "Every corner strikes, not every other one."),
        ],
        hints=[
            "How many corners come past in one turn?",
            f"{sides} × {speed} strikes in a minute, and a minute has 60 seconds.",
        ],
        solution=f"{sides} × {speed} / 60 = {show(answer)}.",
        remake=redraw(
            _strikes, sides=list(SIDES), speed=range(60, 410, 10)
        ),
        caution=OUTSIDE,
    )  # fmt: skip


@sized(side="mm", disc="mm", depth="mm")
def _count(side=70, disc=64, depth=0.8):
    grip = (Pad(Q_(0.7 * disc, "mm")), "700 N", 0.3, 0.5)
    turning = Turning("aluminium", "1 mm", "0.05 mm/rev", "100 rev/min", *grip)
    found = passes(Blank.square(Q_(side, "mm")), Q_(disc, "mm"), Q_(depth, "mm"), turning)
    answer, corner, radius = len(found), side / 2**0.5, disc / 2
    slips = [
        (
            int(np.ceil((side / 2 - radius) / depth)),
            "You started at the middle of a side. The tool starts at the corners, further out.",
        ),
        (
            int(np.ceil(2 * (corner - radius) / depth)),
            "You used diameters. The depth comes off the radius.",
        ),
        (answer - 1, "That does not quite reach the disc. What is left needs one more pass."),
        (int(np.ceil(corner / depth)), "That goes to the centre. The passes stop at the disc."),
    ]
    return Exercise(
        "l03-task-count",
        f"A {side} mm square becomes a {disc} mm disc in passes {depth:g} mm deep, measured on the "
        "radius. How many passes does that take, starting at the corners?",
        answer,
        within="0.3",
        common_wrong=told_apart(answer, slips, "0.3"),
        hints=[
            "At what radius does the tool start, and at what radius does it stop?",
            f"From {corner:.5g} mm to {radius:g} mm, in steps of {depth:g} mm.",
        ],
        solution=f"({corner:.5g} mm − {radius:g} mm) / {depth:g} mm = "
        f"{(corner - radius) / depth:.1f}, so {answer} passes. The last one takes what is left.",
        remake=redraw(
            _count,
            # A count that rounding could turn into its neighbour is no fair question.
            lambda side, disc, depth: (
                4 <= side - disc <= 12 and 0.1 < (side / 2**0.5 - disc / 2) / depth % 1 < 0.95
            ),
            side=range(50, 165, 5), disc=range(44, 160, 2), depth=(0.5, 0.8, 1, 1.5),
        ),
        caution=OUTSIDE,
    )  # fmt: skip


@sized(cutting="m/min", across="mm")
def _speed(cutting=30, across=80, machine=1):
    speeds = MACHINES[machine]
    listed = Q_(np.array(speeds, float), "rev/min")
    wanted = spindle_speed(Q_(cutting, "m/min"), Q_(across, "mm"))
    answer = machine_speed(wanted, listed)
    slips = _speed_slips(cutting, across, wanted, speeds, answer)
    sum_of_it = either(
        f"{cutting} m/min / (π × {across / 1e3:g} m)",
        f"12 × {cutting} m/min / (π × {across} mm)",
    )
    return Exercise(
        "l03-task-speed",
        f"A blank is {across} mm across its corners, and the tool can take a cutting speed of "
        f"{cutting} m/min. The machine's speeds are {', '.join(map(str, speeds))} rev/min. Which "
        "is the fastest that you may set?",
        answer.to("rev/min"),
        within="2 %",
        common_wrong=told_apart(answer, slips, "2 %"),
        hints=[
            "Cutting speed is circumference times turns: v = π D n, with D in "
            + either("metres.", "feet."),
            f"n = {sum_of_it} turns per minute; then round down.",
        ],
        solution=f"{sum_of_it} = {show(wanted)}. The machine's next speed below that is "
        f"{show(answer)}. Corners, imbalance or a thin rim call for less.",
        remake=redraw(
            _speed,
            lambda cutting, across, **_: 75 < 1e3 * cutting / np.pi / across < 600,
            cutting=(15, 20, 25, 30, 40, 50, 60), across=range(50, 190, 5), machine=(0, 1, 2),
        ),
        paper="v = π D n, with D the diameter across the corners"
        + either("", "; 1 ft = 12 inches"),
        caution=OUTSIDE,
    )  # fmt: skip


def _speed_slips(cutting, across, wanted, speeds, answer):
    """What is usually answered instead."""
    listed = Q_(np.array(speeds, float), "rev/min")
    above = speeds[min(speeds.index(round(answer.m_as("rev/min"))) + 1, len(speeds) - 1)]
    return [
        (Q_(above, "rev/min"), "That is the next faster speed. Round down, never up."),
        (
            wanted.to("rev/min"),
            "That is the calculated speed, which the machine does not have. Which of its speeds "
            "comes next below?",
        ),
        (
            2 * wanted.to("rev/min"),
            "You used the radius as the diameter, and the machine does not have that speed.",
        ),
        (
            Q_(1e3 * cutting / across, "rev/min"),
            "You left out π: the circumference is π times the diameter.",
        ),
        (machine_speed(2 * wanted, listed), "You used the radius as the diameter."),
        (
            Q_(speeds[0], "rev/min"),
            "That is slower than it need be. Choose a lower speed only when something calls for "
            "it.",
        ),
    ]  # fmt: skip
