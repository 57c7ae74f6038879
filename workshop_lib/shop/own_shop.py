"""What does a shop file say? Lathe, noses, pads and units, and what follows from them."""

from dataclasses import dataclass, field

from workshop_lib.load_path import own_design
from workshop_lib.own_files import FaultList, Faults, as_key, faults_of, with_line
from workshop_lib.quantities import InputError
from workshop_lib.shop.calibration import Calibration
from workshop_lib.shop.shop_entries import NAMED, PARTS, reader_of
from workshop_lib.sources import choose

FORMAT = 1
NOT_OF_DESIGN = ("plate_diameter", "notes")
MOST_NAMED = 40


class ShopFaults(FaultList):
    """A shop file cannot be used as it is. faults: one InputError for each key at fault."""

    def __init__(self, faults, where="my_shop.toml"):
        super().__init__(faults, where)


@dataclass(frozen=True, eq=False)
class Lathe:
    """A person's lathe. speeds: rising, in the units that were typed. calibration: or None."""

    name: str = ""
    speeds: tuple = ()
    swing: object = None
    highest_thrust: object = None
    calibration: object = None


@dataclass(frozen=True, eq=False)
class Nose:
    """A person's nose: its name, its `load_path.Design`, and the plate that it presses through."""

    name: str
    design: object = field(repr=False)
    plate_diameter: object = None
    notes: str = ""


@dataclass(frozen=True, eq=False)
class Shop:
    """What a shop file says. units: "metric", "inch" or None. noses, pads: by their names.

    language: its code, such as "de", or None. tables: as they were read, by part. text: of the
    file, comments included. file: its path.
    """

    tables: dict = field(repr=False)
    units: str | None = None
    lathe: Lathe | None = None
    noses: dict = field(default_factory=dict)
    pads: dict = field(default_factory=dict)
    text: str = field(default="", repr=False)
    file: object = None
    language: str | None = None

    def nose(self, name, key="nose.name"):
        """The nose of that name; InputError lists those that there are."""
        if not self.noses:
            raise InputError(key, "your shop has no nose", "Add one under [nose.NAME]")
        return self.noses[choose(name, list(self.noses), key, "nose of your shop")]

    def pad(self, name, key="pad.name"):
        """The entries of the pad of that name; InputError lists those that there are."""
        if not self.pads:
            raise InputError(key, "your shop has no pad", "Add one under [pads.NAME]")
        return self.pads[choose(name, list(self.pads), key, "pad of your shop")]


def shop_of(tables, text="", where="my_shop.toml", file=None):
    """The shop of tables as they stand in a file. Raises `ShopFaults` with every fault's line."""
    faults, read = [], {part: {} for part in PARTS}
    for part, table in tables.items():
        try:
            if part == "format":
                _known_format(table)
            elif part not in PARTS:
                choose(part, list(PARTS), as_key(part), "part of a shop")
            elif part in NAMED:
                read[part] = _each_named(part, table, faults)
            else:
                read[part] = reader_of(part)(table, part)
        except InputError as fault:
            faults += faults_of(fault)
    made = {name: _tried(make, read, faults) for name, make in _MAKERS.items()}
    if faults:
        raise ShopFaults([with_line(text, each) for each in faults], where)
    return Shop(read, **made, pads=read["pads"], text=text, file=file)


def _known_format(value):
    if type(value) is not int or value != FORMAT:
        problem = f"this workbook reads shop files of format {FORMAT}"
        raise InputError("format", problem, "Open it with a newer workbook")


def _each_named(part, table, faults):
    """Read every named table of a part; faults of one do not hide those of the next."""
    example = f"Write a heading such as [{part}.mine]"
    if not isinstance(table, dict):
        raise InputError(part, "needs a heading with a name", example)
    if len(table) > MOST_NAMED:
        raise InputError(part, f"there are more than {MOST_NAMED} of them, which is too many")
    found = {}
    for name, entries in table.items():
        try:
            if not isinstance(entries, dict):
                raise InputError(
                    f"{part}.{as_key(name)}", "must be under a heading with a name", example
                )
            found[name] = reader_of(part)(entries, f"{part}.{as_key(name)}")
        except InputError as fault:
            faults += faults_of(fault)
    return found


def _tried(make, read, faults):
    try:
        return make(read)
    except InputError as fault:
        faults += faults_of(fault)
        return None


def _lathe(read):
    entries = dict(read["lathe"])
    if not entries:
        return None
    entries["speeds"] = tuple(sorted(entries.get("speeds", ()), key=lambda each: each.m_as("rpm")))
    if "calibration" in entries:
        entries["calibration"] = _calibration(entries["calibration"])
    return Lathe(**entries)


def _calibration(given):
    by = [name for name in ("pull", "turn") if f"{name}s" in given]
    key = "lathe.calibration"
    if len(by) != 1:
        problem = "it has both pulls and turns" if by else "pulls or turns are missing"
        raise InputError(key, problem, "Give pulls or turns, one for each thrust")
    try:
        return Calibration(by[0], given[f"{by[0]}s"], given["thrusts"], given.get("graduation"))
    except InputError as error:
        raise InputError(f"lathe.{error.name}", error.problem, error.mend) from error


def _noses(read):
    found, faults = {}, []
    for name, entries in read["nose"].items():
        of_design = {key: value for key, value in entries.items() if key not in NOT_OF_DESIGN}
        try:
            design = own_design(**of_design, name=f"your nose “{name}”")
        except InputError as error:
            faults.append(InputError(f"nose.{name}.{error.name}", error.problem, error.mend))
            continue
        found[name] = Nose(name, design, entries.get("plate_diameter"), entries.get("notes", ""))
    if faults:
        raise Faults(faults)
    return found


_MAKERS = {
    "units": lambda read: read["units"].get("system"),
    "language": lambda read: read["units"].get("language"),
    "lathe": _lathe,
    "noses": _noses,
}
