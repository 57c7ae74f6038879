"""Will my disc hold? Five fields, one verdict: the first panel that a learner meets."""

from bisect import bisect_right
from functools import lru_cache

from workshop_lib import plan, shop
from workshop_lib.drawings import page
from workshop_lib.drawings.setup_drawings import section
from workshop_lib.lessons.shared_fields import check_cover, facing_choice, make_pad, sheet_choice
from workshop_lib.quantities import Q_, InputError, resolution, speak, system, times_over
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Panel, Scene, View

SYSTEMS = {"metric": "millimetres and newtons", "inch": "inches and pounds"}
WORDS = {"no": "Slips", "open": "Not yet"}  # a nose that it does not ask for keeps it from yes
# Depths that a dial can be set to, and from which on a pass is no mere scrape (common practice).
DEPTHS = {
    "metric": ("mm", (0.01, 0.02, 0.03, 0.04, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5), 0.05),
    "inch": ("thou", (0.5, 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 15, 20), 2),
}
# What five fields do not ask. The sheet's thickness has no part in the hold.
USUAL = {
    "about.title": "My disc",
    "sheet.thickness": "1 mm",
    "cut.speed": "100 rev/min",
    "cut.feed": "0.05 mm/rev",
    "thrust.uncertainty": "0 N",
}
SHARP = {"cut.nose_radius": "0.2 mm", "cut.edge": "fresh", "cut.rake": "12 deg"}
NEXT = (
    "This panel does not check how far the rim bends or how fast to turn, and your nose is not "
    "the workbook's. Before you cut metal, fill in the form in lesson 06."
)


def disc_scene():
    """Five fields of one's own disc, and how deep a pass may be."""
    fields = [
        Choice("units", "I think in", SYSTEMS, system() or "metric"),
        sheet_choice("mild_steel"),
        Field("disc_diameter", "Disc diameter", "length > 0", "78 mm", slider=(20, 200, 1)),
        Field("pad_diameter", "Pad diameter", "length > 0", "70 mm", slider=(10, 190, 1)),
        facing_choice("leather"),
        Field("thrust", "Thrust", "force > 0", "800 N", slider=(50, 2500, 10),
              help="Spindle stopped, a bathroom scale between nose and pad: type what it reads as "
              "80 kgf or 180 lbf. Not measured yet? Leave it, and see what it would take."),
    ]  # fmt: skip
    return Scene("Will my disc hold?", fields, _judge, words=WORDS)


def disc_panel():
    """The same as a panel, which takes on inch or metric at once and for every lesson after it."""
    return DiscPanel(disc_scene())


def _judge(units, material, disc_diameter, pad_diameter, facing, thrust):
    check_cover(pad_diameter, disc_diameter)
    asked = {
        "sheet.material": material,
        "disc.diameter": disc_diameter,
        "pad.outer_diameter": pad_diameter,
        "pad.facing": facing,
        "thrust.force": thrust,
    }
    try:
        job = plan.job(USUAL | asked)
    except plan.JobFaults as error:
        raise _at_field(error.faults[0]) from error
    unit, steps, least = DEPTHS[system() or "metric"]
    deepest, sharp = _deepest(job, unit, steps), _deepest(job.changed(SHARP), unit, steps)
    found = plan.assess(job.changed({"cut.depth": Q_(deepest or steps[0], unit)}), draws=0)
    words, holds = _verdict(found, deepest, least, unit)
    radius = "8 thou" if unit == "thou" else "0.2 mm"
    rows = [
        ["Deepest pass for a margin (safety factor) of 2", _told(deepest, unit)],
        [f"… with a fresh edge, {radius} nose radius and 12° of rake", _told(sharp, unit)],
        ["Margin at that pass", times_over(found.reason("hold").value)],
        ["Thrust for passes of " + _told(least, unit), _thrust_for(job, Q_(least, unit))],
    ]
    worst = found.job.passes.worst.cutting_force
    sizes = make_pad(pad_diameter, 0 * pad_diameter), disc_diameter, None, thrust
    drawing = section(*sizes, worst, job.radial_share.high * worst)
    said = [found.reason(about).sentence for about in ("facing", "nose") if _minded(found, about)]
    details = [page.caution(*said)] if said else []
    table = page.table(rows, ["With this thrust", "Answer"])
    return View(words, holds, drawing, [*details, table, NEXT, _counted_on()])


