"""Which exercises does lesson 05 set, with which answers and which usual mistakes?"""

import numpy as np

from workshop_lib.quantities import Q_, either, show
from workshop_lib.run_out import (
    Readings,
    axis_through,
    correction,
    fit,
    reversal,
    shift_between,
    true_travel,
)
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized

THREE = ["0 deg", "120 deg", "240 deg"]
POWER_OFF = (
    "With an indicator on the work there must be no power: stop the machine, isolate it, and turn "
    "the spindle by hand."
)
TAP = "Tap only at a standstill, lightly, with a soft hammer, and never release the thrust."


QUARTERS = ["0 deg", "90 deg", "180 deg", "270 deg"]


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _tap(), _knock(), _lever(), _planes(), _four(), _turned(), _next(), _misread()


@sized(total="fine mm")
def _tap(total=0.18):
    half = total / 2
    swing = Q_(np.array([0.0, half, 0.0, -half]), "mm")
    clocked = Readings(QUARTERS, swing, graduation=either("0.01 mm", "0.1 thou"))
    answer = correction("displaced_disc", clocked).tap_by
    return Exercise(
        "l05-task-tap",
        f"The indicator total at the rim of a round disc is {total:g} mm. How far must you tap the "
        "disc towards the axis at its high spot?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You used the total as the eccentricity. Tapped that far, the disc runs "
             "out just as much on the other side."),
            (answer / 2, "You halved it twice. The total is 2e, and the disc has to move by e."),
            (4 * answer, "You doubled the total. It is 2e already, so halve it."),
        ],
        hints=["The needle swings from offset + e to offset − e.", f"{total:g} mm / 2."],
        solution=f"{total:g} mm / 2 = {show(answer)}, tapped at the high spot.",
        remake=redraw(_tap, total=[each / 100 for each in range(5, 80)]),
        paper="total = 2e, where e is the eccentricity",
        withheld=True,
        caution=TAP,
    )  # fmt: skip


def _round(size, mark):
    """Three readings of a round part: its eccentricity in thou, its high spot in degrees."""
    values = size * np.cos(np.radians(np.array([0, 120, 240]) - mark))
    return Readings(THREE, Q_(values, "thou"), graduation="0.1 thou")


@sized(before="thou", after="thou")
def _knock(before=10, after=24, mark=0):
    first, then, turned = before / 2, after / 2, mark + 90
    answer = shift_between(_round(first, mark), _round(then, turned)).size.to("thou")
    return Exercise(
        "l05-task-knock",
        f"Before a knock the disc's indicator total was {before} thou with the high spot at mark "
        f"{mark}°. After the knock it is {after} thou with the high spot at mark {turned}°. How "
        "far did the disc move?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(abs(then - first), "thou"), f"You subtracted the eccentricities, {then:g} thou and "
             f"{first:g} thou, as plain numbers. They are vectors, here at right angles."),
            (Q_(then + first, "thou"), "You added the eccentricities as plain numbers. They are "
             "vectors, here at right angles."),
            (Q_(abs(after - before), "thou"), "That is the difference between the totals. Halve "
             "them first, then subtract them as vectors."),
            (Q_((before**2 + after**2) ** 0.5, "thou"), "Right triangle, wrong sides: you used "
             "the totals. The eccentricities are half of them."),
            (Q_(then, "thou"), "That is how far the disc is off the axis now. It was not on the "
             "axis before."),
        ],
        hints=[
            "Halve both totals, draw both as arrows from the axis, and join their tips.",
            f"A right triangle with sides of {first:g} thou and {then:g} thou.",
        ],
        solution=f"The square root of ({first:g} thou)² + ({then:g} thou)² is {show(answer)}.",
        remake=redraw(
            _knock,
            lambda before, after, **_: 0.3 < before / after < 3.3 and before != after,
            before=range(6, 42, 2), after=range(6, 62, 2), mark=range(0, 270, 30),
        ),
        panel="What did the knock do?",
        paper="draw two arrows, each half its total long and pointing to its mark; the move goes "
        "from tip to tip",
        caution=POWER_OFF,
    )  # fmt: skip


