"""Jobs that the checks of `plan` and `write_up` share."""

import functools
import warnings

import numpy as np

from workshop_lib import plan
from workshop_lib.launcher.environment import ROOT

FOLDER = ROOT / "notebooks" / "jobs"
FILES = sorted(FOLDER.glob("*.toml"))
COVER = FOLDER / "tide_gauge_cover.toml"

# A full aluminium disc on a plain pad: every number can be worked by hand.
PLAIN = {
    "about.title": "A plain disc",
    "sheet.material": "aluminium",
    "sheet.thickness": "1 mm",
    "blank.corners": 6,
    "blank.across_flats": "104 mm",
    "disc.diameter": "100 mm",
    "pad.outer_diameter": "90 mm",
    "pad.facing": "leather",
    "pad.facing_thickness": "1 mm",
    "thrust.force": "800 N",
    "thrust.uncertainty": "0 N",
    "cut.depth": "0.2 mm",
    "cut.feed": "0.1 mm/rev",
    "cut.speed": "200 rev/min",
    "cut.nose_radius": "0 mm",
    "cut.rake": "12 deg",
    "cut.edge": "fresh",
    "cut.own_frequency": "1000000 Hz",
    "rim.bend_allowed": "0.1 mm",
    "nose.design": "pressure_nose",
    "nose.plate_diameter": "90 mm",
}
# What raises its force: a fresh edge 1.3, a rake of 12° 1 − 0.015 × 6, high-speed steel 1.2;
# no nose radius; and the fortieth swing of a stiff set-up, 1/sqrt(1 + (pi x)²), x = 40.4975.
RAISED = 1.3 * 0.91 * 1.2 * (1 + 1 / np.hypot(1, np.pi * 40.4975))
# With it, every entry that the plain one leaves out: one way of giving each thing.
SCREW = {
    "mean_diameter": "16 mm",
    "lead": "4 mm",
    "flank_angle": "15 deg",
    "friction_coefficient": 0.15,
    "collar_diameter": "24 mm",
    "collar_friction": 0.1,
}
MORE = {
    "about.purpose": "A lid.\nIt may have no hole.",
    "about.made_by": "a class",
    "about.date": "May",
    "about.state": "turned",
    "sheet.gauge": 18,
    "sheet.gauge_table": "awg",
    "sheet.readings": ["1.01 mm", "1.02 mm", "1.03 mm"],
    "blank.centre": ["0.5 mm", "0 mm"],
    "disc.count": 2,
    "disc.between": "card",
    "disc.between_thickness": "0.3 mm",
    "disc.tolerance": "0.05 mm",
    "disc.roundness": "0.03 mm",
    "pad.inner_diameter": "40 mm",
    "pad.pressure_tried": "0.3 MPa",
    "pad.pressure": "uniform_wear",
    "pad.condition": "oily",
    "pad.friction": [0.1, 0.15, 0.2],
    "thrust.uncertainty": "50 N",
    "cut.kind": "traverse",
    "cut.finishing_depth": "0.1 mm",
    "cut.tool": "carbide",
    "cut.approach_angle": "75 deg",
    "cut.radial_share": [0.2, 0.3, 0.6],
    "cut.margin": 2.5,
    "rim.axial_share": 0.4,
    "nose.design": "pressure_nose",
    "run_out.allowed": "2 thou",
    "run_out.tests": [
        {"where": "disc", "what": "radial", "total": "0.04 mm", "name": "rim", "state": "first"},
        {
            "where": "disc",
            "angles": ["0 deg", "90 deg", "180 deg", "270 deg"],
            "readings": ["20 um", "0 um", "-20 um", "0 um"],
            "graduation": "2 um",
        },
    ],
    "measured.normal_force": "20 N",
    "measured.pull_forces": ["7.9 N", "8.2 N", "7.6 N"],
    "measured.pull_graduation": "0.2 N",
    "measured.scale_readings": ["790 N", "805 N", "810 N"],
    "measured.scale_graduation": "5 N",
    "measured.test_pressure": "0.1 MPa",
    "measured.disc_diameter": "99.9 mm",
    "measured.rim_note": {"frequency": "2500 Hz", "uncertainty": "5 Hz", "date": "May"},
    "measured.sheet_note": {"frequency": "520 Hz", "uncertainty": "1 Hz", "date": "May"},
    "measured.scan": {"diameter": "99.92 mm", "uncertainty": "0.05 mm", "date": "May"},
    "notes.remarks": ["One.", "Two."],
    "attempt": [
        {
            "set": {"cut.depth": "0.4 mm", "thrust.force": "500 N"},
            "happened": "A corner caught.",
            "changed": "Cut half as deep.",
            "slipped": True,
        },
        {"happened": "It held.", "slipped": False},
    ],
    "notes.went_wrong": [{"what": "It rang.", "why": "Too fast.", "mended": "Slower."}],
}
OTHER_WAYS = {  # entries that take the place of others; None takes one out
    "outline": {
        "blank.corners": None,
        "blank.across_flats": None,
        "blank.outline": [
            ["0 mm", "0 mm"],
            ["110 mm", "0 mm"],
            ["110 mm", "110 mm"],
            ["0 mm", "4.5 in"],
        ],
        "blank.centre": ["55 mm", "55 mm"],
    },
    "square": {
        "blank.corners": None,
        "blank.across_flats": None,
        "blank.side": "105 mm",
        "blank.clipped_corner": "20 mm",
    },
    "handwheel": {
        "thrust.force": None,
        "thrust.handwheel_torque": "3 N m",
        "thrust.screw": SCREW,
    },
    "tilt": {
        "measured.normal_force": None,
        "measured.pull_forces": None,
        "measured.pull_graduation": None,
        "measured.tilt_angles": ["21 deg", "22 deg", "23 deg"],
        "measured.tilt_graduation": "1 deg",
    },
    "photographed": {
        "photograph": [{"file": "a.jpg", "alt": "The disc", "caption": "Held.", "place": "end"}]
    },
    "plunge": {"cut.kind": "plunge", "cut.approach_angle": None},
    "diameters": {
        "measured.disc_diameter": None,
        "measured.diameters": ["100.01 mm", "99.99 mm", "3.937 in", "99.98 mm", "100.00 mm"],
        "measured.diameter_division": "0.01 mm",
        "measured.vee_readings": ["0 um", "12 um", "3 um", "-8 um"] * 3,
        "measured.vee_angle": "90 deg",
        "measured.vee_division": "2 um",
    },
}


def plain(**changes):
    """The plain job with other entries; keys with two underscores for the dot, None takes out."""
    return plan.job(without_none(PLAIN | {k.replace("__", "."): v for k, v in changes.items()}))


def judged(draws=0, **changes):
    """The plain job with other entries, judged without draws."""
    return plan.assess(plain(**changes), draws=draws)


def assessed(job):
    """A job's judgement without its chance of slip, whatever is warned of on the way."""
    return quietly(functools.partial(plan.assess, draws=0), job)


def full(way=None):
    """A job with every entry, or with another way of giving some of them."""
    return plan.job(without_none(PLAIN | MORE | OTHER_WAYS.get(way, {})))


def without_none(entries):
    """Entries without those that are None."""
    return {key: value for key, value in entries.items() if value is not None}


def quietly(call, *arguments):
    """Call without warnings; what is out of range is not the matter here."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return call(*arguments)
