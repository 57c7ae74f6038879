"""What is asked of a job? One question to a function, each answered with its numbers.

Every check takes a `Job` and gives `Reason`s. `use` is the share of what is allowed that the job
takes: above 1 it fails, and the reasons are put in the order of it.
"""

import warnings
from functools import partial

import numpy as np

from workshop_lib.bearings import TYPED, recommended_safety
from workshop_lib.blank import speeds
from workshop_lib.friction import peak_pressure
from workshop_lib.load_path import trace
from workshop_lib.materials import facing
from workshop_lib.plan import (
    blank_checks,
    instrument_readings,
    lathe_checks,
    rim_checks,
    ringing_checks,
    sheet_checks,
    stacked,
    tipping_checks,
    tries,
)
from workshop_lib.plan.fixes import (
    aim_below,
    mends_of_facing,
    mends_of_hold,
    mends_of_nose,
    mends_of_rim,
    mends_of_speed,
    read_anew,
)
from workshop_lib.plan.from_shop import told
from workshop_lib.plan.names import TOOL_NAMES, facing_name
from workshop_lib.plan.raising import nose_radius
from workshop_lib.plan.reasons import OPEN, Change, Reason, as_spoken, brief, graded, share
from workshop_lib.plan.settable import set_up
from workshop_lib.plan.sheet_checks import plate, sheet, supposed
from workshop_lib.plan.tipping_checks import axial_force
from workshop_lib.quantities import (
    Q_,
    OutOfRangeWarning,
    as_shown,
    in_system,
    resolution,
    times_over,
)
from workshop_lib.run_out import Total, diagnose
from workshop_lib.slip import LEAST_MARGIN
from workshop_lib.torque import least_chip, spindle_speed, thickest_chip

INVENTED = "typical-sizes"  # source of the designs whose sizes are nobody's nose


def wanted_margin(job):
    """The margin that is asked for, never less than the least that the workbook calls one."""
    return max(float(job["cut.margin"]), LEAST_MARGIN)


def hold(job):
    """Does friction hold at every pass, at low friction and high cutting force?"""
    worst, wanted = job.passes.worst, wanted_margin(job)
    margin = float(worst.margin)
    use = wanted / margin if margin > 0 else np.inf
    holds = "open" if resolution.at_least(margin, 1) else "no"
    holds = "yes" if resolution.at_least(margin, wanted) else holds
    which = f"pass {worst.number} of {len(job.passes)}"
    face = stacked.where_it_slips(job, worst)
    which += f", {face}" * bool(face)
    if holds == "no":
        words = f"It slips: at {which}{',' * bool(face)} friction holds only {times_over(margin)} "
        words += f"times the load; {brief(wanted)} is needed"
    else:
        words = f"It holds {times_over(margin)} times the load at its worst, {which}; "
        words += f"{brief(wanted)} is needed"
    if job["cut.margin"] < LEAST_MARGIN:
        words += f" (a margin below {brief(LEAST_MARGIN)} is not enough)"
    mend = tuple if holds == "yes" else partial(mends_of_hold, job, wanted, _bears_thrust)
    return [Reason("hold", holds, use, f"{words}.", margin, wanted, mend=mend)]


def _bears_thrust(job):
    parts = facing_pressure, lathe_checks.thrust, nose  # the cheaper ones first
    return all(passes(each, job) for each in parts)


def facing_pressure(job):
    """Does the thrust, at its high end, crush the facing where it is pressed hardest?

    Against the printed pressure, or the one that a piece of it was tried under; the lower of both.
    """
    printed, tried = facing(job["pad.facing"]).highest_pressure, job["pad.pressure_tried"]
    rated = [each for each in (printed, tried) if each is not None]
    pressed = peak_pressure(job.pad, job.high_thrust)
    if not rated:
        return [] if sheet_checks.modulus(job) is None else [_untried(job, pressed)]
    highest = min(rated)
    use = share(pressed, highest)
    words = f"Where it is pressed hardest, the pad facing is under {brief(pressed)}; it "
    words += f"{'is rated for' if highest is printed else 'was tried up to'} {brief(highest)}"
    mend = tuple
    if use > 1:
        mend = partial(mends_of_facing, job, pressed, highest, partial(passes, facing_pressure))
    return [Reason("facing", graded(use), use, f"{words}.", pressed, highest, mend=mend)]


def _untried(job, pressed):
    """A facing for which nothing is printed and that nobody has tried."""
    much = set_up("pressure", pressed).told
    words = (
        f"Where it is pressed hardest, the pad facing is under {brief(pressed)}, and nobody has "
    )
    words += f"printed how much {facing_name(job)} can take"
    told = f"Squeeze a piece of it between flat plates with {much} or more for ten minutes. If it "
    told += "is neither crushed nor torn, write that pressure as pad.pressure_tried."
    change = (Change(told),)
    return Reason("facing", "open", OPEN, f"{words}.", pressed, known=False, mend=lambda: change)


