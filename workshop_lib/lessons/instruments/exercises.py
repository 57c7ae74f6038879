"""Which exercises does lesson 07 set, with which answers and which usual mistakes?"""

from workshop_lib.quantities import Q_, either, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized

GLASS = "Deburr the disc first and lay card under what could scratch the glass: edges cut."
STILL = "Tap only with the spindle stopped and isolated, and the thrust on."
FAR = "Put the telephone on a stand, out of the plane of the disc. Never hold it near."


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
        f"{disc}. How large is the disc, to {either('a hundredth of a millimetre', 'a thou')}?",
        answer,
        within="0.02 %",
        common_wrong=[
            (Q_(size, "mm"), "That is what the file's own scale says. The ring shows how far out "
             "that scale is."),
            (Q_(size - (seen - true), "mm"), "You subtracted the ring's error as a length. A "
             "wrong scale is a proportion: a larger disc is out by more."),
            (Q_(size * seen / true, "mm"), "That is the wrong way round. The scan shows the ring "
             "too large, so the disc is smaller than it looks."),
        ],
        hints=["A wrong scale changes every length in the same "
        "proportion.", "disc × known / shown"],
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
        f"A scan shows the rim standing out by {first} µm at the pen mark, and again half a turn "
        "from it. You turn the disc a quarter turn on the glass and scan it again: at the pen "
        f"mark the rim now stands out by {second} µm. How far does the disc itself stand out "
        "there?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_((first - second) / 2, "um"), "That is the scanner's share, which changes sign "
             "with the quarter turn. The disc's share stays with the mark."),
            (Q_(first + second, "um"), "You added the two scans. Each one shows the disc once, so "
             "halve the sum."),
            (Q_(first - second, "um"), "You took the difference. That is twice the scanner's "
             "share."),
            (Q_(first, "um"), "That is disc and scanner together, in the first position."),
        ],
        hints=[
            "What belongs to the disc turns with the mark. What belongs to the scanner stays with "
            "the glass.",
            "After a quarter turn the scanner's oval pulls the mark in as far as it pushed it out "
            "before: first = disc + scanner, second = disc − scanner.",
        ],
        solution=f"({first} µm + {second} µm) / 2 = {show(answer)}; the scanner's share is "
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
            (Q_(size / share, "mm"), "That is the wrong way round: a thinner disc gives a lower "
             "note."),
            (Q_(size * share**0.5, "mm"), "There is no root. Stiffness goes with the cube of the "
             "thickness and mass with the thickness: the root of h³ / h is h."),
            (Q_(size * share**2, "mm"), "You squared the ratio. That is how the note changes with "
             "the diameter, not with the thickness."),
        ],
        hints=[
            "The note goes with the square root of stiffness over mass, so with the root of h³ / "
            "h.",
            "So the note is proportional to the thickness.",
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
        paper="f = c h, where c is the same for the same material and diameter",
        withheld=True,
        caution=FAR,
    )  # fmt: skip


def _speed(corners=8, rate=36):
    answer = Q_(60 * rate / corners, "rev/min")
    return Exercise(
        "l07-task-speed",
        f"A blank still has {corners} corners. In a recording you count {rate} strikes a second. "
        "How fast does the spindle turn?",
        answer,
        within="1 %",
        common_wrong=[
            (Q_(60 * rate, "rev/min"), "You counted each strike as a turn. One turn has as many "
             "strikes as there are corners."),
            (Q_(60 * rate / (corners + 1), "rev/min"), "That is for one corner too many."),
            (Q_(60 * rate / (corners - 1), "rev/min"), "That is for one corner too few."),
            (Q_(rate / corners, "rev/min"), "Those are turns per second. A minute has sixty "
             "seconds."),
        ],
        hints=["Strikes per second / corners = turns per second.", "Then times 60."],
        solution=f"60 × {rate} / {corners} = {show(answer)}.",
        remake=redraw(_speed, corners=range(3, 13), rate=range(12, 72, 2)),
        panel="How fast does it turn, by ear?",
        paper="turns per second = strikes per second / corners",
        withheld=True,
        caution=FAR,
    )  # fmt: skip
