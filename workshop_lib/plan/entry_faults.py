"""What is wrong with the entries of a job? Every fault, by its key, one entry at a time."""

from workshop_lib.gauges import tables
from workshop_lib.materials import find_material
from workshop_lib.own_files import FaultList, as_key, faults_of
from workshop_lib.plan.entry_table import (
    BLANKS,
    BOTH_SAY,
    ENTRIES,
    NEEDS,
    SECTIONS,
    THICKNESSES,
    THRUSTS,
    gauge_offers,
)
from workshop_lib.quantities import InputError, quote
from workshop_lib.sources import choose

MOST_ENTRIES = 400


class JobFaults(FaultList):
    """A job cannot be used as it is. faults: one InputError for each key that is at fault."""

    def __init__(self, faults, where="job"):
        super().__init__(faults, where)


def flat(tables):
    """Turn nested tables into entries by their dotted keys, and faults for what has no place."""
    entries, faults = {}, []
    for section, table in tables.items():
        try:
            if section in ENTRIES and "." not in section:
                entries[section] = _listed(section, table)
                continue
            if section not in SECTIONS:
                _refuse_section(section)
            if not isinstance(table, dict):
                raise InputError(
                    section,
                    "is a section of the job file, not an entry",
                    f"Write it as [{section}]",
                )
        except InputError as fault:
            faults.append(fault)
            continue
        entries |= {f"{section}.{name}": value for name, value in table.items()}
    return entries, faults


def _listed(section, table):
    """What stands under [[section]]."""
    if isinstance(table, dict):
        raise InputError(
            section, "there can be more than one of these", f"Write each as [[{section}]]"
        )
    return table


def _refuse_section(section):
    """Refuse what is no part of a job; an entry that lost its part is told where it belongs."""
    homes = [key for key in ENTRIES if key.partition(".")[2] == section]
    if homes:
        belongs = " or ".join(f"[{key.partition('.')[0]}]" for key in homes)
        raise InputError(as_key(section), "is in the wrong place", f"Put it under {belongs}")
    if section in ENTRIES:
        home, _, name = section.partition(".")
        raise InputError(as_key(section), "is in quotation marks", f"Write {name} under [{home}]")
    choose(section, SECTIONS, as_key(section), "part of a job")


def refuse_many(count, where):
    """Refuse more entries than a job can have, before each of them is looked into."""
    if count > MOST_ENTRIES:
        problem = f"there are {count} entries, and a job has at most {len(ENTRIES)}"
        raise JobFaults([InputError("entries", problem)], where)


def checked(entries, known, supplied=()):
    """Read every entry; give what could be read, and one fault for each key that could not.

    known: values that were read before, which are taken as they are. supplied: keys of what the
    shop or custom says where the job does not.
    """
    values, faults = {}, []
    for key, value in entries.items():
        if key in known and value is known[key]:
            values[key] = value
            continue
        try:
            if key not in ENTRIES:
                choose(key, _likely(key), as_key(key), "entry")
            values[key] = ENTRIES[key].read(value, key)
        except InputError as fault:
            faults += faults_of(fault)
    faults += [
        InputError(key, "is missing", entry.means)
        for key, entry in ENTRIES.items()
        if entry.required and key not in entries and key not in supplied
    ]
    return values, faults + _sets({*entries, *supplied}, values)


def _likely(key):
    """Keys that may have been meant: those of the same part, when it is one."""
    section = key.partition(".")[0]
    return [each for each in ENTRIES if each.startswith(f"{section}.")] or list(ENTRIES)


def _sets(entries, values):
    """Faults of entries that belong together or exclude each other. values: those read so far."""
    return [
        *_one_way("blank", BLANKS, entries),  # none is needed: a usual one stands for it
        *_one_way("thrust", THRUSTS, entries, needed=True),
        *_no_thickness(entries),
        *_pairs(entries, values),
    ]


def _one_way(what, ways, entries, needed=False):
    """What can be given in several ways is given in one of them, and wholly."""
    begun = [way for way in ways if any(key in entries for key in way)]
    if len(begun) > 1:
        keys = " and ".join(way[0] for way in begun)
        yield InputError(what, f"{keys} both say what it is", "Keep one and delete the other")
    for key in (key for way in begun for key in way if key not in entries):
        yield InputError(key, "is missing", ENTRIES[key].means)
    if needed and not begun:
        listed = ", or ".join(" with ".join(way) for way in ways)
        yield InputError(what, f"it is missing: give {listed}")


def _no_thickness(entries):
    told = any(all(key in entries for key in way) for way in THICKNESSES)
    if not told and "sheet.gauge" not in entries:  # else what is missing is its table
        problem = "the thickness of the sheet is missing"
        yield InputError("sheet.thickness", problem, "Measure it and type the reading")


def _pairs(entries, values):
    """Two entries that say the same, and one that needs another."""
    for first, second in BOTH_SAY:
        if first in entries and second in entries:
            yield InputError(second, f"{first} already says this", "Keep one and delete the other")
    for key, needs in NEEDS:
        if key in entries and needs not in entries:
            mend = _tables_of(values) if needs == "sheet.gauge_table" else ""
            yield InputError(needs, f"is missing, and {key} needs it", mend)


def _tables_of(values):
    """Which tables a gauge number may be of, that of its sheet first."""
    try:
        own = find_material(values["sheet.material"]).gauge_table
        return f"Type one of: {gauge_offers(values['sheet.gauge'], own)}"
    except (InputError, KeyError):
        return f"Known: {', '.join(tables())}"


def entries_of(given, name="entries"):
    """Return entries that a program handed in as a dictionary of text keys; refuse all else."""
    if not isinstance(given, dict) or not all(isinstance(key, str) for key in given):
        mend = 'Give a dictionary such as {"disc.diameter": "78 mm"}'
        raise InputError(name, f"{quote(given)} is not a set of entries", mend)
    return given