@sized(total="fine mm")
def _lever(total=0.30, angle=40):
    shown = either(f"{total:.2f} mm", f"{total / 0.0254:g} thou")
    answer = true_travel(Q_(total, "mm"), Q_(angle, "deg")) / 2
    lean = np.radians(angle)
    return Exercise(
        "l05-task-lever",
        f"A lever indicator shows a total of {shown} with its stylus at {angle}° to the surface. "
        "The part is round. How large is the eccentricity?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(total / 2, "mm"), "You halved the total but forgot the cosine: the ball swings "
             "further than the surface moves."),
            (2 * answer, "You used the cosine, but that is still the total. Halve it."),
            (Q_(total / 2 / np.cos(lean), "mm"), "You divided by the cosine. The needle shows "
             "too much, so the true travel is less."),
            (Q_(total / 2 * np.sin(lean), "mm"), "You used the sine. The angle is measured from "
             "the surface, not from square to it."),
            (Q_(total / 2 * np.cos(angle), "mm"), f"Your calculator read {angle} as radians: set "
             "it to degrees."),
        ],
        hints=[
            "true = indicated × cos(angle)",
            f"{shown} × cos {angle}°, and half of that.",
        ],
        solution=f"{shown} × cos {angle}° / 2 = {show(answer)}.",
        remake=redraw(
            _lever, total=[each / 100 for each in range(10, 62, 2)],
            angle=(15, 20, 25, 30, 35, 40, 50, 55, 60),
        ),
        paper="true = indicated × cos(angle); total = 2e",
        caution=POWER_OFF,
    )  # fmt: skip


@sized(near=("mm", "um"), far=("mm", "um"), end="mm")
def _planes(near=(10, 5), far=(30, 25), end=100):
    clocked = [
        Readings(THREE, Q_(size * np.array([1.0, -0.5, -0.5]), "um"), position=Q_(place, "mm"))
        for place, size in (near, far)
    ]
    answer = axis_through(clocked).at(Q_(end, "mm")).size.to("um")
    (place, size), (farther, grown) = near, far
    lean, rest = round((grown - size) / (farther - place), 4), end - place
    return Exercise(
        "l05-task-planes",
        f"A nose is clocked {place} mm from its seat: eccentricity {size} µm at mark 0°. At "
        f"{farther} mm it is {grown} µm at mark 0°. If the nose is straight, how far off the axis "
        f"is it at {end} mm?",
        answer,
        within="1 %",
        common_wrong=_planes_slips(near, far, end),
        hints=[
            f"How much does it grow from {place} mm to {farther} mm? How much is that in each "
            f"{either('millimetre', 'inch')}?",
            f"{size} µm + {rest} mm × {lean:g}.",
        ],
        solution=f"It leans by {grown - size} µm in {farther - place} mm: {size} µm + {rest} mm × "
        f"{lean:g} µm/mm = {show(answer)}.",
        remake=redraw(
            _planes,
            lambda near, far, **_: far[1] > 1.3 * near[1] and far[0] > near[0],
            near=[(p, s) for p in (5, 10, 15, 20) for s in (4, 5, 6, 8, 10, 12)],
            far=[(p, s) for p in (25, 30, 40, 50) for s in (14, 15, 18, 20, 24, 25, 30)],
            end=(80, 100, 110, 120, 150),
        ),
        paper="lean = change in eccentricity / distance along the nose, the same in every "
        + either("millimetre", "inch"),
        caution=POWER_OFF,
    )  # fmt: skip


