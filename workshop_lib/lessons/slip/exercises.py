"""Which exercises does lesson 02 set, with which answers and which usual mistakes?"""

from workshop_lib.friction import Pad, after_creep, torque_capacity
from workshop_lib.quantities import Q_, either, show
from workshop_lib.slip import margin, thrust_needed
from workshop_lib.teaching import paper
from workshop_lib.teaching.exercises import Exercise
from workshop_lib.teaching.redraw import redraw, sized

BELOW_TWO = "A margin below 2 at low friction is no margin: change something before you cut."
LOCK = "Lock the tailstock and its quill before every start."
FACES = "One face or two?"
JUST_HOLDS = (
    "N' = N − k x, with the stiffness k, the creep x, and N' the thrust that just holds",
    "The thrust that the chart gives is this N'.",
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
        f"A full pad of {pad} mm presses evenly with {thrust} N; friction {friction:g}. "
        "What torque can it hold, with no side force?",
        answer,
        within="1 %",
        common_wrong=[
            (2 * answer, "You counted both faces, or took the diameter for the radius: one face "
             f"drives, and the torque radius is 2/3 of {pad / 2:g} mm."),
            (answer / 2, "That is half of it. The thrust is not shared between pad and nose: the "
             "pad's face feels all of it."),
            (rim, "You let all the friction act at the rim of the pad."),
            (rim / 2, "That is the worn pad's torque radius, half of the outer radius; here the "
             "pressure is even."),
            (answer / friction, "You left the friction coefficient out: the force that acts is "
             "μ times the thrust."),
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
        f"A full {pad} mm pad, {thrust} N, friction {friction:g}. The cut pushes with {side} N "
        f"sideways and {torque:g} N·m. The nose can float. What is the margin?",
        answer,
        within="2 %",
        common_wrong=_faces_slips(setup, side, torque),
        hints=[
            "Neither check alone is enough. Set the panel to these numbers, and read the row for "
            "the nose that floats.",
            f"By hand, as shares: F/(μN) = {side} N / ({friction:g} × {thrust} N) and "
            f"M/(μN r_{{o}}), with r_{{o}} = {pad / 2:g} mm. How many times can both grow up to "
            "the limit curve?",
        ],
        solution=[
            f"Side force {side} N / ({friction:g} × {thrust} N) = {share_side:.3f}; torque "
            f"{torque:g} N·m / ({friction:g} × {thrust} N × {pad / 2:g} mm) = {share_turn:.3f}.",
            f"On the limit curve both loads can grow {show(answer)} times.",
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
        (located, "That counts the nose as located. It can float, so it holds nothing."),
        (alone_side, "That is the side force alone. The torque spends friction too."),
        (alone_turn, "That is the torque alone. The side force spends friction too."),
        (1 / (1 / alone_side**2 + 1 / alone_turn**2) ** 0.5, "That is the ellipse. It lies "
         "outside the true curve and promises too much."),
        (1 / (1 / alone_side + 1 / alone_turn), "You added the two shares as plain numbers. "
         "The curve bulges beyond that straight line."),
        (1 / answer, "That is the load as a share of the hold. The margin is the other way "
         "round."),
    ]  # fmt: skip


@sized(pad="mm", side="N", torque="N*m")
def _thrust(pad=50, friction=0.3, side=60, torque=1.2, wanted=2):
    load = Pad(Q_(pad, "mm")), friction, Q_(side, "N"), Q_(torque, "N*m")
    answer = thrust_needed(*load, margin=wanted)
    by_turn, by_side = 3e3 * torque / (friction * pad), side / friction
    return Exercise(
        "l02-task-thrust",
        f"A full {pad} mm pad, friction {friction:g} at the low end. The cut asks for {side} N and "
        f"{torque:g} N·m. What thrust gives a margin of {wanted:g}?",
        answer,
        within="2 %",
        common_wrong=[
            (answer / wanted, "That thrust only just holds: its margin is 1."),
            (answer * wanted, "The margin stands in it twice."),
            (Q_(wanted * by_turn, "N"), "That covers the torque alone; the side force is "
             "forgotten."),
            (Q_(wanted * by_side, "N"), "That covers the side force alone; the torque is "
             "forgotten."),
            (Q_(wanted * (by_turn + by_side), "N"), "You added the thrust for the torque and the "
             "thrust for the side force. That is on the safe side, and more than is needed: at "
             "each spot friction opposes both with one force."),
            (answer * friction, "That is the friction force that is wanted, not the thrust that "
             "makes it."),
        ],
        hints=[
            f"Set pad, friction and loads, and move the thrust until the margin is {wanted:g} with "
            "the nose floating.",
            f"Margin and thrust grow alike: any thrust × {wanted:g} / its margin is the one.",
        ],
        solution=f"{show(answer)} give {wanted:g}; at {show(answer / wanted)} it just slips.",
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
        "The steepness of the ruler, M/(r_{o} F), does not depend on the thrust. Where it meets "
        "the curve read F/(μN), and from that N.",
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
        f"A full {pad} mm pad, friction {friction:g}, set to {thrust} N in a squeeze of "
        f"{stiffness:g} kN/mm. The cut asks for {side} N and {torque:g} N·m. How far may the "
        "tailstock creep back before the disc slips?",
        answer,
        within="3 %",
        common_wrong=[
            (Q_(thrust / (1e3 * stiffness), "mm"), "There no thrust is left. It slips sooner."),
            ((needed / stiff).to("mm"), "That is the squeeze of the thrust that must stay, not "
             "of the thrust that may go."),
            (((Q_(thrust, "N") - needed / 2) / stiff).to("mm"), "You counted both faces: one face "
             "must hold all of it, so more thrust must stay."),
        ],
        hints=[
            "At which thrust is the margin just 1?",
            "The thrust that may go, divided by the stiffness.",
        ],
        solution=f"It slips below {show(needed)}. ({thrust} N − {show(needed)}) / "
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
        panel="What does a tailstock that is not tight cost?",
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
        f"{thrust} N press the pad (friction {pad_friction:g}) and a nose that is truly held "
        f"sideways (friction {nose_friction:g} on the disc). No torque acts. Which side force "
        "would the two hold together?",
        answer,
        within="1 %",
        common_wrong=[
            (floating, "That is the pad alone. A nose that cannot float sideways adds its own "
             "friction to the side force."),
            (2 * floating, "Two faces, but each has its own friction coefficient."),
            (answer - floating, "That is what the nose adds; the pad holds as well."),
            (answer / 2, "The thrust is not shared: each face feels all of it."),
        ],
        hints=[
            "Each face holds its own friction coefficient times the thrust.",
            f"{pad_friction:g} × {thrust} N for the pad; then the nose in the same way.",
        ],
        solution=f"({pad_friction:g} + {nose_friction:g}) × {thrust} N = {show(answer)}. To the "
        "torque the nose adds nothing, since it turns on bearings; and one that can float adds "
        "nothing at all.",
        remake=redraw(
            _located, thrust=range(400, 1250, 50), pad_friction=(0.25, 0.3, 0.35, 0.4),
            nose_friction=(0.1, 0.12, 0.15, 0.2),
        ),
        paper="Side force of one face: F = μ N",
    )  # fmt: skip


def _low(computed=3.0, typical=0.45, low=0.3):
    setup = Pad("60 mm"), Q_(800, "N")
    load = Q_(100, "N"), Q_(1, "N*m")
    scale = float(margin(*setup, typical, *load)) / computed  # the same set-up, as loaded as told
    load = tuple(each * scale for each in load)
    answer = float(margin(*setup, low, *load))
    return Exercise(
        "l02-task-low",
        f"Reckoned with the typical friction of {typical:g}, a set-up has a margin of "
        f"{computed:g}. The low end of that friction is {low:g}. Which margin do you quote?",
        answer,
        within="1 %",
        common_wrong=[
            (computed, "That is the typical margin. Quote the one at low friction: nobody knows "
             "which friction you have today."),
            (computed * typical / low, "Less friction cannot give more margin: the ratio is upside "
             "down."),
            (computed - (typical - low), "The margin goes in proportion to the friction, not down "
             "by the same amount."),
            (computed * low, "The margin already has friction in it: only its ratio counts."),
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
        f"{thrust} N of thrust in a squeeze of {stiffness:g} kN/mm, and an unlocked tailstock "
        f"that creeps back {creep:g} mm. How much thrust is left?",
        answer,
        within="1 %",
        common_wrong=[
            (gone, "That is the thrust that has gone. What is left?"),
            (Q_(thrust, "N"), "A thrust is a squeezed spring: when the tailstock gives way, it "
             "goes."
             + either(" Or did you take kilonewtons for newtons?", "")),
            (answer / 2, "The thrust is not shared between the two faces."),
        ],
        hints=[f"{thrust} N − {1e3 * stiffness:g} N/mm × {creep:g} mm."],
        solution=f"{thrust} N − {1e3 * stiffness:g} N/mm × {creep:g} mm = {show(answer)}.",
        remake=redraw(
            _left,
            lambda thrust, stiffness, creep: 0.2 < 1e3 * stiffness * creep / thrust < 0.85,
            thrust=range(500, 1250, 50), stiffness=(1, 1.5, 2, 2.5, 3),
            creep=(0.05, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3),
        ),
        paper="N' = N − k x, with the stiffness k and the creep x",
        withheld=True,
        caution="Lock the tailstock and its quill before every start.",
    )  # fmt: skip
