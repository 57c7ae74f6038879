"""What is a bearing good for that is in no table? From its printed sizes and ratings.

A maker prints bore, outside, width and two ratings, and nothing of what is inside. The two ratings
follow from ball count, ball size and pitch; so the set of balls that gives both back is looked for,
among what has room between the rings.
"""

import numpy as np

from workshop_lib.bearings.bearing_tables import (
    BALL_KINDS,
    Bare,
    Bearing,
    Inside,
    Rating,
    catalogue,
)
from workshop_lib.bearings.ratings import f0_factor, fc_factor
from workshop_lib.quantities import InputError, as_shown, quote, show, to_core
from workshop_lib.sources import choose

TYPED = "typed-by-user"  # source key of what a user read off a box or a maker's page
LIGHT = 0  # diameter series that is supposed where none is given: the lower axial limit
ANGLES = {"deep_groove": 0.0, "angular_contact": np.radians(40.0), "thrust_ball": np.pi / 2}
FITS_WITHIN = 0.1  # share by which both ratings may miss; beyond it a figure was misread
BALLS = np.arange(6, 17)
PITCHES = np.linspace(-0.03, 0.06, 10)  # of the mean diameter, by which the pitch may differ
FULLEST = {"deep_groove": 0.72, "angular_contact": 0.95, "thrust_ball": 1.0}  # of the pitch circle
THICKEST = 0.36  # ball over the room between bore and outside
SIZES = ("bore", "outside_diameter", "width")
RATINGS = ("dynamic_rating", "static_rating")


def own_bearing(kind, bore, outside_diameter, width, dynamic_rating, static_rating, name="bearing"):
    """The bearing of these printed sizes and ratings, with the inside that they speak for.

    kind: "deep_groove", "angular_contact" (40°) or "thrust_ball". bore, outside_diameter, width:
    lengths. dynamic_rating, static_rating: C and C0, forces. name: what to call it in a refusal.
    Returns a `Bearing`; its axial limit is the lower one, 0.25 C0, since its series is not known.
    Raises InputError, also where no set of balls gives both ratings within a tenth: a figure was
    misread then.

    The ratings that are printed for a 6202 are those of eight balls of about 6 mm.
    >>> found = own_bearing("deep_groove", "15 mm", "35 mm", "11 mm", "7650 N", "3750 N")
    >>> found.inside.elements, round(1e3 * found.inside.element_diameter, 1)
    (8, 6.0)
    """
    choose(kind, BALL_KINDS, f"{name}.kind", "kind of ball bearing")
    given = dict(zip(SIZES, (bore, outside_diameter, width), strict=True))
    sizes = {key: _one(value, "length", f"{name}.{key}") for key, value in given.items()}
    given = dict(zip(RATINGS, (dynamic_rating, static_rating), strict=True))
    rated = {key: _one(value, "force", f"{name}.{key}") for key, value in given.items()}
    if sizes["bore"] >= sizes["outside_diameter"]:
        raise InputError(f"{name}.bore", "must be smaller than the outside diameter")
    inside = _likely(kind, sizes, *rated.values(), name)
    lean = inside.element_diameter * np.cos(inside.contact_angle) / inside.pitch_diameter
    core = Bare(
        **sizes,
        **rated,
        f0=float(f0_factor(np.array([lean]))[0]) if kind == "deep_groove" else None,
        diameter_series=LIGHT,
        minimum_load=_least_load(rated["static_rating"]) if kind == "thrust_ball" else None,
    )
    rating = Rating(*rated.values(), TYPED)
    written = "own " + " × ".join(
        show(as_shown(sizes[key], "length"), figures=4) for key in SIZES[:2]
    )
    return Bearing(
        designation=written,
        kind=kind,
        core=core,
        rating=rating,
        ratings=(rating,),
        inside=inside,
        source=TYPED,
        inside_source="inner-geometry-inferred",
        note="Typed in; what is inside was inferred from its ratings.",
    )


def _one(value, kind, name):
    if np.ndim(getattr(value, "magnitude", value)):
        raise InputError(name, "must be a single value")
    return float(to_core(value, kind, name, "> 0"))


def _least_load(static):
    """Minimum load of a thrust ball bearing at 1000 rev/min, N.

    5.1e-9 C0² with both in N: within 5 % of what skf-2018 prints for five sizes.
    """
    return 5.1e-9 * static**2


def _rated(kind, balls, ball, pitch):
    """C and C0 in N of sets of balls, by the formulas of `ratings`; lengths in m."""
    angle = ANGLES[kind]
    if kind == "thrust_ball":
        return None, float(f0_factor(np.zeros(1), thrust=True)[0]) * balls * (1e3 * ball) ** 2
    lean = ball * np.cos(angle) / pitch
    static = f0_factor(lean) * balls * (1e3 * ball) ** 2 * np.cos(angle)
    size = (1e3 * ball) ** 1.8 * balls ** (2 / 3) * np.cos(angle) ** 0.7
    return 1.3 * fc_factor(lean) * size, static


def _likely(kind, sizes, dynamic, static, name):
    """The set of balls that gives the ratings back best."""
    room = sizes["outside_diameter"] - sizes["bore"]
    mean = (sizes["outside_diameter"] + sizes["bore"]) / 2
    balls, pitch, ball = np.meshgrid(
        BALLS, mean * (1 + PITCHES), np.linspace(0.12, THICKEST, 97) * room, indexing="ij"
    )
    fits = balls * ball < FULLEST[kind] * np.pi * pitch
    found = _rated(kind, balls, ball, pitch)
    miss = np.abs(found[1] / static - 1)
    if found[0] is not None:
        miss = np.maximum(miss, np.abs(found[0] / dynamic - 1))
    miss = np.where(fits, miss, np.inf)
    best = np.unravel_index(np.argmin(miss), miss.shape)
    if not miss[best] <= FITS_WITHIN:
        problem = f"no balls that go between {_mm(sizes['bore'])} and "
        problem += f"{_mm(sizes['outside_diameter'])} give both of these ratings"
        mend = "Look them up again: C and C0 of one bearing, from its maker's page"
        raise InputError(f"{name}.static_rating", problem, mend)
    return Inside(int(balls[best]), float(ball[best]), float(pitch[best]), None, ANGLES[kind])


def _mm(length):
    return show(as_shown(length, "length"))


def bearing_of(value, name="bearing"):
    """The bearing of a designation, a `Bearing`, or a mapping of typed sizes and ratings."""
    if not isinstance(value, dict):
        return catalogue(value, name)
    known = ("kind", *SIZES, *RATINGS)
    for key in value:
        choose(key, known, f"{name}.{quote(key)[1:-1]}", "entry of a bearing")
    for key in known:
        if key not in value:
            raise InputError(f"{name}.{key}", "is missing", "It is printed on the maker's page")
    return own_bearing(**value, name=name)
