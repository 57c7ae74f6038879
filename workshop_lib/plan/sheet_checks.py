"""Is the sheet what it was sold as, how does its rim bend, is it pressed all over the pad?"""

import numpy as np

from workshop_lib import overhang
from workshop_lib.gauges import SOLD_BY
from workshop_lib.own_files import as_typed
from workshop_lib.plan.reasons import OPEN, Change, Reason, as_spoken, brief, share
from workshop_lib.quantities import Q_, InputError, as_shown, resolution
from workshop_lib.uncertainty import FEWEST, far_from_the_rest


def plate(job):
    """Does the nose press through a plate as large as the pad, so that all of the pad presses?"""
    size, pad = job["nose.plate_diameter"], job["pad.outer_diameter"]
    if size is None:
        told = Change(
            f"Press through a stiff plate of {as_spoken(pad)}: write nose.plate_diameter."
        )
        words = "The size of the plate under the nose is not given, and a bare nose leaves much "
        words += "of the pad without pressure"
        return [Reason("plate", "open", OPEN, f"{words}.", None, pad, lambda: (told,), False)]
    use = share(pad, size)
    if size >= job["disc.diameter"]:
        words = f"The plate under the nose, {brief(size, 3)}, is no smaller than the disc: on the "
        words += "last pass the tool would cut it"
        told = Change("Press through a plate that stays clear of the tool on the last pass.")
        return [Reason("plate", "no", 2.0, f"{words}.", size, pad, mend=lambda: (told,))]
    clear = (job["disc.diameter"] - max(size, pad)) / 2
    if use <= 1 and share(CLEAR, clear) > 1:
        words = f"Plate or pad comes within {brief(clear)} of the finished edge: a plate a little "
        words += "off centre, or a facing that bulges, is cut on the last pass"
        told = Change(f"Keep both {brief(CLEAR)} or more inside the finished edge.")
        return [Reason("plate", "open", OPEN, f"{words}.", size, pad, mend=lambda: (told,))]
    if use <= 1:
        words = f"The plate under the nose, {brief(size, 3)}, is as large as the pad"
        return [Reason("plate", "yes", 0.0, f"{words}.", size, pad)]
    words = f"The plate under the nose is {brief(size, 3)} across, the pad {brief(pad, 3)}: thin "
    words += "sheet bends, so the rest of the pad hardly presses and holds less than calculated"
    mend = Change(
        f"Press through a stiff plate of {as_spoken(pad)} or more.", {"nose.plate_diameter": pad}
    )
    return [Reason("plate", "no", use, f"{words}.", size, pad, mend=lambda: (mend,))]


CLEAR = Q_(0.5, "mm")  # of plate and pad inside the finished edge, from memory
NO_PLATE = (
    "The size of the plate under the nose is not given. All of this is true only if the nose "
    "presses through a stiff plate as large as the pad."
)


MOST_LIFT = 2.0  # a strip on springs that only push bends 4 % farther there, much more beyond
OUT_OF_SQUARE = Q_(0.02, "mm")  # from side to side: what a careful turner leaves, from memory


def squareness(job):
    """What a face error of plate or pad does to this facing, in a sentence; None on a soft one.

    A lean of e from side to side changes the pressure at the edges by E/t × e/2.
    """
    if modulus(job) is None or not known(job):
        return None
    stiff = overhang.facing_modulus(job["pad.facing"]).typical / job["pad.facing_thickness"]
    less, mean = (stiff * OUT_OF_SQUARE / 2).to("MPa"), (job.thrust / job.pad.area).to("MPa")
    if less <= mean:
        return None
    return (
        f"Check that plate and pad are square to each other: {brief(OUT_OF_SQUARE)} from side to "
        f"side takes {brief(less)} of pressure off one edge of this facing, and there is only "
        f"{brief(mean)} on it. That edge lifts, and the other is pressed harder."
    )


