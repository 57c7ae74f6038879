"""The answers of the exercises, worked by hand from the numbers in their questions."""

import re

import numpy as np
from scipy.optimize import brentq

from tests.references.limit_reference import point
from tests.references.plate_reference import exact_harmonic
from workshop_lib.materials import find_material

# Ounces a square foot of the US Standard by number (law of 1893: us-code-15-206).
OUNCES = dict(zip(range(12, 31), [70, 60, 50, 45, 40, 36, 32, 28, 24, 22, 20, 18, 16, 14, 12, 11,
                                  10, 9, 8], strict=True))  # fmt: skip
INCH = 25.4
ITS_TABLE = {"zinc-coated": (2.5, 669.12), "uncoated": (0, 669.12), "stainless": (0, 640)}


def sheet_thickness(question, number):
    zinc, divisor = next(both for word, both in ITS_TABLE.items() if word in question)
    return (OUNCES[number] + zinc) / divisor * INCH


def gauge(q, *numbers):
    found = int(re.search(r"([0-9]+) gauge", q)[1])
    return sheet_thickness(q, found)


def identify(q, reading, *_):
    return min(OUNCES, key=lambda number: abs(sheet_thickness(q, number) - reading))


def relief(q, outer, inner, thrust, friction):
    outer, inner = outer / 2e3, inner / 2e3
    return friction * thrust * 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)


def handle(q, mean, lead, flank, friction, collar, torque, *_same_as_a_pull):
    # By energy: what goes in at the handwheel in one turn is thrust × lead and what rubs away.
    # Thread on a flat ramp of slope l/(pi d), friction angle of the wedge; collar apart.
    ramp = np.arctan(lead / (np.pi * mean))
    rub = np.arctan(friction / np.cos(np.radians(flank)))
    return torque / (mean / 2e3 * np.tan(ramp + rub) + friction * collar / 2e3)


def lobed(q, angle, lobes, total):
    # A crest under the indicator lifts it by one; each face of the V, (180° − γ) away from it,
    # lifts the disc by its own height over 2 cos γ, γ between the face's normal and the middle.
    normal = np.radians(90 - angle / 2)
    face = np.cos(lobes * (np.pi - normal))
    return total / abs(1 + 2 * face / (2 * np.cos(normal)))


def held_factor(radius, hold, side, torque):
    """Return the factor to the limit curve, by SciPy's integrals for rings about a centre."""
    slope = side * radius / torque

    def miss(centre):
        force, turn = point("uniform", 0.0, centre)
        return force - slope * turn

    centre = brentq(miss, 1e-6, 50, xtol=1e-10)
    return point("uniform", 0.0, centre)[0] * hold / side


def faces(q, pad, thrust, friction, side, torque):
    return held_factor(pad / 2e3, friction * thrust, side, torque)


def thrust(q, pad, friction, side, torque, wanted):
    return wanted / held_factor(pad / 2e3, friction, side, torque)


def creep(q, pad, friction, thrust, stiffness, side, torque):
    needed = 1 / held_factor(pad / 2e3, friction, side, torque)
    return (thrust - needed) / (1e3 * stiffness)


def cut(q, side, _disc, depth, feed, *_):
    return 700 * depth * feed**0.75 * np.hypot(side / 2, side / 2) / 1e3


def rim(q, disc, thickness, pad, force):
    sheet = find_material("stainless_steel")
    poisson, stiffness = sheet.poisson_ratio, sheet.youngs_modulus.m_as("MPa")
    plate = stiffness * thickness**3 / 12 / (1 - poisson**2)
    waves = [exact_harmonic(n, pad / disc, poisson) for n in range(24)]
    # Far harmonics feel neither the clamp nor each other; each falls as 1/n³.
    rest = waves[-1] * sum((23 / n) ** 3 for n in range(24, 2000))
    return force * (disc / 2) ** 2 / plate * (sum(waves) + rest)


def life(q, designation, speed, axial, radial, *_):
    # Printed ratings (NSK, NTN) and f0 of the bearings; Y as catalogues tabulate it.
    rated = {
        6000: (4550, 1970, 12.4),
        6001: (5100, 2370, 13.0),
        6200: (5100, 2390, 13.2),
        6201: (6800, 3050, 12.3),
        6202: (7650, 3750, 13.2),
        6203: (9550, 4800, 13.2),
    }
    dynamic, static, factor = rated[int(designation)]
    ratios = [0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89]
    thrusts = [2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00]
    load = 0.56 * radial + np.interp(factor * axial / static, ratios, thrusts) * axial
    return (dynamic / load) ** 3 * 1e6 / (60 * speed)


