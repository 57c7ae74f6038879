"""How was the job done? Cautions, steps in order, what was measured beside what was planned."""

from workshop_lib.gauges import thickness
from workshop_lib.plan import (
    as_spoken,
    brief,
    clocked_total,
    instrument_rows,
    last_slipped,
    rim_rows,
    squareness,
)
from workshop_lib.quantities import show, system, times_over
from workshop_lib.slip import KEEP_THE_THRUST, RULES_FIRST

CAUTIONS = (
    RULES_FIRST,
    "A disc that slips can be thrown: stand out of its plane, wear eye protection, keep the "
    "machine's guards in place.",
    f"Lock tailstock and quill before you start. {KEEP_THE_THRUST}",
    "Cut dry, or as your instructor says: oil that creeps between pad and sheet can take away half "
    "of the hold or more. Never run the spindle backwards.",
    "The pad's arbor needs a shoulder, a stop or a taper behind it to take the thrust, which would "
    "push a plain shank through the jaws. Extend the quill as little as you can (common "
    "practice).",
    "Take the chuck key out, keep the stop button within reach and protect your hearing. Stay "
    "below the speed that the nose's maker states, and check its seals.",
    "Set a sharp tool at centre height, with clearance behind its edge and little overhang. Before "
    "the last pass check that pad and plate are smaller than the finished disc, clear of the "
    "tool.",
    "Stringy chips wind round pad and nose: stop, and clear them with a hook, never by hand.",
    "If you felt or heard a strike, stop. Read the high spot again and check the thrust before "
    "any deeper pass.",
    "No gloves, rings, loose sleeves or loose hair near a turning spindle.",
    "Stop the spindle before touching, measuring or clearing chips. Fresh-cut sheet has sharp "
    "edges.",
)
UNREADY = {
    "planned": "This plan is not ready: fix what is listed under “What to change” before any of "
    "the steps below.",
    "turned": "Do not repeat this job as it stands: see “What to change”.",
}
DUST = {
    "laminate": "Do not breathe laminate dust, least of all from glass laminate; it also makes the "
    "skin itch. Use extraction at the tool and follow local rules.",
    "plastic": "Plastic chips melt and burn when a tool rubs: use sharp tools and do not dwell.",
}
FUMES = {
    "acrylic": "Acrylic cracks from its edge: leave no nicks, keep solvent off, take light cuts, "
    "and give the tool little rake, about 5° (common practice).",
    "pvc": "Hot PVC gives off acid fumes: use extraction at the tool, and stop if it smells or "
    "turns brown.",
}


def cautions(found):
    """Sentences to be read before the spindle turns: the usual ones and those of this job."""
    unready = [] if found.holds == "yes" else [UNREADY[found.job["about.state"]]]
    return [*unready, *CAUTIONS, *own_cautions(found)]


def own_cautions(found):
    """Sentences that warn of this job's sheet, facing and speed."""
    sheet = found.job.material
    own = [words for words in (DUST.get(sheet.family), FUMES.get(sheet.key)) if words]
    own += [words] if (words := squareness(found.job)) else []
    return [*own, *found.cautions]


def steps(job):
    """What to do, in order, with this job's own numbers."""
    corner, disc = show(job.blank.corner_radius(job.centre)), as_spoken(job["disc.diameter"])
    feed, speed = (as_spoken(job[f"cut.{key}"]) for key in ("feed", "speed"))
    thick = thickness_text(job)
    return [
        f"Measure the sheet in several places; this plan is for {thick}.",
        "Mark the centre and scribe the disc; cut the blank outside the line and file the burrs.",
        f"Fit the pad ({as_spoken(job['pad.outer_diameter'])}) and clean the pad facing and the "
        "sheet, with the protective film off and no burr beneath it: "
        f"{job['pad.condition']}, as planned.",
        "Set the blank to its mark between the pad and the nose's plate, which is as large as the "
        f"pad. {_squeeze(job)}",
        "With the machine isolated, turn it by hand once round, by the spindle and not by the "
        f"sheet. Nothing may touch; the farthest corner is {corner} from the axis.",
        "With the machine isolated, clock the pad and the nose and note the totals: a knock will "
        "show as a change. Remove the indicator completely.",
        f"Set {speed} and a feed of {feed} a turn. Stand out of the disc's plane, then switch on.",
        f"Start outside the corners and take {_cuts(job)}. {_first_cut(job)}",
        "After the first passes stop and isolate, try both locks, check the witness marks of pad "
        "and nose, and clock again: if the disc has crept or the reading has changed, find out why "
        "before you go on. Remove the indicator again.",
        f"Stop at {disc}. With the spindle still, measure, and deburr both edges before you take "
        "the disc off the pad.",
    ]


