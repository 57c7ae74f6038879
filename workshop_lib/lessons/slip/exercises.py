"""Which exercises does lesson 02 set, with which answers and which usual mistakes?"""

from workshop_lib.friction import Pad, after_creep, torque_capacity
from workshop_lib.quantities import Q_, either, show
from workshop_lib.slip import margin, thrust_needed
from workshop_lib.teaching import paper
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized

BELOW_TWO = "A margin below 2 at low friction is not enough: change something before you cut."
LOCK = "Lock the tailstock and its quill before every start."
FACES = "One face or two?"
JUST_HOLDS = (
    "N' = N − k x, where k is the stiffness, x the creep and N' the thrust that just holds",
    "The thrust that you get from the chart is this N'.",
)


def tasks():
    """The exercises in the order of the lesson, a tuple of `Exercise`."""
    return _torque(), _faces(), _thrust(), _creep(), _located(), _low(), _left()


@sized(pad="mm", thrust="N")
def _torque(pad=40, thrust=900, friction=0.25):
    answer = torque_capacity(Pad(Q_(pad, "mm")), Q_(thrust, "N"), friction)
    rim = Q_(friction * thrust * pad / 2e3, "N*m")
    return Exercise(
        "l02-task-torque",
        f"A full {pad} mm pad presses evenly with {thrust} N at a friction coefficient of "
        f"{friction:g}. What torque can it hold if there is no side force?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces, or used the diameter as the radius. One face "
             f"drives, and the torque radius is 2/3 of {pad / 2:g} mm."),
            (answer / 2, "That is half the answer. Pad and nose do not share the thrust: the "
             "pad's face carries all of it."),
            (rim, "You put all the friction at the rim of the pad."),
            (rim / 2, "You used the torque radius of a worn pad, half the outer radius. Here the "
             "pressure is even."),
            (answer / friction, "You left out the friction coefficient: the friction force is μ "
             "times the thrust."),
        ],
        hints=[f"r_t = 2/3 × {pad / 2:g} mm: radii, not diameters."],
        solution=f"{friction:g} × {thrust} N × 2/3 × {pad / 2:g} mm = {show(answer)}.",
        remake=redraw(
            _torque, pad=range(30, 85, 5), thrust=range(400, 1250, 50),
            friction=(0.15, 0.2, 0.25, 0.3, 0.35),
        ),
        paper="M = μ N r_{t}, with r_{t} = 2/3 r_{o} for a full pad that presses evenly",
        withheld=True,
    )  # fmt: skip


@sized(pad="mm", thrust="N", side="N", torque="N*m")
def _faces(pad=60, thrust=800, friction=0.3, side=150, torque=1.5):
    setup = (Pad(Q_(pad, "mm")), Q_(thrust, "N"), friction, Q_(side, "N"), Q_(torque, "N*m"))
    answer = margin(*setup)
    share_side = side / (friction * thrust)
    share_turn = torque / (friction * thrust * pad / 2e3)
    return Exercise(
        "l02-task-faces",
        f"A full {pad} mm pad presses with {thrust} N; friction is {friction:g}. The cut makes a "
        f"side force of {side} N and a torque of {torque:g} N·m. The nose floats. What is the "
        "margin (safety factor)?",
        answer,
        within="2 %",
        common_wrong=_faces_slips(setup, side, torque),
        hints=[
            "Neither check alone is enough. Set the panel to these numbers and read the row for "
            "the floating nose.",
            f"By hand, as shares: F/(μN) = {side} N / ({friction:g} × {thrust} N) and M/(μN "
            f"r_{{o}}), with r_{{o}} = {pad / 2:g} mm. By what factor can both grow before they "
            "reach the limit curve?",
        ],
        solution=[
            f"Side force {side} N / ({friction:g} × {thrust} N) = {share_side:.3f}; torque "
            f"{torque:g} N·m / ({friction:g} × {thrust} N × {pad / 2:g} mm) = {share_turn:.3f}.",
            f"Both loads can grow {show(answer)} times before they reach the limit curve.",
        ],
        remake=redraw(
            _faces,
            lambda pad, thrust, friction, side, torque: (
                0.5 < friction * thrust * pad / 3e3 / torque / (friction * thrust / side) < 2
                and 1.2 < friction * thrust / side < 6
            ),
            pad=range(40, 85, 5), thrust=range(500, 1250, 50), friction=(0.2, 0.25, 0.3, 0.35),
            side=range(40, 190, 10), torque=(0.6, 0.8, 1, 1.2, 1.5, 1.8, 2, 2.5, 3),
        ),
        paper=paper.limit_chart,
        panel=FACES,
        long_by_hand=True,
        caution=BELOW_TWO,
    )  # fmt: skip


