"""How does the inside of one bearing look? A ball under thrust, every ball's load, margins."""

import numpy as np

from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import move, polar
from workshop_lib.quantities import Q_, show

BALL = 15.0  # mm on paper for the radius of the ball in section
RING = 24.0  # mm on paper for the pitch radius of the loads round the bearing
LONGEST = 17.0  # mm on paper for the heaviest ball's bar
BARS = (0.1, 100.0)  # ends of the scale of margins
SERVING, FAILING = 6, 3  # bearings at most that are drawn
ROW = 6.0  # mm on paper from bar to bar


def ball_section(bearing, rest, told=True):
    """One ball between its grooves, with the line that its load follows. Returns a `Canvas`.

    bearing: `BallBearing`. rest: its `Equilibrium` under one load; the heaviest ball is drawn.
    told: whether its load is named; without it the drawing can stand beside a question.
    """
    ball = int(np.argmax(rest.core.loads))
    angle = float(np.degrees(rest.core.angles[ball]))
    free, load = bearing.free_contact_angle, rest.ball_loads[ball]
    alt = f"Section through one ball: its push leans by a contact angle of {angle:.1f}°."
    if told:
        alt = f"Section through one ball: it carries {show(load)} at a contact angle of "
        alt += f"{angle:.1f}°; without load the angle would be {show(free)}."
    c = Canvas(128, 84, alt, origin=(52, 42))
    _grooves(c, bearing.core)
    c.circle((0, 0), BALL, "paper")
    c.centre_line((0, -38), (0, 38))
    c.line(polar((0, 0), 34, 90 - angle), polar((0, 0), 34, 270 - angle), "phantom")
    for way, words in ((90, "outer ring"), (270, "inner ring")):
        at = polar((0, 0), BALL, way - angle)
        c.arrow(move(at, polar((0, 0), 1, way - angle), 13), at, colour="blue")
        c.text((-48, 32 if way == 90 else -32), words, "start")
    _named_angle(c, angle)
    words = f"Q = {show(load)}" if told else "push of the ball, Q"
    c.leader(polar((0, 0), BALL + 5, 90 - angle), (32, 22), words, "blue")
    c.arrow((-46, -20), (-27, -20), colour="blue")
    c.text((-37, -18.5), "thrust", level="bottom", size="small", colour="blue")
    return c


def _grooves(c, inside):
    """The two rings round the ball, their grooves to scale with it."""
    for sign, groove in ((1, inside.outer_groove), (-1, inside.inner_groove)):
        radius = 2 * BALL * groove
        middle = sign * (BALL - radius)
        reach = np.degrees(np.arccos(0.55))
        arc = [
            polar((0, middle), radius, sign * 90 + turn) for turn in np.linspace(-reach, reach, 25)
        ]
        left, right = sorted((arc[0], arc[-1]))
        edge = sign * (BALL + 11)
        outline = [*sorted(arc), (26, right[1]), (26, edge), (-26, edge), (-26, left[1])]
        c.section(outline, 45 * sign, "steel")


def _named_angle(c, angle):
    if abs(angle) > 3:
        c.arc((0, 0), 31, 90 - angle, 90, "thin")
    c.leader(polar((0, 0), 31, 90 - angle / 2), (32, 34), f"contact angle {angle:.1f}°")


