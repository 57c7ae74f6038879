"""What should a nose show when it is checked on the bench, and what does a reading tell?

Four readings: how far the tip goes to and fro under thrust without any force (drift), how far a
known push moves it (give), the end play of the front bearing before it goes in, and the run-out of
the tip. Each should lie in a range that follows from the limits to which its parts were made.
"""

from dataclasses import dataclass, replace

from workshop_lib.bearings import (
    RADIAL_ONLY,
    clearance,
    fit_sources,
    needle_play,
    ring_play,
    ring_run_out,
    sources_at,
    tolerance,
    typical_inside,
)
from workshop_lib.load_path.design_tables import find_design
from workshop_lib.load_path.nose import nose_shift, play
from workshop_lib.quantities import Q_, InputError, boundary, in_system, resolution, show, to_core

GIVE_DOUBT = 0.3  # of the give, by which dial, spring balance and model may differ
DIAL = 2e-6  # m, that a dial indicator with a scale of a hundredth can tell
CHECKS = ("drift", "give", "end_play", "run_out")


@dataclass(frozen=True, eq=False)
class Expected:
    """What one check should show: the least and the most, and the middle where there is one.

    key: one of `CHECKS`. Lengths in µm; typical may be None. cited: keys of its sources.
    """

    key: str
    low: object
    typical: object
    high: object
    cited: str


@dataclass(frozen=True, eq=False)
class Finding:
    """What a reading tells. holds: "yes", "open" or "no". said: a sentence, with what to do."""

    expected: Expected
    measured: object
    holds: str
    said: str


def expected(design, thrust, push="20 N"):
    """What should the checks of this nose show? {key of `CHECKS`: `Expected`}.

    design: key or `Design`. thrust: force that presses during drift and give. push: force on the
    tip from the side. Raises InputError. A check that the design has nothing for is left out.

    Two 6001 in an H7 bore, whose play is 0 to 30 µm (bore 0 to +21, ring 0 to 9 below):
    >>> from workshop_lib.load_path import own_design
    >>> nose = own_design("pressure_nose", {"front": "6001", "rear": "6001"})
    >>> found = expected(nose, "300 N")["drift"]
    >>> print(found.low.round(1), found.typical.round(1), found.high.round(1))
    0.0 µm 15.0 µm 30.0 µm
    """
    design = find_design(design)
    thrust = to_core(thrust, "force", "thrust", "> 0")
    push = to_core(push, "force", "push", "> 0")
    three = [_at_limit(design, side) for side in ("low", None, "high")]
    cited = _of_plays(design)
    drift = sorted(2 * play.core(each, thrust) for each in three)
    give = sorted(nose_shift.core(each, thrust, push) for each in three)
    found = [_range("drift", *drift, cited), _range("give", *give, cited)]
    front = design.supports[0]
    if front.bearing.kind == "deep_groove":
        ends = [typical_inside(front.bearing, _um(_inside(front, side))).end_play.m_as("m")
                for side in ("low", None, "high")]  # fmt: skip
        found.append(_range("end_play", *ends, "iso-5753 inner-geometry-inferred"))
    rings = " ".join(dict.fromkeys(_run_out_sources(design)))
    run_out = _um(tip_run_out.core(design))
    found.append(Expected("run_out", _um(0.0), None, run_out, rings))
    return {each.key: each for each in found}


@boundary(returns="length", design=find_design)
def tip_run_out(design):
    """How much may the tip of a nose run out with ordinary bearings and true seats?

    K_front (1 + a/s) + K_rear a/s, with the run-out K of each inner ring, the overhang a and the
    span s: the worst case, in which the high spots of the two rings lie opposite one another.

    design: key or `Design`. Returns a length in mm, a total reading of the indicator. Raises
    InputError. Notes: two bearings that hold the spindle sideways are counted, the first and the
    last; with one such bearing, K of that one. Seats turned at one chucking add nothing.
    Source: ring-run-out, elementary-mechanics.

    Two 6202 (10 µm each), 25 mm in front, 32 mm apart: 10 + 20 × 25/32 µm.
    >>> print(tip_run_out("pressure_nose").to("um").round(2))
    25.62 µm
    """
    first, last = _held_at(design)
    ring = ring_run_out.core(first.bearing)
    if first is last:
        return ring
    lever = first.behind_tip / (last.behind_tip - first.behind_tip)
    return ring + lever * (ring + ring_run_out.core(last.bearing))


def _held_at(design):
    """The first and the last bearing that hold the spindle sideways."""
    held = [each for each in design.supports if each.bearing.kind != "thrust_ball"]
    return held[0], held[-1]


def _run_out_sources(design):
    for each in _held_at(design):
        if each.bearing.kind != "drawn_cup_needle":
            yield sources_at("ring_run_out", each.bearing.core.bore)