def passes(check, job):
    """Tell whether a job passes one check."""
    return all(reason.holds == "yes" for reason in check(job))


def rim(job):
    """Is the rim that hangs over the pad stiff enough at the last pass, where it is to be true?"""
    force = axial_force(job, job.passes[-1])
    allowed = job["rim.bend_allowed"]
    if not force.m > 0:
        return []
    if not sheet_checks.known(job):
        return [sheet_checks.unknown_facing("rim", "How far the rim bends")]
    bend = sheet_checks.bend(job, force)
    words = f"The tool pushes the rim {brief(bend)} aside with {brief(force)} at the last pass"
    doubt = sheet_checks.doubt_of_bend(job, force, bend)
    least = job.thickness / 2 if allowed is None else min(allowed, job.thickness / 2)
    mend = partial(mends_of_rim, job, bend, least, partial(passes, rim))
    if allowed is None:
        grade, use = ("open", OPEN) if doubt else ("yes", 0.0)
        words += "; no limit was set"
    else:
        grade, use = graded(share(bend, allowed)), share(bend, allowed)
        words += f"; {as_spoken(allowed)} is allowed"
        grade, use = ("open", OPEN) if grade == "yes" and doubt else (grade, use)
    words += f"; {doubt}" * bool(doubt)
    mend = tuple if grade == "yes" else mend
    return [Reason("rim", grade, use, f"{words}.", bend, allowed, mend=mend)]


def tipping(job):
    """Does the tool lift one side of the pad at the first pass, where it reaches farthest?"""
    return tipping_checks.tipping(job, _bears_thrust)


def speed(job):
    """Is the cutting speed within what the sheet's material is turned at?"""
    across, given = 2 * job.passes[0].from_radius, job["cut.speed"]
    span = getattr(job.material, f"cutting_speed_{job['cut.tool']}")
    rim_speed = as_shown(given.m_as("rad/s") * across.m_as("m") / 2, "cutting_speed")
    use = share(rim_speed, span.high)
    words = f"The corners pass the tool at {brief(rim_speed)}; {brief(in_system(span.low).m)} to "
    words += f"{brief(span.high, 3)} is usual for this sheet with {TOOL_NAMES[job['cut.tool']]}"
    slow = share(rim_speed, span.low) < 1
    if slow and job["cut.tool"] == "carbide":
        told = Change("Turn faster if the hold allows it, or take high-speed steel.")
        words += ": too slow for carbide, whose edge crumbles"
        return [
            Reason("speed", "open", OPEN, f"{words}.", rim_speed, span.low, mend=lambda: (told,))
        ]
    words += ", and slower is allowed" * slow
    mend = tuple
    if use > 1:
        highest = spindle_speed(span.high, across)
        mend = partial(mends_of_speed, job, highest, lambda other: passes(speed, other))
    return [Reason("speed", graded(use), use, f"{words}.", rim_speed, span.high, mend=mend)]


def chip(job):
    """Is the chip thick enough to be cut, or does the edge only rub? At the lightest pass."""
    least, feed = least_chip(job["cut.tool"]), job["cut.feed"].m_as("m")
    thick, depth = feed, None
    if job["cut.kind"] == "traverse":
        depths = job["cut.depth"], job["cut.finishing_depth"] or job["cut.depth"]
        depth = min(each.m_as("m") for each in depths)
        edge = nose_radius(job, "high").m_as("m"), job["cut.approach_angle"].m_as("rad")
        thick = thickest_chip(depth, feed, *edge)
    grade = "yes" if thick >= least.high else "open" if thick >= least.low else "no"
    shown, wanted = as_shown(thick, "length"), as_shown(least.high, "length")
    words = f"The chip is {brief(shown)} at its thickest; an edge of {TOOL_NAMES[job['cut.tool']]} "
    words += f"needs at least {brief(wanted)} to cut"
    use = least.low / thick if grade != "open" else OPEN
    told = Change(
        f"Feed at least {brief(as_shown(feed * least.high / thick, 'length'))} in a turn."
    )
    if depth is not None and depth < least.high:
        told = Change(f"Take no pass of less than {brief(wanted)}: the tool only rubs there.")
    if grade != "yes":
        words += ": a thinner chip rubs, and stainless sheet hardens under it"
    mend = (lambda: (told,)) if grade != "yes" else tuple
    return [Reason("chip", grade, use, f"{words}.", shown, wanted, mend=mend)]