def ball_loads(rest, axial, radial):
    """The load on every ball round the bearing, seen along its axis. Returns a `Canvas`.

    rest: `Equilibrium` under one load; axial, radial: forces. Bars point outwards, their length to
    scale; the radial load pushes the inner ring to the right.
    """
    loads = np.atleast_1d(rest.core.loads)
    heaviest = loads.max()
    alt = (
        f"Load on each of {loads.size} balls under {show(axial)} axial and {show(radial)} radial, "
        f"seen from the front: the heaviest carries {show(rest.heaviest)}, {rest.loaded_balls} of "
        "them carry any."
    )
    c = Canvas(126, 112, alt, origin=(63, 56))
    c.circle((0, 0), RING - 5, "steel")
    c.circle((0, 0), RING - 8, "paper", "thin")
    c.circle((0, 0), RING + 5, style="thin")
    size = min(4.0, 2.2 * RING / loads.size)
    for number, load in enumerate(loads):
        _bar(c, 360 * number / loads.size, float(load), float(heaviest), size)
    c.seen_from((-61, -53), "the front")
    if radial.m_as("N") > 0:
        c.arrow((-13, 0), (13, 0), colour="orange")
        c.text((0, 2), show(radial), level="bottom", size="small", colour="orange")
    return c


def _bar(c, angle, load, heaviest, size):
    """One ball, the bar of its load outside it, and the load in words at the bar's end."""
    centre = polar((0, 0), RING, angle)
    length = LONGEST * load / heaviest if heaviest else 0.0
    start = polar((0, 0), RING + 6, angle)
    end = polar((0, 0), RING + 6 + length, angle)
    if load > 0:
        side = polar((0, 0), 1.3, angle + 90)
        corners = [
            move(start, side, 1),
            move(end, side, 1),
            move(end, side, -1),
            move(start, side, -1),
        ]
        c.polyline(corners, True, "blue", "thin")
    c.circle(centre, size, "pale blue" if load > 0 else "paper", "outline" if load > 0 else "thin")
    way = polar((0, 0), 1, angle)
    anchor = "start" if way[0] > 0.3 else "end" if way[0] < -0.3 else "middle"
    level = "middle" if anchor != "middle" else "bottom" if way[1] > 0 else "top"
    c.text(move(end, way, 1.5), show(Q_(round(load, 6), "N")), anchor, level, "small")


def margin_bars(choices, wanted=1.0):
    """Margin of every bearing that was tried, as bars on a logarithmic scale. Returns a `Chart`.

    choices: list of `Choice`. A bar that stops short of the line at 1 does not serve. Of a long
    list the first that serve are drawn, and the nearest that do not.
    """
    serving = sum(each.serves for each in choices)
    best, low, high = choices[0], *BARS
    alt = (
        f"Margins of {len(choices)} bearings: {serving} will do; {best.bearing.designation} comes "
        f"first with {show(float(best.margin), figures=2)}, governed by {best.governs}."
    )
    drawn = few(choices)
    if len(drawn) < len(choices):
        alt = f"{alt[:-1]}; {len(drawn)} of them are drawn."
    tall = ROW * len(drawn)
    margin = "Times the load that it could carry before a check fails", low, high
    chart = Chart(margin, ("", 0, len(drawn)), (134, tall + 16), "x", (20, 13, 48, tall), alt)
    chart.vertical(wanted)
    for row, each in enumerate(drawn):
        level = len(drawn) - row - 0.5
        end = float(np.clip(each.margin, 1.02 * low, high))
        colour, hatch = ("green", None) if each.serves else ("grey", True)
        chart.bar(low, end, level - 0.32, level + 0.32, colour, hatch)
        chart.write(each.bearing.designation, low, level, (-2, 0), "end", size="small")
        told = show(float(each.margin)) if np.isfinite(each.margin) else "no limit"
        words = f"{told}, {each.governs}{'' if each.serves else ': will not do'}"
        chart.write(words, max(end, wanted), level, (2, 0), "start", size="small")
    return chart


def few(choices):
    """Return the first `Choice`s that serve and the nearest that do not, in their order."""
    serving = [each for each in choices if each.serves]
    failing = [each for each in choices if not each.serves]
    nearest = sorted(failing, key=lambda each: each.margin)[
        -max(FAILING, SERVING + FAILING - len(serving)) :
    ]
    room = SERVING + FAILING - len(nearest)
    return serving[:room] + [each for each in failing if any(each is one for one in nearest)]
