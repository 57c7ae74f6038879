"""Which panels does lesson 02 have? Will it slip, one face or two, pressure laws, creep."""

import numpy as np

from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.drawings.setup_drawings import face_view
from workshop_lib.drawings.slip_charts import limit_chart
from workshop_lib.friction import (
    PRESSURES,
    Pad,
    after_creep,
    facing_load,
    limit_curve,
    torque_capacity,
)
from workshop_lib.lessons.shared_fields import (
    WORDS,
    check_cover,
    dial_depth,
    enough_thrust,
    hard_pressed,
    make_pad,
    pad_fields,
    set_up_fields,
    verdict,
    with_facing,
)
from workshop_lib.materials import friction
from workshop_lib.quantities import Q_, say, show, times_over
from workshop_lib.slip import LEAST_MARGIN, deepest_cut, margin, thrust_needed
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View
from workshop_lib.torque import cutting_force, cutting_torque, radial_shares, side_force

LAWS = {
    "uniform": "even (a soft pad facing)",
    "uniform_wear": "worn in (presses less hard near its rim)",
    "rigid_punch": "hard and flat (presses hardest at its rim)",
    "hertz": "domed (presses hardest in the middle)",
}
MARGIN = "A safety factor: with a margin of 2 it would take twice the load to make the disc slip."
STEADY = (
    "All this is for a steady cut with a sharp tool. A worn edge, a round tool nose and the blow "
    "of corners can use up a whole margin of 2: the plan of lesson 06 includes them."
)
NOSES = {"floating": "can float sideways (assume this)", "located": "held sideways"}


def slip_scene():
    """Will the disc slip? Sheet, pad, thrust and cut together."""
    fields = [
        *set_up_fields("70 mm"),
        Field("thrust", "Thrust", "force >= 0", "800 N", slider=(0, 2500, 10)),
        Field("depth", "Depth of cut", "length >= 0", "0.15 mm", slider=(0, 1, 0.01)),
        Field("feed", "Feed", "feed > 0", "0.05 mm/rev", slider=(0.02, 0.3, 0.01)),
        Field("wanted", "Margin wanted", "ratio > 0", "2", slider=(2, 5, 0.1), help=MARGIN),
        Choice("nose", "Pressure nose", NOSES, "floating"),
    ]
    return Scene("Will it slip?", fields, _judge_slip, words=WORDS)


def _judge_slip(
    material,
    disc_diameter,
    facing,
    pad_diameter,
    relief_diameter,
    thrust,
    depth,
    feed,
    wanted,
    nose,
):
    check_cover(pad_diameter, disc_diameter)
    pad = make_pad(pad_diameter, relief_diameter)
    grip, share, wanted = friction(facing, material), radial_shares(), wanted.m_as("")
    force = cutting_force(material, depth, feed, estimate="high")
    side, torque = side_force(force, share.high), cutting_torque(force, disc_diameter)
    factors = margin(pad, thrust, grip, side, torque, nose)
    words, holds = verdict(factors[0], wanted, thrust)
    needed = thrust_needed(pad, grip.low, side, torque, wanted, nose)
    pressed = facing_load(pad, thrust, facing)
    cut = (material, feed, disc_diameter, wanted, share.high)
    deepest = deepest_cut(pad, thrust, grip.low, *cut, nose=nose)
    listed = " / ".join(map(times_over, factors))
    rows = [
        ["Cutting force (high estimate)", force],
        ["Side force on the pad", side],
        ["Torque on the pad", torque],
        ["Margin at low / typical / high friction", listed],
        ["Thrust for the margin wanted", enough_thrust(needed)],
        ["Deepest cut for the margin wanted", dial_depth(deepest)],
        ["Highest pressure on the pad facing", pressed.peak],
    ]
    chart = limit_chart(pad, thrust, grip, side, torque)
    picture = chart.picture(_alt(side, torque, factors[0]))
    mends = [] if holds == "yes" else [_mends(needed, deepest, pad.relief > 0)]
    words, holds, crushed = with_facing(words, holds, pressed)
    more = page.table(rows, ["For this set-up", "Value"]), say(STEADY), str(grip)
    return View(words, holds, picture, [*hard_pressed(thrust), *mends, *crushed, *more])


