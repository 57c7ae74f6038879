"""How does each input of a job's worst pass spread, where the chance of slip is asked?"""

from workshop_lib.plan.stacked import weakest_face
from workshop_lib.quantities import as_shown
from workshop_lib.sources import Range
from workshop_lib.uncertainty import SlipCase, exactly, normal, of_range


def slip_case(job):
    """The worst pass, at the face that slips first, as `uncertainty.chance_of_slip` takes it."""
    worst = job.passes.worst
    face = weakest_face(job, worst)
    each = (job.passes_at(estimate) for estimate in ("low", "typical", "high"))
    forces = sorted(float(one.core.cutting_force[worst.number - 1]) for one in each)
    spreads = {
        "thrust": _thrust_spread(job),
        "friction_coefficient": _friction_spread(job, face.number),
        "cutting_force": of_range(Range(*(as_shown(face.cut * f, "force") for f in forces))),
        "radial_share": of_range(job.radial_share),
        "unbalance": exactly(face.beyond * worst.unbalance),
        "disc_diameter": exactly(2 * worst.from_radius),
    }
    return SlipCase(job.pad, spreads)


def _thrust_spread(job):
    if job.thrust_read is not None:
        return job.thrust_read.spread()
    doubt = job.thrust_doubt
    return normal(job.thrust, doubt) if doubt.m > 0 else exactly(job.thrust)


def _friction_spread(job, face):
    if face:
        return of_range(job.friction_between)
    tested = job.measured_friction
    own = tested is not None and tuple(job.friction) == tuple(tested.range)
    return tested.spread() if own else of_range(job.friction)
