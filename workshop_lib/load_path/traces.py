"""How do thrust and side force pass through a nose or centre, part by part, with what margin?"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.bearings import checks, one_case
from workshop_lib.load_path.design_tables import Design, find_design
from workshop_lib.load_path.nose import all_at_rest
from workshop_lib.load_path.shaft import LEAST, SHAFTS
from workshop_lib.load_path.sweeps import begin, spindle_of
from workshop_lib.materials import find_material as find_material
from workshop_lib.quantities import as_shown, boundary, show

BODY = "mild_steel"  # what spindle, sleeve and body are taken to be made of


@dataclass(frozen=True, eq=False)
class Element:
    """One part on or beside the path of the thrust.

    path: "thrust", "preload" or "beside" (off the path). how: "column", "face" or "bearing".
    axial: N through it. stress: MPa, mean over a column or a face, peak under the most loaded ball
    of a bearing. margin: how many times the load could grow by the check that governs.
    """

    name: str
    path: str
    how: str
    place: str | None
    role: str = field(repr=False)
    axial: object
    stress: object
    margin: float
    governs: str
    told: object = field(repr=False)  # gives the reason

    @property
    def reason(self):
        """Why that margin, in words."""
        return self.told()


@dataclass(frozen=True, eq=False)
class Reaction:
    """What one bearing is asked for by thrust and side force together.

    side: N in the direction of the side force. axial: N backwards. moment: N·m that its rings pass
    on. play: mm that the spindle can move sideways in it before it answers, bore and bearing
    together, without thrust. heaviest: N on its most loaded ball or roller.
    """

    place: str
    bearing: object
    role: str = field(repr=False)
    side: object
    axial: object
    moment: object
    play: object
    heaviest: object
    peak_pressure: object
    checks: tuple = field(repr=False)

    @property
    def margin(self):
        """The least of its checks."""
        return min((check.margin for check in self.checks), default=np.inf)


@dataclass(frozen=True, eq=False)
class Trace:
    """A design under one thrust and one side force, part by part."""

    design: Design
    thrust: object
    side_force: object
    elements: tuple = field(repr=False)
    reactions: tuple = field(repr=False)
    tip_shift: object
    play: object

    @property
    def path(self):
        """The elements that carry the thrust, in order from the tip."""
        return tuple(element for element in self.elements if element.path == "thrust")

    @property
    def weakest(self):
        """The element with the least margin."""
        return min(self.elements, key=lambda element: element.margin)

    def reaction(self, place):
        """The reaction of the bearing at a place such as "front"."""
        self.design.support(place)
        return next(each for each in self.reactions if each.place == place)


@boundary(
    side_force="force >= 0",
    shaft=SHAFTS,
    speed="speed > 0",
    design=find_design,
    thrust="force >= 0",
)
def trace(design, thrust, side_force="0 N", shaft="elastic", speed=None):
    """What does each part carry when thrust and side force act on the tip, and with what margin?

    Columns and faces: mean stress = axial load/area, against the yield strength of mild steel.
    Bearings: static safety, axial limit and the peak pressure under the most loaded ball.

    design: key or `Design`. thrust, side_force: one force each. shaft: "elastic" or "rigid".
    speed: adds the rating life to the bearings' checks, as shown in the reaction. Returns a
    `Trace` with `.elements` in order from the tip, `.path`, `.reactions`, `.tip_shift`, `.play`
    and `.weakest`. Raises InputError. Notes: see `nose_shift`. Source: iso-16281, skf-2018,
    typical-sizes.

    The rear bearing is beside the path: its balls feel none of the thrust.
    >>> found = trace("pressure_nose", "600 N")
    >>> print([f"{each.name}: {each.axial.round(6)}" for each in found.elements][2:])
    ['front bearing: 600.0 N', 'sleeve: 600.0 N', 'rear outer ring: 600.0 N', \
'floor of the bore: 600.0 N', 'rear bearing: 0.0 N']
    """
    one_case(thrust=thrust, side_force=side_force, speed=speed)
    forces = np.array([side_force, LEAST])
    start = begin(design, shaft, thrust, forces)
    loaded = spindle_of(design, shaft).solve(np.full(2, thrust), forces, start=start)
    all_at_rest(loaded)
    reactions = tuple(
        _reaction(support, loaded, number, speed) for number, support in enumerate(design.supports)
    )
    axial = {each.place: each.axial.m_as("N") for each in reactions} | {"applied": thrust}
    by_place = {each.place: each for each in reactions}
    return Trace(
        design=design,
        thrust=as_shown(thrust, "force"),
        side_force=as_shown(side_force, "force"),
        elements=tuple(_element(step, axial, by_place) for step in design.steps),
        reactions=reactions,
        tip_shift=as_shown(loaded.tip_shift[0 if side_force > LEAST else 1], "length"),
        play=as_shown(loaded.tip_shift[1].round(8), "length"),
    )


def _reaction(support, loaded, number, speed):
    """What is asked of one bearing, case 0 of a batch."""
    axial, radial, moment, heaviest, pressure = (
        float(np.round(getattr(loaded, name)[0, number], 6))
        for name in ("axial", "radial", "moment", "heaviest", "pressure")
    )
    pressure = pressure if heaviest else 0.0  # of a load that rounding has left, not of none
    found = checks(support.bearing, abs(axial), abs(radial), heaviest, pressure, speed)
    return Reaction(
        place=support.place,
        bearing=support.bearing,
        role=support.role,
        side=as_shown(radial, "force"),
        axial=as_shown(axial, "force"),
        moment=as_shown(moment, "torque"),
        play=as_shown((support.fit + support.clearance) / 2, "length"),
        heaviest=as_shown(heaviest, "force"),
        peak_pressure=as_shown(pressure, "pressure"),
        checks=found,
    )


def _element(step, axial, reactions):
    force = abs(sum(axial[place] for place in step.carries))
    if step.how == "bearing":
        return _bearing_element(step, reactions[step.carries[0]], force)
    area = np.pi / 4 * (step.outer**2 - step.inner**2)
    allowed = find_material(BODY).core.yield_strength
    stress = force / area
    margin = allowed / stress if stress else np.inf
    load, mean = as_shown(force, "force"), as_shown(stress, "pressure")

    def told():
        over, most = show(as_shown(area, "area")), show(as_shown(allowed, "pressure"))
        return f"{show(load)} over {over}: {show(mean)}; mild steel yields at {most}"

    found = load, mean, float(margin), "yield strength", told
    return Element(step.name, step.path, step.how, None, step.role, *found)


def _bearing_element(step, reaction, force):
    weakest = min(reaction.checks, key=lambda check: check.margin, default=None)
    load = as_shown(force, "force")

    def told():
        axial = f"{show(load)} passes through it" if force else "no axial load reaches it"
        return f"{axial}; {'nothing loads it' if weakest is None else weakest.reason}"

    return Element(
        step.name,
        step.path,
        step.how,
        reaction.place,
        step.role,
        axial=load,
        stress=reaction.peak_pressure,
        margin=float(reaction.margin),
        governs="nothing" if weakest is None else weakest.name,
        told=told,
    )
