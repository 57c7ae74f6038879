"""At which of the lathe's speeds should this job turn, and why not at the next higher one?"""

from dataclasses import dataclass

from workshop_lib.plan import checks, ringing_checks
from workshop_lib.plan.checked_job import Job
from workshop_lib.plan.reasons import brief
from workshop_lib.quantities import InputError

LIMITS = (checks.speed, ringing_checks.ringing, checks.hold)
HEEDED = ("unbalanced", "fast_rim")  # cautions that a slower speed takes away
GRADES = ("yes", "open", "no")
NO_HIGHER = "no speed of your lathe is higher"
DECIDES = {
    "speed": "the cutting speed",
    "ringing": "ringing of the rim",
    "hold": "the hold",
    "unbalanced": "the blank's unbalance",
    "fast_rim": "the speed of the rim",
    "lathe": "the lathe's own list",
    "unknown": "what can be worked out",
}


@dataclass(frozen=True, eq=False)
class Choice:
    """A job at its speed. limit: what keeps it from the next higher one, a key of `DECIDES`.

    why: the same in a sentence without its full stop. graded: {limit: grade and sentence} there.
    """

    job: Job
    limit: str
    why: str
    graded: dict

    @property
    def holds(self):
        """The worst grade of its limits: "yes", "open" or "no"."""
        return max((grade for grade, _ in self.graded.values()), key=GRADES.index, default="yes")


def at_speed(job):
    """The same job at the highest of its lathe's speeds that every limit allows.

    A job that names its own speed, or whose lathe has no list, comes back as it is. Where a limit
    stops every speed, such as a thrust that holds too little, a higher one must only do no worse.
    """
    if "cut.speed" not in job.supplied:
        return job
    chosen = choose(job)
    if chosen is None:
        return job
    with job.speaking():
        chosen.job.speed_told = (
            f"Of your lathe's speeds {brief(chosen.job['cut.speed'], 3)} is the highest that every "
            f"limit allows: {chosen.why}."
        )
    return chosen.job


def choose(job):
    """The job at the highest speed that every limit allows, as a `Choice`; None without any.

    job: at the lowest speed of its lathe, as `plan.job` makes it where none is named.
    """
    slowest = _grades(job)
    limit, why = "lathe", NO_HIGHER
    for speed in reversed(job.shop.lathe.speeds):
        other = _turned_at(job, speed)
        found = None if other is None else _grades(other)
        worse = "unknown" if found is None else _worse(found, slowest)
        if worse is None:
            return Choice(other, limit, why, found)
        limit = worse
        with job.speaking():
            why = _sentence(speed, found, worse)
    return None


def _turned_at(job, speed):
    try:
        return Job(job.values, job.text, job.where, like=job, shop=job.shop, speed=speed)
    except InputError:
        return None


def _grades(job):
    """Grade and sentence of every limit and caution that the speed has a part in, by name."""
    with job.speaking():
        reasons = [reason for check in LIMITS for reason in check(job)]
        cautions = {each.key: ("open", each.sentence) for each in checks.minded(job)}
    found = {each.about: (each.holds, each.sentence) for each in reasons}
    return found | {key: cautions[key] for key in HEEDED if key in cautions}


def _worse(found, slowest):
    """The limit that does worse here than at the slowest speed, or None."""
    for about, (grade, _) in found.items():
        if GRADES.index(grade) > GRADES.index(slowest.get(about, ("yes",))[0]):
            return about
    return None


def _sentence(speed, found, about):
    """What speaks against a speed, in words."""
    if found is None:
        return f"at {brief(speed, 3)} nothing can be worked out"
    told = found[about][1].partition(". ")[0].rstrip(".")
    return f"at {brief(speed, 3)}, {told[:1].lower()}{told[1:]}"