def _counted_on():
    """What the verdict takes for granted, in words."""
    feed, speed = (USUAL[f"cut.{each}"] for each in ("feed", "speed"))
    feed = plan.brief(Q_(float(feed.removesuffix(" mm/rev")), "mm"))
    return (
        "It assumes that only the pad's face drives; an octagon blank; a cut along the edge with "
        f"a feed of {feed} a turn at {speed}; a used tool; low friction; a squeeze that is never "
        "weaker than this thrust; and a stiff plate as large as the pad under the nose."
    )


def _verdict(found, deepest, least, unit):
    """The answer in one sentence, and yes, no or open."""
    passes = f"passes no deeper than {_told(deepest, unit)}"
    if deepest is None:
        return "Slips: even the lightest pass takes more than friction can hold", "no"
    for about, words in (
        ("facing", "the pad facing is pressed harder than it can take"),
        ("nose", "the nose is pressed harder than one like the workbook's can take"),
    ):
        reason = found.reason(about)
        if reason is not None and reason.holds == "no":
            return f"Not yet: friction would hold, but {words}", "open"
    if _minded(found, "facing"):
        return (
            f"Not yet: friction would hold in {passes}, but it is not known what this pad facing "
            "can take",
            "open",
        )
    if deepest < least:
        return f"Not yet: {passes}, which only scrapes. Press harder, or sharpen the tool", "open"
    return (
        f"Not yet ready: friction holds it in {passes}, but you have not yet said which nose "
        "presses, and through what plate",
        "open",
    )


def _minded(found, about):
    reason = found.reason(about)
    return reason is not None and reason.holds != "yes"


def _deepest(job, unit, steps):
    """The deepest of these passes that keeps the margin; None where none does."""

    @lru_cache
    def slips(depth):
        margin = float(job.changed({"cut.depth": Q_(depth, unit)}).passes.worst.margin)
        return not resolution.at_least(margin, job["cut.margin"])

    count = bisect_right(steps, False, key=slips)
    return steps[count - 1] if count else None


def _told(depth, unit):
    return "none" if depth is None else plan.brief(Q_(float(depth), unit))


def _thrust_for(job, depth):
    """What it would take, in words."""
    needed = plan.thrust_for(job.changed({"cut.depth": depth}), job["cut.margin"])
    return plan.set_up("thrust", Q_(needed, "N")).told


FIELDS = {
    "sheet.material": "material",
    "disc.diameter": "disc_diameter",
    "pad.outer_diameter": "pad_diameter",
    "pad.facing": "facing",
    "thrust.force": "thrust",
}


def _at_field(fault):
    return InputError(FIELDS.get(fault.name, fault.name), fault.problem, fault.mend)


class DiscPanel(Panel):
    """A panel whose first choice is the units of every lesson."""

    told = ""

    def answer(self, action, values):
        """Take what was set; speak and write down the units that were chosen."""
        chosen, self.told = values.get("units"), ""
        if chosen in SYSTEMS and chosen != (system() or "metric"):
            typed = {k: v for k, v in values.items() if str(v) != str(self.scene.given().get(k))}
            self.told = _chosen(chosen)
            self.scene = disc_scene()
            self.given, self.good = self.scene.given(), None
            self.frame = self.frame | {"fields": [each.spec() for each in self.scene.fields]}
            values = typed | {"units": chosen}
        return super().answer(action, values)

    def _face(self, complaints, beside=None):
        face = super()._face(complaints, beside)
        return face | {"note": face["note"] or self.told}


def _chosen(units):
    """Speak units from here on, and say where that was written."""
    speak(units)
    try:
        before = shop.found()
        made = shop.save(shop.changed(before, "units", {"system": units}), before=before)
    except InputError as error:
        return f"Only this lesson speaks {units} now: {error}"
    return (
        f"Chosen for every lesson: {units} ({made.file.name}). Other panels on this page follow "
        "when they are run again."
    )
