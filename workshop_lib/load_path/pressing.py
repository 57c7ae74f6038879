"""How hard may a nose press?"""

import warnings

from workshop_lib.bearings import bearings
from workshop_lib.load_path.design_tables import find_design
from workshop_lib.load_path.traces import trace
from workshop_lib.quantities import (
    InputError,
    OutOfRangeWarning,
    boundary,
    quote,
    resolution,
    to_core,
)

ROUNDS, CLOSE = 40, 1e-6
FIRST = 200.0  # N, from which the search begins


def _plain_factor(value, name):
    spare = 1 + resolution.SAME  # for what rounding put beyond an end
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if number and 1 / spare <= value <= 10 * spare:
        return max(float(value), 1.0)
    raise InputError(name, f"{quote(value)} is not a factor from 1 to 10")


@boundary(returns="force", design=find_design, side_force="force >= 0", shock=_plain_factor)
def highest_thrust(design, side_force="0 N", shock=1.0):
    """How hard may this nose press before one of its parts has used up its margin?

    The thrust at which the least margin of `trace` is the shock factor: static safety and axial
    limit of its bearings, pressure under the most loaded ball, mean stress of its columns and
    faces.

    design: key or `Design`. side_force: force on the tip beside it. shock: plain factor from 1 to
    10 by which blows raise the load. Returns a force in N. Raises InputError. Notes: life is not
    looked at, see the reactions of `trace`. Source: skf-2018, iso-16281.

    A 6202 may take 0.5 × 3750 N along its axis, and the front bearing takes all of the thrust.
    >>> print(highest_thrust("pressure_nose").round(3))
    1875.0 N
    """
    force, low, high = FIRST, 0.0, None
    for _ in range(ROUNDS):
        with warnings.catch_warnings():  # of thrusts that are only tried
            warnings.simplefilter("ignore", OutOfRangeWarning)
            margin = float(trace.core(design, force, side_force).weakest.margin) / shock
        if abs(margin - 1) < CLOSE:
            return force
        low, high = (force, high) if margin > 1 else (low, force)
        aim = force * min(max(margin, 0.2), 5.0)
        inside = low < aim and (high is None or aim < high)
        force = aim if inside else (low + high) / 2
    return low


def stronger_bearing(design, thrust):
    """Which deep-groove bearing with the same bore lets this nose press so hard? Or None.

    The weakest that does, in every place that has a deep-groove bearing now. design: key or
    `Design`. thrust: force. Returns a designation. Raises InputError. Notes: the body has to be
    bored to its outside, and the places must leave it room.

    A quarter of C0 of a 6201 is 762 N, of a 6001 592 N:
    >>> from workshop_lib.load_path import own_design
    >>> stronger_bearing(own_design("pressure_nose", {"front": "6001", "rear": "6001"}), "700 N")
    '6201'
    """
    design = find_design(design)
    wanted = to_core(thrust, "force", "thrust", "> 0")
    places = [each for each in design.supports if each.bearing.kind == "deep_groove"]
    if not places:
        return None
    bore = places[0].bearing.core.bore
    rivals = [each for each in bearings("deep_groove") if resolution.same(each.core.bore, bore)]
    for each in sorted(rivals, key=lambda each: each.core.static_rating):
        try:
            other = design.changed(bearings={at.place: each.designation for at in places})
        except InputError:  # the places leave no room for it
            continue
        if resolution.at_least(highest_thrust.core(other, 0.0), wanted):
            return each.designation
    return None
