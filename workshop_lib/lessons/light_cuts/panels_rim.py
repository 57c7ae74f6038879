"""Which panels of lesson 03 are about the rim? How far it bends, how it rings, how fast to turn."""

import warnings

import numpy as np

from workshop_lib import overhang
from workshop_lib.drawings import page
from workshop_lib.drawings.charts import Chart
from workshop_lib.drawings.kept_axes import decades, nice
from workshop_lib.friction import tilt_force
from workshop_lib.lessons.shared_fields import make_pad, sheet_choice
from workshop_lib.materials import facing as find_facing
from workshop_lib.overhang import PAD_SHARES, facing_modulus, rim_share, soft_rim_curve
from workshop_lib.quantities import Q_, OutOfRangeWarning, either, rounded_down, show
from workshop_lib.teaching.fields import Choice, Field
from workshop_lib.teaching.panels import Scene, View

SWINGS = (
    "all round, like an umbrella",
    "tilting to and fro",
    "like a saddle",
    "in three lobes",
)  # with no, one, two and three lines across the disc that stay at rest
NOSE = Q_(20, "mm")  # a common size of a bare nose
CLAMPED = "clamped"  # the pad without give: what no facing is
SOFT = ("leather", "cork", "rubber", "card", "wood", "moulded_lining")
FACINGS = {key: find_facing(key).name for key in SOFT}
FACINGS[CLAMPED] = "clamped: no give at all"
PRESSES = {"plate": "plate as large as the pad", "nose": "the bare nose, 20 mm"}
HEARD = Q_(20, "kHz")  # the highest note that young ears hear (common knowledge)
LEAST_SHARE = 0.5  # of the pressure in the middle; a rim with less is not counted as held


def rim_scene():
    """Slide the pad's size and see the rim bend, on its facing and not in a clamp."""
    fields = [
        sheet_choice(),
        Field("disc_diameter", "Disc diameter", "length > 0", "100 mm", slider=(40, 200, 1)),
        Field("pad_diameter", "Pad diameter", "length > 0", "30 mm", slider=(10, 150, 1)),
        Field("thickness", "Thickness", "length > 0", "0.55 mm", slider=(0.3, 3, 0.05)),
        Choice("facing", "Pad facing", FACINGS, "leather"),
        Field("facing_thickness", "Pad facing thickness", "length > 0", "3 mm", slider=(1, 6, 0.5)),
        Field("force", "Force across the rim", "force > 0", "1 N", slider=(0.1, 50, 0.1)),
        Field("limit", "Allowed bend", "length > 0", "0.02 mm", slider=(0.005, 0.5, 0.005)),
        Field("thrust", "Thrust", "force > 0", "800 N", slider=(50, 2500, 10)),
        Choice("presses", "Pressing on the sheet", PRESSES, "plate"),
    ]
    words = {"yes": "Stiff enough", "no": "Bends too far"}
    return Scene("How far does the rim bend?", fields, _judge_rim, words=words)


def _judge_rim(
    material,
    disc_diameter,
    pad_diameter,
    thickness,
    facing,
    facing_thickness,
    force,
    limit,
    thrust,
    presses,
):
    disc, springs = (disc_diameter, pad_diameter, thickness, material), ()
    if facing != CLAMPED:  # soft is the worst that was stated
        springs = facing_modulus(facing).low, facing_thickness
    clamped = overhang.rim_deflection(force, *disc)
    bend = overhang.soft_rim_deflection(force, *disc, *springs) if springs else clamped
    curve = _curve(force, disc, springs)
    tilt = tilt_force(make_pad(pad_diameter, 0 * pad_diameter), thrust, disc_diameter)
    under = facing if springs else "leather", facing_thickness
    share, pressed = _pressed_at_rim(presses, *disc, under)
    tips = show(rounded_down(tilt), figures=2)
    rows = [
        ["Bend at the tool", bend],
        ["… if the sheet were clamped (the least it can bend)", clamped],
        ["Stiffness of the rim at the tool", (force / bend).to("N/mm")],
        ["Bend if clamped, the force spread all round", overhang.ring_deflection(force, *disc)],
        [f"Smallest pad for a bend of {show(limit)}", _least(force, disc, springs, limit, curve)],
        ["Force across the rim that tips the disc off the pad", tips],
        ["The rim's lowest note", _lowest_note(disc, springs)],
        ["Pressure at the pad's edge, as a share of its middle", pressed],
    ]
    why, said = _doubts(share, disc, springs, force, thrust)
    enough = bend <= limit and not why
    words = f"{'Stiff enough' if enough else 'Bends too far'}: {why or f'{show(bend)} at the tool'}"
    rows[0][1] = f"{show(bend)}, but do not trust it: {why}" if why else bend
    alt = f"Bend of the rim against the pad's diameter: {show(bend)} on a {show(pad_diameter)} pad."
    chart = _rim_chart(force, disc, bend, limit, curve).picture(alt)
    details = [page.table(rows, ["Rim", "Value"]), *said]
    return View(words, "yes" if enough else "no", chart, details)


