"""Is the sheet what it was sold as: of the kind that its gauge table is for, and as thick?"""

from workshop_lib.plan.reasons import Change, Reason, brief

# Gauge tables by which one kind of sheet is sold and no other, and that kind. The others, such as
# the British gauges, serve sheet of every kind.
OWN_TABLES = {
    "uncoated_steel": "uncoated steel",
    "galvanized_steel": "zinc-coated steel",
    "stainless_steel": "stainless steel",
}
LOOK_AGAIN = 0.5  # use of what is open, in the order of weight


def sheet(job):
    """Is the sheet what it was sold as?"""
    if job.gauge is None:
        return []
    if (other := kind_of_table(job)) is not None:
        words = f"The sheet is {job.material.name}, but the gauge table is that of {other}"
        mend = f"Find out whether the sheet is {job.material.name} or {other}, and change the "
        return [_open(f"{words}: change one.", f"{mend}entry that is wrong.")]
    if job.gauge.within_tolerance is False:
        thick = brief(job.thickness, 3)
        mend = f"Reckon with the {thick} that was measured, and ask what was sold."
        return [_open(f"{job.gauge}.", mend)]
    return [Reason("sheet", "yes", 0.0, f"{job.gauge}.")]


def _open(sentence, mend):
    return Reason("sheet", "open", LOOK_AGAIN, sentence, mend=lambda: (Change(mend),))


def kind_of_table(job):
    """The kind of sheet whose own gauge table stands in a job of another kind; else None."""
    key = job["sheet.gauge_table"]
    return None if key == job.material.gauge_table else OWN_TABLES.get(key)
