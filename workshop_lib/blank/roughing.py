"""What does any pass ask of the hold, for one blank on its centre? Bare numbers.

A pass takes the tool from an outer radius, that of the pass before, to an inner one. All loads are
calculated where they are largest: at the outer radius, where the corners strike.
"""

import numpy as np

from workshop_lib import slip
from workshop_lib.blank.engagement import once_round, remaining, rise, solid_reach
from workshop_lib.blank.pass_table import Bare, Passes
from workshop_lib.overhang import strike_factor_up_to
from workshop_lib.quantities import InputError, as_shown, one_value, show
from workshop_lib.torque import cutting_torque, side_force

TRIMS = 129  # radii at which the unbalance is worked out; between them it is taken as a line
EQUAL = 1e-9  # radii and margins that differ by less, as a share, are the same
NEAR = 1e-6  # share by which the depth of a pass may fall short of the deepest
THINNEST = 1e-6  # m; a pass of less than a thousandth of a millimetre is no pass
TINY = 1e-300
FOUND = 1e-9  # share of the most that there is, to which a depth is found
EVEN = np.linspace(0, 1, 17)  # shares of a span in which a depth is looked for
CROWD = np.concatenate([-(10.0 ** -np.arange(1, 12)), 10.0 ** -np.arange(11, 0, -1)])


class Loads:
    """What passes on one blank ask of the hold: bare numbers, arrays of radii of shape (p,).

    The unbalance of a pass is the largest that the blank has at any radius between the two of the
    pass. Taken so, a pass never loads the hold more than one that begins farther out and ends as
    deep, which makes the shortest schedule easy to find.
    """

    def __init__(self, turning, sight, disc_radius):
        self.turning, self.sight = turning, sight
        self.corner, self.solid = sight.reach, solid_reach(sight)
        self.radii = np.linspace(disc_radius, self.corner, TRIMS)
        moment = np.hypot(*remaining(sight, self.radii)[1].T)
        pull = turning.material.core.density * turning.thickness * turning.speed**2
        self.pulls = pull * moment
        self.peaks = _peaks(self.pulls)

    def unbalance(self, inner, outer):
        """Largest unbalance force between two radii, N."""
        first = np.searchsorted(self.radii, inner, "right")
        count = np.searchsorted(self.radii, outer, "left") - first
        level = np.log2(np.maximum(count, 1)).astype(int)
        last = first + np.maximum(count, 1) - 2**level
        between = np.maximum(self.peaks[level, first], self.peaks[level, last])
        ends = np.interp([inner, outer], self.radii, self.pulls).max(axis=0)
        return np.where(count > 0, np.maximum(between, ends), ends)

    def depth(self, inner, outer):
        """Most material that one turn takes on any ray, m."""
        taken = self.turning.taken(inner, outer)
        if self.turning.cut == "plunge" or np.all(outer <= self.solid):
            return taken
        return once_round(self.sight, inner, outer).depth

    def blow(self, inner, outer):
        """By what the corner's blow multiplies the steady force; 1 where no own period is given."""
        if self.turning.own_period is None:
            return 1.0
        begin = np.maximum(outer - self.turning.taken(inner, outer), inner)
        angle, part = rise(self.sight, begin, outer)
        lasting = np.minimum(angle / self.turning.speed, 1e6)
        return 1 + (strike_factor_up_to.core(lasting, self.turning.own_period) - 1) * part

    def margin(self, inner, outer, depth=None):
        """Slip margin, with cutting force, torque, side force (N, N·m, N) and unbalance (N)."""
        turning = self.turning
        force = turning.force(self.depth(inner, outer) if depth is None else depth)
        force = force * self.blow(inner, outer)
        unbalance = self.unbalance(inner, outer)
        torque = cutting_torque.core(force, 2 * outer)
        side = side_force.core(force, turning.radial_share, unbalance)
        hold = turning.pad, turning.thrust, turning.friction_coefficient
        return slip.margin.core(*hold, side, torque), force, torque, side, unbalance


