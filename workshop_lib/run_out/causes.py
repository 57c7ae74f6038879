"""What can make a needle move? The table of causes.

Every set-up has a little of every cause (its background); a faulty one has one of them in a size
between low and high. All numbers are in `causes.csv`, each with its source. What a cause leaves
in readings is in `patterns`.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib import sources
from workshop_lib.run_out.readings import PLACES
from workshop_lib.sources import csv_tables

PATTERNS = ("wave", "scatter", "drift", "give", "none")
EACH = ("always", "state", "turn")
ACTIONS = ("tap", "shim", "clean", "skim", "remake", "tighten", "none")
PARTS = (*PLACES, "indicator", "set-up")
MICRON, MILLIMETRE = 1e-6, 1e-3


@dataclass(frozen=True, eq=False)
class Cause:
    """One cause in one part: its pattern, where it shows and how much, and its usual sizes (m).

    each: "always" the same, the same in one "state" of the set-up, or another one in every "turn".
    slip: by what share of itself it may change within a turn. arm: the distance (along the axis, or
    the radius on a face) at which a lean has its size; 0 for what does not grow with distance.
    shows: for "radial", "face" and "push", the share that is seen at each place, from low to high.
    """

    key: str
    name: str
    part: str
    candidate: bool
    pattern: str
    harmonic: int
    each: str
    slip: float
    arm: float
    follows: str
    shows: dict = field(repr=False)
    sizes: tuple = field(repr=False)
    background: float = field(repr=False)
    cited: str = field(repr=False)
    action: str = field(repr=False)
    mend: str = field(repr=False)  # with {angle}, {opposite} and {size} to be filled in

    def share(self, test):
        """How much of it shows in a test, without the arm, and the standard deviation of that."""
        low, high = self.shows[test.what].get(test.where, (0.0, 0.0))
        return (low + high) / 2, (high - low) / np.sqrt(12)


def _shares(cell):
    """Return the span of shares at each place from a cell such as "disc:1 nose:0.3-1"."""
    found = {}
    for word in cell.split():
        place, _, span = word.partition(":")
        csv_tables.choose(place, PLACES, "", "place")
        ends = [csv_tables.number(0, 1)(end) for end in span.split("-", 1)]
        found[place] = (ends[0], ends[-1])
    return found


_MICRONS = csv_tables.number(0, 10_000)
_COLUMNS = {
    "key": csv_tables.key,
    "name": csv_tables.text,
    "part": csv_tables.one_of(*PARTS),
    "candidate": csv_tables.one_of("yes", "no"),
    "pattern": csv_tables.one_of(*PATTERNS),
    "harmonic": csv_tables.whole(0, 60),
    "each": csv_tables.one_of(*EACH),
    "slip": csv_tables.number(0, 1),
    "arm_mm": csv_tables.number(0, 1000),
    "follows": csv_tables.one_of("spindle", "part"),
    **dict.fromkeys(("radial", "face", "push"), _shares),
    **dict.fromkeys(("low_um", "typical_um", "high_um", "background_um"), _MICRONS),
    "source": sources.keys_in_cell,
    "action": csv_tables.one_of(*ACTIONS),
    "mend": csv_tables.text,
}


def _cause(row):
    sizes = row.ordered("low_um", "typical_um", "high_um")
    if row["candidate"] == "yes" and row["pattern"] != "none" and not sizes[0] > 0:
        raise row.error("low_um must be above zero for a candidate")
    if (row["pattern"] == "wave") != (row["harmonic"] > 0):
        raise row.error("a wave, and nothing else, has a harmonic of 1 or more")
    named = {
        name: row[name] for name in ("key", "name", "part", "pattern", "harmonic", "each", "slip")
    }
    return Cause(
        **named,
        candidate=row["candidate"] == "yes",
        arm=MILLIMETRE * row["arm_mm"],
        follows=row["follows"],
        shows={what: row[what] for what in ("radial", "face", "push")},
        sizes=tuple(MICRON * size for size in sizes),
        background=MICRON * row["background_um"],
        cited=row["source"],
        action=row["action"],
        mend=row["mend"],
    )


def _causes(rows):
    return tuple(_cause(row) for row in csv_tables.by_key(rows, "key", "part").values())


def known():
    """Return every row of the table of causes, candidates and backgrounds, in its order."""
    return csv_tables.load("causes.csv", _COLUMNS, _causes)


def candidates():
    """Which causes can a diagnosis name? One `Cause` for each part that can have it.

    >>> sorted({cause.key for cause in candidates()})[:3]
    ['bearing_clearance', 'displaced_disc', 'eccentric_seat']
    """
    return tuple(cause for cause in known() if cause.candidate)


def find_cause(key, part=None):
    """Return the candidate with this key, in this part if it can be in several."""
    keys = dict.fromkeys(cause.key for cause in candidates())
    csv_tables.choose(key, keys, "cause", "cause")
    parts = {cause.part: cause for cause in candidates() if cause.key == key}
    if part is None:
        return next(iter(parts.values()))
    return parts[csv_tables.choose(part, parts, "part", "part that can have it")]
