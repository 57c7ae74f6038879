"""Does the nose press on all of the pad? And what a plan takes for granted, in sentences."""

from workshop_lib.own_files import as_typed
from workshop_lib.plan.reasons import Change, Reason, brief, share
from workshop_lib.quantities import resolution


def plate(job):
    """Does the nose press through a plate as large as the pad, so that all of the pad bears?"""
    size, pad = job["nose.plate_diameter"], job["pad.outer_diameter"]
    if size is None:
        told = Change(f"Press through a stiff plate of {as_typed(pad)}: write nose.plate_diameter.")
        words = "How large the plate under the nose is was not said; a bare nose leaves much of "
        words += "the pad unpressed"
        return [Reason("plate", "open", 0.99, f"{words}.", None, pad, lambda: (told,))]
    use = share(pad, size)
    if use <= 1:
        words = f"The plate under the nose, {brief(size, 3)}, is as large as the pad"
        return [Reason("plate", "yes", 0.0, f"{words}.", size, pad)]
    words = f"The plate under the nose is {brief(size, 3)} across, the pad {brief(pad, 3)}: thin "
    words += "sheet bends, so that the rest of the pad hardly presses and holds less than reckoned"
    mend = Change(
        f"Press through a stiff plate of {as_typed(pad)} or more.", {"nose.plate_diameter": pad}
    )
    return [Reason("plate", "no", use, f"{words}.", size, pad, lambda: (mend,))]


NO_PLATE = (
    "Nothing says how large the plate under the nose is. All of this holds only if the nose "
    "presses through a stiff plate as large as the pad."
)


def supposed(job):
    """What the reckoning takes for granted and the job does not say, in sentences."""
    if job["nose.plate_diameter"] is None:
        yield NO_PLATE
    found = job.measured_friction
    higher = found is not None and resolution.more_than(found.low, job.listed_friction.low)
    if higher and not job.tested_near:
        yield (
            f"The friction of your test, {brief(found.low)} at the least, is above the table's "
            f"{brief(job.listed_friction.low)}, but nothing says that it was tested near the "
            "pressure of the real pad: the lower counts. Rubber loses friction as the pressure "
            "rises, and leather and cork may. Test under the pad's own pressure, and write it as "
            "measured.test_pressure."
        )