def _peaks(values):
    """Row k holds, from each place on, the largest of the next 2^k values (or of those left).

    Two overlapping stretches of one row give the largest of any stretch. A last column stands
    behind the values.
    """
    rows = [np.append(values, 0.0)]
    while 2 ** len(rows) <= len(values):
        half = 2 ** (len(rows) - 1)
        later = np.append(rows[-1][half:], np.zeros(half))
        rows.append(np.maximum(rows[-1], later))
    return np.array(rows)


class Roughing:
    """A blank, its centre and a disc that fits there; lengths in m, centre None: the best one."""

    def __init__(self, blank, disc_diameter, turning, centre):
        one_value(disc_diameter=disc_diameter)
        centre = blank.best_centre if centre is None else centre
        room = blank.room(centre)
        self.radius = disc_diameter / 2
        if self.radius > room * (1 + EQUAL):
            wanted, largest = (show(as_shown(d, "length")) for d in (disc_diameter, 2 * room))
            problem = f"{wanted} does not fit: about this centre the largest disc is {largest}"
            raise InputError("disc_diameter", problem, "Move the centre, or take a larger blank")
        self.turning = turning
        self.sight = blank.seen_from(centre)
        self.loads = Loads(turning, self.sight, self.radius)
        self.corner = self.sight.reach

    def passes(self, radii):
        """Return `Passes` through these radii, the corner's first and the disc's last."""
        outer, inner = np.array(radii[:-1]), np.array(radii[1:])
        taken = self.turning.taken(inner, outer)
        met = once_round(self.sight, inner, np.minimum(inner + taken, outer))
        depth = taken if self.turning.cut == "plunge" else met.depth
        margin, force, torque, side, unbalance = self.loads.margin(inner, outer, depth)
        time = self.turning.time(inner, outer)
        columns = (met.share, met.strikes, depth, force, torque, side, unbalance, margin, time)
        return Passes(Bare(outer, inner, *columns))

    def deepest(self, outer, most, wanted):
        """The deepest pass of at most `most` from a radius that keeps a margin, m; 0 if none does.

        Where the centre does not see the whole outline, the tool may meet less than the depth of
        cut. That takes time to find, and is looked into only as far as it could change the answer.
        """
        depth = self._search(outer, most, wanted, whole=True)
        beyond = min(max(depth * (1 + NEAR), THINNEST), most)
        if depth == most or outer <= self.loads.solid:
            return depth
        if self._margins(outer, np.array([beyond]))[0] < wanted:
            return depth
        return self._search(outer, most, wanted)

    def _search(self, outer, most, wanted, whole=False):
        """Find a depth by trying many at a time; a deeper pass never has the greater margin.

        The load over the hold, 1/margin, is nearly a straight line of the depth: after a first look
        at all depths the next ones crowd round where that line meets the wanted margin.
        """
        depths = most * EVEN
        while True:
            margins = self._margins(outer, depths, whole)
            keeps = int((margins >= wanted).sum())
            if keeps in (0, len(depths)):
                return depths[keeps - 1] if keeps else 0.0
            low, high = depths[keeps - 1 : keeps + 1]
            span = high - low
            if span <= FOUND * most:
                return low
            below, above = 1 / np.maximum(margins[keeps - 1 : keeps + 1], TINY)
            guess = low + span * (1 / wanted - below) / (above - below)
            near = np.clip(guess + span * CROWD, low, high)
            depths = np.sort(np.concatenate([low + span * EVEN, near]))

    def _margins(self, outer, depths, whole=False):
        """Slip margins of passes of these depths from one radius."""
        inner, outer = outer - depths, np.full(len(depths), outer)
        taken = self.turning.taken(inner, outer) if whole else None
        return self.loads.margin(inner, outer, taken)[0]
