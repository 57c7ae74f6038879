"""What do the passes of one blank come to? A table with one row for each pass."""

from dataclasses import dataclass

import numpy as np

from workshop_lib.quantities import as_shown

_KINDS = {
    "from_radius": "length",
    "tool_radius": "length",
    "engaged_share": "ratio",
    "strikes": None,
    "peak_depth": "length",
    "cutting_force": "force",
    "peak_torque": "torque",
    "side_force": "force",
    "unbalance": "force",
    "margin": "ratio",
    "time": "time",
}
HEADINGS = (
    "pass",
    "from radius",
    "tool radius",
    "share of turn cut",
    "strikes per turn",
    "peak depth",
    "cutting force",
    "peak torque",
    "side force",
    "unbalance",
    "slip margin",
    "time",
)


@dataclass(frozen=True, eq=False)
class Bare:
    """The columns of `Passes` without units: SI, arrays of shape (passes,)."""

    from_radius: np.ndarray
    tool_radius: np.ndarray
    engaged_share: np.ndarray
    strikes: np.ndarray
    peak_depth: np.ndarray
    cutting_force: np.ndarray
    peak_torque: np.ndarray
    side_force: np.ndarray
    unbalance: np.ndarray
    margin: np.ndarray
    time: np.ndarray


class Pass:
    """One pass: its number from 1, and by their names what stands in the columns of `Passes`."""

    def __init__(self, number, core):
        self.number, self._core = number, core

    def __getattr__(self, name):
        if name not in _KINDS:
            raise AttributeError(name)
        return _shown(getattr(self._core, name)[self.number - 1], _KINDS[name])

    def __repr__(self):
        return f"<pass {self.number}, margin {self.margin:.3g}>"


class Passes:
    """All passes from a blank's corners to its disc, in order; a sequence of `Pass`.

    Its columns are arrays: from_radius and tool_radius (where the pass begins and ends),
    engaged_share (of the turn; where it ends), strikes (per turn), peak_depth (the most material
    on any ray in one turn), cutting_force and peak_torque (where the tool strikes a corner),
    side_force (cutting, radial and unbalance), unbalance, margin against slip, and time in the cut.
    Bare numbers in SI stand in `core`.
    """

    def __init__(self, core):
        self.core = core

    def __getattr__(self, name):
        if name not in _KINDS:
            raise AttributeError(name)
        return _shown(getattr(self.core, name), _KINDS[name])

    def __len__(self):
        return len(self.core.margin)

    def __getitem__(self, number):
        return Pass(range(len(self))[number] + 1, self.core)

    def __repr__(self):
        count = len(self)
        least = f"{self.core.margin.min():.3g}"
        return f"<{count} pass{'es' * (count != 1)}, least margin {least}>"

    @property
    def worst(self):
        """The `Pass` with the least margin; the first one of several."""
        return self[int(np.argmin(self.core.margin))]

    @property
    def total_time(self):
        """Time in the cut of all passes together, s."""
        return as_shown(self.core.time.sum(), "time")

    @property
    def headings(self):
        """What stands in the columns of `rows`."""
        return HEADINGS

    @property
    def rows(self):
        """The passes as a list of tuples of number and quantities, for a table."""
        return [(each.number, *(getattr(each, name) for name in _KINDS)) for each in self]


def _shown(value, kind):
    if kind is not None:
        return as_shown(value, kind)
    return value.item() if np.ndim(value) == 0 else value
