"""What does the card say? What somebody at the machine needs of one job, on one sheet."""

from dataclasses import dataclass

from workshop_lib.drawings.card_drawings import blank_sketch, set_up_sketch
from workshop_lib.drawings.markup import text_width
from workshop_lib.plan import NAMED, QUESTIONS, as_spoken, brief, facing_name, layer, tool_told
from workshop_lib.quantities import as_shown, times_over
from workshop_lib.shop import WORDS
from workshop_lib.slip import KEEP_THE_THRUST
from workshop_lib.write_up.doing import own_cautions

OCTAGON = 8  # corners of a blank that four snips make of a square
LEG = 1 - 0.5**0.5  # what each snip takes of the square's side; by Pythagoras
MOST_TOLD = 4  # questions that are not answered yet and stand on the card with their mend
MOST_OWN = 3  # cautions of the job beside the usual ones
WIDEST = {"title": 34, "name": 16, "sentence": 130}  # times the height of the letters
USUAL = (
    "Local rules, the machine's own instructions and your instructor come before this card.",
    "A disc that slips is thrown: stand out of its plane, wear eye protection, keep the guards in "
    "place.",
    "Take the chuck key out. Lock tailstock and quill. Remove the indicator completely before you "
    "switch on, and reach for the stop button once: it must be within reach.",
    "Sharp tool at centre height; pad and plate clear of it on the last pass.",
    KEEP_THE_THRUST,
    "Cut dry, or as your instructor says. Never run the spindle backwards.",
    "Wear no gloves, rings or loose sleeves, and tie hair back.",
    "Stop and isolate before you touch, measure or clear chips. Fresh-cut sheet has sharp edges.",
)
BOXES = (
    "Date",
    "Name",
    "Sheet, measured",
    "Pull or torque on the handle",
    "Thrust on the scale",
    "Speed set",
    "Run-out of the nose, before",
    "Run-out of the nose, after",
    "Disc, measured",
    "Slipped? At which pass?",
)


@dataclass(frozen=True, eq=False)
class Card:
    """What stands on a card. Rows are pairs or fours of text; lists are sentences."""

    title: str
    holds: str
    verdict: str
    not_yet: tuple
    pictures: tuple
    sheet: tuple
    settings: tuple
    passes: tuple
    looks: tuple
    cautions: tuple
    boxes: tuple = BOXES


def card_of(found):
    """The `Card` of a judged job. found: `Assessment`; the job's units are spoken."""
    job = found.job
    return Card(
        fitted(job["about.title"], "title"),
        found.holds,
        fitted(found.verdict, "sentence"),
        tuple(_not_yet(found)),
        (blank_picture(job), set_up_picture(job)),
        tuple(_sheet(job)),
        tuple(_settings(job)),
        tuple(_passes(job)),
        tuple(_looks(job)),
        (*USUAL, *(fitted(each, "sentence") for each in own_cautions(found)[:MOST_OWN])),
    )


def fitted(words, place):
    """A person's words, cut short with an ellipsis where they would take more than their room."""
    words = " ".join(str(words).split())
    if text_width(words) <= WIDEST[place]:
        return words
    while text_width(words) > WIDEST[place] - 1:
        words = words[:-1]
    return f"{words.rstrip()} …"


def _not_yet(found):
    """What speaks against turning, with the first thing that would help: the heaviest first."""
    open_ones = [each for each in found.reasons if each.holds != "yes"]
    for each in open_ones[:MOST_TOLD]:
        mend = each.changes[0].sentence if each.changes else each.sentence
        yield QUESTIONS[each.about], fitted(mend, "sentence")
    saving = found.reason("blank")
    if open_ones and saving is not None and saving.changes:
        yield QUESTIONS["blank"], saving.changes[0].sentence
    if more := open_ones[MOST_TOLD:]:
        yield f"And {len(more)} more", "Judge the job again: it names them all."


def _snip(job):
    """What is snipped off each corner of a square, along its side; None where it is none."""
    if job["blank.corners"] == OCTAGON:
        return (LEG * job["blank.across_flats"]).to(job["blank.across_flats"].units)
    clipped = job["blank.clipped_corner"]
    return clipped if clipped is not None and clipped.m > 0 else None


def blank_picture(job):
    """The blank with its corners to snip, a `Canvas`."""
    sides = job["blank.corners"]
    return blank_sketch(
        job.blank,
        job.centre,
        job["disc.diameter"],
        as_spoken(job["disc.diameter"]),
        _snip(job),
        f"{sides} equal sides" if sides else "",
    )


def set_up_picture(job):
    """The set-up in section with its sizes, a `Canvas`."""
    plate, relief = job["nose.plate_diameter"], job["pad.inner_diameter"]
    thick = job["pad.facing_thickness"]
    words = {
        "pad": f"pad ⌀ {as_spoken(job['pad.outer_diameter'])}",
        "relief": f"relieved ⌀ {as_spoken(relief)}" if relief.m else "",
        "facing": f"pad facing {as_spoken(thick)}" if thick is not None else "pad facing",
        "disc": f"disc ⌀ {as_spoken(job['disc.diameter'])}",
        "plate": f"plate ⌀ {as_spoken(plate)}" if plate is not None else "plate: not given",
        "thrust": f"thrust {brief(job.thrust, 3)}",
    }
    return set_up_sketch(job.pad, job["disc.diameter"], plate, words)