def nose(job):
    """Do the nose and its bearings carry the high end of the thrust, with the corners' shock?"""
    shock, beside = shock_factor(job), axial_force(job, job.passes[0])
    pushed = shock * job.high_thrust + beside
    found = trace(job.nose, pushed, speed=job["cut.speed"])
    weakest, invented = found.weakest, found.design.source == INVENTED
    use = share(Q_(1.0), Q_(float(weakest.margin)))
    own = f"{found.design.name[:1].upper()}{found.design.name[1:]}"
    words = own if found.design.source == TYPED else "The nose"
    words = "A nose like the workbook's" if invented else words
    words += f" has to take {brief(pushed, 3)}"
    if shock > 1:
        words += (
            f": {brief(shock)} times the high end of the thrust, because the corners strike, plus "
        )
        words += "the push of the cut"
    words += f". Its weakest part, the {weakest.name}, "
    words += f"can take {times_over(float(weakest.margin))} times that ({weakest.governs})"
    words += ". Measure your own nose" * invented
    known = job["nose.name"] is not None or "nose.design" in job.values
    if not known:
        words = f"You have not said which nose presses. {words}"
    mend = tuple
    if use > 1:
        bears = (pushed * float(weakest.margin) - beside) / shock
        least = aim_below(job, bears)
        mend = partial(mends_of_nose, job, pushed, least, wanted_margin(job), partial(passes, nose))
    holds = graded(use)
    holds = "open" if holds == "yes" and not known else holds
    return [Reason("nose", holds, use, f"{words}.", weakest.margin, 1.0, mend=mend)]


def shock_factor(job):
    """What the thrust is multiplied by where corners strike: the static safety for shocks."""
    if not job.passes[0].strikes:
        return 1.0
    design = job.nose
    places = {
        step.carries[0] for step in design.steps if (step.path, step.how) == ("thrust", "bearing")
    }
    bearings = (each.bearing for each in design.supports if each.place in places)
    return max(recommended_safety(each, "shock") for each in bearings)


def run_out(job):
    """Does the finished disc run true, and what do the clockings point to?"""
    if not job.tests:
        return []
    total, allowed, said = clocked_total(job), job["run_out.allowed"], pointed_to(job)
    if total is None or allowed is None:
        return [Reason("run-out", "yes", 0.0, said)]
    use = share(total, allowed)
    words = f"The disc runs out {brief(total)} in total; {as_spoken(allowed)} is allowed"
    changes = (Change(f"Find the cause of the run-out. {said}"),) if use > 1 else ()
    return [Reason("run-out", graded(use), use, f"{words}.", total, allowed, mend=lambda: changes)]


def clocked_total(job):
    """Indicator total of the disc's rim as it was clocked last, or None."""
    clocked = [test for test in job.tests if test.where == "disc" and test.what == "radial"]
    if not clocked:
        return None
    return clocked[-1].total if isinstance(clocked[-1], Total) else clocked[-1].fit().total


def next_clocking(job, found):
    """The clocking that would tell most of those that nobody has made yet, or None.

    found: `Diagnosis` of the job's tests.
    """
    made = {(each.where, each.what) for each in job.tests if isinstance(each, Total)}
    fresh = (
        each
        for each in found.next_tests
        if not each.again
        and not ((each.clocking.where, each.clocking.what) in made and each.clocking.index == 0)
    )
    return next(fresh, None)


def pointed_to(job):
    """What the clockings point to, and what to clock next, in words."""
    found = diagnose(job.tests)
    fresh = next_clocking(job, found)
    more = "" if fresh is None else f" Next: {fresh.sentence}"
    return f"{found.verdict}{more}"


def minded(job):
    """Cautions of the speed: a fast rim, an unbalanced blank, a thin sheet that stands out far."""
    first = job.passes[0]
    pad = as_shown(2 * job.pad.outer_radius, "length")
    disc = 2 * first.from_radius, pad, job.thickness
    load = first.unbalance, job.low_thrust, job.friction.low
    return *stacked.cautions(job), *speeds.cautions(*disc, job.material, job["cut.speed"], *load)


CHECKS = (
    tries.slipped,
    hold,
    facing_pressure,
    rim,
    tipping,
    speed,
    chip,
    ringing_checks.ringing,
    nose,
    lathe_checks.lathe,
    blank_checks.blank,
    plate,
    sheet,
    run_out,
    rim_checks.size,
    rim_checks.roundness,
    instrument_readings.note,
)


def all_reasons(job):
    """Every reason in order of weight, and what was warned of on the way, in words."""
    with warnings.catch_warnings(record=True) as heard:
        warnings.simplefilter("always", OutOfRangeWarning)
        reasons = [reason for check in CHECKS for reason in check(job)]
        cautions = minded(job)
    said = dict.fromkeys(
        [
            *told(job),
            *supposed(job),
            *stacked.remarks(job),
            *instrument_readings.remarks(job),
            *job.remarks,
            *(str(each.message) for each in heard),
        ]
    )
    said |= dict.fromkeys(
        remark
        for found in (job.measured_friction, job.measured_thrust)
        if found is not None
        for remark in found.remarks
    )
    if job.measured_thrust is not None and not job.low_thrust.m > 0:
        said.pop(read_anew(job.measured_thrust), None)  # it stands among the changes already
    return sorted(reasons, key=lambda each: each.rank), cautions, tuple(said)


def assumed(job):
    """What was not given, so that its default is used: rows of key and value."""
    given = {*job.values, *job.supplied}
    return [[key, value] for key, value in job.usual.items() if key not in given]
