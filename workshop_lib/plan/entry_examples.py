"""What can each entry of a job say, with an example as it is written in the file?"""

from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.quantities import InputError

EXAMPLES = {
    "about.title": '"My cover"',
    "about.purpose": '"It closes the float well"',
    "about.made_by": '"the evening class"',
    "about.date": '"May 2024"',
    "about.state": '"planned"',
    "sheet.material": '"mild_steel"',
    "sheet.thickness": '"0.9 mm"',
    "sheet.readings": '["0.62 mm", "0.63 mm"]',
    "sheet.gauge": "24",
    "sheet.gauge_table": '"stainless_steel"',
    "blank.corners": "8",
    "blank.across_flats": '"80 mm"',
    "blank.side": '"82 mm"',
    "blank.clipped_corner": '"20 mm"',
    "blank.outline": '[["0 mm", "0 mm"], ["90 mm", "0 mm"], ["0 mm", "90 mm"]]',
    "blank.centre": '["40 mm", "40 mm"]',
    "disc.diameter": '"78 mm"',
    "disc.tolerance": '"0.05 mm"',
    "disc.roundness": '"0.02 mm"',
    "disc.count": "3",
    "disc.between": '"card"',
    "disc.between_thickness": '"0.3 mm"',
    "pad.name": '"main"',
    "pad.outer_diameter": '"75 mm"',
    "pad.inner_diameter": '"40 mm"',
    "pad.pressure": '"uniform"',
    "pad.facing": '"leather"',
    "pad.facing_thickness": '"2 mm"',
    "pad.pressure_tried": '"0.5 MPa"',
    "pad.condition": '"dry"',
    "pad.friction": "[0.3, 0.35, 0.4]",
    "thrust.force": '"800 N"',
    "thrust.uncertainty": '"40 N"',
    "thrust.pull": '"15 lbf"',
    "thrust.turn": '"90 deg"',
    "thrust.handwheel_torque": '"1.5 N m"',
    "thrust.screw": '{mean_diameter = "18 mm", lead = "4 mm", flank_angle = "15 deg", '
    "friction_coefficient = 0.15}",
    "cut.kind": '"traverse"',
    "cut.depth": '"0.1 mm"',
    "cut.finishing_depth": '"0.05 mm"',
    "cut.feed": '"0.05 mm/rev"',
    "cut.speed": '"70 rev/min"',
    "cut.tool": '"hss"',
    "cut.approach_angle": '"90 deg"',
    "cut.nose_radius": '"0.2 mm"',
    "cut.rake": '"12 deg"',
    "cut.edge": '"fresh"',
    "cut.own_frequency": '"400 Hz"',
    "cut.radial_share": "[0.3, 0.5, 0.7]",
    "cut.margin": "2",
    "rim.bend_allowed": '"0.05 mm"',
    "rim.axial_share": "0.3",
    "nose.name": '"mine"',
    "nose.design": '"pressure_nose"',
    "nose.plate_diameter": '"75 mm"',
    "run_out.allowed": '"0.1 mm"',
    "run_out.tests": '[{where = "disc", total = "4 thou"}]',
    "measured.normal_force": '"20 N"',
    "measured.test_pressure": '"0.2 MPa"',
    "measured.pull_forces": '["7.9 N", "8.2 N", "7.6 N"]',
    "measured.pull_graduation": '"0.2 N"',
    "measured.tilt_angles": '["21 deg", "22 deg", "23 deg"]',
    "measured.tilt_graduation": '"1 deg"',
    "measured.scale_readings": '["1040 N", "1010 N", "1060 N"]',
    "measured.scale_graduation": '"10 N"',
    "measured.disc_diameter": '"77.96 mm"',
    "measured.diameters": '["77.96 mm", "77.98 mm", "77.97 mm"]',
    "measured.diameter_division": '"0.01 mm"',
    "measured.vee_readings": '["0 um", "7 um", "10 um", "7 um", "0 um", "-7 um", "-10 um", '
    '"-7 um"]',
    "measured.vee_angle": '"90 deg"',
    "measured.vee_division": '"0.002 mm"',
    "measured.scan": '{diameter = "77.96 mm", uncertainty = "0.02 mm", date = "3 May"}',
    "measured.sheet_note": '{frequency = "940 Hz", uncertainty = "3 Hz", across = "78 mm", '
    'date = "3 May"}',
    "measured.rim_note": '{frequency = "1300 Hz", uncertainty = "20 Hz", date = "3 May"}',
    "notes.remarks": '["Marked from its flats"]',
    "notes.went_wrong": '[{what = "It slipped", why = "too deep", mended = "half as deep"}]',
    "photograph": '[{file = "set_up.jpg", alt = "The disc between pad and plate"}]',
    "attempt": '[{set = {cut.depth = "0.2 mm"}, happened = "A corner caught", slipped = true}]',
}


def entries():
    """What can a job contain? Rows of key, meaning, an example, other words allowed, and need."""
    return [
        [key, entry.means, EXAMPLES.get(key, ""), _allowed(key), "needed" if entry.required else ""]
        for key, entry in ENTRIES.items()
    ]


def _allowed(key):
    """The words that an entry may be, where it is one of a few; else nothing."""
    try:
        ENTRIES[key].read(object(), key)
    except InputError as refused:
        return refused.mend.partition("Known: ")[2]
    return ""