def thickness_text(job):
    """The thickness to plan on: as typed, or the mean of readings, or the gauge's."""
    return (
        as_spoken(job.thickness) if job.thickness is job["sheet.thickness"] else show(job.thickness)
    )


def _squeeze(job):
    """How to press, and what to mind when the facing creeps."""
    how = f"squeeze with {show(job.thrust)}"
    if job.measured_thrust is not None:
        how = f"pull the handle as you did on the scale, which gives {show(job.thrust)}"
    elif job.screw is not None:
        torque = as_spoken(job["thrust.handwheel_torque"])
        how = f"turn the handwheel with {torque}, which presses with {show(job.thrust)}"
    words = f"With the spindle stopped, {how}; then lock tailstock and quill. After a minute set "
    words += "the thrust again: soft facings creep, and a hard squeeze grows with heat"
    grows = "12 µm for every 100 mm and 10 K"
    if system() == "inch":
        grows = "1.2 thou for every 10 in and 18 °F"
    return f"{words} (steel: about {grows})."


def _cuts(job):
    """How many passes of what depth, in words."""
    count, depth = len(job.passes), as_spoken(job["cut.depth"])
    finishing = job["cut.finishing_depth"]
    rough = count - (finishing is not None)
    passes = f"{rough} passes of {depth} off the radius" if rough > 1 else f"one pass of {depth}"
    passes += " at the most" if rough == 1 else ", the last one only what is left"
    return passes if finishing is None else f"{passes}, then one of {as_spoken(finishing)}"


def _first_cut(job):
    strikes = job.passes[0].strikes
    along = "Let the tool travel from the tailstock's side towards the pad. "
    along *= job["cut.kind"] == "traverse"
    if not strikes:
        return f"{along}Feed in slowly."
    corners = "one corner" if strikes == 1 else f"{strikes} corners"
    return f"{along}The first pass meets {corners} a turn and needs the most hold: feed in slowly."


def measured_rows(job):
    """Rows of what, computed or planned, measured, difference."""
    rows = []
    if job["sheet.gauge"] is not None:
        nominal = thickness(job["sheet.gauge"], job["sheet.gauge_table"])
        rows.append(_row("Thickness by the gauge number", nominal, job.thickness, 3))
    if job["sheet.readings"] and (given := job["sheet.thickness"]) is not None:
        rows.append(_row("Thickness, as given", given, job.thickness, 3))
    if (found := job.measured_friction) is not None:
        low, typical, high = (show(each, figures=2) for each in job.listed_friction)
        apart = _percent(found.value / job.listed_friction.typical, " from typical")
        listed = f"{low} to {high}, {typical} typical"
        rows.append(("Friction", listed, _with_doubt(found), apart))
    if (found := job.measured_thrust) is not None:
        apart = _percent((found.value / job.planned_thrust).m_as(""))
        rows.append(("Thrust", show(job.planned_thrust), _with_doubt(found), apart))
    if (size := job["measured.disc_diameter"]) is not None:
        rows.append(_row("Diameter of the disc", job["disc.diameter"], size, 4))
    rows += [*rim_rows(job), *instrument_rows(job)]
    total, allowed = clocked_total(job), job["run_out.allowed"]
    if total is not None and allowed is not None:
        within = "within it" if total <= allowed else f"{brief(total - allowed)} too much"
        rows.append(("Run-out of the disc", f"{as_spoken(allowed)} allowed", brief(total), within))
    if (slipped := last_slipped(job)) is not None:
        margin = times_over(float(job.passes.worst.margin))
        held = f"holds {margin} times the load"
        rows.append(
            ("Slip", held, *(("it slipped", "see why") if slipped else ("none", "as planned")))
        )
    return rows


def _with_doubt(found):
    """A measured value with its standard uncertainty, and what to plan on."""
    return f"{found.told}; plan on {show(found.low)}"


def _percent(ratio, of=""):
    """Say how far a ratio is from one."""
    apart = round(100 * (ratio - 1))
    return f"{'+' if apart > 0 else '−'}{abs(apart)} %{of}" if apart else "negligible"


def _row(what, planned, found, figures):
    apart = (found - planned).to("mm")
    sign = "+" if apart.m >= 0 else "−"
    difference = f"{sign}{show(abs(apart), figures=2)}"
    return what, show(planned, figures=figures), show(found, figures=figures), difference
