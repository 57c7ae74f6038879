"""What raises the cutting force of a job above its table? Named factors, each with its range."""

from typing import NamedTuple

import numpy as np

from workshop_lib.overhang import own_frequencies
from workshop_lib.quantities import Q_
from workshop_lib.sources import Range, cite
from workshop_lib.torque import rake_factor, speed_factor, thin_factor, wear_factor

NOSE_RADII = Range(
    *(Q_(each, "mm") for each in (0.2, 0.4, 0.8)), sources="from-memory", standing="from memory"
)


class Factor(NamedTuple):
    """One factor on the cutting force: its name, low, typical and high, and where it comes from."""

    name: str
    span: Range

    @property
    def told(self):
        """Where it comes from, in words."""
        return cite(self.span.sources) if self.span.sources else "given in the job"


def even_factors(job):
    """The factors that are the same at every pass: edge, rake, low speed, thin chip."""
    slowest = job["cut.speed"].m_as("rad/s") * job["disc.diameter"].m_as("m") / 2
    straight = job["cut.kind"] == "plunge"
    angle = np.pi / 2 if straight else job["cut.approach_angle"].m_as("rad")
    chip = job["cut.feed"].m_as("m") * np.sin(angle)
    edge = wear_factor(job["cut.edge"])
    return (
        Factor("worn edge" if job["cut.edge"] != "fresh" else "edge, fresh", edge),
        Factor("rake", rake_factor(job["cut.rake"].m_as("rad"))),
        Factor("low speed", speed_factor(job.material, job["cut.tool"], slowest)),
        Factor("thin chip", thin_factor(chip)),
    )


def nose_radius(job, estimate):
    """The tool's nose radius for a low, typical or high force."""
    given = job["cut.nose_radius"]
    return getattr(NOSE_RADII, estimate) if given is None else given


def longest_period(job, estimate):
    """Own period of the set-up for a low, typical or high force; None: no blow at all."""
    if estimate == "low":
        return None
    given = job["cut.own_frequency"]
    found = own_frequencies().low if estimate == "high" else own_frequencies().typical
    return 1 / (found if given is None else given).to("1/s")


def raised(job, estimate):
    """All even factors together, a plain number."""
    return float(np.prod([getattr(each.span, estimate) for each in even_factors(job)]))


def steps(job):
    """How the steady load at the worst pass becomes the one that is judged: rows of name, factor,
    running product, and where it comes from; the steady force is the table's high one.
    """
    worst = job.passes.worst
    plain = job.turning("high", plain=True)
    depth = worst.peak_depth.m_as("m")
    whole = job.turning("high").force(depth)
    named = [(each.name, each.span.high, each.told) for each in even_factors(job)]
    nose = whole / plain.force(depth) / raised(job, "high")
    blow = worst.cutting_force.m_as("N") / whole
    named.insert(0, ("nose radius of the tool", float(nose), "sum along the edge"))
    named.append(("blow of the corner", float(blow), cite("ramp-response from-memory")))
    rows, product = [], 1.0
    for name, factor, told in named:
        product *= factor
        rows.append((name, factor, product, told))
    return tuple(rows)