def _alt(side, torque, factor):
    """What the limit curve with its load shows, in one sentence."""
    return say(
        "Limit curve of the pad with a load of {side} and {torque}: the margin at low friction is "
        "{margin}.",
        side=show(side),
        torque=show(torque),
        margin=times_over(factor),
    )


def _mends(needed, deepest, relieved):
    """What to change when the margin is not reached: a sentence with its numbers."""
    if not needed.m > 0:
        return say("Set some thrust: without it nothing holds the disc, even with no cut.")
    thrust, depth = enough_thrust(needed), dial_depth(deepest)
    first = say("set the thrust to {thrust} if nose and tailstock can take it", thrust=thrust)
    ways = [first]
    if not np.isfinite(needed.m):
        ways = [say("change the pad facing, since without friction no thrust is enough")]
    elif depth[0].isdigit():  # else no dial shows so little
        ways.append(say("cut no deeper than {depth}", depth=depth))
    ways.append(say("use a larger pad"))
    ways += [] if relieved else [say("relieve the middle of the pad")]
    return say("To reach the margin: {ways}.", ways=say("; or ").join(ways))


def faces_scene():
    """One face or two: what a nose that is held sideways adds, and what it never adds."""
    fields = [
        *pad_fields(),
        Field("thrust", "Thrust", "force >= 0", "800 N", slider=(0, 2500, 10)),
        Field("mu", "Friction at the pad", "ratio >= 0", "0.3", slider=(0, 1, 0.01)),
        Field("nose_mu", "Friction at the nose", "ratio >= 0", "0.15", slider=(0, 1, 0.01)),
        Field("side", "Side force", "force >= 0", "80 N", slider=(0, 500, 5)),
        Field("torque", "Torque", "torque >= 0", "2 N m", slider=(0, 15, 0.1)),
    ]
    return Scene("One face or two?", fields, _judge_faces, words=WORDS)


def _judge_faces(pad_diameter, relief_diameter, thrust, mu, nose_mu, side, torque):
    pad = make_pad(pad_diameter, relief_diameter)
    setup = (pad, thrust, mu, side, torque)
    floating = margin(*setup)
    located = margin(*setup, nose="located", nose_friction=nose_mu)
    fraction, turn = limit_curve(pad, points=61)
    hold, extra = (mu * thrust).m_as("N"), (nose_mu * thrust).m_as("N")
    arm = pad.outer_radius
    top = hold * turn[0] * arm
    chart = Chart(
        x=("Side force", 0, nice(max(1.15 * (hold + extra), 1.15 * side.m_as("N"), 1)), "N"),
        y=("Torque", 0, nice(max(1.2 * top, 1.15 * torque.m_as("N*m"), 0.01)), "N·m"),
    )
    both = np.append(0, extra + hold * fraction), np.append(top, hold * turn * arm)
    if hold + extra:  # without any there is a point in the corner, and nothing to name
        chart.line(*both, "nose held sideways", "dashed", "blue")
    if hold:
        chart.line(hold * fraction, hold * turn * arm, "nose can float", "solid", "green", "heavy")
    chart.point(side.m_as("N"), torque.m_as("N*m"), "this load", colour="orange")
    rows = [
        ["can float: one face holds", floating],
        ["held sideways: helps against side force", located],
        ["either way: most torque without side force", show(torque_capacity(pad, thrust, mu))],
    ]
    words, holds = verdict(floating, LEAST_MARGIN, thrust)
    alt = say(
        "Margin {floating} with a nose that can float, {located} with one held sideways.",
        floating=show(floating),
        located=show(located),
    )
    return View(words, holds, chart.picture(alt), [page.table(rows, ["Nose", "Margin"])])