def supposed(job):
    """What the calculation takes for granted and the job does not say, in sentences."""
    if job["nose.plate_diameter"] is None:
        yield NO_PLATE
    tested, own = job.measured_friction, job["pad.friction"]
    told = (own or (None,))[0] if tested is None else tested.low
    listed = job.listed_friction.low
    if told is not None and resolution.more_than(told, listed) and not job.tested_near:
        whose = "The friction of your test" if tested is not None else "Your own friction"
        yield (
            f"{whose}, {brief(told)} at least, is above the table's {brief(listed)}, but nothing "
            "says that it was tested near the pressure of the real pad: the lower counts. Rubber "
            "loses friction as the pressure rises, and leather and cork may. Test under the pad's "
            "own pressure, and write it as measured.test_pressure."
        )
    most = job.listed_friction.high
    if tested is not None and resolution.more_than(tested.low, most):
        yield (
            f"Your test gives {brief(tested.low)} at least, above the {brief(most)} that is the "
            "highest known for this pair: see whether something sticks or digs in."
        )
    if job["cut.kind"] == "traverse" and job["rim.axial_share"] == 0:
        yield (
            "You say that the tool does not push across the sheet (rim.axial_share = 0), so "
            "neither the rim's bend nor tipping was judged. A tool fed along the edge does push."
        )
    heard, usual = job["cut.own_frequency"], overhang.own_frequencies().high
    if heard is not None and resolution.more_than(heard.m_as("Hz"), usual.m_as("Hz")):
        yield (
            f"Toolpost and work rarely swing faster than {brief(usual)}, and {brief(heard)} takes "
            "most of the corners' blow away. Tap again and listen for a lower note: the lowest "
            "counts."
        )


def modulus(job):
    """The low modulus of the facing, as measured where it was; None for a bare pad, which has no
    springs to speak of."""
    if job.heard_facing is not None:
        return job.heard_facing.low
    try:
        return overhang.facing_modulus(job["pad.facing"]).low
    except InputError:
        return None


def known(job):
    """Whether what the rim lies on is known: a bare pad, or a facing of known thickness."""
    return modulus(job) is None or job["pad.facing_thickness"] is not None


def unknown_facing(about, what):
    """The reason of that name where the pad facing's thickness is not given."""
    words = f"{what} depends on the thickness of the pad facing, which is not given"
    told = Change("Measure the facing's thickness, pressed, and write it as pad.facing_thickness.")
    return Reason(about, "open", OPEN, f"{words}.", known=False, mend=lambda: (told,))


def _springs(job):
    return modulus(job), job["pad.facing_thickness"], job["pad.inner_diameter"]


def _reckoned(across, pad):
    """The pad that the rim is calculated with: one as large as the disc leaves hardly any rim."""
    return min(pad, overhang.MOST_SHARE * across)


def try_rim(job):
    """Refuse sizes that the model of a rim on its pad facing does not cover; return whether there
    is one.

    Tried on the finished disc and on the blank as wide as its corners.
    """
    if modulus(job) is None or not known(job):
        return False
    pad = as_shown(2 * job.pad.outer_radius, "length")
    corners = 2 * job.blank.corner_radius(job.centre)
    if pad < overhang.LEAST_SHARE * corners:
        size = brief(corners)
        problem = f"is less than a twentieth of the blank, which is {size} across its corners"
        mend = "Check the units of both: a pad this small cannot drive the blank"
        raise InputError("outer_diameter", problem, mend)
    for across in (job["disc.diameter"], corners):
        sheet = across, _reckoned(across, pad), job.thickness, job.material
        overhang.soft_rim_deflection(Q_(1.0, "N"), *sheet, *_springs(job))
    return True


def bend(job, force):
    """How far that force bends the finished rim: on springs where the facing has them."""
    across = job["disc.diameter"]
    pad = _reckoned(across, as_shown(2 * job.pad.outer_radius, "length"))
    sheet = across, pad, job.thickness, job.material
    if modulus(job) is None or not known(job):
        return overhang.rim_deflection(force, *sheet)
    return overhang.soft_rim_deflection(force, *sheet, *_springs(job))