def _faces_slips(setup, side, torque):
    """What is usually answered instead."""
    answer = margin(*setup)
    located = margin(*setup, nose="located", nose_friction=setup[2])
    alone_side = (setup[1] * setup[2]).m_as("N") / side
    alone_turn = torque_capacity(*setup[:3]).m_as("N*m") / torque
    return [
        (2 * answer, "You counted both faces. Only the pad's face drives and locates."),
        (located, "You counted the nose as located. It floats, so it holds nothing."),
        (alone_side, "That is the side force alone. The torque uses up friction too."),
        (alone_turn, "That is the torque alone. The side force uses up friction too."),
        (1 / (1 / alone_side**2 + 1 / alone_turn**2) ** 0.5, "That is the ellipse. It lies "
         "outside the true curve and promises too much."),
        (1 / (1 / alone_side + 1 / alone_turn), "You added the two shares as plain numbers. "
         "The curve bulges beyond that straight line."),
        (1 / answer, "That is the load divided by the hold. The margin is the hold divided by the "
         "load."),
    ]  # fmt: skip


@sized(pad="mm", side="N", torque="N*m")
def _thrust(pad=50, friction=0.3, side=60, torque=1.2, wanted=2):
    load = Pad(Q_(pad, "mm")), friction, Q_(side, "N"), Q_(torque, "N*m")
    answer = thrust_needed(*load, margin=wanted)
    by_turn, by_side = 3e3 * torque / (friction * pad), side / friction
    return Exercise(
        "l02-task-thrust",
        f"A full {pad} mm pad has a friction of {friction:g} at the low end. The cut makes a side "
        f"force of {side} N and a torque of {torque:g} N·m. What thrust gives a margin of "
        f"{wanted:g}?",
        answer,
        within="2 %",
        common_wrong=[
            (answer / wanted, "At that thrust the disc only just holds: the margin is 1."),
            (answer * wanted, "You applied the margin twice."),
            (Q_(wanted * by_turn, "N"), "That covers the torque alone. You forgot the side force."),
            (Q_(wanted * by_side, "N"), "That covers the side force alone. You forgot the torque."),
            (Q_(wanted * (by_turn + by_side), "N"), "You added the thrust for the torque and the "
             "thrust for the side force. That is safe, but more than you need: at each spot one "
             "friction force opposes both loads."),
            (answer * friction, "That is the friction force, not the thrust that makes it."),
        ],
        hints=[
            "Set pad, friction and loads in the panel, and move the thrust until the margin is "
            f"{wanted:g} with a floating nose.",
            f"Margin is proportional to thrust: try any thrust, multiply it by {wanted:g} and "
            "divide by its margin.",
        ],
        solution=f"{show(answer)} gives {wanted:g}. At {show(answer / wanted)} the disc just "
        "slips.",
        remake=redraw(
            _thrust,
            lambda pad, side, torque, **_: 0.4 < 3e3 * torque / (pad * side) < 2.5,
            pad=range(40, 85, 5), friction=(0.2, 0.25, 0.3, 0.35), side=range(30, 130, 10),
            torque=(0.6, 0.8, 1, 1.2, 1.5, 1.8, 2), wanted=(2, 2.5, 3),
        ),
        paper=_thrust_on_paper,
        panel=FACES,
        long_by_hand=True,
        caution=BELOW_TWO,
    )  # fmt: skip