def _planes_slips(near, far, end):
    """What is usually answered instead."""
    (place, size), (farther, grown) = near, far
    lean = (grown - size) / (farther - place)
    return [
        (Q_(size, "um"), "You used the first plane alone. One plane shows no tilt."),
        (Q_(grown, "um"), "You used the second plane alone. The nose goes on leaning beyond it."),
        (Q_(size * end / place, "um"), "You scaled the first plane as if the axis crossed at "
         "the seat. Take the line through both planes."),
        (Q_(grown * end / farther, "um"), "You scaled the second plane as if the axis crossed "
         "at the seat. Take the line through both planes."),
        (Q_(lean * end, "um"), f"That is how far it leans in {end} mm. Its line does not cross the "
         f"spindle's axis at the seat: work from the {size} µm at {place} mm."),
        (Q_(grown + lean * end, "um"), f"You counted the lean from the seat. From {farther} mm "
         f"there are only {end - farther} mm to go."),
    ]  # fmt: skip


@sized(offset="um", across="um", along="um")
def _four(offset=50, across=30, along=40):
    read = (offset + across, offset + along, offset - across, offset - along)
    found = fit(QUARTERS, Q_(np.array(read, float), "um"))
    answer = found.eccentricity.to("um")
    marked = zip((0, 90, 180, 270), read, strict=True)
    pairs = ", ".join(f"{mark}°: {each} µm" for mark, each in marked)
    return Exercise(
        "l05-task-four",
        f"A round part is clocked at four marks: {pairs}. How large is its eccentricity?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(max(read) - min(read), "um"), "That is the highest reading less the lowest. It is "
             "not even the full total, because the high spot lies between the marks."),
            (Q_((max(read) - min(read)) / 2, "um"), "That is half of the highest reading less the "
             "lowest. The high spot lies between the marks: take both pairs of readings."),
            (Q_(abs(across) + abs(along), "um"), "You added the two halves as plain numbers. They "
             "are at right angles."),
            (2 * answer, "Opposite readings differ by twice the eccentricity along that line. "
             "Halve both differences."),
            (Q_(max(read), "um"), "That is one of the readings. The dial's zero could be "
             "anywhere: only differences count."),
        ],
        hints=[
            "Half the difference between opposite readings is the eccentricity along that line.",
            f"That is {abs(across)} µm along one line and {abs(along)} µm along the other, at "
            "right angles.",
        ],
        solution=f"Half the differences between opposite readings are {abs(across)} µm and "
        f"{abs(along)} µm; √(({abs(across)} µm)² + ({abs(along)} µm)²) = {show(answer)}.",
        remake=redraw(
            _four,
            lambda across, along, **_: 0.4 < abs(across / along) < 2.5,
            offset=range(100, 200, 10), across=[n for n in range(-60, 65, 5) if abs(n) > 5],
            along=[n for n in range(-60, 65, 5) if abs(n) > 5],
        ),
        paper="a = half the difference between 0° and 180°; b = half the difference between 90° "
        "and 270°; e = √(a² + b²)",
        caution=POWER_OFF,
    )  # fmt: skip


