"""Which exercises does lesson 08 set, with which answers and which usual mistakes?"""

from workshop_lib.bearings import axial_limit, catalogue, limits
from workshop_lib.load_path import own_design, tip_run_out
from workshop_lib.quantities import Q_, either, show
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized
from workshop_lib.teaching.round_inch import round_in

SHARP = "Deburr it before you measure: a fresh-turned edge cuts, and a burr reads as size."
HARD = "If a bearing fails, the disc comes loose while it turns."
BACK = "Remove the indicator completely before you switch on."


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _seat(), _inches(), _sleeve(), _press(), _run_out(), _drags()


def _deviations(wanted, size):
    low, high = (round(each.m_as("um"), 1) for each in limits(wanted, Q_(size, "mm")))
    return (
        low,
        high,
        " to ".join(_signed(each) for each in (low, high)),
    )


def _signed(deviation):
    """A deviation as it stands on a drawing, in µm or in thou; "0" where there is none."""
    told = either(f"{deviation:+g}", f"{deviation / 25.4:+.2f}")
    return told.replace("-", "−") if deviation else "0"


def _seat(size=12, wanted="g6"):
    low, high, written = _deviations(wanted, size)
    answer = Q_(size + high / 1e3, "mm")
    seat, unit = either((f"{size} mm", "µm"), (f"{size / 25.4:.5f} in", "thou"))
    return Exercise(
        "l08-task-seat",
        f"The making sheet asks for a seat of {seat} {wanted}, limits {written} {unit}. What is "
        f"the largest diameter that you may leave, to {either('three', 'five')} decimals?",
        answer,
        kind="length",
        within="0.4 um",
        common_wrong=[
            (Q_(size + low / 1e3, "mm"), "That is the smallest diameter. The larger of the two "
             "deviations gives the largest."),
            (Q_(size - high / 1e3, "mm"), "Check the sign: − means below the nominal size, + "
             "above it."),
            (Q_(size, "mm"), "That is the nominal size. The limits are measured from it."),
            (Q_(size + high / 1e2, "mm"), "You used "
             + either("hundredths of a millimetre. A micrometre is a thousandth.",
                      "hundredths of an inch. A thou is a thousandth.")),
        ],
        hints=[
            "Limits are measured from the nominal size: up for +, down for −.",
            f"A {either('micrometre is 0.001 mm', 'thou is 0.001 in')}. Which of the two "
            "deviations leaves more metal?",
        ],
        solution=either(
            f"{size} mm {high / 1e3:+.3f} mm = {answer.m:.3f} mm.",
            f"{seat} {high / 25.4e3:+.5f} in = {answer.m_as('inch'):.5f} in.",
        ),
        remake=redraw(
            _seat,
            lambda size, wanted: _deviations(wanted, size)[1] != 0,
            size=(8, 10, 12, 15, 17, 20, 25), wanted=("g6", "f6", "k5", "m5", "g5"),
        ),
        panel="What sizes shall I turn?",
        paper="size = nominal size + deviation; " + either("1 µm = 0.001 mm", "1 thou = 0.001 in"),
        caution=SHARP,
    )  # fmt: skip


def _inches(size=28, wanted="H7"):
    _, high, _ = _deviations(wanted, size)
    # This one is about metric sizes in every shop: their units are spelt out where inch is spoken.
    unit, fine = either(("mm", "µm"), ("millimetres", "micrometres"))
    nominal, most = size / 25.4, (size + high / 1e3) / 25.4
    return Exercise(
        "l08-task-inches",
        f"The bore is {size} {unit} {wanted}, limits 0 to {high:+g} {fine}, and your gauge is in "
        "inches. How large may the bore be at most, in inches to five decimals?",
        Q_(most, "inch"),
        kind="length",
        within="0.00004 in",
        common_wrong=[
            (Q_(nominal, "inch"), "That is the nominal size. The bore may be larger, by its upper "
             "deviation."),
            (Q_(nominal + high / 1e3, "inch"), "You added micrometres as if they were thou. A thou "
             f"is 25.4 {fine}."),
            (Q_(nominal + high / 1e4, "inch"), "You added micrometres as if they were tenths of a "
             "thou. A tenth is "
             f"2.54 {fine}."),
            (Q_(nominal - high / 25400, "inch"), "A bore's upper deviation makes it larger."),
        ],
        hints=[
            "First work out the largest size in millimetres, then convert it to inches.",
            f"({size} {unit} + {high:g} {fine}) / 25.4, to five decimal places.",
        ],
        solution=f"({size} + {high / 1e3:.3f}) / 25.4 = {most:.5f} in: {high / 2.54:.1f} tenths of "
        f"a thou above {nominal:.5f} in.",
        remake=redraw(_inches, size=(22, 24, 26, 28, 30, 32, 35, 40), wanted=("H6", "H7", "H8")),
        paper="inches = millimetres / 25.4",
        kept=True,
        caution=SHARP,
    )  # fmt: skip


