"""Which panels of lesson 07 ask the lathe? The facing by a tap in the set-up, and a whistle."""

import numpy as np

from workshop_lib import instruments, overhang, plan
from workshop_lib.bearings import bearings, catalogue
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.instrument_charts import spectrum_chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.lessons.instruments.exercises import FAR, STILL
from workshop_lib.lessons.instruments.panels import (
    FOR_JOB,
    HEARD,
    OWN,
    _file,
    _heard,
    _heard_or_taken,
    _sound,
    _sources,
)
from workshop_lib.lessons.shared_fields import check_cover, facing_choice, sheet_choice
from workshop_lib.materials import find_material
from workshop_lib.overhang import facing_modulus, soft_frequencies
from workshop_lib.quantities import Q_, InputError, show
from workshop_lib.teaching.fields import Count, Field
from workshop_lib.teaching.panels import Choice, Scene, View

SPAN = (1.0, 1000.0)  # MPa, of the chart of notes against the facing's modulus
TRIED = np.geomspace(*SPAN, 25)


def _set_up():
    """The fields that say what is squeezed."""
    return (
        sheet_choice(),
        Field("disc", "Disc diameter", "length > 0", "78 mm", slider=(20, 200, 1)),
        Field("pad", "Pad, outer diameter", "length > 0", "60 mm", slider=(10, 140, 1)),
        Field("thickness", "Thickness of the sheet", "length > 0", "0.63 mm", (0.3, 3, 0.01)),
        facing_choice("leather"),
        Field("layer", "Thickness of the facing", "length > 0", "3 mm", slider=(0.5, 10, 0.5)),
    )


def facing_scene():
    """How stiff is my pad facing? From the note of the squeezed rim, spindle stopped."""
    fields = [
        _sources("squeezed.wav", sound=True),
        _sound(),
        _file(instruments.read_recording),
        *_set_up(),
    ]
    words = {"yes": "As in the table", "open": "Not as in the table"}
    return Scene("How stiff is my pad facing?", fields, _judge_facing, words=words)


def _at_recording(source, error):
    """A refusal said at the field from which the recording came."""
    place = {HEARD: "sound", OWN: "file"}.get(source, "source")
    return InputError(place, error.problem, error.mend)


def _judge_facing(source, sound, file, material, disc, pad, thickness, facing, layer):
    _covered(pad, disc)
    recording = _heard_or_taken(source, file, sound)
    heard = _heard(recording)
    if not heard.modes:
        return View("No tap with a note after it was heard", "open", None, heard.remarks)
    note = heard.modes[0]
    set_up = (disc, pad, thickness, material)
    try:
        found = instruments.facing_from_note(
            note.frequency, Q_(note.standard, "Hz"), *set_up, layer
        )
    except InputError as error:
        raise _at_recording(source, error) if error.name == "frequency" else error from error
    listed, first = _listed(facing), found[0]
    inside = listed is None or (first.high >= listed.low and first.low <= listed.high)
    said = "As in the table" if inside else "Not as in the table"
    said = "The table has no value to compare with" if listed is None else said
    words = f"its modulus is {show(first.modulus, figures=2)} ({_span(first)}) by a note of "
    words += show(note.frequency)
    rows = [[str(each.nodal_diameters), show(each.modulus, figures=2), _span(each)]
            for each in found]  # fmt: skip
    across = plan.typed(disc)
    table = "" if listed is None else f"The table says {_span(listed)}."
    details = [
        page.table(rows, ["Still lines across the disc", "Modulus of the facing", "Between"]),
        *([table] if table else []),
        *heard.remarks,
        page.to_copy(FOR_JOB, plan.note_line("rim_note", recording, heard, note, across)),
        page.caution(STILL, FAR),
    ]
    alt = f"Lowest note of the rim against the stiffness of the facing; {show(note.frequency)} "
    alt += f"means {show(first.modulus, figures=2)}."
    chart = facing_chart(set_up, layer, note.frequency, first).picture(alt)
    holds = None if listed is None else "yes" if inside else "open"
    return View(f"{said}: {words}", holds, chart, details)


