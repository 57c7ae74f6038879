"""How does a lobed disc lie in a V, and what shape do its readings give it?"""

import numpy as np

from workshop_lib.drawings.drawing import Canvas
from workshop_lib.drawings.geometry import move, polar
from workshop_lib.drawings.run_out_drawings import magnified
from workshop_lib.instruments import minimum_zone
from workshop_lib.quantities import show

RADIUS, LOBE = 22.0, 2.4  # mm on paper: the disc, and the amplitude of its lobes
AROUND = np.linspace(0, 2 * np.pi, 721)
FLAT = 179.0  # degrees from which a V is drawn as a flat
TOP = np.pi / 2


def in_vee(lobes, vee_angle, turned, shown):
    """A lobed disc in a V with the indicator opposite: a `Canvas`.

    lobes: how many. vee_angle, turned: angles. shown: length, what the needle shows of the most
    it can. The lobes are drawn far too high, and the disc rests where both faces touch it.
    """
    half, turn = vee_angle.m_as("rad") / 2, turned.m_as("rad")
    out = RADIUS + LOBE * np.cos(lobes * (AROUND - TOP + turn))
    points = out * np.exp(1j * AROUND)
    normals = np.exp(1j * np.array([np.pi + half, -half]))
    reach = np.array([(np.conj(each) * points).real.max() for each in normals])
    rows = np.stack([normals.real, normals.imag], axis=1)
    flat = np.degrees(2 * half) > FLAT
    shift = (0.0, reach[0] - RADIUS) if flat else np.linalg.solve(rows, RADIUS - reach)
    degrees = f"{np.degrees(2 * half):.0f}°"
    where = "on a flat" if flat else f"in a V of {degrees}"
    alt = f"A disc of {lobes} lobes {where}, turned by {show(turned)}: the needle shows "
    alt += f"{show(shown)}."
    c = Canvas(104, 104, alt, origin=(52, 42))
    _faces(c, half)
    c.polyline([(z.real + shift[0], z.imag + shift[1]) for z in points], True, "sheet")
    c.circle((0, 0), RADIUS, style="hidden", colour="grey")
    c.centre_mark(tuple(float(each) for each in shift), 4)
    mark = polar(shift, RADIUS - 5, 90 + np.degrees(-turn))
    c.text(mark, "0°")
    tip = float(shift[1] + out[np.argmin(np.abs(AROUND - TOP))])
    c.rect((-0.9, tip + 1), 1.8, 44 - tip, "paper")
    c.circle((0, tip + 1), 1.0, "steel")
    c.circle((0, 50), 7, "steel")
    c.text((0, 50), "dial")
    c.text((10, 50), f"shows {show(shown)}", "start", colour="orange")
    c.text((-50, -38), "flat" if flat else f"V of {degrees}", "start")
    return c


def _faces(c, half):
    """The two faces of the V, or the flat, as ground."""
    if np.degrees(2 * half) > FLAT:
        c.ground((-44, -RADIUS), (44, -RADIUS))
        return
    bottom = -RADIUS / np.sin(half)
    foot = RADIUS / np.tan(half)
    begin = max(0.0, (-40 - bottom) / np.cos(half))
    end = min(foot + 15, 47 / np.sin(half))
    for side in (1, -1):
        low, high = (
            (side * far * np.sin(half), bottom + far * np.cos(half)) for far in (begin, end)
        )
        c.ground(*((low, high) if side > 0 else (high, low)))


def rim_shape(found):
    """The shape that a rim's readings give, between the two circles that hold it: a `Canvas`.

    found: `instruments.RimMeasured`. Departures are drawn larger than they are, and it says so.
    """
    zone = minimum_zone(found.profile)
    away = (found.profile - zone.centre) * np.exp(1j * TOP)
    out = 1e3 * (np.abs(away) - zone.radius)  # mm
    times = magnified(np.abs(out).max())
    told = "rebuilt from its lobes" if found.has_vee else "as far as diameters tell"
    alt = f"The rim {told}: it lies in a ring {show(found.departure)} wide."
    c = Canvas(118, 84, alt, origin=(52, 44))
    turns = np.degrees(np.angle(away))
    rim = [polar((0, 0), RADIUS + times * d, a) for d, a in zip(out, turns, strict=True)]
    c.polyline(rim, closed=True, fill="sheet")
    for edge in (out.min(), out.max()):
        c.circle((0, 0), RADIUS + times * float(edge), style="hidden", colour="blue")
    for degrees in range(0, 360, 90):
        c.text(polar((0, 0), RADIUS - 7, 90 + degrees), f"{degrees}°")
    c.centre_mark((0, 0), 4)
    words = f"departures drawn {times:g} times larger" if times else "no departure from round"
    c.text((-50, -38), words, "start", colour="grey")
    ring = polar((0, 0), RADIUS + times * float(out.max()), 35)
    c.leader(ring, move(ring, (1, 0.6), 8), show(found.departure, figures=2), "blue")
    return c