def _thrust_on_paper(*before):
    """The limit chart, and how to find a thrust on it, which is not known before."""
    return (
        *before,
        "The slope of the ruler, M/(r_{o} F), does not depend on the thrust. Where it meets the "
        "curve, read F/(μN) and work out N.",
        *paper.limit_chart(),
    )


@sized(pad="mm", thrust="N", stiffness="kN/mm", side="N", torque="N*m")
def _creep(pad=60, friction=0.3, thrust=900, stiffness=2.5, side=60, torque=1.5):
    load = Pad(Q_(pad, "mm")), friction, Q_(side, "N"), Q_(torque, "N*m")
    needed = thrust_needed(*load, margin=1)
    stiff = Q_(1e3 * stiffness, "N/mm")
    answer = ((Q_(thrust, "N") - needed) / stiff).to("mm")
    return Exercise(
        "l02-task-creep",
        f"A full {pad} mm pad (friction {friction:g}) is set to a thrust of {thrust} N. The set-up "
        f"gives like a spring of {stiffness:g} kN/mm. The cut makes a side force of {side} N and a "
        f"torque of {torque:g} N·m. How far can the tailstock creep back before the disc slips?",
        answer,
        within="3 %",
        common_wrong=[
            (Q_(thrust / (1e3 * stiffness), "mm"), "By then all thrust is gone. It slips sooner."),
            ((needed / stiff).to("mm"), "You used the thrust that has to stay. Use the thrust "
             "that you can lose."),
            (((Q_(thrust, "N") - needed / 2) / stiff).to("mm"), "You counted both faces. One face "
             "has to hold everything, so more thrust has to stay."),
        ],
        hints=[
            "At what thrust is the margin exactly 1?",
            "The thrust that you can lose, divided by the stiffness.",
        ],
        solution=f"The disc slips below {show(needed)}. ({thrust} N − {show(needed)}) / "
        f"{1e3 * stiffness:g} N/mm = {show(answer)}.",
        remake=redraw(
            _creep,
            lambda pad, friction, thrust, side, torque, **_: (
                0.3 < (3e3 * torque / pad + side) / friction / thrust < 0.85
                and 0.4 < 3e3 * torque / (pad * side) < 2.5
            ),
            pad=range(40, 85, 5), friction=(0.2, 0.25, 0.3, 0.35), thrust=range(500, 1250, 50),
            stiffness=(1, 1.5, 2, 2.5, 3, 4), side=range(30, 130, 10),
            torque=(0.6, 0.8, 1, 1.2, 1.5, 1.8, 2),
        ),
        paper=lambda: _thrust_on_paper(*JUST_HOLDS),
        panel="What if the tailstock creeps back?",
        long_by_hand=True,
        caution=LOCK,
    )  # fmt: skip


@sized(thrust="N")
def _located(thrust=800, pad_friction=0.3, nose_friction=0.2):
    hold = Pad("60 mm"), Q_(thrust, "N"), pad_friction, Q_(1, "N"), "0 N m"
    answer = Q_(float(margin(*hold, nose="located", nose_friction=nose_friction)), "N")
    floating = Q_(float(margin(*hold)), "N")
    return Exercise(
        "l02-task-located",
        f"A thrust of {thrust} N squeezes the disc between a pad (friction {pad_friction:g}) and a "
        f"nose that is truly held sideways (friction {nose_friction:g}). There is no torque. What "
        "side force do the two hold together?",
        answer,
        within="1 %",
        common_wrong=[
            (floating, "That is the pad alone. A nose that cannot float sideways adds its own "
             "friction to the side force."),
            (2 * floating, "There are two faces, but each has its own friction coefficient."),
            (answer - floating, "That is what the nose adds. The pad holds as well."),
            (answer / 2, "The two faces do not share the thrust: each carries all of it."),
        ],
        hints=[
            "Each face holds its own friction coefficient times the thrust.",
            f"{pad_friction:g} × {thrust} N for the pad; then the nose in the same way.",
        ],
        solution=f"({pad_friction:g} + {nose_friction:g}) × {thrust} N = {show(answer)}. The nose "
        "adds nothing to the torque, because it turns on bearings. A nose that floats adds "
        "nothing at all.",
        remake=redraw(
            _located, thrust=range(400, 1250, 50), pad_friction=(0.25, 0.3, 0.35, 0.4),
            nose_friction=(0.1, 0.12, 0.15, 0.2),
        ),
        paper="side force held by one face: F = μ N",
    )  # fmt: skip