def _doubts(share, disc, springs, force, thrust):
    """Why the bend is not to be trusted, in words, and what is said below the table."""
    if share < LEAST_SHARE:
        said = "The drawing and all rows but the last assume a pad that presses right to its edge."
        return "the edge of the pad hardly presses", [said]
    if springs and overhang.lift_share(force, thrust, *disc, *springs) > 1:
        said = "This is right only while the thrust still presses everywhere. Here it does not."
        return "the force lifts the sheet off its facing", [said]
    return "", []


def _pressed_at_rim(presses, disc_diameter, pad_diameter, thickness, material, under):
    """How hard the pad's rim is pressed, as a share of its middle: a number, and in words."""
    if presses == "plate":
        return 1.0, "100 %"
    facing, thick = under
    springs = facing_modulus(facing).typical, thick
    share = float(rim_share(NOSE, pad_diameter, disc_diameter, material, thickness, *springs))
    lies = f"a facing of {FACINGS[facing].lower()}, {show(thick, figures=2)} thick"
    return share, f"{100 * share:.0f} % ({lies})"


def _lowest_note(disc, springs):
    """The lowest natural frequency in words: no more figures than a sum as ideal as this has."""
    if springs:
        notes = overhang.soft_frequencies(*disc, *springs, modes=len(SWINGS))
    else:
        notes = overhang.natural_frequencies(*disc, modes=len(SWINGS))
    lowest = int(np.argmin(notes.m))
    if notes[lowest] > HEARD:
        return "too high to hear"
    return f"about {show(notes[lowest], figures=2)}, {SWINGS[lowest]}"


def _curve(force, disc, springs):
    """How far the rim bends on pads of PAD_SHARES times the disc, in mm."""
    disc_diameter, _, thickness, material = disc
    if springs:
        return soft_rim_curve(force, disc_diameter, thickness, material, *springs).m_as("mm")
    with warnings.catch_warnings():  # it sweeps through pads that nobody has asked about
        warnings.simplefilter("ignore", OutOfRangeWarning)
        sizes = PAD_SHARES * disc_diameter
        bends = overhang.rim_deflection(force, disc_diameter, sizes, thickness, material)
    return bends.m_as("mm")


def _least(force, disc, springs, limit, curve):
    """The least pad in whole steps of a rule that keeps the bend, in words."""
    disc_diameter, _, thickness, material = disc
    if not springs:
        pad = overhang.pad_for(force, disc_diameter, thickness, material, limit)
        return _in_whole_steps(np.ceil(pad.m_as("mm") - 1e-6))
    keeps = np.flatnonzero(curve <= limit.m_as("mm"))
    if not keeps.size:
        return "none on this facing"
    size = int(np.ceil(PAD_SHARES[keeps[0]] * disc_diameter.m_as("mm")))

    def bends(millimetres):
        sheet = disc_diameter, Q_(millimetres, "mm"), thickness, material
        return overhang.soft_rim_deflection(force, *sheet, *springs) > limit

    while size > 1 + disc_diameter.m_as("mm") * PAD_SHARES[0] and not bends(size - 1):
        size -= 1
    while size + 1 < PAD_SHARES[-1] * disc_diameter.m_as("mm") and bends(size):
        size += 1
    return _in_whole_steps(size)


def _in_whole_steps(millimetres):
    """A pad in words: whole millimetres, or the sixteenth of an inch that is not smaller."""
    inches = np.ceil(16 * millimetres / 25.4 - 1e-6) / 16
    return either(f"{millimetres:g} mm", f"{inches:g} in")


def _rim_chart(force, disc, bend, limit, curve):
    """Bend at the tool against the pad's diameter, on a logarithmic scale."""
    disc_diameter, pad_diameter = disc[:2]
    sizes = np.append(curve, limit.m_as("mm"))
    chart = Chart(
        x=("Pad diameter", 0, nice(disc_diameter.m_as("mm")), "mm"),
        y=("Bend", *decades(sizes.min(), sizes.max()), "mm"),
        log="y",
    )
    chart.line(PAD_SHARES * disc_diameter.m_as("mm"), curve, "bend at the tool", weight="heavy")
    chart.vertical(disc_diameter.m_as("mm"), "disc")
    chart.horizontal(limit.m_as("mm"), "allowed")
    chart.point(pad_diameter.m_as("mm"), bend.m_as("mm"), "this pad", colour="orange")
    return chart
