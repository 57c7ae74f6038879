"""Where can you put an indicator? The usual tests, each with how to do it and its caution."""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib import sources
from workshop_lib.quantities import Q_
from workshop_lib.run_out.readings import PLACES, SURFACES, Push, Readings
from workshop_lib.sources import csv_tables

MARKS = np.radians(np.arange(0, 361, 30))  # every 30°, and back to the first mark: common practice
FORCES = np.array([0.0, 10, 20, 0, -10, -20, 0])  # N


@dataclass(frozen=True, eq=False)
class Clocking:
    """One usual test: where the indicator is, at which position and index, how, and its caution.

    what: "radial", "face" or "push". position, index: in m and rad, as `Readings` hold them.
    ease: 1, or less where it disturbs the set-up; what it would tell is weighed by it.
    """

    key: str
    where: str
    what: str
    position: float
    index: float
    ease: float
    how: str
    caution: str
    cited: str = field(repr=False)

    def test(self, values, along=None, graduation=None, name="", state=""):
        """Return readings taken here as `Readings` or a `Push`.

        values: readings, m. along: angles, rad, or forces, N; None takes the usual ones.
        graduation: m or None.
        """
        division = None if graduation is None else Q_(graduation, "m")
        about = {"where": self.where, "graduation": division, "name": name, "state": state}
        if self.what == "push":
            return Push(Q_(FORCES if along is None else along, "N"), Q_(values, "m"), **about)
        place = {"position": Q_(self.position, "m"), "index": Q_(self.index, "rad")}
        angles = Q_(MARKS if along is None else along, "rad")
        return Readings(angles, Q_(values, "m"), what=self.what, **place, **about)


_COLUMNS = {
    "key": csv_tables.key,
    "where": csv_tables.one_of(*PLACES),
    "what": csv_tables.one_of(*SURFACES, "push"),
    "position_mm": csv_tables.number(0, 1000),
    "index_deg": csv_tables.number(-360, 360),
    "ease": csv_tables.number(0.01, 1),
    "how": csv_tables.text,
    "caution": csv_tables.anything,
    "source": sources.keys_in_cell,
}


def _built(rows):
    return {
        key: Clocking(
            **{name: row[name] for name in ("key", "where", "what", "ease", "how", "caution")},
            position=1e-3 * row["position_mm"],
            index=np.radians(row["index_deg"]),
            cited=row["source"],
        )
        for key, row in csv_tables.by_key(rows, "key").items()
    }


def _known():
    return csv_tables.load("clockings.csv", _COLUMNS, _built)


def clockings():
    """Which tests are usual? Returns a tuple of `Clocking`, in the order of their table.

    >>> [clocking.key for clocking in clockings()][:2]
    ['spindle_radial', 'pad_radial']
    """
    return tuple(_known().values())


def find_clocking(key, name="clocking"):
    """What is known about this test? Returns a `Clocking`; InputError for an unknown key."""
    if isinstance(key, Clocking):
        return key
    return _known()[csv_tables.choose(key, _known(), name, "clocking", "clockings()")]
