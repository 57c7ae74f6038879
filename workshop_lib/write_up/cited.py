"""The sources of a write-up: every key that this job's numbers rest on, each with its standing."""

from workshop_lib import sources
from workshop_lib.write_up.page_parts import References

ALWAYS = "argatov-2005 timoshenko-plates iso-281-fc elementary-mechanics jcgm-101"


def keys_of(job):
    """Citation keys of this job, in order and each once."""
    cited = " ".join(job.material.cited.values())
    given = [job.friction.sources, job.listed_friction.sources, job.radial_share.sources]
    gauge = job.gauge.sources if job.gauge is not None else ""
    keys = f"{cited} {' '.join(given)} {gauge} {ALWAYS}".split()
    return tuple(dict.fromkeys(keys))


def sources_part(job):
    """The sources with their standing."""
    found = [sources.find_source(key) for key in keys_of(job)]
    rows = [(each.short, each.standing, f"{each.reference} {each.note}".strip()) for each in found]
    return References(tuple(rows))
