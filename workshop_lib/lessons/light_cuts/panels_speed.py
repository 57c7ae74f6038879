"""Which panel of lesson 03 is about speed? How fast may this blank turn on this lathe, and why?"""

from functools import cache

from workshop_lib import plan, shop
from workshop_lib.drawings import page
from workshop_lib.lessons.light_cuts.panels_blank import blank_fields
from workshop_lib.lessons.light_cuts.panels_rim import FACINGS, SOFT
from workshop_lib.lessons.shared_fields import pad_fields, sheet_choice
from workshop_lib.overhang import strike_frequency
from workshop_lib.quantities import Q_, InputError, show, system
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View

# The speeds of the demonstration's lathe, invented like the rest of the scenario.
MACHINE = tuple(Q_(float(each), "rpm") for each in (45, 70, 110, 180, 280, 450, 720, 1100, 1800))
# What the panel does not ask: as the class had it for the cover of lesson 06.
COUNTED = {
    "about.title": "How fast?",
    "cut.feed": "0.05 mm/rev",
    "cut.finishing_depth": "0.05 mm",
    "cut.nose_radius": "0.2 mm",
    "cut.rake": "12 deg",
    "cut.edge": "fresh",
    "cut.own_frequency": "400 Hz",
    "thrust.uncertainty": "0 N",
}
ENTRIES = {
    "sheet.material": "material",
    "sheet.thickness": "thickness",
    "blank.corners": "corners",
    "blank.across_flats": "across",
    "blank.centre": "off",
    "disc.diameter": "disc_diameter",
    "pad.outer_diameter": "pad_diameter",
    "pad.inner_diameter": "relief_diameter",
    "pad.facing": "facing",
    "pad.facing_thickness": "facing_thickness",
    "cut.tool": "tool",
    "cut.depth": "depth",
    "thrust.force": "thrust",
}
SCENE_WORDS = {"yes": "Turn at", "open": "Not yet", "no": "Do not turn it"}
OF_BLANK = {"blank": "across", "passes": "off"}


def speed_scene():
    """Which of the lathe's speeds for this blank, and which limit decides?"""
    fields = [
        sheet_choice(),
        Field("thickness", "Thickness", "length > 0", "0.62 mm", slider=(0.3, 3, 0.01)),
        *blank_fields(across="80 mm"),
        Field("off", "Marked centre off by", "length >= 0", "0 mm", slider=(0, 10, 0.1)),
        Field("disc_diameter", "Disc diameter", "length > 0", "78 mm", slider=(20, 200, 1)),
        *pad_fields("75 mm"),
        Choice("facing", "Pad facing", {key: FACINGS[key] for key in SOFT}, "leather"),
        Field("facing_thickness", "Pad facing thickness", "length > 0", "2 mm", slider=(1, 6, 0.5)),
        Choice("tool", "Tool", plan.TOOL_NAMES, "hss"),
        Field("depth", "Depth of each pass", "length > 0", "0.05 mm", slider=(0.05, 2, 0.05)),
        Field("thrust", "Thrust", "force > 0", "1000 N", slider=(50, 2500, 10)),
    ]
    return Scene("How fast may it turn?", fields, _judge_speed, words=SCENE_WORDS)


def _judge_speed(**values):
    chosen = speed_for(values)
    speed, first = chosen.job["cut.speed"], chosen.job.passes[0]
    decides, told = plan.DECIDES[chosen.limit], plan.brief(speed, 3)
    said = [sentence for grade, sentence in chosen.graded.values() if grade != "yes"]
    words = f"Turn at {told}: {decides} allows no more"
    if said:
        start = SCENE_WORDS[chosen.holds]
        start += f": {told} is the speed, but " if chosen.holds == "open" else ": "
        worst = next(each for grade, each in chosen.graded.values() if grade == chosen.holds)
        words = f"{start}{worst[:1].lower()}{worst[1:].rstrip('.')}"
    rows = [
        ["What decides", decides],
        ["Speed of the corners past the tool", (speed * first.from_radius).to("m/min")],
        ["Strikes of the corners in a second", _strikes(first, speed)],
        ["Unbalance at that speed", show(first.unbalance, figures=2)],
    ]
    why = f"{chosen.why[:1].upper()}{chosen.why[1:]}."
    details = [page.caution(*said)] if said else []
    details += [why, page.table(rows, [f"At {told}", "Value"]), _counted_on()]
    return View(words, chosen.holds, None, details)


def speed_for(values):
    """The job of these fields at the speed that it should turn at, as `plan.choose_speed` says.

    values: {field: quantity, key or number}. Raises InputError at the field that is wrong.
    """
    asked = {key: values[name] for key, name in ENTRIES.items()}
    asked["blank.centre"] = [values["off"], 0 * values["off"]]
    try:
        job = plan.Job(COUNTED | asked, shop=_lathe(system() or "metric", speeds()))
    except plan.JobFaults as error:
        fault = error.faults[0]
        field = (ENTRIES | OF_BLANK).get(fault.name, fault.name)
        raise InputError(field, fault.problem, fault.mend) from error
    return plan.choose_speed(job)


def speeds():
    """The speeds of the learner's own lathe, else those of the demonstration's."""
    return _own() or MACHINE


def _own():
    try:
        own = shop.found()
    except InputError:  # the first cell of the lesson has said so
        return ()
    return () if own is None or own.lathe is None else own.lathe.speeds


@cache
def _lathe(units, speeds):
    return shop.Shop({}, units, shop.Lathe(speeds=speeds))


def _strikes(first, speed):
    if not first.strikes:
        return "none: it cuts all the way round"
    return show(strike_frequency(first.strikes, speed).m, figures=2)


def _counted_on():
    """What the answer takes for granted, in words."""
    feed, radius = ("2 thou", "8 thou") if system() == "inch" else ("0.05 mm", "0.2 mm")
    own = "your lathe" if _own() else "the class's lathe"
    listed = ", ".join(f"{each.m_as('rpm'):g}" for each in speeds())
    more = "" if _own() else " Type yours into “Your shop” of lesson 00."
    return (
        f"The speeds are those of {own}: {listed} rev/min.{more} The panel assumes a feed of "
        f"{feed} a turn, a freshly ground tool with a nose radius of {radius} and 12° of rake, a "
        "squeeze that is never weaker than this thrust, and a set-up that rings at 400 Hz when "
        "tapped. A job in lesson 06 uses your own values, and checks what this panel does not: "
        "whether nose, plate and pad facing can take the thrust."
    )
