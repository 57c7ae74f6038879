"""Which panels does lesson 07 have? A scan, taps and the sound of a cut."""

from functools import lru_cache
from pathlib import Path

import numpy as np

from workshop_lib import instruments, plan
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.instrument_charts import spectrum_chart
from workshop_lib.drawings.kept_axes import nice
from workshop_lib.lessons.shared_fields import sheet_choice
from workshop_lib.materials import find_material
from workshop_lib.quantities import Q_, InputError, either, figures_known, show, spoken
from workshop_lib.teaching.fields import Choice, Count, Field
from workshop_lib.teaching.file_fields import FileName, Sound
from workshop_lib.teaching.panels import Scene, View

OWN, HEARD = "own", "heard"
HELP = "Drag the file into the list of files on the left, beside this notebook; type its name here."
ENDINGS = {
    instruments.read_picture: (".png", ".jpg", ".jpeg", ".tif", ".tiff"),
    instruments.read_recording: (".wav",),
}
TOP_NOTE = 5000.0  # Hz, of the chart
FOR_JOB = "The line for your job file, below [measured]"
ROOM = {"20 °C": 20.0, "25 °C": 25.0, "30 °C": 30.0, "not known": None}
IN_INCH = {"20 °C": "68 °F", "25 °C": "77 °F", "30 °C": "86 °F", "not known": "not known"}


def _sources(*names, sound=False):
    """The field that asks which file: those made for the lesson, or one's own."""
    options = {name: spoken(f"made: {instruments.MADE[name]}") for name in names}
    heard = {HEARD: "what I record or choose below"} if sound else {}
    return Choice("source", "Which file", options | heard | {OWN: "the file named below"}, names[0])


def _sound():
    """The field that records, or takes a sound file of any form."""
    return Sound("sound", "Record, or choose a sound file", "Nothing leaves this computer.")


def _heard_or_taken(source, file, sound):
    """Return the recording that was chosen."""
    if source != HEARD:
        return _taken(source, file, instruments.read_recording)
    if sound is None:
        mend = "Press Record and tap the disc, or choose a sound file"
        raise InputError("sound", "nothing has been recorded yet", mend)
    try:
        return _decoded(sound)
    except InputError as error:
        raise InputError("sound", error.problem, error.mend) from error


@lru_cache(maxsize=2)
def _decoded(sound):
    return instruments.read_recording(sound)


def _file(reader):
    start = "my_scan" if reader is instruments.read_picture else "my_sound"
    return FileName("file", "My own file", start + ENDINGS[reader][0], ENDINGS[reader], HELP)


def _taken(source, file, reader):
    """Read the file that was chosen; what is wrong with one's own is said at its field."""
    path = Path(file) if source == OWN else instruments.made(source)
    try:
        changed = path.stat().st_mtime_ns if path.is_file() else 0
        return _kept(str(path), changed, reader)
    except InputError as error:
        raise InputError("file", error.problem, error.mend) from error
    except (OSError, ValueError) as error:
        raise InputError("file", "is not the name of a file") from error


@lru_cache(maxsize=6)
def _kept(path, _changed, reader):
    return reader(path)


def scan_scene():
    """What does the scanner say about the rim?"""
    fields = [
        _sources("cover.jpg", "cover_turned.jpg"),
        _file(instruments.read_picture),
        Choice(
            "known", "On the glass beside it", {"ring": "a known ring", "none": "nothing"}, "ring"
        ),
        # in inch the size of a known ring is moved by less than it is known to
        Field(
            "ring",
            "Diameter of the known ring",
            "length > 0",
            "62 mm",
            (10, 150, either(0.5, 0.025)),
        ),
        Field("doubt", "Its standard uncertainty", "length > 0", "0.005 mm", (0.001, 0.1, 0.001)),
        sheet_choice(),
        Choice(
            "room", "Temperature of the room", either({key: key for key in ROOM}, IN_INCH), "20 °C"
        ),
    ]
    return Scene("What does the scanner see?", fields, _judge_scan)


def _judge_scan(source, file, known, ring, doubt, material, room):
    found = _scanned(source, file, known == "ring" and (ring, doubt), material, ROOM[room])
    rows = [
        ["Diameter, least squares", _with(found.diameter, found.uncertainty)],
        ["Out of round, minimum zone", _with(found.roundness, found.roundness_uncertainty)],
        ["Largest circle inside", show(Q_(2e3 * found.inscribed.radius, "mm"), figures=5)],
        ["Smallest circle round it", show(Q_(2e3 * found.circumscribed.radius, "mm"), figures=5)],
        ["Oval, from the mean circle to the crest", show(found.lobes[2].amplitude, figures=2)],
        [
            "Three lobes, from the mean circle to the crest",
            show(found.lobes[3].amplitude, figures=2),
        ],
    ]
    doubts = [[name, show(Q_(1e6 * size, "um"), figures=2)] for name, size in found.parts]
    details = [
        page.table(rows, ["What", "Value"]),
        page.table(doubts, ["Where the doubt comes from", "Standard uncertainty"]),
        *found.remarks,
        page.to_copy(FOR_JOB, plan.scan_line(found)),
    ]
    alt = f"How far the rim stands out round the turn: {show(found.roundness)} out of round."
    return View(str(found), None, rim_chart(found).picture(alt), details)


def _with(size, doubt):
    return f"{show(size, figures=figures_known(size, doubt))} ± {show(doubt, figures=2)}"