@sized(first="um", second="um")
def _turned(first=30, second=12):
    wave = np.cos(np.radians([0, 90, 180, 270]))
    shown = [Q_(size * wave, "um") for size in (first, second)]
    pad = abs(reversal(*shown)[1]).max().to("um")
    spindle = abs(reversal(*shown)[0]).max().to("um")
    return Exercise(
        "l05-task-turned",
        f"The rim of the pad has an eccentricity of {first} µm, towards mark 0° of the spindle. "
        f"You turn the pad half a turn on the spindle and clock it again: now it is {second} µm, "
        "still towards mark 0° of the spindle. How much of the eccentricity is the pad's own?",
        pad,
        within="1 %",
        common_wrong=[
            (spindle, "That is the spindle's share, which stays at the spindle's mark. The pad's "
             "share goes round with the pad."),
            (Q_(first - second, "um"), "Take half of that. What the pad adds at first, it "
             "subtracts after half a turn."),
            (Q_(first + second, "um"), "You added the two. Half the sum is the spindle's share, "
             "and half the difference is the pad's."),
            (Q_(first, "um"), "That is both together, in the first position."),
            (Q_(second, "um"), "That is the spindle's share less the pad's, in the second "
             "position."),
        ],
        hints=[
            "What stays at the spindle's mark belongs to the spindle. What has gone round belongs "
            "to the pad.",
            f"At first spindle + pad = {first} µm, afterwards spindle − pad = {second} µm.",
        ],
        solution=f"Half the difference: ({first} µm − {second} µm)/2 = {show(pad)} belongs to the "
        f"pad. Half the sum, {show(spindle)}, belongs to the spindle.",
        remake=redraw(
            _turned,
            lambda first, second: first - second >= 6,
            first=range(16, 62, 2), second=range(4, 42, 2),
        ),
        panel="Spindle or part?",
        paper="first reading = spindle + pad; half a turn on = spindle − pad",
        caution=POWER_OFF,
    )  # fmt: skip


def _next():
    return Exercise(
        "l05-task-next",
        "The rim of the driving pad runs out, and half a turn on the spindle has shown that the "
        "fault is the pad's own. Either it sits off centre, or it leans. Which test do you make "
        "next?",
        "face",
        options={
            "again": "clock its rim once more, with a finer indicator",
            "face": "take the disc out and clock the face of the pad near its edge",
            "push": "push and pull it sideways",
            "tap": "tap it by half the total, and see",
        },
        common_wrong=[
            ("again", "A finer indicator gives a surer number, but both causes predict the same "
             "number there."),
            ("push", "Neither an eccentric pad nor a leaning one moves. Both predict the same."),
            ("tap", "That changes the set-up before you know the cause. If the pad leans, you "
             "would move something that was central."),
        ],
        hints=[
            "A good test is one where the two causes predict different readings.",
            "If a pad is only shifted to one side, what does its face do as it turns?",
        ],
        solution="A pad that is only shifted keeps its face square to the axis: the needle on it "
        "stands still. If the pad leans, its face swings.",
        caution=POWER_OFF,
    )  # fmt: skip


def _misread():
    unit, size = either(("µm", 1), ("thou", 0.05))  # 40 µm, or 2 thou
    read = [f"{n * size:g}".replace("-", "−") for n in (40, 28, 0, -28, -40, 22, 0, 28)]
    high, part, odd, total = (f"{n * size:g}" for n in (40, 28, 22, 50))
    return Exercise(
        "l05-task-misread",
        f"You read a rim at eight marks, every 45° from 0°: {', '.join(read)} {unit}. What do you "
        "do first?",
        "again",
        options={
            "again": "turn back to 225° and read the indicator there again",
            "tap": f"tap the rim by half of the total, {high} {unit}",
            "oval": "put it down to a disc that is not round, and carry on",
            "leave": "leave out the reading at 225° without a word",
        },
        common_wrong=[
            ("tap", "The eccentricity may well be right, but one reading contradicts it. Make sure "
             "of your readings before you move anything."),
            ("oval", "An oval shows at two places opposite each other. Here 45° and 225° should be "
             f"opposite and equal, {part} and −{part}: only one mark disagrees."),
            ("leave", "It may be a misread needle, or a burr at that very spot. Leaving it out "
             "hides both: read it again first."),
        ],
        hints=[
            "An eccentric rim gives opposite readings that add up to twice the offset, here 0.",
            "Which pair of opposite marks does not add up like the others?",
        ],
        solution="0° and 180° add up to 0. So do 90° and 270°, and 135° and 315°. Only 45° and "
        f"225° do not: {part} + {odd} = {total}. At 225° the rim should read −{part} {unit}. Read "
        "it again: you may have misread the sign, or there may be a burr.",
        caution=POWER_OFF,
    )  # fmt: skip
