"""At which of the lathe's speeds should this job turn, and why not at the next higher one?"""

from workshop_lib.plan import checks
from workshop_lib.plan.checked_job import Job
from workshop_lib.plan.reasons import brief
from workshop_lib.quantities import InputError

LIMITS = (checks.speed, checks.ringing, checks.hold)
HEEDED = ("unbalanced", "fast_rim")  # cautions that a slower speed takes away
GRADES = ("yes", "open", "no")


def at_speed(job):
    """The same job at the highest of its lathe's speeds that every limit allows.

    A job that names its own speed, or whose lathe has no list, comes back as it is. Where a limit
    stops every speed, such as a thrust that holds too little, a higher one must only do no worse.
    """
    if "cut.speed" not in job.supplied:
        return job
    speeds = job.shop.lathe.speeds
    slowest = _grades(job)
    why = "no speed of your lathe is higher"
    for speed in reversed(speeds):
        other = _turned_at(job, speed)
        found = None if other is None else _grades(other)
        if found is not None and all(
            GRADES.index(found[key][0]) <= GRADES.index(slowest.get(key, ("yes",))[0])
            for key in found
        ):
            with job.speaking():
                other.speed_told = (
                    f"Of your lathe's speeds {brief(speed, 3)} is the highest that every limit "
                    f"allows: {why}."
                )
            return other
        why = _worse(speed, found, slowest)
    return job


def _turned_at(job, speed):
    try:
        return Job(job.values, job.text, job.where, like=job, shop=job.shop, speed=speed)
    except InputError:
        return None


def _grades(job):
    """Grade and sentence of every limit and caution that the speed has a part in, by name."""
    with job.speaking():
        reasons = [reason for check in LIMITS for reason in check(job)]
        cautions = {each.key: ("open", each.sentence.partition(". ")[0])
                    for each in checks.minded(job)}  # fmt: skip
    found = {each.about: (each.holds, each.sentence) for each in reasons}
    return found | {key: cautions[key] for key in HEEDED if key in cautions}


def _worse(speed, found, slowest):
    """What speaks against a speed, in words."""
    if found is None:
        return f"at {brief(speed, 3)} nothing can be computed"
    for about, (holds, sentence) in found.items():
        if GRADES.index(holds) > GRADES.index(slowest.get(about, ("yes",))[0]):
            told = sentence.rstrip(".")
            return f"at {brief(speed, 3)}, {told[:1].lower()}{told[1:]}"
    return ""
