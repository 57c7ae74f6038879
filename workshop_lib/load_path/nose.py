"""How far does the tip of a pressure nose or a centre move sideways, and what springs back?

The spindle on its bearings is asked as one system (see `shaft`), so that no bearing's share of a
load is assumed.
"""

import numpy as np

from workshop_lib.bearings import NoRest, look_at_pressure
from workshop_lib.load_path.design_tables import find_design
from workshop_lib.load_path.shaft import LEAST, SHAFTS
from workshop_lib.load_path.sweeps import begin, spindle_of
from workshop_lib.quantities import InputError, boundary

_LOAD = {"design": find_design, "thrust": "force >= 0"}


def solved(design, shaft, thrust, side_force=None, shift=None):
    """Rest of a design under loads that broadcast, flattened; returns (`Loaded`, shape)."""
    second = side_force if shift is None else shift
    shape = np.broadcast_shapes(np.shape(thrust), np.shape(second))
    thrusts, second = (np.broadcast_to(v, shape).ravel().astype(float) for v in (thrust, second))
    name = "side_force" if shift is None else "shift"
    second = second if name == "shift" else np.maximum(second, LEAST)
    start = None
    if np.ndim(thrust) == 0:
        start = begin(design, shaft, thrust, **{f"{name}s": second})
    found = spindle_of(design, shaft).solve(thrusts, **{name: second}, start=start)
    return found, shape


def all_at_rest(loaded):
    """Raise `NoRest` unless every case of a `Loaded` has settled; look at its peak pressures."""
    lost = np.count_nonzero(~loaded.converged)
    if lost:
        problem = f"no balance of forces was found for {lost} of {loaded.converged.size} load cases"
        raise NoRest("side_force", problem, "The load may be far beyond what the bearings carry")
    look_at_pressure(loaded.pressure, "side_force", stacklevel=5)


@boundary(returns="length", side_force="force >= 0", shaft=SHAFTS, **_LOAD)
def nose_shift(design, thrust, side_force, shaft="elastic"):
    """How far sideways does the tip move under a side force, play and spring together?

    The spindle rests where the energy of all ball and roller contacts (Hertz), of its own bending
    (E I v'''' = 0 between the bearings) and of the loads is least; rings that slide in a bore
    first take up their play.

    design: key or `Design`. thrust: force backwards on the tip; it closes the play of a bearing
    that it passes through. side_force: force square to it at the tip; at 0 N the play that the tip
    can drift in without any force. shaft: "elastic", or "rigid" to see what the bearings do alone.
    Forces broadcast together. Returns a length in mm. Raises InputError; warns once where a contact
    is pressed above 4200 MPa. Notes: counted from the middle of the play; rigid body, bore and
    sleeve, whose faces keep the rings square; friction on the face of a ring that the thrust
    presses counts only if the design has a `ring_friction`, since shaking lets a ring creep; the
    shear of a short spindle and the thrust's own lever on a tip that has moved sideways (about a
    hundredth of the side force's) are left out; sizes of the design are typical ones.
    Source: iso-16281, euler-bernoulli, typical-sizes.

    A fit of 18 µm lets the outer ring, and with it the tip, move 9 µm sideways before anything
    holds.
    >>> print(nose_shift("pressure_nose", "600 N", "0 N").round(3))
    0.009 mm
    """
    loaded, shape = solved(design, shaft, thrust, side_force)
    all_at_rest(loaded)
    return loaded.tip_shift.reshape(shape)[()]


@boundary(returns="length", shaft=SHAFTS, **_LOAD)
def play(design, thrust, shaft="elastic"):
    """How far to each side can the tip drift before its bearings answer at all?

    `nose_shift` at a side force of nothing.

    design: key or `Design`. thrust: force. shaft: "elastic" or "rigid". Returns a length in mm.
    Raises InputError. Source: see `nose_shift`; typical-sizes.

    Without thrust the spindle also rocks in the clearance of its bearings.
    >>> print(play("pressure_nose", "0 N").round(3), play("pressure_nose", "600 N").round(3))
    0.037 mm 0.009 mm
    """
    return np.round(nose_shift.core(design, thrust, 0.0, shaft), 8)  # to 10 nm: see LEAST


@boundary(returns="force", shift="length >= 0", shaft=SHAFTS, **_LOAD)
def side_held(design, thrust, shift, shaft="elastic"):
    """What side force does the tip give back when it is pushed that far sideways?

    The inverse of `nose_shift`: nothing while the shift lies within the play.

    design: key or `Design`. thrust: force. shift: length to one side. shaft: "elastic" or "rigid".
    Forces and lengths broadcast together. Returns a force in N. Raises InputError. Notes: this is
    what a nose adds to the hold on a disc that has crept so far; while it is nothing, the nose
    counts as "floating" in `slip.margin`. Source: see `nose_shift`; typical-sizes.

    The play of the example in `nose_shift` is 0.009 mm.
    >>> print(side_held("pressure_nose", "600 N", "0.005 mm"))
    0.0 N
    """
    loaded, shape = solved(design, shaft, thrust, shift=shift)
    all_at_rest(loaded)
    held = np.where(loaded.push > LEAST, loaded.push, 0.0)
    return held.reshape(shape)[()]


@boundary(returns="force", design=find_design)
def unloading_thrust(design):
    """At what thrust does the front bearing of a preloaded centre run loose?

    Thrust presses the spindle onto the thrust bearing and draws it away from the front one; when
    it has gone back by all that the preload had squeezed the front bearing, nothing is left there.

    design: key or `Design`, one with a preload. Returns a force in N. Raises InputError. Notes: no
    side force; rigid cap, body and spindle. Source: iso-16281, typical-sizes.

    Two bearings alike lose a preload P at 2^(3/2) P = 2.83 P; a slanted bearing gives more than a
    thrust bearing does, and so it lasts longer.
    >>> preload = find_design("preloaded_centre").preload
    >>> unloading_thrust("preloaded_centre").m_as("N") > 2.83 * preload
    True
    """
    if not any(each.axial == "forward" for each in design.supports):
        raise InputError("design", f"the {design.name} has no preload to lose")
    pieces = spindle_of(design).pieces
    back = min(piece.offset[0] for piece in pieces if piece.way < 0)
    force = 0.0
    for piece in pieces:
        if piece.support.axial == "rearward":
            shift = piece.offset + np.array([back, 0.0, 0.0])
            force += piece.contacts.energy(shift[None], np.zeros(1, int))[1][0, 0]
    return float(force)
