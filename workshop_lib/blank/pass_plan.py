"""What does each pass from corners to disc ask of the hold, and how few passes will do?"""

import numpy as np

from workshop_lib.blank.blank_turned import place
from workshop_lib.blank.roughing import EQUAL, THINNEST, Roughing
from workshop_lib.blank.shape import Blank
from workshop_lib.blank.turning import Turning
from workshop_lib.quantities import InputError, as_shown, boundary, one_value, show

MOST_PASSES = 500


_JOB = {
    "blank": Blank,
    "disc_diameter": "length > 0",
    "turning": Turning,
    "centre": place,
}


@boundary(depth_of_cut="length > 0", finishing_depth="length > 0", **_JOB)
def passes(blank, disc_diameter, depth_of_cut, turning, centre=None, finishing_depth=None):
    """What does each pass ask of the hold on the way from the corners to the disc?

    The first pass starts at the corner radius R_c; the tool radius falls by depth_of_cut until the
    disc is reached, the last pass taking the rest. At the outer radius R of a pass, where a corner
    strikes: torque Fc R, side force Fc sqrt(1 + s²) + U, with the cutting force Fc of the peak
    depth, the radial share s and the unbalance U of what is left of the blank.

    blank: `Blank`. disc_diameter: of the finished disc. depth_of_cut: off the radius; one depth, or
    an array with one for each pass, which together must reach the disc. turning: `Turning`. centre:
    (x, y) in the blank; None: that of the largest disc. finishing_depth: of a last, lighter pass.
    Returns `Passes`; `.worst` is the one with the least margin. Raises InputError, also for a disc
    that does not fit. Notes: a steady force, not the blow of the corner as it meets the tool; the
    torque is up to depth/radius too high, since the mean of the chip lies farther in. A row of a
    plunge cut tells of its last turn, with its force at its first.
    Source: argatov-2005 for the hold; the material's row for the cutting force.

    By hand: an 80 mm square has its corners at 56.57 mm; (56.57 − 39) / 2 is 8.8, so 9 passes.
    >>> from workshop_lib.friction import Pad
    >>> hold = {"pad": Pad("60 mm"), "thrust": "600 N", "friction_coefficient": 0.3}
    >>> cut = {"feed": "0.05 mm", "speed": "80 rev/min", "radial_share": 0.5}
    >>> turning = Turning("aluminium", "1 mm", **cut, **hold)
    >>> found = passes(Blank.square("80 mm"), "78 mm", "2 mm", turning)
    >>> print(len(found), found.worst.number, found.worst.strikes, found.worst.peak_depth.round(6))
    9 1 4 2.0 mm
    """
    one_value(finishing_depth=finishing_depth)
    job = Roughing(blank, disc_diameter, turning, centre)
    rough = _rough_radius(job, finishing_depth)
    if np.ndim(depth_of_cut):
        radii = _by_list(job, depth_of_cut, rough)
    else:
        count = max(int(np.ceil((job.corner - rough) / depth_of_cut * (1 - EQUAL))), 1)
        _refuse_many(count, "depth_of_cut")
        radii = [*(job.corner - depth_of_cut * np.arange(count)), rough]
    return job.passes(radii if finishing_depth is None else [*radii, job.radius])


def _rough_radius(job, finishing_depth):
    """Radius at which roughing ends, m."""
    rough = job.radius if finishing_depth is None else job.radius + finishing_depth
    if rough >= job.corner * (1 - EQUAL):
        problem = "the finishing pass would take off everything that is left"
        raise InputError("finishing_depth", problem, "Leave it out, or make it smaller")
    return rough


def _by_list(job, depths, rough):
    """Radii for a list of depths, the last of them cut short at the disc."""
    if depths.ndim != 1:
        raise InputError("depth_of_cut", "give one depth, or one list of depths")
    _refuse_many(len(depths), "depth_of_cut")
    radii = job.corner - np.cumsum(depths)
    beyond = radii <= rough * (1 + EQUAL)
    if not beyond[-1] or beyond[:-1].any():
        total = show(as_shown(job.corner - rough, "length"), figures=4)
        problem = f"{len(depths)} depths do not end at the disc, {total} inside the corners"
        raise InputError("depth_of_cut", problem)
    return [job.corner, *radii[:-1], rough]


