"""What follows from the checked entries of a job, before anything is judged?"""

import itertools
import warnings
from functools import cached_property, lru_cache

import numpy as np

from workshop_lib import gauges, materials
from workshop_lib.blank import Blank, Turning, passes
from workshop_lib.friction import Pad, thrust
from workshop_lib.load_path import find_design
from workshop_lib.overhang import LEAST_SHARE
from workshop_lib.plan import instrument_readings, sheet_checks
from workshop_lib.plan.entry_faults import JobFaults, checked, entries_of, refuse_many
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.plan.from_shop import DEFAULTS, IN_INCH, calibration_of, supplied, units_of
from workshop_lib.plan.parts import PARTS, named_in_job
from workshop_lib.plan.raising import longest_period, nose_radius, raised
from workshop_lib.plan.rim_checks import rim_of
from workshop_lib.plan.slip_spreads import slip_case
from workshop_lib.plan.stacked import with_inner_faces
from workshop_lib.quantities import (
    InputError,
    OutOfRangeWarning,
    Quantity,
    as_shown,
    speaking,
    system,
    system_of,
)
from workshop_lib.sources import Range, choose
from workshop_lib.torque import radial_shares
from workshop_lib.uncertainty import measured

NEAR_PRESSURE = 2.0  # times, either way: friction tested there counts as tested at the job's
USUAL_DOUBT = 0.1  # standard, of a thrust: half of what a torque wrench gives a bolt (vdi-2230)
ONE_IN_TWENTY = 1.645  # standard deviations below the mean; any table of the normal distribution


@lru_cache(maxsize=32)
def _judged(test, readings, *about):
    """Judge readings once: it takes draws, and a job is changed many times over."""
    return test(list(readings), *about)


def _of_one_title(one, other):
    return one.get("about.title") == other.get("about.title")


