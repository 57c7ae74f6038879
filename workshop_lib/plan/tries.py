"""What was tried, one attempt after another: what was set, what happened, what was changed?"""

from typing import NamedTuple

from workshop_lib.plan.entry_table import BLANKS, BOTH_SAY, THRUSTS
from workshop_lib.plan.names import NAMED, entry_name
from workshop_lib.plan.reasons import Change, Reason, as_spoken
from workshop_lib.quantities import InputError, Quantity, resolution, times_over

READ_ON_SCALE = ("measured.scale_readings", "measured.scale_graduation")


class Attempt(NamedTuple):
    """One attempt. settings: pairs of what was set and how. margin: by the models, or None.

    slipped: True, False, or None where nothing says it.
    """

    number: int
    settings: tuple
    margin: float | None
    happened: str
    changed: str
    slipped: bool | None


def attempts(job):
    """The attempts of a job in their order: a tuple of `Attempt`; the last one is the job itself.

    An attempt's own settings are laid over those of the job, so that its margin can be told.
    """
    told = []
    for number, each in enumerate(job["attempt"] or (), start=1):
        given = each.get("set", {})
        tried = job_of(job, given)
        settings = tuple((entry_name(key), _said(key, value, tried or job))
                         for key, value in given.items())  # fmt: skip
        margin = None if tried is None else float(tried.passes.worst.margin)
        words = each["happened"], each.get("changed", "")
        told.append(Attempt(number, settings, margin, *words, each.get("slipped")))
    return tuple(told)


def _said(key, value, tried):
    """A setting in words."""
    if isinstance(value, Quantity):
        return as_spoken(value)
    if key in NAMED:
        return NAMED[key](tried)
    return " / ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def job_of(job, given):
    """The job as it was set in an attempt; None where such a job cannot stand."""
    away = [
        key
        for sets in (BLANKS, THRUSTS)
        for each in sets
        if any(set(other) & given.keys() for other in sets) and not set(each) & given.keys()
        for key in each
    ]
    away += [one for pair in BOTH_SAY for one, other in (pair, pair[::-1]) if other in given]
    if any(key.startswith("thrust.") for key in given):
        away += READ_ON_SCALE  # what the scale showed was the thrust of the last attempt
    if any(key.startswith("blank.") for key in given) and "blank.centre" not in given:
        away.append("blank.centre")
    try:
        return job.changed(dict.fromkeys(away) | given)
    except InputError:
        return None


def last_slipped(job):
    """Whether the disc slipped at the last attempt: True, False, or None where nothing says it."""
    return job["attempt"][-1].get("slipped") if job["attempt"] else None


def slipped(job):
    """Did the disc slip at the machine, at the last attempt, whatever was computed?"""
    if not last_slipped(job):
        return []
    margin = float(job.passes.worst.margin)
    words = "It slipped at the machine, as the calculation expected."
    if resolution.at_least(margin, 1):
        words = (
            f"It slipped at the machine, although by calculation it holds {times_over(margin)} "
            "times the load: friction or thrust was lower than you entered, or the cut was heavier."
        )
    lacking = []
    if job.measured_friction is None:
        lacking.append("the friction of this pad facing (a pull or a tilt test)")
    if job.measured_thrust is None:
        lacking.append("the thrust (a scale between pad and nose)")
    told = f"Measure {' and '.join(lacking)}." if lacking else "Measure friction and thrust again."
    return [Reason("slipped", "no", 1e9, words, mend=lambda: (Change(told),))]
