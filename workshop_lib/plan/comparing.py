"""What differs between two jobs, in what was typed and in what follows from it?"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.own_files import as_typed
from workshop_lib.plan.assessing import assess
from workshop_lib.plan.checks import wanted_margin
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.plan.fixes import aim_for, margin_of, thrust_for
from workshop_lib.plan.names import NAMED, entry_name
from workshop_lib.plan.reasons import brief
from workshop_lib.quantities import Quantity, times_over

LONGEST_SHOWN = 60  # characters of a text


@dataclass(frozen=True, eq=False)
class Comparison:
    """Two jobs. typed: rows of meaning, first, second where they differ. follows: of outcomes.

    better: 1 or 2, the one with the better verdict, or with as good a one and the greater margin;
    0 where neither. verdict: the same in a sentence.
    """

    typed: tuple
    follows: tuple
    better: int
    verdict: str = field(default="")


def compare(first, second, draws=0, seed=1):
    """How do two jobs differ, in what was typed and in what follows from it?

    What was left out counts as its usual value. first, second: `Job`. draws: of the chance of
    slip, 0 leaves it out. seed: of the draws. Returns a `Comparison`. Raises InputError.
    """
    return compare_judged(*(assess(job, draws, seed) for job in (first, second)))


def compare_judged(*both):
    """How do two jobs differ that were judged already? As `compare`, of two `Assessment`s."""
    first, second = (each.job for each in both)
    typed = tuple(
        [entry_name(key), said(key, first), said(key, second)]
        for key in ENTRIES
        if not _same(first[key], second[key])
    )
    columns = [_outcomes(each) for each in both]
    follows = tuple([name, columns[0][name], columns[1][name]] for name in columns[0])
    better = _better(both)
    margins = " and ".join(times_over(margin_of(each.job)) for each in both)
    words = f"They hold {margins} times the load at their worst passes"
    choice = ("neither is the better", "the first is the better", "the second is the better")
    return Comparison(typed, follows, better, f"{words}: {choice[better]}.")


def _better(both):
    order = ("yes", "open", "no")
    grades = [order.index(each.holds) for each in both]
    margins = [margin_of(each.job) for each in both]
    if grades[0] != grades[1]:
        return 1 if grades[0] < grades[1] else 2
    if margins[0] == margins[1]:
        return 0
    return 1 if margins[0] > margins[1] else 2


def _same(one, other):
    """Tell whether two entries say the same, whatever unit each was typed in."""
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return bool(np.isclose(one.m, other.m_as(one.units), rtol=1e-12, atol=0))
    return one == other


def said(key, job):
    """What does an entry say, or its default, in words?"""
    value = job[key]
    if key in NAMED:
        return NAMED[key](job)
    return _written(value)


def _written(value):
    """Write an entry for people; quantities as they were typed."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Quantity):
        return as_typed(value)
    if isinstance(value, tuple | list):
        return _row(value)
    text = " ".join(str(value).split())
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 1]}…"


def _row(values):
    """Write a few values out; of many their number and, for quantities, between which they lie."""
    if len(values) <= 3 and not any(isinstance(each, dict | str | tuple) for each in values):
        return ", ".join(_written(each) for each in values)
    if all(isinstance(each, Quantity) for each in values):
        return f"{len(values)} values, {as_typed(min(values))} to {as_typed(max(values))}"
    return f"{len(values)} {'entry' if len(values) == 1 else 'entries'}"


def _outcomes(found):
    """What follows from one job, by name."""
    job = found.job
    needed = thrust_for(job, wanted_margin(job))
    aim = aim_for(job, needed).told if np.isfinite(needed) else "none would do"
    rows = {
        "Verdict": found.verdict.partition(".")[0],
        "Margin at the worst pass": times_over(margin_of(job)),
        "Thrust to aim at for the margin wanted": aim,
        "Passes": str(len(job.passes)),
        "Time in the cut": brief(job.passes.total_time.to("min")),
    }
    for about, name in (("rim", "Bend of the rim"), ("speed", "Speed of the corners")):
        reason = found.reason(about)
        rows[name] = brief(reason.value) if reason and reason.value is not None else "–"
    if found.chance is not None:
        rows["Chance of slip"] = str(found.chance)
    return rows
