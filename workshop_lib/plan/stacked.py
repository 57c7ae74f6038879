"""What becomes of a job that squeezes several discs at once? Its faces, its cautions, its mends."""

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from workshop_lib.blank import speeds
from workshop_lib.materials import BARE, facing
from workshop_lib.own_files import as_typed
from workshop_lib.quantities import Quantity, resolution, times_over
from workshop_lib.slip import stack_margins

NO_LAYER = Quantity(0.0, "mm")


class Face(NamedTuple):
    """A face of a stack. number: 0 at the pad. cut, beyond: what share of the cut, and of all
    discs, has to pass it. margin: what it holds.
    """

    number: int
    cut: float
    beyond: float
    margin: float


def with_inner_faces(job, found):
    """The passes of a stack, their margins the least of all its faces."""
    core = found.core
    least = np.minimum(core.margin, _margins(job, core).min(axis=-1))
    return type(found)(replace(core, margin=least))


def _margins(job, core):
    """Margins of all faces at every pass, (passes, faces)."""
    count, cut = job.count, job["cut.kind"]
    discs = count if cut == "plunge" else 1
    side, turn = (core.side_force - core.unbalance) / discs, core.peak_torque / discs
    grips = job.friction.low, job.friction_between.low
    setup = job.pad, job.low_thrust.m_as("N"), *grips, count
    return stack_margins.core(*setup, side, turn, core.unbalance / count, cut)


def weakest_face(job, one):
    """The `Face` that slips first at one pass."""
    count = job.count
    if count == 1:
        return Face(0, 1.0, 1.0, float(one.margin))
    factors = _margins(job, job.passes.core)[one.number - 1]
    least = factors.min()
    number = next(at for at, each in enumerate(factors) if resolution.same(each, least))
    beyond = (count - number) / count
    return Face(number, beyond if job["cut.kind"] == "plunge" else 1.0, beyond, factors[number])


def at_weakest(job, one):
    """Friction, side force and torque of one pass at the face of the stack that slips first."""
    face = weakest_face(job, one)
    side = face.cut * (one.side_force - one.unbalance) + face.beyond * one.unbalance
    grip = job.friction_between if face.number else job.friction
    return grip, side, face.cut * one.peak_torque


def where_it_slips(job, one):
    """Which face of a stack decides, in words; nothing for a single disc."""
    if job.count == 1:
        return ""
    number = weakest_face(job, one).number
    return f"between discs {number} and {number + 1} from the pad" if number else "at the pad"


def layer(job):
    """What lies between the discs, in words."""
    between = job["disc.between"]
    if between in (None, BARE):
        return "sheet on sheet"
    thick = job["disc.between_thickness"]
    return f"{facing(between).name} between{'' if thick is None else f', {as_typed(thick)} thick'}"


def farther_out(job):
    """How much farther from the pad the outermost disc lies than the first."""
    return (job.count - 1) * (job.thickness + (job["disc.between_thickness"] or NO_LAYER))


def proposed(job, wanted, tried, margin_of):
    """Changes of a stack that hold: pairs of sentence and entries.

    tried: gives the job with other entries, or None. margin_of: its margin.
    """
    if job.count == 1:
        return
    for words, entries in _candidates(job):
        other = tried(job, entries, lambda other: margin_of(other) > margin_of(job))
        if other is None or resolution.same(margin_of(other), margin_of(job)):
            continue
        enough = resolution.at_least(margin_of(other), wanted)
        helps = "" if enough else ", which helps but is not enough"
        yield f"{words}{helps}: it holds {times_over(margin_of(other))} times the load.", entries
        if enough:
            return


def _candidates(job):
    if job["disc.between"] in (None, BARE):
        words = "Degrease the discs and lay clean card between them"
        yield words, {"disc.between": "card"}
    for count in range(job.count - 1, 0, -1):
        alone = {"disc.count": None, "disc.between": None, "disc.between_thickness": None}
        fewer = f"Squeeze {count} discs at once" if count > 1 else "Turn the discs one by one"
        yield fewer, {"disc.count": count} if count > 1 else alone


def remarks(job):
    """What the sums of a stack take for granted, in sentences."""
    if job.count == 1:
        return
    if job["disc.between"] is None:
        yield "What is between the discs is not given, so sheet on sheet is assumed."
    yield (
        "The faces between the discs are assumed to press all over. Only flat blanks without a "
        "burr do that: deburr, lay each on a flat plate, and leave out what rocks."
    )
    yield (
        "The rim is judged as that of a single disc, since the outermost has nothing beside it. A "
        "scrap disc at each end of the stack, turned down with it, takes the burr and the bend."
    )
    if job["disc.between"] not in (None, BARE) and job["disc.between_thickness"] is None:
        yield "The layers' thickness is not given: the stack tips sooner than calculated here."


def cautions(job):
    """What a stack adds to the cautions: `speeds.Caution`s."""
    count = job.count
    if count == 1:
        return ()
    throws = (
        f"This squeeze holds {count} discs. If it slips inside, the outer discs are thrown, and "
        "the nose does not hold them. Close the guard, stand out of line with the discs, and stop "
        "at the first squeal or step in the edge."
    )
    sharp = (
        f"A stack has {2 * count} sharp edges, and burrs keep its faces apart. Deburr and "
        "degrease every blank before you stack it. Never touch the edge while the spindle turns."
    )
    named = ("stack", throws), ("edges", sharp)
    return tuple(speeds.Caution(key, count, 1, words, "common-practice") for key, words in named)