def _refuse_many(count, name):
    if count > MOST_PASSES:
        raise InputError(
            name,
            f"it would take {count} passes",
            f"Give a deeper cut: the workbook plans at most {MOST_PASSES}",
        )


@boundary(returns="length", margin="ratio > 0", **_JOB)
def largest_first_depth(blank, disc_diameter, turning, margin, centre=None):
    """How deep may the first pass be, at the corners, and still hold with a wanted margin?

    blank, disc_diameter, turning, centre: as for `passes`. margin: plain number. Returns a depth
    off the radius in mm: at most what reaches the disc, 0 where no cut holds. Raises InputError.
    Notes: see `passes`; found to a billionth. Source: argatov-2005.

    By hand, torque alone: 0.3 × 600 N × 20 mm = 3.6 N·m; with a margin of 2, at a corner 56.57 mm
    out, Fc = 31.8 N and the depth 0.43 mm. Its side force takes a tenth of that.
    >>> from workshop_lib.friction import Pad
    >>> hold = {"pad": Pad("60 mm"), "thrust": "600 N", "friction_coefficient": 0.3}
    >>> cut = {"feed": "0.05 mm", "speed": "80 rev/min", "radial_share": 0.5}
    >>> turning = Turning("aluminium", "1 mm", **cut, **hold)
    >>> depth = largest_first_depth(Blank.square("80 mm"), "78 mm", turning, margin=2)
    >>> print(depth.round(3))
    0.388 mm
    """
    one_value(margin=margin)
    job = Roughing(blank, disc_diameter, turning, centre)
    return job.deepest(job.corner, job.corner - job.radius, margin)


@boundary(
    margin="ratio > 0",
    deepest="length > 0",
    finishing_depth="length > 0",
    step="length > 0",
    **_JOB,
)
def schedule(
    blank,
    disc_diameter,
    turning,
    margin,
    deepest=None,
    finishing_depth=None,
    step=None,
    centre=None,
):
    """Which are the fewest passes that keep a wanted margin from the corners to the disc?

    Each pass goes as deep as the margin allows. That is the fewest, since a pass that begins
    farther in never loads the hold more than one that begins farther out and ends as deep.

    blank, disc_diameter, turning, centre: as for `passes`. margin: plain number. deepest: no pass
    takes more off the radius. finishing_depth: of the last pass. step: depths are whole steps of
    this, such as the cross slide's graduation, but for the last roughing pass; None: any depth.
    Returns `Passes`. Raises InputError, also where no pass keeps the margin, with the radius.
    Notes: see `passes`. Source: argatov-2005.

    >>> from workshop_lib.friction import Pad
    >>> hold = {"pad": Pad("60 mm"), "thrust": "600 N", "friction_coefficient": 0.3}
    >>> cut = {"feed": "0.05 mm", "speed": "80 rev/min", "radial_share": 0.5}
    >>> turning = Turning("aluminium", "1 mm", **cut, **hold)
    >>> found = schedule(Blank.square("80 mm"), "78 mm", turning, margin=2)
    >>> bool(found.margin.min() > 1.999), len(found) < 60
    (True, True)
    """
    one_value(margin=margin, deepest=deepest, finishing_depth=finishing_depth, step=step)
    job = Roughing(blank, disc_diameter, turning, centre)
    rough = _rough_radius(job, finishing_depth)
    cap = np.inf if deepest is None else deepest
    radii = [job.corner]
    while radii[-1] > rough:
        _refuse_many(len(radii), "margin")
        left = radii[-1] - rough
        depth = job.deepest(radii[-1], min(cap, left), margin)
        if depth < left * (1 - EQUAL) and step is not None:
            depth = step * np.floor(depth / step * (1 + EQUAL))
        _refuse_thin(job, radii[-1], depth, left)
        radii.append(rough if depth >= left * (1 - EQUAL) else radii[-1] - depth)
    if finishing_depth is not None:
        if job.deepest(rough, finishing_depth, margin) < finishing_depth:
            raise InputError("finishing_depth", "the finishing pass does not keep the margin")
        radii.append(job.radius)
    return job.passes(radii)


def _refuse_thin(job, radius, depth, left):
    if depth < min(THINNEST, left):
        where = show(as_shown(radius, "length"))
        problem = f"at a radius of {where} no pass keeps it"
        raise InputError(
            "margin", problem, "Try more thrust, a larger pad, less feed or a finer step"
        )
