"""Is the finished disc to size and round, by what was measured, and what is to be done about it?"""

import numpy as np

from workshop_lib.instruments import measure_rim
from workshop_lib.own_files import as_typed
from workshop_lib.plan.reasons import OPEN, Change, Reason, brief, graded, share
from workshop_lib.quantities import Q_, InputError, as_shown, resolution, show

SIZE_FIGURES = 5
ANGLE = Q_(90.0, "deg")  # of a V-block, where none is named
FAR = 0.1  # of the diameter; nobody turns a disc so far from its size
SURE = 2.0  # times the standard uncertainty
NOTHING = Q_(0.0, "mm")


def rim_of(job):
    """What the readings say of the rim, or None where none were taken."""
    diameters, single = job["measured.diameters"], job["measured.disc_diameter"]
    if single is not None:
        _of_this_disc(job, single, "measured.disc_diameter")
    if diameters is None:
        return None
    for number, each in enumerate(diameters, start=1):
        _of_this_disc(job, each, f"measured.diameters[{number}]")
    in_vee = job["measured.vee_readings"]
    return measure_rim(
        list(diameters),
        job["measured.diameter_division"],
        None if in_vee is None else list(in_vee),
        job["measured.vee_angle"] or ANGLE,
        job["measured.vee_division"],
    )


def _of_this_disc(job, read, key):
    """Refuse a diameter that a disc so turned cannot have: a slip of the pen."""
    meant = job["disc.diameter"]
    if resolution.more_than(abs((read / meant).m_as("") - 1), FAR):
        problem = f"{as_typed(read)} is far from the {as_typed(meant)} that was to be turned"
        raise InputError(key, problem, "Check the figures and the unit")


def size(job):
    """Does every diameter lie within the limits? Asked where limits and readings are there."""
    found, single, tolerance = (
        job.rim_measured,
        job["measured.disc_diameter"],
        job["disc.tolerance"],
    )
    read = (single, single) if found is None else (found.smallest, found.largest)
    if read[0] is None or tolerance is None:
        return []
    return [judge_size(read, job["disc.diameter"], tolerance, job["measured.diameter_division"])]


def roundness(job):
    """Is it as round as asked, and what can the readings not tell?"""
    found = job.rim_measured
    if found is None:
        return []
    return [judge_shape(found, job["disc.roundness"], job.passes[0].strikes)]


def judge_size(read, wanted, tolerance, division=None):
    """The reason "size": read is the smallest and the largest diameter; all are lengths."""
    off = max(read[1] - wanted, wanted - read[0], NOTHING)
    room = NOTHING if division is None else division / 2
    holds, use = "yes", share(off, tolerance)
    if resolution.more_than(off.m_as("m"), (tolerance - room).m_as("m"), wanted.m_as("m")):
        holds, use = "open", OPEN
    if resolution.more_than(off.m_as("m"), (tolerance + room).m_as("m"), wanted.m_as("m")):
        holds, use = "no", max(share(off, tolerance), 1.0)
    low, high = (show(each, figures=SIZE_FIGURES) for each in read)
    words = f"The disc measures {low if low == high else f'{low} to {high}'}; "
    ends = (show(each, figures=SIZE_FIGURES) for each in (wanted - tolerance, wanted + tolerance))
    words += f"{' to '.join(ends)} is allowed"
    words += ", which is too near for this micrometer to tell" * (holds == "open")
    told = None if holds == "yes" else _resize(read, wanted, tolerance, holds)
    mend = tuple if told is None else lambda: (told,)
    return Reason("size", holds, use, f"{words}.", off, tolerance, mend=mend)


def _resize(read, wanted, tolerance, holds):
    mean = (read[0] + read[1]) / 2
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


def judge_shape(found, allowed, corners=0):
    """The reason "roundness". found: `RimMeasured`. allowed: departure from round, or None.

    corners: how many the blank had, which may be copied.
    """
    departure, least, main = found.departure, found.at_least, found.main
    words = f"The diameters differ by {brief(2 * least)}: the rim departs from a circle by "
    words += f"{brief(least)} at least"
    if found.has_vee:
        words = f"The rim departs from a circle by {brief(departure)}"
    words += f", most of it {main.name}" if main is not None else ""
    if allowed is None:
        return Reason("roundness", "yes", 0.0, f"{words}; no limit was set.", departure)
    words += f"; {brief(allowed)} is allowed"
    if not found.has_vee:
        return _by_diameters(found, allowed, corners, words)
    doubt = SURE * np.nan_to_num(found.unsure.m_as("m"))
    most, fewest = (as_shown(departure.m_as("m") + each, "length") for each in (doubt, -doubt))
    holds, use = graded(share(most, allowed)), share(departure, allowed)
    if holds == "no" and share(fewest, allowed) <= 1:
        holds, use = "open", OPEN
        words += ", and the readings are not fine enough to tell"
    mend = tuple if holds == "yes" else lambda: tuple(advice(found, corners))
    return Reason("roundness", holds, use, f"{words}.", departure, allowed, mend=mend)


def _by_diameters(found, allowed, corners, words):
    """What diameters alone can prove: that it is not round."""
    use, about = share(found.at_least, allowed), ("roundness", "no", "open")
    if use > 1:
        told = tuple(advice(found, corners))
        return Reason(*about[:2], use, f"{words}.", found.at_least, allowed, lambda: told)
    told = Change(
        "Turn the disc in a V-block, or against two pins, under an indicator, and note what it "
        "shows (measured.vee_readings in a job): three lobes have the same diameter all round."
    )
    words += "; diameters show no odd number of lobes"
    known = {"known": False, "mend": lambda: (told,)}
    return Reason(about[0], about[2], OPEN, f"{words}.", found.at_least, allowed, **known)


def advice(found, corners=0):
    """What to do about the lobes that were found: `Change`s."""
    main = found.main
    if main is None:
        yield Change("Take finer readings: these tell no lobes from scatter.")
    elif corners and main.order % corners == 0:
        yield Change(
            f"There are {main.name} and the blank had {corners} corners: they are still copied. "
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


def rim_rows(job):
    """Rows of what was asked of size and shape, what was measured, and the difference."""
    found, wanted = job.rim_measured, job["disc.diameter"]
    if found is None:
        return []
    apart = found.diameter - wanted
    sign = "+" if apart.m >= 0 else "−"
    planned, mean = (show(each, figures=SIZE_FIGURES) for each in (wanted, found.diameter))
    asked = "–" if job["disc.roundness"] is None else f"{brief(job['disc.roundness'])} allowed"
    read = brief(found.departure) if found.has_vee else f"{brief(found.at_least)} at least"
    main = "" if found.main is None else found.main.name
    return [
        ("Mean diameter", planned, mean, f"{sign}{brief(abs(apart))}"),
        ("Departure from round", asked, read, main),
    ]
