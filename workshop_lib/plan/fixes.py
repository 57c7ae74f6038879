"""How can a job be fixed? Each change with its number, tried on the job before it is proposed."""

from bisect import bisect_left

import numpy as np

from workshop_lib.friction import thrust
from workshop_lib.load_path import stronger_bearing
from workshop_lib.own_files import LARGEST_NUMBER
from workshop_lib.plan.reasons import Change, brief
from workshop_lib.plan.settable import down, set_down, set_up, step_of
from workshop_lib.plan.stacked import proposed
from workshop_lib.quantities import InputError, Quantity, resolution, system, times_over
from workshop_lib.shop import WORDS
from workshop_lib.slip import thrust_needed
from workshop_lib.torque import least_chip

ROOM = {"metric": Quantity(4.0, "mm"), "inch": Quantity(3 / 16, "inch")}
# by which a large pad stays smaller than the disc


def tried(job, entries, good):
    """Return the job with these entries if it can stand and is good, else None."""
    try:
        other = job.changed(entries)
    except InputError:
        return None
    return other if good(other) else None


def proposals(job, good, *candidates):
    """Return those changes, of pairs of sentence and entries, that do what they say."""
    return tuple(
        Change(sentence, entries)
        for sentence, entries in (each for each in candidates if each is not None)
        if not entries or tried(job, entries, good) is not None
    )


def margin_of(job):
    """The least margin of all passes."""
    return float(job.passes.worst.margin)


def thrust_for(job, margin):
    """Thrust to be counted on that gives a margin at the worst pass, N."""
    worst = job.passes.worst
    if job.count > 1 and worst.margin > 0:  # every face holds in step with the thrust
        return job.low_thrust.m_as("N") * margin / margin_of(job)
    loads = worst.side_force, worst.peak_torque
    return thrust_needed(job.pad, job.friction.low, *loads, margin).m_as("N")


def aim_for(job, counted_on):
    """Thrust to aim at so that so many N can be counted on: a `Setting`."""
    return set_up("thrust", Quantity(_aimed(job, counted_on), "N"))


def _aimed(job, counted_on):
    """The same, N: a doubt that was given stays, one that grows with the thrust grows."""
    if job.thrust_read is None and job["thrust.uncertainty"]:
        return counted_on + (job.planned_thrust - job.low_thrust).m_as("N")
    return counted_on * (job.thrust / job.low_thrust).m_as("")


def aim_below(job, borne):
    """Thrust to aim at so that its high end is no more than can be borne: a quantity."""
    if job.thrust_read is None and not job["thrust.uncertainty"]:
        return borne * (job.thrust / job.high_thrust).m_as("")
    return borne - (job.high_thrust - job.thrust)


def read_anew(found):
    """What to do when the scale promises no thrust at all; a reading that is odd is named."""
    odd = [each for each in found.remarks if "far from the rest" in each]
    return (
        odd[0] if odd else "The scale readings are too far apart: squeeze and read five times more."
    )


def press(job, counted_on):
    """How to press so that a thrust can be counted on: sentence and entries, or None."""
    if job.measured_thrust is not None and not job.low_thrust.m > 0:
        return read_anew(job.measured_thrust), {}
    if not job.low_thrust.m > 0 and job["thrust.uncertainty"] is not None:
        aim, doubt = brief(job.planned_thrust), brief(job["thrust.uncertainty"])
        words = f"Check the thrust of {aim} and its uncertainty of {doubt}, which leaves nothing "
        return f"{words}to count on: is one of them mistyped, or are the two swapped?", {}
    if not np.isfinite(counted_on) or counted_on > LARGEST_NUMBER:
        return None
    aim = aim_for(job, counted_on)
    if job.measured_thrust is not None:
        return f"Press with at least {aim.told}: pull harder, and read the scale again.", {}
    if job.calibrated is not None:
        return pull_for(job, aim)
    if job.screw is not None:
        wanted = Quantity(_aimed(job, counted_on), "N")
        torque = set_up("torque", thrust.torque_for(job.screw, wanted))
        words = f"Press with at least {aim.told}: {torque.told} on the handwheel."
        return words, {"thrust.handwheel_torque": torque.typed}
    return f"Press with at least {aim.told}.", {"thrust.force": aim.typed}


def pull_for(job, aim):
    """How hard to pull, or how far to turn, for a thrust to aim at: sentence and entries."""
    calibration = job.shop.lathe.calibration
    given = calibration.needed_for(aim.quantity)
    if given is None:
        words = f"Thrust alone will not do: it would take {aim.told}, beyond what your lathe was "
        return f"{words}calibrated to.", {}
    words = f"Press with at least {aim.told}: {brief(given)}, {WORDS[calibration.by]}."
    return words, {f"thrust.{calibration.by}": given}


