"""What touches the rings of a nose, and which steps does the load take? Shoulder, sleeve, floor.

Where a size is not said it follows from the bearing: a shoulder that presses on the inner ring
alone, a sleeve that presses on the outer rings alone. A size that would press on the wrong ring is
refused: the nose would not turn.
"""

from dataclasses import dataclass, replace

from workshop_lib.bearings import RADIAL_ONLY
from workshop_lib.load_path.design_parts import single
from workshop_lib.quantities import InputError, as_shown, quote, show, to_core
from workshop_lib.sources import choose

LAND = 0.6  # of a ball, by which rings end short of the pitch circle (typical, from memory)
EDGE = 0.4e-3  # m of a ring's corner that is rounded and does not press


@dataclass(frozen=True)
class Rings:
    """Where a bearing's rings end, m: the inner ring's outside, the outer ring's inside."""

    bore: float
    inner: float
    outer: float
    outside: float

    @classmethod
    def of(cls, bearing):
        """Rings of a bearing, as the size of its balls leaves them."""
        inside, core = bearing.inside, bearing.core
        reach = LAND * inside.element_diameter
        if bearing.kind == "thrust_ball" or bearing.kind in RADIAL_ONLY:
            reach = inside.element_diameter / 2
        inner = max(inside.pitch_diameter - reach, core.bore + 2 * EDGE)
        outer = min(inside.pitch_diameter + reach, core.outside_diameter - 2 * EDGE)
        return cls(core.bore, inner, outer, core.outside_diameter)


@dataclass(frozen=True)
class Faces:
    """Diameters of what presses on the rings, m.

    shoulder: of the spindle's shoulder on the pushed inner ring (or shaft washer). sleeve_inner,
    sleeve_outer: of the sleeve between the outer rings. floor: of the hole in the floor of the
    bore, on which the last outer ring rests.
    """

    shoulder: float
    sleeve_inner: float
    sleeve_outer: float
    floor: float

    @classmethod
    def of(cls, key, supports, given):
        """The faces as typed, the rest from the bearings; refuse what would not work."""
        names = ("shoulder", "floor") if key != "pressure_nose" else tuple(cls.__annotations__)
        if given is not None and not isinstance(given, dict):
            raise InputError(
                "faces", f"{quote(given)} does not say which face", f"Known: {', '.join(names)}"
            )
        for name in given or ():
            choose(name, names, f"faces.{quote(name)[1:-1]}", "face of this design")
        sizes = {
            name: float(single(to_core(value, "length", f"faces.{name}", "> 0"), f"faces.{name}"))
            for name, value in (given or {}).items()
        }
        if key == "pressure_nose":
            return _of_nose(cls, supports, sizes)
        return _of_centre(cls, supports, sizes)


def pushed_first(supports):
    """The first support whose inner ring or shaft washer the spindle pushes back."""
    return next(each for each in supports if each.axial == "rearward")


def _of_nose(cls, supports, sizes):
    front, rear = (Rings.of(each.bearing) for each in (supports[0], supports[-1]))
    on = Rings.of(pushed_first(supports).bearing)
    shoulder = sizes.get("shoulder", on.bore + 0.75 * (on.inner - on.bore))
    _presses(shoulder, "shoulder", on.bore + 2 * EDGE, on.outer, "inner")
    inner, outer = max(front.outer, rear.outer), min(front.outside, rear.outside)
    if outer - inner < 2 * EDGE:
        problem = "no straight sleeve can press on both outer rings"
        raise InputError("bearings", problem, "Choose bearings of about the same outside diameter")
    tube = sizes.get("sleeve_inner", inner + 0.2 * (outer - inner))
    wall = sizes.get("sleeve_outer", outer - 0.2e-3)
    if tube <= max(front.inner, rear.inner):
        problem = f"{_mm(tube)} would rub on the inner rings, which turn"
        raise InputError("faces.sleeve_inner", problem, f"Bore it {_mm(inner)} or more")
    if tube > outer - 2 * EDGE:
        problem = f"{_mm(tube)} leaves nothing to press on the outer rings"
        raise InputError("faces.sleeve_inner", problem, f"Bore it {_mm(inner)} or a little more")
    if not tube < wall <= min(front.outside, rear.outside):
        problem = f"{_mm(wall)} must be between the sleeve's bore and {_mm(outer)}, the rings' "
        raise InputError("faces.sleeve_outer", f"{problem}outside")
    floor = sizes.get("floor", rear.outer + 0.1 * (rear.outside - rear.outer))
    _rests(floor, rear)
    return cls(shoulder, tube, wall, floor)


