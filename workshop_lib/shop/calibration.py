"""What thrust does my tailstock give? Readings of a scale at known pulls or turns of its wheel.

The same pull on the handle gives about the same thrust whatever is squeezed; the same turn of the
wheel does so only with the same facing and disc, since it is their spring that the turn squeezes.
"""

from dataclasses import dataclass, field

import numpy as np

from workshop_lib.quantities import InputError, Quantity, as_shown, show
from workshop_lib.uncertainty import measured

KINDS = {"pull": "force", "turn": "angle"}
WORDS = {"pull": "pull on the handle", "turn": "turn of the handwheel"}
FEWEST = 3
BEYOND = 1.1  # times the largest reading up to which a calibration still counts


@dataclass(frozen=True, eq=False)
class Calibration:
    """Thrust against the pull on the handle, or against the turn of the handwheel.

    by: "pull" or "turn". given: the pulls or turns, thrusts: what the scale showed, one for each.
    graduation: of the scale, or None. A straight line is laid through them; where all were taken at
    one pull, thrust is taken to grow with the pull.
    """

    by: str
    given: tuple
    thrusts: tuple
    graduation: object = field(default=None, repr=False)

    def __post_init__(self):
        x, y = self._numbers
        if len(x) != len(y):
            problem = f"there are {len(y)} thrusts for {len(x)} {self.by}s"
            raise InputError("calibration.thrusts", problem, "Give one reading for each")
        if np.ptp(x) > 0 and not self._line()[0] > 0:
            problem = f"the thrust does not grow with the {self.by}"
            raise InputError(
                "calibration.thrusts", problem, "Check whether two readings were swapped"
            )

    @property
    def _numbers(self):
        unit = "N" if self.by == "pull" else "rad"
        x = np.array([float(each.m_as(unit)) for each in self.given])
        return x, np.array([float(each.m_as("N")) for each in self.thrusts])

    def _line(self):
        """Slope and start of the line: thrust = slope × given + start, in N and rad."""
        x, y = self._numbers
        if np.ptp(x) == 0:
            return float(np.mean(y) / np.mean(x)), 0.0
        slope = np.sum((x - x.mean()) * (y - y.mean())) / np.sum((x - x.mean()) ** 2)
        return float(slope), float(y.mean() - slope * x.mean())

    def thrust_at(self, value):
        """Thrust at a pull or turn: a `measured.Measured` with `.value`, `.low` and `.high`.

        The scatter is that of the readings about their line, of one squeeze to come: t with as many
        degrees of freedom as are left, wider away from the middle of the readings.
        """
        x, y = self._numbers
        at = float(value.m_as("N" if self.by == "pull" else "rad"))
        if at > BEYOND * x.max() or at < x.min() / BEYOND:
            span = f"{self._told(x.min())} to {self._told(x.max())}"
            problem = f"{self._told(at)} is outside your calibration, which goes from {span}"
            raise InputError(f"thrust.{self.by}", problem, "Calibrate there, or stay within it")
        slope, start = self._line()
        away = y - (slope * x + start)
        if np.ptp(x) > 0:
            away = away * self._wider(x, at)
        seen = (float(slope * at + start) + away).tolist()
        if min(seen) <= 0:
            problem = f"at {self._told(at)} the readings scatter too much to rely on any thrust"
            raise InputError(f"thrust.{self.by}", problem, "Pull harder, or calibrate again")
        return measured.thrust_at_pull([Quantity(each, "N") for each in seen], self.graduation)

    @staticmethod
    def _wider(x, at):
        """How much wider a line's prediction scatters than a mean's."""
        count = len(x)
        spread = 1 + 1 / count + (at - x.mean()) ** 2 / np.sum((x - x.mean()) ** 2)
        return np.sqrt(spread / (1 + 1 / count) * (count - 1) / max(count - 2, 1))

    def needed_for(self, thrust):
        """The pull or turn whose mean thrust is this, a quantity; None outside the calibration."""
        slope, start = self._line()
        at = (float(thrust.m_as("N")) - start) / slope
        x, _ = self._numbers
        return self._quantity(at) if x.min() / BEYOND <= at <= BEYOND * x.max() else None

    def _quantity(self, number):
        if self.by == "pull":
            return as_shown(number, "force")
        return as_shown(number, "angle")

    def _told(self, number):
        return show(self._quantity(float(number)))