def cut_less(job, share):
    """Load the pad with only a share of the cutting force: sentence and entries, or None."""
    if job["cut.kind"] == "plunge":
        exponent = 1 / (1 - job.material.core.chip_exponent)  # the force grows as h^(1 - mc)
        feed = set_down("feed", job["cut.feed"] * share**exponent)
        if feed.quantity.m_as("m") < least_chip(job["cut.tool"]).high:  # it would rub
            return None
        return f"Feed no more than {feed.told} a turn.", {"cut.feed": feed.typed}
    depth = set_down("depth", job["cut.depth"] * share)
    if depth.quantity.m <= 0:
        return None
    entries = {"cut.depth": depth.typed}
    finishing = job["cut.finishing_depth"]
    if finishing is not None and finishing > depth.quantity:
        entries["cut.finishing_depth"] = depth.typed
    return f"Cut no deeper than {depth.told} a pass.", entries


def depth_for(job, margin):
    """The depth of cut that keeps a margin: sentence and entries, or None.

    The unbalance does not shrink with the depth, so that the share is found by trying.
    """
    share = margin_of(job) / margin
    for _ in range(6):
        if share <= 0:
            return None
        found = cut_less(job, share)
        if found is None:
            return None
        other = tried(job, found[1], lambda _: True)
        if other is None:
            return None
        if margin_of(other) >= margin:
            return found
        share *= 0.98 * margin_of(other) / margin
    return None


def pad_of(job, size):
    """The entries of a pad of that `Setting`; its plate goes with it where the job names one."""
    entries = {"pad.outer_diameter": size.typed}
    plate = job["nose.plate_diameter"]
    if plate is not None and plate < size.quantity:
        entries["nose.plate_diameter"] = size.typed
    return entries


def named_pad(entries, size):
    """Name the pad of such entries, and the plate where it has to be larger with it."""
    plate = " and a plate" if "nose.plate_diameter" in entries else ""
    return f"a pad{plate} of {size.told}"


def larger_pad(job, wanted):
    """A pad near the finished size, with what it would hold: sentence and entries, or None."""
    room = job["disc.diameter"].to("mm") - ROOM[system() or "metric"].to("mm")
    step = step_of("pad")
    if room.m_as(step.unit) <= (job["pad.outer_diameter"]).m_as(step.unit) + step.size:
        return None
    size = set_down("pad", room)
    entries = pad_of(job, size)
    other = tried(job, entries, lambda other: margin_of(other) > margin_of(job))
    if other is None:
        return None
    words = f"Take {named_pad(entries, size)}, close to the finished size"
    if not resolution.at_least(margin_of(other), wanted):
        words += ", which helps but is not enough"
    return f"{words}: it holds {times_over(margin_of(other))} times the load.", entries


def mends_of_hold(job, wanted, bears):
    """What would make friction hold with the wanted margin.

    bears: whether nose and facing of a job bear its thrust.
    """
    harder = press(job, thrust_for(job, wanted)) if job.friction.low > 0 else None
    found = [Change(*each) for each in proposed(job, wanted, tried, margin_of)]
    found += [Change(*each) for each in (depth_for(job, wanted), larger_pad(job, wanted)) if each]
    if harder is None:
        return found
    sentence, entries = harder
    if entries:
        other = tried(job, entries, lambda other: resolution.at_least(margin_of(other), wanted))
        if other is None:
            return found
        if not bears(other):
            needed = sentence.removeprefix("Press with at least ").partition(":")[0].rstrip(".")
            words = f"Thrust alone will not do: it would take {needed}, more than pad facing or "
            return [*found, Change(f"{words}nose can take.")]
    return [Change(sentence, entries), *found]


def mends_of_facing(job, pressed, highest, good):
    """What would bring the pressure on the facing down: only pads that the disc covers are named.

    pressed: where it is pressed hardest.
    """
    area = (job.high_thrust / highest).to("mm**2")
    outer = np.sqrt(4 / np.pi * area.m + (2e3 * job.pad.inner_radius) ** 2)
    size = set_up("pad", Quantity(float(outer), "mm"))
    fits = size.quantity < job["disc.diameter"]
    entries = pad_of(job, size)
    wider = f"Take {named_pad(entries, size)} or more: its face spreads the thrust.", entries
    needed = f"Take a pad facing that can take {set_up('pressure', pressed).told} or more.", {}
    return proposals(job, good, wider if fits else None, needed)