def static(q, designation, axial, radial, *_):
    rated = {6000: 1970, 6001: 2370, 6002: 2830, 6200: 2390, 6201: 3050, 6202: 3750, 6203: 4800}
    return rated[int(designation)] / (0.6 * radial + 0.5 * axial)


def count(q, side, disc, depth):
    passes, radius = 0, np.hypot(side / 2, side / 2)
    while radius > disc / 2 + 1e-9:
        passes, radius = passes + 1, radius - depth
    return passes


def strikes(q, speed):
    corners = {"six": 6, "eight": 8, "twelve": 12}
    return next(n for word, n in corners.items() if word in q) * speed / 60


def speed(q, across, cutting, *machine):
    circumference = np.pi * across / 1e3
    return max(each for each in machine if each * circumference <= cutting)


def scale(q, *numbers):
    marks, forces, asked = numbers[0:8:2], numbers[1:8:2], numbers[8]
    return np.interp(asked, marks, forces)


def planes(q, near, size, _mark, far, grown, _again, end):
    return size + (grown - size) / (far - near) * (end - near)


def four(q, *numbers):
    _, first, _, second, _, third, _, fourth = numbers
    return abs(complex(first - third, second - fourth)) / 2


def seat(q, size, *_):
    upper, unit = re.search(r" to ([+−]?[0-9.]+) (µm|thou)", q).groups()
    return size + float(upper.replace("−", "-")) * {"µm": 1, "thou": INCH}[unit] / 1e3


def tilted(q, ring, span, ahead):
    # A straight line through one ring's high spot and the other's low one, read at the tip.
    return np.polyval(np.polyfit([0, span], [-ring, ring], 1), span + ahead)


def comma(q, *_):
    written, unit = re.search(r"([0-9]+,[0-9]+) (mm|in)", q).groups()
    return float(written.replace(",", ".")) * (INCH if unit == "in" else 1)


def pull(q, *_):
    weight, *pulls = (float(each) for each in re.findall(r"[0-9]+(?:\.[0-9]+)?", q))
    return np.mean(pulls) / weight  # in whatever unit both are


