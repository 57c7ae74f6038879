"""Does the tool lift one side of the pad, and how hard does it push along the axis?"""

from functools import partial

from workshop_lib.friction import tilt
from workshop_lib.plan import stacked
from workshop_lib.plan.fixes import mends_of_tipping
from workshop_lib.plan.reasons import Reason, brief, graded, share
from workshop_lib.quantities import resolution, rounded_down
from workshop_lib.torque import AXIAL_SHARE

NEAR_TIPPING = 0.5  # share of the force that tips from which it is looked at again; from memory


def tipping(job, bears):
    """Does the tool lift one side of the pad at the first pass, where it reaches farthest?

    bears: whether nose and facing of a job bear its thrust.
    """
    force, limit = _tipping_forces(job)
    if not force.m > 0:
        return []
    use = share(force, limit)
    lifting = brief(rounded_down(limit))
    words = f"The tool pushes {brief(force)} across the rim"
    if job.count > 1:
        words = "Across the rim and against the outermost disc the tool pushes as "
        words += f"{brief(force)} at the rim would"
    words += f"; {lifting} would lift one side of the pad"
    holds, mend = graded(use, NEAR_TIPPING), tuple
    if holds != "yes":
        near = use, NEAR_TIPPING
        mend = partial(mends_of_tipping, job, *near, _does_not_tip, bears)
    return [Reason("tipping", holds, use, f"{words}.", force, limit, mend=mend)]


def _tipping_forces(job):
    first = job.passes[0]
    limit = tilt.tilt_force(job.pad, job.low_thrust, 2 * first.from_radius)
    lever = (stacked.farther_out(job) / first.from_radius).m_as("")
    return axial_force(job, first) + lever * first.side_force, limit


def _does_not_tip(job):
    return resolution.at_least(NEAR_TIPPING, share(*_tipping_forces(job)))


def axial_force(job, one):
    """Force of the tool across the sheet in one pass: its share of the cutting force."""
    part = job["rim.axial_share"]
    if part is None:
        part = AXIAL_SHARE if job["cut.kind"] == "traverse" else 0.0
    return part * one.cutting_force