def look_at(design, thrust, push="20 N", **readings):
    """What do these readings of a nose tell? A `Finding` for each, in the order of `CHECKS`.

    design, thrust, push: as for `expected`. readings: lengths by the keys of `CHECKS`; those that
    are None are left out. Raises InputError.

    >>> from workshop_lib.load_path import own_design
    >>> nose = own_design("pressure_nose", {"front": "6001", "rear": "6001"})
    >>> [each.holds for each in look_at(nose, "300 N", drift="60 um", run_out="10 um")]
    ['no', 'yes']
    """
    design = find_design(design)
    wanted = expected(design, thrust, push)
    found = []
    for key in readings:
        if key not in CHECKS:
            raise InputError(key, "is not a check of a nose", f"Known: {', '.join(CHECKS)}")
    for key in CHECKS:
        if readings.get(key) is None or key not in wanted:
            continue
        size = float(to_core(readings[key], "length", key, ">= 0"))
        should = wanted[key]
        if key == "give" and readings.get("drift") is not None:
            drift = float(to_core(readings["drift"], "length", "drift", ">= 0"))
            should = _given(design, thrust, push, drift, should)
        found.append(Finding(should, _um(size), *_judged(should, size)))
    return found


def _given(design, thrust, push, drift, should):
    """What the give should be where the play in the bore is known by its drift."""
    if not any(each.radial == "sliding" for each in design.supports):
        return should
    loads = (to_core(thrust, "force", "thrust"), to_core(push, "force", "push"))
    middle = nose_shift.core(_with_play(design, drift), *loads)
    low, high = ((1 - GIVE_DOUBT) * middle, (1 + GIVE_DOUBT) * middle)
    return _range("give", low - DIAL, middle, high + DIAL, should.cited)


# What a reading beyond its range usually means: key -> (too small, too large).
_MEANS = {
    "drift": (
        "the bore is tighter than its class. Check by hand that the outer rings slide in it",
        "the bore is too large for its rings, or the thrust was not on. Measure the bore; if it is "
        "too large, fit a bush and bore it again",
    ),
    "give": (
        "friction is holding the rings still. Tap the nose lightly and read again",
        "something else is giving: the quill, the tailstock or the indicator's stand. Measure "
        "against the quill itself",
    ),
    "end_play": (
        "the seat squeezes the ring, or the bearing is of a tighter class (C2)",
        "the bearing is of a looser class (C3), or it is worn. Read the class on the ring",
    ),
    "run_out": (
        "",
        "a seat or its shoulder is not true, or there is dirt under a ring. Mark the high spot, "
        "take the nose apart, clean it, and turn the ring half a turn on its seat. Does the high "
        "spot move with it?",
    ),
}


def _judged(should, size):
    """Yes, open or no, and a sentence."""
    low, high = (each.m_as("m") for each in (should.low, should.high))
    small, large = _MEANS[should.key]
    if should.key == "drift" and size < DIAL and high > DIAL:
        return "open", (
            "there is hardly any play. Check by hand that the outer rings slide in their bore: if "
            "they stick, the thrust goes into its wall"
        )
    if resolution.more_than(size, high + DIAL):
        return "no", large
    if resolution.more_than(low - DIAL, size):
        return "open", small
    return "yes", "as it should be"


def _at_limit(design, side):
    """The design with the plays of its classes at their least or most; None: as it is."""
    if side is None:
        return design
    made = [replace(each, fit=_outside(each, side), clearance=_inside(each, side))
            for each in design.supports]  # fmt: skip
    return replace(design, supports=tuple(made), root=design.root or design)


def _with_play(design, drift):
    """The design with this play in every bore in which a ring slides."""
    made = [replace(each, fit=drift) if each.radial == "sliding" else each
            for each in design.supports]  # fmt: skip
    return replace(design, supports=tuple(made), root=design.root or design)


def _outside(support, side):
    """Play of the outer ring in its bore at the limit of its class, m; as measured without one."""
    if side is None or support.fit_class is None or support.radial != "sliding":
        return support.fit
    low, high = ring_play(support.bearing, tolerance(support.fit_class, "fit"))
    return max(low if side == "low" else high, 0.0)


def _inside(support, side):
    """Play inside the bearing at the limit of its class, m; as measured without one."""
    named = support.clearance_class
    if side is None or named is None:
        return support.clearance
    needles = support.bearing.kind == "drawn_cup_needle"
    found = needle_play(support.bearing, named) if needles else clearance(support.bearing, named)
    return (found.low if side == "low" else found.high).m_as("m")


def _of_plays(design):
    """Keys of the sources of the plays in a design."""
    keys = []
    for each in design.supports:
        if each.fit_class is not None and each.radial == "sliding":
            wanted = tolerance(each.fit_class, "fit")
            keys.append(fit_sources(wanted, each.bearing.core.outside_diameter, "bearing_outside"))
        if each.clearance_class is not None:
            needles = each.bearing.kind == "drawn_cup_needle"
            rollers = each.bearing.kind in RADIAL_ONLY
            keys.append("ntn-needle" if needles else "roller-clearance" if rollers else "iso-5753")
    return " ".join(dict.fromkeys(" ".join([*keys, "iso-16281"]).split()))


def _range(key, low, typical, high, cited):
    return Expected(key, *(_um(float(each)) for each in (low, typical, high)), cited)


def _um(length):
    return Q_(round(1e6 * length, 3), "um")


def in_words(should):
    """A range in words, in the units that are spoken: "0 to 30 µm, usually about 15 µm"."""
    low, high = (show(in_system(each), figures=2) for each in (should.low, should.high))
    if resolution.same(should.low.m, should.high.m):
        return f"about {high}" if should.high.m else "too small for a dial to show"
    words = f"at most {high}" if should.low.m_as("m") < DIAL / 4 else f"{low} to {high}"
    if should.typical is None:
        return words
    return f"{words}, usually about {show(in_system(should.typical), figures=2)}"