def least_pad(job, good):
    """The smallest larger pad, in whole steps, with which the job is good; None where none is."""
    step = step_of("pad")
    ends = job["pad.outer_diameter"], job["disc.diameter"]
    ends = [each.m_as(step.unit) / step.size for each in ends]
    counts = range(int(resolution.steps_down(ends[0], 1)) + 1, int(resolution.steps_up(ends[1], 1)))
    sizes = [set_up("pad", Quantity(each * step.size, step.unit)) for each in counts]
    place = bisect_left(sizes, 1, key=lambda size: tried(job, pad_of(job, size), good) is not None)
    return sizes[place] if place < len(sizes) else None


def mends_of_rim(job, bend, allowed, good):
    """What would keep the rim from bending too far."""
    found = []
    size = least_pad(job, good)
    if size is not None:
        entries = pad_of(job, size)
        found.append((f"Take {named_pad(entries, size)} or more.", entries))
    if job["cut.kind"] == "traverse":
        last = job.passes[-1]
        depth = (last.from_radius - last.tool_radius) * (allowed / bend).m_as("")
        depth = set_down("depth", depth)
        if depth.quantity.m > 0:
            words = f"Take no more than {depth.told} in the last pass."
            found.append((words, {"cut.finishing_depth": depth.typed}))
    return proposals(job, good, *found)


def mends_of_tipping(job, use, near, good, bears):
    """What would keep one side of the pad from lifting."""
    counted_on = job.low_thrust.m_as("N")  # of nothing there is no multiple; the hold says so
    some = counted_on > 0 and np.isfinite(use)
    harder = press(job, counted_on * use / near) if some else None
    lighter = cut_less(job, near / use) if job["rim.axial_share"] != 0 else None
    # Where the parts do not bear it, the reason for the hold says so.
    pressed = proposals(job, lambda other: good(other) and bears(other), harder)
    return pressed + proposals(job, good, lighter)


def speeds_of(job):
    """The speeds that the person's lathe has, in rev/min, rising; empty where nothing says them."""
    own = None if job.shop is None else job.shop.lathe
    return sorted(float(each.m_as("rev/min")) for each in own.speeds) if own is not None else []


def mends_of_speed(job, highest, good):
    """The fastest speed of the spindle that is usual, of the lathe's own where it has a list."""
    slower, own = highest.m_as("rev/min"), speeds_of(job)
    if own and not (slow := [each for each in own if each <= slower]):
        words = f"Your lathe's slowest, {own[0]:g} rev/min, is too fast for this: use another."
        return (Change(words),)
    if own:
        slower = f"{slow[-1]:g}"
        words = f"Turn at {slower} rev/min, the fastest of your lathe's speeds that will do."
    else:
        slower = down(slower, 1 if slower >= 1 else 10.0 ** np.floor(np.log10(slower)))
        words = f"Turn at {slower} rev/min or less."
    return proposals(job, good, (words, {"cut.speed": f"{slower} rev/min"}))


def mends_of_ringing(job, good):
    """A speed nearby, the lathe's own where it has a list, at which the strikes keep clear."""
    given, own = job["cut.speed"].m_as("rev/min"), speeds_of(job)
    others = [each for each in own if not resolution.same(each, given)]
    for other in (
        sorted(others, key=lambda each: abs(each - given))
        if own
        else (part * given for part in (0.9, 0.8, 1.1))
    ):
        other = f"{other:g}" if own else f"{other:.3g}"
        words = f"Change the speed: at {other} rev/min the strikes stay clear of it."
        found = proposals(job, good, (words, {"cut.speed": f"{other} rev/min"}))
        if found:
            return found
    if own:
        return (
            Change("None of your lathe's speeds stays clear of it: listen, and stop if it rings."),
        )
    return (Change("Change the speed by a tenth, either way, and listen."),)


def mends_of_nose(job, pushed, bears, wanted, good):
    """Less thrust, or a nose that carries more; and a lighter cut where the hold needs it then.

    pushed: what the nose must carry. bears: the thrust to aim at that it would carry, N.
    """
    such = stronger_bearing(job.nose, pushed)
    such = f", such as one with two {such} on the same spindle" if such else ""
    stronger = f"Take a nose whose parts can carry {brief(pushed, 3)}{such}.", {}
    least = set_down("thrust", Quantity(max(bears.m_as("N"), 0.0), "N"))
    counted_on = least.quantity.m_as("N") * (job.low_thrust / job.thrust).m_as("")
    lighter = ", and take a lighter cut to suit" * bool(counted_on < thrust_for(job, wanted))
    words = f"Press with no more than {least.told}{lighter}."
    entries = {"thrust.force": least.typed}
    if job["thrust.force"] is None or job.measured_thrust is not None:
        entries = {}
    return proposals(job, good, stronger, (words, entries) if least.quantity.m > 0 else None)