def _low(computed=3.0, typical=0.45, low=0.3):
    setup = Pad("60 mm"), Q_(800, "N")
    load = Q_(100, "N"), Q_(1, "N*m")
    scale = float(margin(*setup, typical, *load)) / computed  # the same set-up, as loaded as told
    load = tuple(each * scale for each in load)
    answer = float(margin(*setup, low, *load))
    return Exercise(
        "l02-task-low",
        f"At the typical friction of {typical:g} a set-up has a margin of {computed:g}. The low "
        f"end of that friction is {low:g}. What margin do you quote?",
        answer,
        within="1 %",
        common_wrong=[
            (computed, "That is the typical margin. Quote the margin at low friction: nobody "
             "knows what friction you have today."),
            (computed * typical / low, "Less friction cannot give more margin: the ratio is upside "
             "down."),
            (computed - (typical - low), "The margin falls in proportion to the friction, not by "
             "the same amount."),
            (computed * low, "Friction is already in the margin: only the ratio of the two "
             "frictions counts."),
        ],
        hints=[
            "Friction times thrust scales the whole limit curve.",
            f"{computed:g} × {low:g}/{typical:g}.",
        ],
        solution=f"{computed:g} × {low:g}/{typical:g} = {show(answer)}"
        f"{': below 2, so change something before you cut.' if answer < 1.999 else '.'}",
        remake=redraw(
            _low,
            lambda typical, low, **_: 0.5 < low / typical < 0.8,
            computed=(2.4, 2.7, 3.0, 3.3, 3.6, 4.0, 4.5), typical=(0.3, 0.35, 0.4, 0.45, 0.5, 0.6),
            low=(0.15, 0.2, 0.25, 0.3, 0.35, 0.4),
        ),
        paper="Hold and margin are proportional to the friction coefficient.",
        caution=BELOW_TWO,
    )  # fmt: skip


@sized(thrust="N", stiffness="kN/mm", creep="mm")
def _left(thrust=800, stiffness=2, creep=0.15):
    answer = after_creep(Q_(thrust, "N"), Q_(1e3 * stiffness, "N/mm"), Q_(creep, "mm"))
    gone = Q_(1e3 * stiffness * creep, "N")
    return Exercise(
        "l02-task-left",
        f"The thrust is {thrust} N, and the set-up gives like a spring of {stiffness:g} kN/mm. The "
        f"tailstock is not locked and creeps back {creep:g} mm. How much thrust is left?",
        answer,
        within="1 %",
        common_wrong=[
            (gone, "That is the thrust you have lost. How much is left?"),
            (Q_(thrust, "N"), "Thrust is a squeezed spring: when the tailstock creeps back, "
             "thrust is lost."
             + either(" Or did you use kilonewtons as newtons?", "")),
            (answer / 2, "The two faces do not share the thrust."),
        ],
        hints=[f"{thrust} N − {1e3 * stiffness:g} N/mm × {creep:g} mm."],
        solution=f"{thrust} N − {1e3 * stiffness:g} N/mm × {creep:g} mm = {show(answer)}.",
        remake=redraw(
            _left,
            lambda thrust, stiffness, creep: 0.2 < 1e3 * stiffness * creep / thrust < 0.85,
            thrust=range(500, 1250, 50), stiffness=(1, 1.5, 2, 2.5, 3),
            creep=(0.05, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3),
        ),
        paper="N' = N − k x, where k is the stiffness and x the creep",
        withheld=True,
        caution="Lock the tailstock and its quill before every start.",
    )  # fmt: skip