def laws_scene():
    """How the pressure spreads over the pad, and what that does to the torque."""
    fields = [
        *pad_fields("60 mm", "0 mm"),
        Choice("pressure", "Pressure", LAWS, "uniform"),
        Field("thrust", "Thrust", "force >= 0", "800 N", slider=(0, 2500, 10)),
        Field("mu", "Friction", "ratio >= 0", "0.3", slider=(0, 1, 0.01)),
        Field("side", "Side force", "force >= 0", "100 N", slider=(0, 500, 5)),
        Field("torque", "Torque", "torque >= 0", "2 N m", slider=(0, 15, 0.1)),
    ]
    return Scene("Where does the pad press?", fields, _judge_law, words=WORDS)


def _judge_law(pad_diameter, relief_diameter, pressure, thrust, mu, side, torque):
    pad = make_pad(pad_diameter, relief_diameter, pressure)
    factor = margin(pad, thrust, mu, side, torque)
    words, holds = verdict(factor, LEAST_MARGIN, thrust)
    rows = [["Torque radius of this pad", pad.torque_radius]]
    rows.append(["Most torque without side force", torque_capacity(pad, thrust, mu)])
    if not relief_diameter.m:
        rows += [
            [
                say("… {pressure}", pressure=say(LAWS[law])),
                torque_capacity(Pad(pad_diameter, 0 * pad_diameter, law), thrust, mu),
            ]
            for law in PRESSURES
            if law != pressure
        ]
    picture = None if side.m == torque.m == 0 else face_view(pad, side, torque)
    return View(words, holds, picture, [page.table(rows, ["For this pad", "Value"])])


def creep_scene():
    """Why a set-up that holds at full thrust spins when the tailstock gives way."""
    fields = [
        *pad_fields(),
        Field("mu", "Friction (low)", "ratio >= 0", "0.3", slider=(0, 1, 0.01)),
        Field("thrust", "Thrust as set", "force >= 0", "800 N", slider=(0, 2500, 10)),
        Field(
            "stiffness",
            "Stiffness of the set-up",
            "stiffness > 0",
            "2 kN/mm",
            slider=(0.1, 10, 0.1),
        ),
        Field("creep", "Tailstock has crept back", "length >= 0", "0.1 mm", slider=(0, 0.5, 0.01)),
        Field("side", "Side force", "force >= 0", "80 N", slider=(0, 500, 5)),
        Field("torque", "Torque", "torque >= 0", "2 N m", slider=(0, 15, 0.1)),
    ]
    return Scene("What if the tailstock creeps back?", fields, _judge_creep, words=WORDS)


def _judge_creep(pad_diameter, relief_diameter, mu, thrust, stiffness, creep, side, torque):
    pad = make_pad(pad_diameter, relief_diameter)
    left = after_creep(thrust, stiffness, creep)
    before, after = (margin(pad, n, mu, side, torque) for n in (thrust, left))
    words, holds = verdict(after, LEAST_MARGIN, left)
    way = np.linspace(0, max(0.5, 1.2 * creep.m_as("mm")), 81)
    factors = margin(pad, after_creep(thrust, stiffness, Q_(way, "mm")), mu, side, torque)
    high = nice(max(min(float(factors[0]), 20.0), 1.2))
    chart = Chart(x=("Creep of the tailstock", 0, nice(way[-1]), "mm"), y=("Margin", 0, high))
    chart.line(way, np.minimum(factors, 2 * high), "margin", colour="green", weight="heavy")
    chart.horizontal(1, "slips below 1")
    chart.point(creep.m_as("mm"), float(min(after, 2 * high)), "here", colour="orange")
    gone = thrust_needed(pad, mu, side, torque, 1.0)
    at_first, now = map(times_over, (before, after))
    rows = [
        ["Thrust left", left],
        ["Margin as set", at_first],
        ["Margin now", now],
        ["Slips after creeping", (thrust - gone) / stiffness if gone < thrust else Q_(0, "mm")],
    ]
    rows[-1][1] = show(rows[-1][1], "um") if gone.m > 0 else "never: there is no load"
    alt = "Margin against creep: {at_first} as set, {now} after {creep}."
    alt = say(alt, at_first=at_first, now=now, creep=show(creep))
    return View(words, holds, chart.picture(alt), [page.table(rows, ["Tailstock", "Value"])])
