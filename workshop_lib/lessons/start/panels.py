"""Which panel does lesson 00 have? Type a quantity and read it in other units."""

from workshop_lib.drawings import page
from workshop_lib.drawings.setup_drawings import section
from workshop_lib.friction import Pad
from workshop_lib.quantities import Q_, show
from workshop_lib.teaching.fields import Field
from workshop_lib.teaching.panels import Scene, View

OTHERS = {
    "length": ("mm", "inch", "thou"),
    "force": ("N", "lbf", "kgf"),
    "torque": ("N*m", "lbf*ft", "lbf*inch"),
    "speed": ("rev/min", "rad/s"),
}


def first_look():
    """The set-up that all lessons are about, cut along the axis."""
    sizes = Pad("60 mm"), Q_(78, "mm"), Q_(0.635, "mm"), Q_(800, "N")
    return section(*sizes).figure(
        "On the left the spindle with the driving pad, on the right the tailstock with the nose, "
        "and the disc between them."
    )


def units_scene():
    """Type a length, a force, a torque and a speed in any unit."""
    fields = [
        Field("length", "A length", "length > 0", "30 mm", slider=(1, 200, 1)),
        Field("force", "A force", "force >= 0", "600 N", slider=(0, 2500, 10)),
        Field("torque", "A torque", "torque >= 0", "1.2 N m", slider=(0, 20, 0.1)),
        Field("speed", "A speed of turning", "speed >= 0", "250 rev/min", slider=(0, 3000, 10)),
    ]
    return Scene("How do I type a quantity?", fields, _judge_units)


def _judge_units(**quantities):
    rows = [
        [kind, " = ".join(show(q, unit, figures=4) for unit in OTHERS[kind])]
        for kind, q in quantities.items()
    ]
    first = quantities["length"]
    other = "inch" if str(first.units) == "mm" else "mm"  # not the words that were typed
    words = f"{show(first, figures=4)} is {show(first, other, figures=4)}"
    return View(words, details=[page.table(rows, ["Kind", "The same in other units"])])