def _scanned(source, file, known, material, celsius):
    picture = _taken(source, file, instruments.read_picture)
    ring = known or (None, None)
    key = tuple(each if each is None else each.m_as("m") for each in ring)
    return _measured(picture, *key, material, celsius)


@lru_cache(maxsize=12)
def _measured(picture, ring, doubt, material, celsius):
    lengths = (each if each is None else Q_(each, "m") for each in (ring, doubt))
    return instruments.scan_disc(picture, *lengths, material, celsius)


def rim_chart(found):
    """How far the rim stands out from its circle, against the angle from the mark."""
    angle = np.degrees(np.angle(found.profile)) % 360
    order = np.argsort(angle)
    height = found.heights.m_as("um")[order]
    top = nice(1.15 * np.abs(height).max())
    chart = Chart(
        x=("Clockwise from the mark in degrees", 0, 360), y=("Stands out", -top, top, "µm")
    )
    chart.horizontal(0, "mean circle")
    chart.line(angle[order], height, "rim", weight="heavy")
    return chart


def tap_scene():
    """Is it the sheet that it was sold as?"""
    fields = [
        _sources("hung.wav", sound=True),
        _sound(),
        _file(instruments.read_recording),
        sheet_choice(),
        Field("diameter", "Disc diameter", "length > 0", "78.02 mm", (20, 200, either(0.1, 0.025))),
        Field("thickness", "Thickness, by micrometer", "length > 0", "0.63 mm", (0.3, 3, 0.01)),
        Count("mode", "Which note it is, counted from the lowest", 1, slider=(1, 4)),
    ]  # fmt: skip
    words = {"yes": "Agrees", "no": "Does not agree", "open": "No tap"}
    return Scene("What does the tap say?", fields, _judge_tap, words=words)


def _judge_tap(source, sound, file, material, diameter, thickness, mode):
    recording = _heard_or_taken(source, file, sound)
    heard = _heard(recording)
    if not heard.modes:
        return View("No tap with a note after it was heard", "open", None, heard.remarks)
    note = heard.modes[0]
    sheets = instruments.sheet_from_note(
        note.frequency,
        Q_(note.standard, "Hz"),
        diameter,
        "0.05 mm",
        thickness,
        "0.005 mm",
        mode,
    )
    own = next(sheet for sheet in sheets if sheet.material.key == material)
    rows = [[str(i + 1), _with(m.frequency, m.uncertainty), show(Q_(100 * m.loss), figures=2)]
            for i, m in enumerate(heard.modes)]  # fmt: skip
    may_be = [[s.material.name, show(s.thickness), "yes" if s.agrees else "no"] for s in sheets]
    said = "agrees with" if own.agrees else "does not agree with"
    sheet = f"{show(thickness)} of {own.material.name}"
    words = f"The note of {show(note.frequency, figures=4)} {said} {sheet}"
    across = plan.typed(diameter)
    alt = f"Loudness against pitch after the first tap; the lowest note is {show(note.frequency)}."
    chart = _spectrum_chart(recording, heard, diameter, thickness, material).picture(alt)
    details = [
        page.table(rows, ["Note", "Frequency", "Damping ratio in %"]),
        page.table(may_be, ["If the disc is", "it would be this thick", "Does that agree?"]),
        *heard.remarks,
        page.to_copy(FOR_JOB, plan.note_line("sheet_note", recording, heard, note, across, mode)),
    ]
    return View(words, "yes" if own.agrees else "no", chart, details)


@lru_cache(maxsize=6)
def _heard(recording):
    return instruments.hear_taps(recording)


def _spectrum_chart(recording, heard, diameter, thickness, material):
    """The spectrum after the first tap, with the notes that the sheet should have."""
    pitch, level = instruments.spectrum(recording, heard.times[0] + 0.01, top=TOP_NOTE)
    notes = instruments.free_frequencies(diameter, thickness, find_material(material), modes=3)
    return spectrum_chart(pitch, level, TOP_NOTE, computed=notes.m)


def strike_scene():
    """How fast does the spindle turn, by ear?"""
    fields = [
        _sources("cutting.wav", sound=True),
        _sound(),
        _file(instruments.read_recording),
        Count("corners", "Corners still struck", 8, slider=(1, 40)),
    ]
    return Scene("How fast does it turn, by ear?", fields, _judge_strikes)


def _judge_strikes(source, sound, file, corners):
    try:
        found = instruments.speed_from_strikes(_heard_or_taken(source, file, sound), corners)
    except InputError as error:
        place = {HEARD: "sound", OWN: "file"}.get(source, "source")
        raise InputError(
            place if error.name == "recording" else error.name, error.problem, error.mend
        ) from error
    rows = [[str(each.corners), show(each.speed)] for each in found.speeds]
    shown = found.envelope[:400]
    chart = Chart(x=("Time in s", 0, 0.8), y=("Loudness", 0, nice(1.1 * float(shown.max()))))
    chart.line(np.arange(len(shown)) / 500, shown, "loudness of the cut", weight="heavy")
    alt = f"Loudness of the cut: {show(found.frequency)} strikes in a second."
    words = f"{show(found.speed)} if {corners} corners are struck in each turn"
    details = [
        page.table(rows, ["Corners", "Speed"]),
        f"Good to {show(found.speed_uncertainty, figures=1)} if the number of corners is right.",
    ]
    return View(words, None, chart.picture(alt), details)