def _of_centre(cls, supports, sizes):
    on = Rings.of(next(each.bearing for each in supports if each.place == "thrust"))
    shoulder = sizes.get("shoulder", on.bore + 0.75 * (on.inner - on.bore) + 2 * EDGE)
    _presses(shoulder, "shoulder", on.bore + 2 * EDGE, on.outside, "turning")
    floor = sizes.get("floor", (on.inner + on.outer) / 2)
    _rests(floor, on)
    return cls(shoulder, 0.0, 0.0, floor)


def _presses(size, name, least, most, ring):
    if size < least:
        problem = f"{_mm(size)} is hardly larger than the bore, so it would push nothing"
        raise InputError(f"faces.{name}", problem, f"Make it {_mm(least)} or more")
    if size >= most:
        problem = f"{_mm(size)} would press on the standing ring as well as on the {ring} one, and "
        problem += "hold the nose fast"
        raise InputError(f"faces.{name}", problem, f"Make it less than {_mm(most)}")


def _rests(floor, rings):
    if floor <= rings.bore or floor > rings.outside - 2 * EDGE:
        problem = (
            f"a hole of {_mm(floor)} leaves nothing for the outer ring to rest on, or touches "
        )
        problem += "what turns"
        mend = f"Bore it about {_mm((rings.outer + rings.outside) / 2 - EDGE)}"
        raise InputError("faces.floor", problem, mend)


def _mm(length):
    return show(as_shown(length, "length"))


def steps_of(pattern, supports, faces, pushed):
    """The pattern's steps with the diameters of these bearings and faces."""
    rings = {each.place: Rings.of(each.bearing) for each in supports}
    made = []
    for step in pattern.steps:
        sizes = _sizes(step, supports, rings, faces)
        step = step if sizes is None else replace(step, inner=sizes[0], outer=sizes[1])
        made.append(_for_pushed(step, pushed) if pattern.key == "pressure_nose" else step)
    order = ("floor of the bore",) if pushed == "rear" else ()  # the last of its way
    return tuple(sorted(made, key=lambda each: (each.path != "thrust", each.name in order)))


def _sizes(step, supports, rings, faces):
    """Inner and outer diameter of a column or a face, m; None for a bearing."""
    last = rings.get("rear", rings.get("thrust"))
    pushed = Rings.of(pushed_first(supports).bearing)
    return {
        "nose spindle": (0.0, max(faces.shoulder, 0.0)),
        "spindle": (0.0, pushed.bore),
        "rotating shoulder": (pushed.bore + EDGE, min(faces.shoulder, pushed.inner)),
        "shoulder on the shaft washer": (pushed.bore + EDGE, faces.shoulder),
        "sleeve": (faces.sleeve_inner, faces.sleeve_outer),
        "rear outer ring": (last.outer, last.outside),
        "floor of the bore": (faces.floor, last.outside - EDGE),
        "screwed cap": (rings["front"].outer, rings["front"].outside - EDGE),
        "front shoulder": (rings["front"].bore + EDGE, rings["front"].inner),
    }.get(step.name)


# What changes where the thrust enters by the rear inner ring: step -> path, what passes through it.
_BY_REAR = {
    "rotating shoulder": ("thrust", ("rear",)),
    "rear bearing": ("thrust", ("rear",)),
    "front bearing": ("beside", ("front",)),
    "sleeve": ("beside", ()),
    "rear outer ring": ("beside", ()),
}


def _for_pushed(step, pushed):
    if pushed == "rear" and step.name in _BY_REAR:
        path, carries = _BY_REAR[step.name]
        return replace(step, path=path, carries=carries)
    return step