def _sheet(job):
    yield "Sheet", f"{job.material.name}, {brief(job.thickness, 3)} thick"
    if job.count > 1:
        yield "At once", f"{job.count} discs in one squeeze, {layer(job)}"
    yield "Blank", blank_words(job)
    yield "Disc", f"⌀ {as_spoken(job['disc.diameter'])}, without a hole"
    yield "Corners at", f"{brief(job.blank.corner_radius(job.centre), 3)} from the centre"


def blank_words(job):
    """How the blank is cut, in words."""
    if (corners := job["blank.corners"]) is not None:
        flats, snip = job["blank.across_flats"], _snip(job)
        if snip is not None:
            return f"a square of {as_spoken(flats)}, {brief(snip, 3)} cut off each corner"
        return f"{corners} equal sides, {as_spoken(flats)} across the flats"
    if (side := job["blank.side"]) is not None:
        snip = _snip(job)
        more = "" if snip is None else f", {as_spoken(snip)} cut off each corner"
        return f"a square of {as_spoken(side)}{more}"
    return f"an outline of {len(job['blank.outline'])} corners"


def _settings(job):
    thick, first = job["pad.facing_thickness"], job.passes[0]
    facing = facing_name(job) + (f" {as_spoken(thick)}" if thick is not None else "")
    name = job["pad.name"]
    own = f"“{fitted(name, 'name')}”: " if name else ""
    yield "Pad", f"{own}⌀ {as_spoken(job['pad.outer_diameter'])}, {facing}, {job['pad.condition']}"
    nose = job["nose.name"]
    yield "Nose", f"“{fitted(nose, 'name')}”" if nose else job.nose.name
    low = f"; plan on {brief(job.low_thrust, 3)}" if job.low_thrust < job.thrust else ""
    yield "Thrust", f"{brief(job.thrust, 3)}{low}"
    yield "Pull needed", pull_words(job)
    yield "Speed", f"{as_spoken(job['cut.speed'])}{_at_corners(first, job)}"
    depth, last = job["cut.depth"], job["cut.finishing_depth"]
    then = f", the last {as_spoken(last)}" if last is not None else ""
    yield "Depth of cut", f"{as_spoken(depth)} off the radius{then}"
    yield "Feed", f"{as_spoken(job['cut.feed'])} a turn, {NAMED['cut.kind'](job)}"
    yield "Tool", tool_told(job)


def pull_words(job):
    """The pull, turn or torque on this lathe that gives the thrust, or how to find it, in words."""
    if job.measured_thrust is not None:
        return "the same pull on the handle as on the scale"
    for key, by in (("thrust.pull", "pull"), ("thrust.turn", "turn")):
        if job[key] is not None:
            return f"{as_spoken(job[key])}, {WORDS[by]}"
    if job.screw is not None:
        return f"{as_spoken(job['thrust.handwheel_torque'])} on the handwheel"
    lathe = None if job.shop is None else job.shop.lathe
    if lathe is not None and lathe.calibration is not None:
        given = lathe.calibration.needed_for(job.thrust)
        if given is not None:
            return f"{brief(given, 3)}, {WORDS[lathe.calibration.by]}, by your calibration"
    return "a pull that you find with a scale between pad and nose: write it below"


def _at_corners(first, job):
    rim = first.from_radius.m_as("m") * job["cut.speed"].m_as("rad/s")
    return f"; the corners pass at {brief(as_shown(rim, 'cutting_speed'))}"


def _stages(found):
    """First and last number of the passes that a row of the card stands for."""
    count = len(found)
    strikes = [int(each.strikes) for each in found]
    whole = next((n for n, each in enumerate(strikes, start=1) if not each), None)
    struck = count if whole is None else whole - 1
    ends = {1, (1 + struck) // 2, struck, count - 1, count}
    ends = sorted(each for each in ends if 1 <= each <= count)
    return list(zip([1, *(each + 1 for each in ends)], ends, strict=False))


def _passes(job):
    found = job.passes
    for first, last in _stages(found):
        which = f"{first}" if first == last else f"{first} to {last}"
        after = brief(2 * found[last - 1].tool_radius, 4)
        begin = found[first - 1]
        corners = f"{begin.strikes:g}" if begin.strikes else "none"
        least = min(float(found[n - 1].margin) for n in range(first, last + 1))
        yield which, after, corners, times_over(least)


def _looks(job):
    found = job.passes
    strikes = [int(each.strikes) for each in found]
    whole = next((n for n, each in enumerate(strikes, start=1) if not each), None)
    yield (
        "After the first passes: stop, isolate, try both locks, check the witness marks of pad "
        "and nose, and clock the nose again. Crept or changed? Find out why first."
    )
    if whole is not None and 1 < whole < len(found):
        size = brief(2 * found[whole - 2].tool_radius, 4)
        yield f"At ⌀ {size}, after pass {whole - 1}, the corners are gone: stop and check."
    if len(found) > 1:
        size = brief(2 * found[-2].tool_radius, 4)
        yield f"Before the last pass, at ⌀ {size}: stop, measure, and set what is left."
    yield (
        "At once when a strike is felt, the note changes, the needle has changed or chips wind "
        "round the pad: stop; check the thrust before any deeper pass."
    )
    yield (
        f"At ⌀ {as_spoken(job['disc.diameter'])}: stop, measure, and deburr both edges before the "
        "disc leaves the pad."
    )