@sized(span="mm", front="mm", rear="mm")
def _sleeve(span=32, front=8, rear=10):
    answer = Q_(span - (front + rear) / 2, "mm")
    return Exercise(
        "l08-task-sleeve",
        f"The middles of the two bearings are to be {span} mm apart. The front bearing is {front} "
        f"mm wide and the rear one {rear} mm. How long is the sleeve between their outer "
        f"rings{either('', ', to a thou')}?",
        answer,
        within="0.05 mm",
        common_wrong=[
            (Q_(span, "mm"), "That is from middle to middle. Take off half the width of each "
             "bearing."),
            (Q_(span - front - rear, "mm"), "You took off the full width of both bearings. Only "
             "half of each lies between the middles."),
            (Q_(span + (front + rear) / 2, "mm"), "That is from the outside of one bearing to the "
             "outside of the other."),
            (Q_(span - front / 2, "mm"), "You forgot half the rear bearing."),
        ],
        hints=[
            "Sketch both bearings with their middles marked.",
            "From the middle of a bearing to its face is half its width.",
        ],
        solution=f"{span} mm − {front} mm / 2 − {rear} mm / 2 = {answer.m:g} mm.",
        remake=redraw(
            _sleeve,
            lambda span, front, rear: span > front + rear + 4,
            span=range(24, 52, 2), front=(6, 8, 9, 10, 11), rear=(6, 8, 9, 10, 11, 12),
        ),
        paper="sleeve = span − half of each bearing's width",
        withheld=True,
        caution=SHARP,
    )  # fmt: skip


def _press(designation="6001", shock=1.5):
    bearing = catalogue(designation)
    static = bearing.static_rating.m_as("N")
    share = axial_limit(bearing).m_as("N") / static
    answer = Q_(share * static / shock, "N")
    return Exercise(
        "l08-task-press",
        f"Your nose has two {designation}, C0 = {static:g} N; a bearing as small as this may carry "
        f"{share:g} C0 along its axis. While corners strike, every push counts {shock:g} times. "
        "How hard may the nose press then?",
        answer,
        within="4 %",
        common_wrong=[
            (Q_(share * static, "N"), "That is for a steady cut. Divide by the factor for the "
             "blows as well."),
            (Q_(share * static * shock, "N"), "You multiplied. Blows leave less room for the "
             "thrust, not more."),
            (Q_(2 * share * static / shock, "N"), "You counted both bearings. Only one inner ring "
             "is pushed, so one bearing carries all the thrust."),
            (Q_(static / shock, "N"), "C0 is for a load from the side. Along the axis the balls "
             "climb out of their groove much sooner."),
        ],
        hints=["How many of the two bearings carry the "
        "thrust?", "share × C0 / factor for the blows"],
        solution=f"{share:g} × {static:g} N / {shock:g} = {show(answer)}.",
        remake=redraw(
            _press,
            designation=("608", "6900", "6000", "6200", "6901", "6001", "6201"),
            shock=(1.3, 1.5, 1.8),
        ),
        panel="How hard may it press?",
        paper="thrust = share × C_{0} / factor",
        withheld=True,
        caution=HARD,
    )  # fmt: skip


@sized(ring="um", ahead="mm", span="mm")
def _run_out(ring=10, ahead=25, span=32):
    nose = own_design("pressure_nose", {"front": "6001", "rear": "6001"}, f"{ahead} mm",
                      f"{span} mm")  # fmt: skip
    answer = Q_(tip_run_out(nose).m_as("um") * ring / 10, "um")
    lever = ahead / span
    return Exercise(
        "l08-task-runout",
        f"Each of the two inner rings runs out by {ring} µm. Their middles are {span} mm apart, "
        f"and the tip is {ahead} mm in front of the front one. By how much can the tip run out at "
        "worst?",
        answer,
        within="2 %",
        common_wrong=[
            (Q_(ring, "um"), "That is when both high spots lie on the same side. At worst they "
             "lie on opposite sides, and the spindle wobbles."),
            (Q_(2 * ring, "um"), "You added the two rings. The overhang is a lever: the tilt is "
             "made larger or smaller by overhang / span."),
            (Q_(ring * (1 + lever), "um"), "You let only the front ring run out. The rear ring, "
             "on the other side, tilts the spindle as much again."),
            (Q_(2 * ring * lever, "um"), "That is what the tilt adds. The front ring's own "
             "run-out comes on top."),
        ],
        hints=[
            "Draw the spindle as a line through two points, one above and one below the axis.",
            f"From the rear ring to the front one the line rises by {2 * ring} µm in {span} mm. "
            f"How far does it rise in {ahead} mm more?",
        ],
        solution=f"{ring} µm + {2 * ring} µm × {ahead} mm / ({span} mm) = {show(answer)}.",
        remake=redraw(
            _run_out, ring=(6, 7, 8, 9, 10), ahead=range(15, 60, 5), span=range(26, 50, 2)
        ),
        paper="run-out at the tip = front ring + (front ring + rear ring) × overhang / span",
        withheld=True,
        caution=BACK,
    )  # fmt: skip


def _drags():
    return Exercise(
        "l08-task-drags",
        "You have assembled the nose. Turned by hand it runs freely; pressed with "
        f"{round_in(300, 'N'):g} N it drags. What is the likeliest cause?",
        "shoulder",
        options={
            "shoulder": "The shoulder is so large that it presses on the outer ring too",
            "bore": "The bore is too large for the outer rings",
            "loose": "The bearings are of class C3",
            "long": "The sleeve is too long",
        },
        common_wrong=[
            ("bore", "A bore that is too large lets the tip drift sideways, but the nose still "
             "turns freely."),
            ("loose", "A looser bearing has more end play, but it still turns freely under "
             "thrust."),
            ("long", "A longer sleeve only moves the rear bearing back: its inner ring slides on "
             "the spindle."),
        ],
        hints=[
            "Something turns, something stands still, and the thrust presses the two together.",
            "What turns close to a ring that does not?",
        ],
        solution="The shoulder turns and the outer ring does not. Turn the shoulder down until it "
        "presses on the inner ring alone, and look for the bright ring that it has rubbed.",
        caution=HARD,
    )  # fmt: skip