BY_HAND = {
    "l00-task-comma": ("mm", comma),
    "l00-task-scale": ("N", lambda q, kilograms, friction: friction * 9.80665 * kilograms),
    "l00-task-crank": ("N*m", lambda q, pull, diameter: pull * diameter / 2e3),
    "l01-task-gauge": ("mm", gauge),
    "l01-task-relief": ("N*m", relief),
    "l01-task-side": ("N", lambda q, thrust, friction: friction * thrust),
    "l01-task-handle": ("N", handle),
    "l01-task-identify": ("", identify),
    "l01-task-tape": ("N", lambda q, size, low, _typical: low * np.pi / 4 * size**2),
    "l01-task-pressure": ("MPa", lambda q, size, thrust: thrust / (np.pi / 4 * size**2)),
    "l01-task-scale": ("N", scale),
    "l02-task-torque": ("N*m", lambda q, pad, thrust, mu: mu * thrust * pad / 3e3),
    "l02-task-faces": ("", faces),
    "l02-task-thrust": ("N", thrust),
    "l02-task-creep": ("mm", creep),
    "l02-task-located": ("N", lambda q, thrust, pad, nose: thrust * (pad + nose)),
    "l02-task-low": ("", lambda q, typical, margin, low: margin * low / typical),
    "l02-task-stack": ("", lambda q, count, alone, pad, inside: alone * min(inside, pad) / pad),
    "l02-task-left": ("N", lambda q, thrust, stiff, back: thrust - 1e3 * stiff * back),
    "l03-task-mark": ("mm", lambda q, *n: n[-2] - 2 * n[-1]),
    "l03-task-corner": ("mm", lambda q, _disc, side: side / 2**0.5),
    "l03-task-pass": ("N*m", cut),
    "l03-task-rim": ("mm", rim),
    "l03-task-strikes": ("Hz", strikes),
    "l03-task-count": ("", count),
    "l03-task-speed": ("rev/min", speed),
    "l04-task-sleeve": ("N", lambda q, thrust, _side: thrust),
    "l04-task-drift": ("um", lambda q, *n: n[-2] / 2),
    "l04-task-life": ("h", life),
    "l04-task-ball": ("N", lambda q, thrust, _d, balls, lean: thrust / balls
                      / np.sin(np.radians(lean))),
    "l04-task-static": ("", static),
    "l04-task-preload": ("N", lambda q, _preload, thrust, left: thrust + left),
    "l05-task-tap": ("mm", lambda q, total: total / 2),
    "l05-task-knock": ("thou", lambda q, before, _m, after, _n: np.hypot(before, after) / 2),
    "l05-task-lever": ("mm", lambda q, total, lean: total / 2 * np.cos(np.radians(lean))),
    "l05-task-planes": ("um", planes),
    "l05-task-four": ("um", four),
    "l05-task-turned": ("um", lambda q, first, _mark, second, _again: (first - second) / 2),
    "l07-task-ring": ("mm", lambda q, known, shown, disc: disc / shown * known),
    "l07-task-quarter": ("um", lambda q, first, second: second + (first - second) / 2),
    "l07-task-thickness": ("mm", lambda q, thick, first, second: thick / first * second),
    "l07-task-speed": ("rev/min", lambda q, corners, rate: rate / corners * 60),
    "l08-task-seat": ("mm", seat),
    "l08-task-inches": ("inch", lambda q, *n: (n[0] + n[-1] / 1e3) / INCH),
    "l08-task-sleeve": ("mm", lambda q, span, front, rear: span - front / 2 - rear / 2),
    "l08-task-press": ("N", lambda q, _d, static, share, factor: static * share / factor),
    "l08-task-runout": ("um", tilted),
    "l06-task-pull": ("", pull),
    "l06-task-lobes": ("um", lobed),
    "l06-task-warm": ("um", lambda q, *said: 1e-3 * np.prod(said[-3:])),
    "l06-task-pressure": ("MPa", lambda q, outer, relief, thrust: thrust / (np.pi / 4)
                          / (outer**2 - relief**2)),
    "l06-task-chance": ("percent", lambda q, draws, *_: 384 / (draws + 3.84)),
}  # fmt: skip
# A lean is given to a tenth of a degree, printed gauges to 0.0001 in, a play to 0.01 µm, what is
# left of a preload to three figures, and of the harmonics of the rim the far ones are estimated.
ROUGHLY = {"l04-task-ball": 5e-3, "l01-task-gauge": 3e-3, "l04-task-drift": 2e-3,
           "l03-task-rim": 6e-4, "l04-task-preload": 1e-3, "l06-task-chance": 5e-4,
           "l06-task-warm": 1e-4}  # fmt: skip
NOT_NUMBERS = ("112 mm lid", "F{c}", "kc1.1", "m_c = 0.25", "N/mm²", "150 mm dust cover")


# What an inch unit is in the unit that the formulas above take (NIST SP 811, appendix B).
IN_METRIC = {
    "in": INCH, "lbf": 4.4482216152605, "lbf·in": 0.1129848290276, "psi": 6.894757293e-3,
    "lbf/in": 4.4482216152605 / INCH / 1e3, "ft/min": 0.3048, "lb": 0.45359237,
}  # fmt: skip
THOU = {"um": INCH, "thou": 1.0}  # in the unit of the answer; else in mm
AMOUNT = re.compile(
    r"(?<![\w.])(?P<whole>[0-9]+ )?(?P<number>[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)"
    r"(?: (?P<unit>lbf·in|lbf/in|lbf|lb|psi|ft/min|thou|in(?! the thread))(?![\w·/]))?"
)


def numbers_in(question, unit=""):
    """Return the numbers of a question in their order, without those that are only names.

    unit: of the answer. What is in inch is turned into the unit that the formula takes.
    """
    for words in NOT_NUMBERS:
        question = question.replace(words, "" if "dust" not in words else "0")
    question = re.sub(r"\b[GHF][678]\b", "", question)
    return [_metric(found, unit) for found in AMOUNT.finditer(question)]


def _metric(found, unit):
    over, _, under = found["number"].partition("/")
    number = float(over) / float(under or 1) + float(found["whole"] or 0)
    if found["unit"] == "thou":
        return number * THOU.get(unit, INCH / 1e3)
    return number * IN_METRIC.get(found["unit"], 1)
