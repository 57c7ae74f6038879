"""Which exercises does lesson 07 set, with which answers and which usual mistakes?"""

from workshop_lib.quantities import Q_, either, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized

GLASS = "Deburr the disc first and lay card under what could scratch the glass: edges cut."
STILL = "Tap only with the spindle stopped and isolated, and the thrust on."
FAR = "Fix the telephone out of the plane of the disc; never hold it near."


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _ring(), _quarter(), _thickness(), _speed()


@sized(known="mm", over="mm", disc="mm")
def _ring(known=62.0, over=0.62, disc=78.4):
    true, seen, size = known, known + over, disc
    unit, digits, one = either(("mm", 2, 1), ("in", 3, 25.4))
    known, shown, disc = (f"{each / one:.{digits}f} {unit}" for each in (true, seen, size))
    answer = Q_(size * true / seen, "mm")
    return Exercise(
        "l07-task-ring",
        f"In one scan a ring that is known to be {known} measures {shown}, and the disc beside it "
        f"{disc}. How large is the disc?",
        answer,
        within="0.02 %",
        common_wrong=[
            (Q_(size, "mm"), "That is what the file's own scale says. The ring tells how far that "
             "scale is off."),
            (Q_(size - (seen - true), "mm"), "You took the ring's error off as a length. A wrong "
             "scale is a share: a larger disc is off by more."),
            (Q_(size * seen / true, "mm"), "The wrong way round: the scan shows the ring too "
             "large, so the disc is smaller than it shows."),
        ],
        hints=["A scale is a share of every length.", "disc × known / shown"],
        solution=f"{disc} × {known} / {shown} = {show(answer, figures=5)}.",
        remake=redraw(
            _ring,
            lambda known, over, disc: disc > 1.2 * known and over > 0.004 * known,
            known=(32.0, 40.0, 47.0, 52.0, 62.0),
            over=[each / 100 for each in range(15, 90, 3)],
            disc=[each / 10 for each in range(600, 1500, 7)],
        ),
        paper="true size = size in the scan × known / shown",
        withheld=True,
        caution=GLASS,
    )  # fmt: skip


@sized(first="um", second="um")
def _quarter(first=30, second=14):
    answer = Q_((first + second) / 2, "um")
    return Exercise(
        "l07-task-quarter",
        f"A scan shows the rim standing out by {first} µm at the pen mark and half a turn from it. "
        f"The disc is turned by a quarter on the glass and scanned again: at the pen mark it now "
        f"stands out by {second} µm. By how much does the disc itself stand out there?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_((first - second) / 2, "um"), "That is the scanner's part: what changed its sign "
             "with the quarter turn. The disc's is what stayed with the mark."),
            (Q_(first + second, "um"), "You added both. Each scan shows the disc once: halve it."),
            (Q_(first - second, "um"), "The difference of both is twice the scanner's part."),
            (Q_(first, "um"), "That is disc and scanner together, in the first position."),
        ],
        hints=[
            "What is the disc's turns with the mark. What is the scanner's stays with the glass.",
            "After a quarter turn the scanner's oval pulls the mark in as far as it pushed it out "
            "before: first = disc + scanner, second = disc − scanner.",
        ],
        solution=f"({first} µm + {second} µm) / 2 = {show(answer)}; the scanner's part is "
        f"{show(Q_((first - second) / 2, 'um'))}.",
        remake=redraw(
            _quarter,
            lambda first, second: 1.2 * second < first and abs(first - 3 * second) > 0.3 * first,
            first=range(20, 80, 2),
            second=range(6, 60, 2),
        ),
        paper="first = disc + scanner; second = disc − scanner",
        withheld=True,
        caution=GLASS,
    )  # fmt: skip


@sized(size="mm")
def _thickness(size=1.0, first=530, second=420):
    thick = either(f"{size:.2f} mm", f"{size / 0.0254:g} thou")
    share = second / first
    answer = Q_(size * share, "mm")
    return Exercise(
        "l07-task-thickness",
        f"A free disc {thick} thick gives a lowest note of {first} Hz. A disc of the same sheet "
        f"metal and diameter gives {second} Hz. How thick is that one?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(size / share, "mm"), "The wrong way round: a thinner disc gives a lower note."),
            (Q_(size * share**0.5, "mm"), "No root: stiffness goes with the cube of the thickness "
             "and mass with the thickness itself; the root of h³ / h is h."),
            (Q_(size * share**2, "mm"), "Not the square: that is how the note goes with the "
             "diameter."),
        ],
        hints=[
            "f goes as the root of stiffness over mass: the root of h³ / h.",
            "The note goes with the thickness itself.",
        ],
        solution=f"{thick} × {second} / {first} = {show(answer)}.",
        remake=redraw(
            _thickness,
            lambda first, second, **_: 0.4 < second / first < 0.85 or 1.2 < second / first < 2,
            size=(0.5, 0.8, 1.0, 1.2, 1.5),
            first=range(300, 900, 10),
            second=range(250, 1100, 10),
        ),
        panel="What does the tap say?",
        paper="f = c h, with one c for one material and one diameter",
        withheld=True,
        caution=FAR,
    )  # fmt: skip


def _speed(corners=8, rate=36):
    answer = Q_(60 * rate / corners, "rev/min")
    return Exercise(
        "l07-task-speed",
        f"A blank still strikes with {corners} corners. A recording has {rate} strikes a second. "
        "How fast does the spindle turn?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(60 * rate, "rev/min"), "That counts each strike as a turn. One turn has as many "
             "strikes as there are corners."),
            (Q_(60 * rate / (corners + 1), "rev/min"), "One corner too many."),
            (Q_(60 * rate / (corners - 1), "rev/min"), "One corner too few."),
            (Q_(rate / corners, "rev/min"), "Those are turns in a second. A minute has sixty."),
        ],
        hints=["Strikes in a second / corners = turns in a second.", "Then times 60."],
        solution=f"60 × {rate} / {corners} = {show(answer)}.",
        remake=redraw(_speed, corners=range(3, 13), rate=range(12, 72, 2)),
        panel="How fast does it turn, by ear?",
        paper="turns in a second = strikes in a second / corners",
        withheld=True,
        caution=FAR,
    )  # fmt: skip
