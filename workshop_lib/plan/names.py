"""What are the keys of a job called among people?"""

from workshop_lib import gauges
from workshop_lib.materials import facings
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.plan.reasons import as_spoken

TOOL_NAMES = {"hss": "high-speed steel", "carbide": "carbide"}
PRESSURES = {
    "uniform": "evenly",
    "uniform_wear": "as on a worn-in face",
    "rigid_punch": "as under a hard, flat punch",
    "hertz": "as under a slightly domed face",
}
CUTS = {"traverse": "along the edge (traverse)", "plunge": "straight in (plunge)"}

# What a plan is asked, and what makes its margin uncertain.
QUESTIONS = {
    "slipped": "Did it slip?",
    "hold": "Does friction hold?",
    "facing": "Can the pad facing take it?",
    "rim": "Is the rim stiff enough?",
    "tipping": "Does it stay flat on the pad?",
    "speed": "Is the speed right?",
    "chip": "Is the chip thick enough?",
    "ringing": "Does the rim ring?",
    "nose": "Can the nose take it?",
    "blank": "Is the blank close enough?",
    "lathe": "Can your lathe do it?",
    "plate": "Is the whole pad pressing?",
    "sheet": "Is the sheet what it was sold as?",
    "run-out": "Does it run true?",
    "size": "Is it to size?",
    "roundness": "Is it round?",
    "note": "Does it ring like its sheet?",
}
NEED_NOT_ADD_UP = "The shares need not add up to 100 %: two uncertainties can act together."
INPUT_NAMES = {
    "thrust": "thrust",
    "friction_coefficient": "friction",
    "cutting_force": "cutting force",
    "radial_share": "radial share of the force",
    "unbalance": "unbalance",
    "disc_diameter": "diameter at the cut",
}


def facing_name(job):
    """What the pad is faced with."""
    return next(each.name for each in facings() if each.key == job["pad.facing"])


def tool_told(job):
    """The tool with what its force depends on: nose radius, rake and edge, where given."""
    words = [TOOL_NAMES[job["cut.tool"]]]
    if (radius := job["cut.nose_radius"]) is not None:
        words.append(f"nose radius {as_spoken(radius)}")
    words.append(f"rake {as_spoken(job['cut.rake'])}")
    if (edge := job["cut.edge"]) is not None:
        words.append(f"edge {edge}")
    return ", ".join(words)


def _gauge_table(job):
    key = job["sheet.gauge_table"]
    return "–" if key is None else gauges.tables()[key]


def entry_name(key):
    """What an entry is called in a table, without the keys that it may contain."""
    return ENTRIES[key].means.partition(":")[0]


# Entries that hold a key of a table or a list: what to say instead.
NAMED = {
    "sheet.material": lambda job: job.material.name,
    "sheet.gauge_table": _gauge_table,
    "pad.facing": facing_name,
    "pad.pressure": lambda job: PRESSURES[job["pad.pressure"]],
    "cut.kind": lambda job: CUTS[job["cut.kind"]],
    "cut.tool": lambda job: TOOL_NAMES[job["cut.tool"]],
    "nose.design": lambda job: job.nose.name,
}