def doubt_of_bend(job, force, bend):
    """Why the bend of the finished rim is not to be trusted, in words; "" where it is.

    The plate's sum is for a bend well below the thickness of the sheet (timoshenko-plates), and for
    a sheet that the thrust presses on its facing nearly everywhere.
    """
    if share(bend, job.thickness / 2) > 1:
        return f"that is more than half of the sheet's thickness, {brief(job.thickness)}"
    if modulus(job) is None or not known(job) or not job.low_thrust.m > 0:
        return ""
    across = job["disc.diameter"]
    pad = _reckoned(across, as_shown(2 * job.pad.outer_radius, "length"))
    sheet = across, pad, job.thickness, job.material
    if overhang.lift_share(force, job.low_thrust, *sheet, *_springs(job)) > MOST_LIFT:
        return "the push lifts the sheet off its pad facing, so it bends farther still"
    return ""


def notes(job, across, pad, stiff=False):
    """The notes of the rim; clamped ones, which no rim exceeds, where the facing is not known.

    stiff: those of the stiffest facing in print, not of the softest; the same where it was heard.
    """
    sheet = across, _reckoned(across, pad), job.thickness, job.material
    if modulus(job) is None or not known(job):
        return overhang.natural_frequencies(*sheet)
    springs = _springs(job)
    if job.heard_facing is not None:  # it was heard: no lower end is needed
        springs = job.heard_facing.modulus, *springs[1:]
    elif stiff:
        springs = overhang.facing_modulus(job["pad.facing"]).high, *springs[1:]
    return overhang.soft_frequencies(*sheet, *springs)


# Gauge tables by which one kind of sheet is sold and no other. The others, such as the British
# gauges, serve sheet of every kind.
OWN_TABLES = ("uncoated_steel", "galvanized_steel", "stainless_steel")
APART = 0.1  # of the mean of the rest; no sheet that is sold is so uneven
LOOK_AGAIN = 0.5  # use of what is open, in the order of weight


def apart(readings):
    """The place of a reading that is far from all others, by their scatter and by a tenth; or None.

    So great a difference is a slip of the pen or another sheet, and would go into every sum.
    """
    thick = np.array([each.m_as("mm") for each in readings or ()])
    place = far_from_the_rest(thick) if thick.size >= FEWEST else None
    if place is None:
        return None
    rest = np.mean(np.delete(thick, place))
    return place if resolution.more_than(abs(thick[place] - rest), APART * rest) else None


def sheet(job):
    """Is the sheet what it was sold as, and do all of its readings belong to one sheet?"""
    if (odd := apart(job["sheet.readings"])) is not None:
        thick = f"{as_typed(job['sheet.readings'][odd])} (reading {odd + 1})"
        mend = f"Measure there again: {thick} is far from the other readings. Look at its unit too."
        words = "One of the readings of the thickness does not seem to be of the same sheet"
        return [_open(f"{words}: {thick}.", mend)]
    if job.gauge is None:
        return []
    if (other := kind_of_table(job)) is not None:
        words = f"The sheet is {job.material.name}, but the gauge table is that of {other}"
        mend = f"Find out whether the sheet is {job.material.name} or {other}, and change the "
        return [_open(f"{words}: change one.", f"{mend}entry that is wrong.")]
    if job.gauge.within_tolerance is False:
        thick = brief(job.thickness, 3)
        mend = f"Plan on the {thick} that was measured, and ask what you were sold."
        return [_open(f"{job.gauge}.", mend)]
    said = str(job.gauge)
    if job["sheet.thickness"] is None and not job["sheet.readings"]:
        said = f"{said.partition(': ')[0]} by its table; nobody has measured it. "
        said += "A gauge number is not a thickness: measure it before you turn"
    return [Reason("sheet", "yes", 0.0, f"{said}.")]


def _open(sentence, mend):
    return Reason("sheet", "open", LOOK_AGAIN, sentence, mend=lambda: (Change(mend),))


def kind_of_table(job):
    """The kind of sheet whose own gauge table stands in a job of another kind; else None."""
    key = job["sheet.gauge_table"]
    other = key in OWN_TABLES and key != job.material.gauge_table
    return SOLD_BY[key] if other else None
