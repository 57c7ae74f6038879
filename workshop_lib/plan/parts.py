"""Which parts of a job can be refused once its entries are read, and which key is to blame?"""

from typing import NamedTuple

from workshop_lib.quantities import InputError


class Part(NamedTuple):
    """A part that is made of entries.

    sections: what must be sound before it is made. usual: key of a refusal. keys: by the name that
    a refusal carries. remade: sections whose change makes it anew; None: those it is made of.
    """

    sections: frozenset
    usual: str
    keys: dict
    remade: frozenset | None = None

    def changes_with(self, sections):
        """Whether a change of those sections makes it anew."""
        return bool((self.sections if self.remade is None else self.remade) & sections)


def _part(sections, usual, **keys):
    return Part(frozenset(sections.split()), usual, keys)


PARTS = {
    "gauge": _part("sheet", "sheet.gauge"),
    "blank": _part(
        "blank",
        "blank",
        across_flats="blank.across_flats",
        side="blank.side",
        clipped_corner="blank.clipped_corner",
        outline="blank.outline",
    ),
    "centre": _part("blank", "blank.centre"),
    "pad": _part("pad disc", "pad.outer_diameter", inner_diameter="pad.inner_diameter"),
    "friction": _part(
        "pad disc sheet thrust measured",
        "pad.friction",
        pulls="measured.pull_forces",
        normal_force="measured.normal_force",
        angles="measured.tilt_angles",
        graduation="measured",
    ),
    "friction_between": _part("disc pad sheet", "disc.between"),
    "thrust": _part(
        "thrust measured",
        "thrust",
        forces="measured.scale_readings",
        graduation="measured.scale_graduation",
        flank_angle="thrust.screw.flank_angle",
        friction_coefficient="thrust.screw.friction_coefficient",
        torque="thrust.handwheel_torque",
    ),
    "passes": _part(
        "sheet blank disc pad thrust cut measured",
        "cut.depth",
        disc_diameter="disc.diameter",
        centre="blank.centre",
        finishing_depth="cut.finishing_depth",
        approach_angle="cut.approach_angle",
        feed="cut.feed",
        thrust="thrust",
        nose_radius="cut.nose_radius",
        own_period="cut.own_frequency",
        friction_coefficient="pad.friction",
    ),
    "rim_measured": _part(
        "measured disc",
        "measured.diameters",
        division="measured.diameter_division",
        vee_readings="measured.vee_readings",
        vee_angle="measured.vee_angle",
        dial_division="measured.vee_division",
    ),
    "tests": _part("run_out", "run_out.tests"),
    "heard_facing": _part(
        "measured pad disc sheet",
        "measured.rim_note",
        frequency="measured.rim_note.frequency",
        facing_thickness="pad.facing_thickness",
        inner_diameter="pad.inner_diameter",
        thickness="sheet.thickness",
        disc_diameter="measured.rim_note.across",
    )._replace(remade=frozenset({"measured"})),  # heard once; another pad has the same facing
    "rim_rests": _part(
        "sheet blank disc pad measured",
        "pad.outer_diameter",
        inner_diameter="pad.inner_diameter",
        facing_thickness="pad.facing_thickness",
        thickness="sheet.thickness",
    ),
}


def named_in_job(error, part):
    """Return a refusal under the key of the entry that it comes from."""
    if "." in error.name and error.name.partition(".")[0] in part.sections:
        return error
    if ".csv" in error.name:  # a table that a teacher has added to
        return error
    place = error.name.partition(",")  # such as "pulls, reading 3"
    key = part.keys.get(place[0], part.usual)
    return InputError(f"{key}{place[1]}{place[2]}", error.problem, error.mend)
