"""Is the finished disc to size and round, by what was measured, and what is to be done about it?"""

import numpy as np

from workshop_lib.instruments import measure_rim
from workshop_lib.plan.reasons import OPEN, Change, Reason, brief, graded, share
from workshop_lib.quantities import Q_, as_shown, resolution, show

SIZE_FIGURES = 5
ANGLE = Q_(90.0, "deg")  # of a V-block, where none is named
SURE = 2.0  # times the standard uncertainty


def rim_of(job):
    """What the readings say of the rim, or None where none were taken."""
    diameters = job["measured.diameters"]
    if diameters is None:
        return None
    in_vee = job["measured.vee_readings"]
    return measure_rim(
        list(diameters),
        job["measured.diameter_division"],
        None if in_vee is None else list(in_vee),
        job["measured.vee_angle"] or ANGLE,
        job["measured.vee_division"],
    )


def _sizes(job):
    """The smallest and the largest diameter that was measured, or None."""
    found, single = job.rim_measured, job["measured.disc_diameter"]
    if found is not None:
        return found.smallest, found.largest
    return None if single is None else (single, single)


def size(job):
    """Does every diameter lie within the limits? Asked where limits and readings are there."""
    read, tolerance = _sizes(job), job["disc.tolerance"]
    if read is None or tolerance is None:
        return []
    wanted = job["disc.diameter"]
    off = max(read[1] - wanted, wanted - read[0])
    room = (job["measured.diameter_division"] or Q_(0.0, "mm")) / 2
    holds, use = "yes", share(max(off, 0 * off), tolerance)
    if resolution.more_than(off.m_as("m"), (tolerance - room).m_as("m"), wanted.m_as("m")):
        holds, use = "open", OPEN
    if resolution.more_than(off.m_as("m"), (tolerance + room).m_as("m"), wanted.m_as("m")):
        holds, use = "no", max(share(off, tolerance), 1.0)
    low, high = (show(each, figures=SIZE_FIGURES) for each in read)
    words = f"The disc measures {low if low == high else f'{low} to {high}'}; "
    ends = (show(each, figures=SIZE_FIGURES) for each in (wanted - tolerance, wanted + tolerance))
    words += f"{' to '.join(ends)} is allowed"
    if holds == "open":
        words += ", which is too near for this micrometer to tell"
    mend = tuple if holds == "yes" else lambda: (_resize(job, read, tolerance, holds),)
    return [Reason("size", holds, use, f"{words}.", off, tolerance, mend=mend)]


def _resize(job, read, tolerance, holds):
    wanted, mean = job["disc.diameter"], (read[0] + read[1]) / 2
    if holds == "open":
        return Change("Measure it again with a finer micrometer, as cool as the room.")
    if share(read[1] - read[0], 2 * tolerance) > 1:
        return Change("No size will do while its diameters differ by so much: make it round first.")
    if mean < wanted:
        return Change(
            f"It cannot be made larger again: turn the next one {brief(wanted - mean)} larger, and "
            "measure it when it is as cool as the micrometer."
        )
    return Change(
        f"Let it cool and measure again; then take {brief((mean - wanted) / 2)} off the radius, if "
        "the disc still sits as it was turned."
    )


def rim_rows(job):
    """Rows of what was asked of size and shape, what was measured, and the difference."""
    found, wanted = job.rim_measured, job["disc.diameter"]
    if found is None:
        return []
    apart = found.diameter - wanted
    sign = "+" if apart.m >= 0 else "−"
    mean = show(found.diameter, figures=SIZE_FIGURES)
    rows = [
        ("Mean diameter", show(wanted, figures=SIZE_FIGURES), mean, f"{sign}{brief(abs(apart))}")
    ]
    asked = "–" if job["disc.roundness"] is None else f"{brief(job['disc.roundness'])} allowed"
    read = brief(found.departure) if found.has_vee else f"{brief(found.at_least)} at least"
    main = "" if found.main is None else found.main.name
    return [*rows, ("Departure from round", asked, read, main)]


def roundness(job):
    """Is it as round as asked, and what can the readings not tell?"""
    found, allowed = job.rim_measured, job["disc.roundness"]
    if found is None:
        return []
    departure, least = found.departure, found.at_least
    words = (
        f"The rim departs from a circle by {brief(departure)}"
        if found.has_vee
        else (
            f"The diameters differ by {brief(2 * least)}: the rim departs from a circle by "
            f"{brief(least)} at least"
        )
    )
    main = found.main
    words += f", most of it {main.name}" if main is not None else ""
    if allowed is None:
        return [Reason("roundness", "yes", 0.0, f"{words}; no limit was set.", departure)]
    words += f"; {brief(allowed)} is allowed"
    if not found.has_vee:
        return [_by_diameters(job, found, allowed, words)]
    doubt = SURE * np.nan_to_num(found.unsure.m_as("m"))
    sure = as_shown(departure.m_as("m") + doubt, "length")
    holds, use = graded(share(sure, allowed)), share(departure, allowed)
    if holds == "no" and share(as_shown(departure.m_as("m") - doubt, "length"), allowed) <= 1:
        holds, use = "open", OPEN
        words += ", and the readings are not fine enough to tell"
    mend = tuple if holds == "yes" else lambda: tuple(advice(job, found))
    return [Reason("roundness", holds, use, f"{words}.", departure, allowed, mend=mend)]


def _by_diameters(job, found, allowed, words):
    """What diameters alone can prove: that it is not round."""
    use = share(found.at_least, allowed)
    if use > 1:
        mend = lambda: tuple(advice(job, found))  # noqa: E731
        return Reason("roundness", "no", use, f"{words}.", found.at_least, allowed, mend=mend)
    words += "; diameters show no odd number of lobes"
    told = Change(
        "Turn the disc in a V-block, or against two pins, under an indicator, and write what it "
        "shows as measured.vee_readings: three lobes have the same diameter all round."
    )
    known = {"known": False, "mend": lambda: (told,)}
    return Reason("roundness", "open", OPEN, f"{words}.", found.at_least, allowed, **known)


def advice(job, found):
    """What to do about the lobes that were found: `Change`s."""
    main, strikes = found.main, job.passes[0].strikes
    if main is None:
        yield Change("Take finer readings: these tell no lobes from scatter.")
        return
    if strikes and main.order % strikes == 0:
        yield Change(
            f"There are {main.name} and the blank had {strikes} corners: they are still copied. "
            "Pass once more at the same setting, without feeding in, until nothing is cut."
        )
    elif main.order == 2:
        yield Change(
            "An oval comes from a blank that was bent or pressed out of flat, or from loose "
            "spindle bearings: let it cool, press less for the last pass, and clock the spindle."
        )
    elif main.order == 3:
        yield Change(
            "Three lobes come from three jaws: see that nothing the pad sits on is pinched in a "
            "chuck, and clock the pad while you tighten it."
        )
    else:
        yield Change(
            f"{main.name.capitalize()} come from the machine or from chatter: take a lighter last "
            "pass at another speed, and count the lobes again."
        )
