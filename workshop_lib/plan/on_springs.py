"""The rim of a job on its facing: how far it bends and at which notes it rings."""

import numpy as np

from workshop_lib import overhang
from workshop_lib.quantities import InputError, as_shown

MOST_MULTIPLES = 30  # a blow's ring has died to a seventh by the next one, at 1 % of damping


def modulus(job):
    """The low modulus of the facing, or None for a bare pad, which has no springs to speak of."""
    try:
        return overhang.facing_modulus(job["pad.facing"]).low
    except InputError:
        return None


def known(job):
    """Whether what the rim lies on is known: a bare pad, or a facing of known thickness."""
    return modulus(job) is None or job["pad.facing_thickness"] is not None


def _springs(job):
    return modulus(job), job["pad.facing_thickness"], job["pad.inner_diameter"]


def bend(job, force):
    """How far that force bends the finished rim: on springs where the facing has them."""
    pad = as_shown(2 * job.pad.outer_radius, "length")
    sheet = job["disc.diameter"], pad, job.thickness, job.material
    if modulus(job) is None or not known(job):
        return overhang.rim_deflection(force, *sheet)
    return overhang.soft_rim_deflection(force, *sheet, *_springs(job))


def notes(job, across, pad):
    """The notes of the rim; clamped ones, which no rim exceeds, where the facing is not known."""
    sheet = across, pad, job.thickness, job.material
    if modulus(job) is None or not known(job):
        return overhang.natural_frequencies(*sheet)
    return overhang.soft_frequencies(*sheet, *_springs(job))


def multiples(job):
    """How many multiples of the strikes can build up a ring.

    They carry force up to one over the time of a corner's rise. Beyond thirty the rim swings thirty
    times from blow to blow, and what is left of one does not add to the next (from memory: 1 % of
    critical damping, and a soft facing has more).
    """
    first = job.passes[0]
    turn = job["cut.speed"].m_as("rad/s")
    lasting = first.engaged_share / max(first.strikes, 1) * np.pi / turn  # half of an arc
    strikes = first.strikes * turn / (2 * np.pi)
    return int(np.clip(np.ceil(1 / (lasting * strikes)), 1, MOST_MULTIPLES))