def _span(found):
    return f"{show(found.low, figures=2)} to {show(found.high, figures=2)}"


def _covered(pad, disc):
    try:
        check_cover(pad, disc)
    except InputError as error:
        raise InputError("pad", error.problem, error.mend) from error


def _listed(facing):
    try:
        return facing_modulus(facing)
    except InputError:
        return None


def facing_chart(set_up, layer, frequency, found):
    """Lowest note of the squeezed rim against the modulus of its facing, as a `Chart`.

    set_up: disc, pad, thickness, material. layer: thickness of the facing. frequency: heard.
    found: `instruments.Facing`.
    """
    notes = soft_frequencies(*set_up, Q_(TRIED, "MPa"), layer, modes=3).m_as("Hz")
    lowest = np.min(notes, axis=-1)
    heard = frequency.m_as("Hz")
    chart = Chart(
        x=("Modulus of the facing", *SPAN, "MPa"),
        y=("Note in Hz", 0, nice(1.1 * max(lowest.max(), heard))),
        log="x",
    )
    chart.line(TRIED, lowest, "lowest note", weight="heavy")
    chart.horizontal(heard, "heard")
    chart.point(found.modulus.m_as("MPa"), heard, "yours", colour="orange")
    return chart


def whistle_scene():
    """What whistles? The rim, the strikes of the corners, or a bearing."""
    names = {each.designation: each.designation for each in bearings("deep_groove")}
    fields = [
        _sources("whistling.wav", sound=True),
        _sound(),
        _file(instruments.read_recording),
        Field("speed", "Speed of the spindle", "speed > 0", "280 rev/min", slider=(20, 2000, 10)),
        Count("corners", "Corners still struck", 8, slider=(1, 40)),
        Choice("bearing", "Bearing in the nose", names, "6202"),
        *_set_up(),
    ]
    words = {"yes": "Explained", "open": "Not explained yet"}
    return Scene("What whistles?", fields, _judge_whistle, words=words)


def _judge_whistle(source, sound, file, speed, corners, bearing, material, disc, pad, thickness,
                   facing, layer):  # fmt: skip
    _covered(pad, disc)
    recording = _heard_or_taken(source, file, sound)
    rim = _rim_notes(material, disc, pad, thickness, facing, layer)
    inside = catalogue(bearing).inside
    share = inside.element_diameter / inside.pitch_diameter
    try:
        found = instruments.whistle(recording, speed, corners, rim, inside.elements, share)
    except InputError as error:
        raise _at_recording(source, error) if error.name == "recording" else error from error
    near = [each for each in found.suspects if each.explains]
    rows = [[each.name, show(each.frequency), "yes" if each.explains else "no"]
            for each in found.suspects]  # fmt: skip
    details = [
        page.table(rows, ["What it may be", "It would sound at", "Does that fit?"]),
        *([near[0].next_test] if near else []),
        page.caution("Stand out of the plane of the disc while it is cut.", FAR),
    ]
    tone = show(found.frequency, figures=4)
    words = f"Not explained yet: nothing in the list sounds at {tone}"
    if near:
        others = len(near) - 1
        more = "another" if others == 1 else f"one of {others} others"
        more = f", or {more} as close" if others else ""
        words = f"Explained: {tone} may be {near[0].name}{more}"
    alt = f"Loudness against pitch: the whistle is at {show(found.frequency)}."
    chart = _whistle_chart(recording, found).picture(alt)
    holds = "yes" if near else "open"
    return View(words, holds, chart, details)


def _rim_notes(material, disc, pad, thickness, facing, layer):
    set_up, listed = (disc, pad, thickness, find_material(material)), _listed(facing)
    if listed is None:
        return overhang.natural_frequencies(*set_up, modes=3)
    return soft_frequencies(*set_up, listed.typical, layer, modes=3)


def _whistle_chart(recording, found):
    """The spectrum of the cut, with the whistle and the nearest suspect."""
    top = nice(1.6 * found.core)
    pitch, level = instruments.spectrum(recording, 0.05, top=top)
    first = found.suspects[0]
    return spectrum_chart(pitch, level, top, [(first.note, "nearest in the list")])