class Job:
    """One learner's job. `values`: checked entries by dotted key; `job["disc.diameter"]` reads one.

    Made by `plan.load`, `plan.job` or `changed`. The rest follows from the entries: `thickness`,
    `blank`, `pad`, `friction`, `thrust`, `turning`, `passes`, `tests`. `text`: of the file that it
    was read from, comments included. `file`: the path of that file, or of the one it was saved in
    last; None where there is none, or another title was given. `shop`: the person's own, or None;
    `supplied`: what it says, or custom, where the job does not. `remarks`: sentences on where a
    source's range was left. Raises `JobFaults`, which lists every fault by its key.
    """

    def __init__(self, entries, text="", where="job", like=None, shop=None, speed=None):
        refuse_many(len(entries_of(entries)), where)
        self.shop, self.speed = shop, speed
        self.speed_told = like.speed_told if like else ""
        self.supplied, lacking = supplied(entries, shop, speed)
        with speaking(units_of(entries, shop)):
            values, faults = checked(entries, like.values if like else {}, self.supplied)
        faults += lacking
        self.values, self.text, self.where = values, text, where
        self.file = like.file if like and _of_one_title(values, like.values) else None
        self._said = {}  # by each part that was made
        if like:
            self._take_over(like)
        self._build(faults)
        self.remarks = tuple(dict.fromkeys(itertools.chain(*self._said.values())))
        if faults:
            raise JobFaults(faults, where)

    def _take_over(self, other):
        """Take over from another job those parts that are made of the same entries."""
        mine, theirs = self.supplied | self.values, other.supplied | other.values
        keys = mine.keys() | theirs.keys()
        changed = [key for key in keys if mine.get(key) is not theirs.get(key)]
        changed = {key.partition(".")[0] for key in changed}
        for name, part in PARTS.items():
            if not part.changes_with(changed):
                vars(self)[name], self._said[name] = vars(other)[name], other._said[name]

    def _build(self, faults):
        """Make the parts whose entries are sound; add what is refused to the faults."""
        unsound = {fault.name.partition(".")[0] for fault in faults}
        for name, part in PARTS.items():
            if part.sections & unsound or name in self._said:
                continue
            try:
                with warnings.catch_warnings(record=True) as heard:
                    warnings.simplefilter("always", OutOfRangeWarning)
                    getattr(self, name)
                self._said[name] = [str(each.message) for each in heard]
            except InputError as error:
                fault = named_in_job(error, part)
                faults.append(fault)
                unsound.add(fault.name.partition(".")[0])
                unsound.add(name)

    def __getitem__(self, key):
        """The entry of that key, or its default when it was left out, or None."""
        choose(key, list(ENTRIES), "entry", "key")
        given = self.values.get(key, self.supplied.get(key))
        return self.usual.get(key) if given is None else given

    @property
    def usual(self):
        """Defaults of entries that neither the job nor the shop gives."""
        return DEFAULTS | IN_INCH if self.units == "inch" else DEFAULTS

    @property
    def units(self):
        """What the job is told in: its shop's choice; else inch where its disc is in inches."""
        if self.shop is not None and self.shop.units:
            return self.shop.units
        disc = self.values.get("disc.diameter")
        return "inch" if disc is not None and system_of(disc) == "inch" else system()

    def speaking(self):
        """A `with` block in which the job is told in its units."""
        return speaking(self.units)

    def speaking_one(self):
        """The same for paper, where nothing is told as it was typed in another system."""
        return speaking(self.units or "metric")

    def __repr__(self):
        return f"<job: {self['about.title']}>"

    def changed(self, entries):
        """The same job with other entries; None takes an entry out. Raises `JobFaults`."""
        merged = self.values | entries_of(entries)
        merged = {key: value for key, value in merged.items() if value is not None}
        shop, speed = self.shop, self.speed
        return Job(merged, self.text, self.where, like=self, shop=shop, speed=speed)

    @cached_property
    def material(self):
        """The sheet's material."""
        return materials.find_material(self["sheet.material"])

    @cached_property
    def thickness(self):
        """Thickness to plan on: the mean of readings, else as given, else the gauge's."""
        if readings := self["sheet.readings"]:
            return as_shown(np.mean([each.m_as("m") for each in readings]), "length")
        if self["sheet.thickness"] is not None:
            return self["sheet.thickness"]
        return gauges.thickness(self["sheet.gauge"], self["sheet.gauge_table"])

    @cached_property
    def gauge(self):
        """The thickness beside the gauge that it was sold as: a `gauges.Match`, or None."""
        if self["sheet.gauge"] is None:
            return None
        return gauges.compare(self.thickness, self["sheet.gauge"], self["sheet.gauge_table"])

    @cached_property
    def blank(self):
        """The blank."""
        if (corners := self["blank.corners"]) is not None:
            return Blank.regular(corners, across_flats=self["blank.across_flats"])
        if (side := self["blank.side"]) is not None:
            return Blank.square(side, self["blank.clipped_corner"] or Quantity(0.0, "mm"))
        return Blank(self["blank.outline"])

    @cached_property
    def centre(self):
        """Where the blank turns: as marked, else the centre of the largest disc."""
        return self["blank.centre"] or self.blank.largest_disc().centre

    @cached_property
    def pad(self):
        """The driving pad."""
        sizes = self["pad.outer_diameter"], self["pad.inner_diameter"]
        if sizes[0] >= self["disc.diameter"]:
            mend = "Choose a smaller pad: the tool would cut one this large"
            raise InputError("outer_diameter", "must be smaller than the disc", mend)
        if sizes[0] < LEAST_SHARE * self["disc.diameter"]:
            mend = "Check the units of both: a pad this small cannot drive the disc"
            raise InputError("outer_diameter", "is less than a twentieth of the disc", mend)
        return Pad(*sizes, self["pad.pressure"])

    @cached_property
    def measured_friction(self):
        """Friction from one's own pull or tilt test: a `measured.Measured`, or None."""
        if pulls := self["measured.pull_forces"]:
            division = self["measured.pull_graduation"]
            return _judged(measured.pull_test, pulls, self["measured.normal_force"], division)
        if angles := self["measured.tilt_angles"]:
            return _judged(measured.tilt_test, angles, self["measured.tilt_graduation"])
        return None

    @cached_property
    def friction(self):
        """Friction to plan on, low, typical and high: measured, else own, else listed.

        A test, or a value of one's own, counts upwards only at a pressure near the job's: else the
        lower of it and the table.
        """
        if self.measured_friction is not None:
            return self.tested_friction
        if own := self["pad.friction"]:
            return self._held_down(Range(*own, sources="", standing="given in the job"))
        return self.listed_friction

    @property
    def tested_near(self):
        """Whether friction was tested at a pressure near the one on the pad."""
        tested = self["measured.test_pressure"]
        if tested is None:
            return False
        ratio = (self.thrust / self.pad.area / tested).m_as("")
        return 1 / NEAR_PRESSURE <= ratio <= NEAR_PRESSURE

    @property
    def tested_friction(self):
        """Friction of the test, held down where it was not tested as pressed; None without one."""
        if self.measured_friction is None:
            return None
        return self._held_down(self.measured_friction.range)

    def _held_down(self, found):
        """The lower of a friction and the table's, unless it was tested at the job's pressure."""
        listed = self.listed_friction
        if self.tested_near or all(own <= other for own, other in zip(found, listed, strict=True)):
            return found
        lower = (min(pair) for pair in zip(found, listed, strict=True))
        standing = found.standing.partition(",")[0]
        return Range(*lower, sources="", standing=f"{standing}, held down to the table")

    @cached_property
    def listed_friction(self):
        """What the table of facings says, whatever was measured."""
        return materials.friction(self["pad.facing"], self["sheet.material"], self["pad.condition"])

    @property
    def count(self):
        """How many discs are squeezed at once."""
        return self["disc.count"] or 1

    @cached_property
    def friction_between(self):
        """Friction between the discs of a stack: of one face, low, typical and high."""
        between = self["disc.between"] or materials.BARE
        return materials.friction_between(self.material, between, self["pad.condition"])

    @cached_property
    def measured_thrust(self):
        """Thrust from readings of a scale: a `measured.Measured`, or None."""
        if readings := self["measured.scale_readings"]:
            return _judged(measured.thrust_at_pull, readings, self["measured.scale_graduation"])
        return None

    @cached_property
    def screw(self):
        """The tailstock's screw, or None."""
        given = self["thrust.screw"]
        if given is None:
            return None
        collar = {"collar_diameter": Quantity(0.0, "mm"), "collar_friction": 0.0}
        return thrust.Screw(**(collar | given))

    @cached_property
    def calibrated(self):
        """Thrust by the lathe's calibration: a `measured.Measured`, or None."""
        by = "turn" if self["thrust.pull"] is None else "pull"
        given = self[f"thrust.{by}"]
        return None if given is None else calibration_of(self.shop, by).thrust_at(given)

    @cached_property
    def planned_thrust(self):
        """Thrust that is aimed at: as given, by calibration, or from the handwheel's torque."""
        if self.calibrated is not None:
            return self.calibrated.value
        if self.screw is not None:
            return thrust.from_torque(self.screw, self["thrust.handwheel_torque"])
        return self["thrust.force"]

    @cached_property
    def thrust(self):
        """Thrust to plan on: measured on a scale, else planned."""
        return self.planned_thrust if self.measured_thrust is None else self.measured_thrust.value

    @cached_property
    def low_thrust(self):
        """Thrust to be counted on: what one squeeze in twenty falls below.

        Of readings of a scale, else of the planned thrust with its standard uncertainty.
        """
        if self.thrust_read is not None:
            return self.thrust_read.low
        low = self.thrust.m_as("N") - ONE_IN_TWENTY * self.thrust_doubt.m_as("N")
        return as_shown(max(low, 0.0), "force")

    @property
    def thrust_doubt(self):
        """Standard uncertainty of the thrust as given, else a tenth of it. Source: vdi-2230."""
        given = self["thrust.uncertainty"]
        return USUAL_DOUBT * self.thrust if given is None else given

    @property
    def thrust_read(self):
        """Thrust by scale or calibration; None without, and where equal readings prove nothing."""
        read = self.measured_thrust or self.calibrated
        return read if read is not None and read.low < read.value else None

    @cached_property
    def high_thrust(self):
        """Thrust that nose, facing and sheet must take: one squeeze in twenty goes beyond it."""
        if self.thrust_read is not None:
            return self.thrust_read.high
        return self.thrust + ONE_IN_TWENTY * self.thrust_doubt

    @cached_property
    def nose(self):
        """The nose that presses: that of the shop, else one of the workbook's designs."""
        name = self["nose.name"]
        if name is None:
            return find_design(self["nose.design"])
        return self.shop.nose(name).design

    @cached_property
    def radial_share(self):
        """Radial force over cutting force, low, typical and high."""
        own = self["cut.radial_share"]
        return Range(*own, sources="", standing="given in the job") if own else radial_shares()

    def turning(self, estimate="high", plain=False):
        """The conditions of all passes at low friction; estimate: of force and factors.

        plain: the table's steady force alone, without what raises it.
        """
        more = {}
        if not plain:
            more = {
                "raised": raised(self, estimate),
                "nose_radius": nose_radius(self, estimate),
                "own_period": longest_period(self, estimate),
            }
        return Turning(
            self["sheet.material"],
            self.count * self.thickness,
            self["cut.feed"],
            self["cut.speed"],
            self.pad,
            self.low_thrust,
            self.friction.low,
            self.radial_share.high,
            self["cut.kind"],
            estimate,
            self["cut.approach_angle"],
            **more,
        )

    @cached_property
    def passes(self):
        """All passes from the corners to the disc, at low friction and high cutting force."""
        return self.passes_at("high")

    def passes_at(self, estimate, plain=False):
        """All passes at a low, typical or high cutting force and its factors."""
        turning = self.turning(estimate, plain)
        depths = self["cut.depth"], turning, self.centre, self["cut.finishing_depth"]
        found = passes(self.blank, self["disc.diameter"], *depths)
        return with_inner_faces(self, found) if self.count > 1 else found

    @cached_property
    def rim_rests(self):
        """Whether the rim is calculated on its pad facing; sizes beyond that model are refused."""
        return sheet_checks.try_rim(self)

    @cached_property
    def rim_measured(self):
        """Size and shape of the finished disc by its readings: `RimMeasured`, or None."""
        return rim_of(self)

    @cached_property
    def tests(self):
        """What was clocked, as `run_out` takes it."""
        return instrument_readings.clocked_tests(self)

    @cached_property
    def heard_facing(self):
        """Stiffness of the facing by the squeezed rim's note: `instruments.Facing`, or None."""
        return instrument_readings.facing(self)

    def slip_case(self):
        """The worst pass with each input's spread, as `uncertainty.chance_of_slip` takes it."""
        return slip_case(self)
