"""Can it be used as a live centre? How much side force each design can take, and what fails."""

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from workshop_lib.bearings import DEMANDS, limit_margin, one_case, static_margin
from workshop_lib.load_path.design_tables import Design, find_design
from workshop_lib.load_path.nose import nose_shift
from workshop_lib.load_path.shaft import LEAST, SHAFTS
from workshop_lib.load_path.sweeps import FORCES, MOST, begin, spindle_of
from workshop_lib.quantities import as_shown, boundary, show

FINER, ROUNDS = 9, 2  # points of a grid between two of its points, and once more
_LOAD = {
    "design": find_design,
    "thrust": "force >= 0",
    "shift_limit": "length > 0",
    "demand": DEMANDS,
    "shaft": SHAFTS,
}


@dataclass(frozen=True, eq=False)
class Limit:
    """One limit to the side force of a design at a given thrust.

    criterion: "tip shift", "static safety", "axial limit" or "seated" (where only a thrust bearing
    keeps the spindle from rocking: all of its balls carry load). place: of the bearing, or "tip".
    side_force: N, 0 where it fails without any, infinite where it never fails.
    """

    criterion: str
    place: str
    side_force: object
    reason: str = field(repr=False)


@dataclass(frozen=True, eq=False)
class Verdict:
    """Whether a design can be used as a centre under a load, and why.

    nose: "located" if the tip holds that side force within the shift that is allowed, else
    "floating"; hand it to `slip.margin`. governs: the `Limit` that comes first.
    """

    design: Design
    serves: bool
    nose: str
    tip_shift: object
    play: object
    limits: tuple = field(repr=False)
    reasons: tuple = field(repr=False)

    @property
    def governs(self):
        """The limit that comes first as the side force grows."""
        return self.limits[0]


def _margins(spindle, loaded, shift_limit, demand):
    """Margin of every criterion in load cases (n,): {(criterion, place): (n,)}."""
    found = {("tip shift", "tip"): shift_limit / np.maximum(loaded.tip_shift, 1e-12)}
    supports = [piece.support for piece in spindle.pieces]
    alone = sum(support.radial != "free" for support in supports) < 2
    for number, support in enumerate(supports):
        bearing, place = support.bearing, support.place
        axial, radial = np.abs(loaded.axial[:, number]), np.abs(loaded.radial[:, number])
        heaviest, lightest = loaded.heaviest[:, number], loaded.lightest[:, number]
        found["static safety", place] = static_margin(bearing, axial, radial, heaviest, demand)
        if bearing.kind == "deep_groove" and support.axial == "rearward":
            found["axial limit", place] = limit_margin(bearing, axial)
        if bearing.kind == "thrust_ball" and alone:
            found["seated", place] = np.where(lightest > LEAST, np.inf, 0.0)
    return {name: np.where(loaded.converged, margin, 0.0) for name, margin in found.items()}


@lru_cache(maxsize=16)
def _surveyed(design, shaft, thrust):
    """A design at rest under one thrust and each of `FORCES`, kept for the next question."""
    start = begin(design, shaft, thrust, FORCES)
    return spindle_of(design, shaft).solve(np.full(len(FORCES), thrust), FORCES, start=start)


def _first_failures(design, thrust, shift_limit, demand, shaft):
    """Least side force in N at which each criterion fails: {(criterion, place): N}."""
    spindle, loaded = spindle_of(design, shaft), _surveyed(design, shaft, float(thrust))
    margins = _margins(spindle, loaded, shift_limit, demand)
    names, rows = list(margins), list(margins.values())
    grids, positions = [FORCES] * len(names), [loaded.position] * len(names)
    for _ in range(ROUNDS):
        ends = [list(_bracket(row)) for row in rows]
        grids = [np.geomspace(*each[pair], FINER) for each, pair in zip(grids, ends, strict=True)]
        near = [each[pair] for each, pair in zip(positions, ends, strict=True)]
        positions, rows = _refined(spindle, thrust, grids, near, (shift_limit, demand), names)
    found = zip(names, grids, rows, strict=True)
    return {name: _crossing(grid, row) for name, grid, row in found}


def _refined(spindle, thrust, grids, near, limits, names):
    """Solve finer grids of forces, from positions (2, k) at their ends; one margin of each."""
    way = np.linspace(0, 1, FINER)[:, None]
    starts = np.concatenate([low + way * (high - low) for low, high in near])
    fine = spindle.solve(np.full(len(starts), thrust), np.concatenate(grids), start=starts)
    margins = _margins(spindle, fine, *limits)
    rows = [margins[name].reshape(-1, FINER)[number] for number, name in enumerate(names)]
    return list(fine.position.reshape(len(names), FINER, -1)), rows


def _bracket(margin):
    """Numbers of the two neighbours between which a margin first falls below one."""
    failing = np.flatnonzero(margin < 1)
    first = failing[0] if failing.size else len(margin) - 1
    return max(first - 1, 0), first


def _crossing(grid, margin):
    """Where a margin falls through one on a fine grid; 0 at its start, infinite if nowhere."""
    failing = np.flatnonzero(margin < 1)
    if not failing.size:
        return np.inf if grid[-1] >= MOST * (1 - 1e-9) else float(grid[-1])
    first = failing[0]
    if first == 0:
        return 0.0 if grid[0] <= LEAST * (1 + 1e-9) else float(grid[0])
    above, below = margin[first - 1], margin[first]
    share = (above - 1) / (above - below) if np.isfinite(above) else 0.0
    return float(grid[first - 1] + share * (grid[first] - grid[first - 1]))


_WORDS = {
    "tip shift": "the tip then moves sideways by {shift}",
    "static safety": "the {place} bearing has used up its static safety",
    "axial limit": "the {place} bearing is at its axial limit",
    "seated": "the {place} bearing lifts on one side, and the spindle rocks",
}


def _limit(name, force, shift_limit):
    criterion, place = name
    told = _WORDS[criterion].format(place=place, shift=show(as_shown(shift_limit, "length")))
    load = as_shown(force, "force")
    reason = f"up to {show(load)}: {told}"
    if force == 0:
        reason = f"at no side force at all: {told}"
    elif np.isinf(force):
        reason = f"no limit up to {show(as_shown(MOST, 'force'))}"
    return Limit(criterion, place, load, reason)


@boundary(**_LOAD)
def side_limits(design, thrust, shift_limit, demand="normal", shaft="elastic"):
    """Up to what side force can this design be used, and what fails first?

    Every criterion is followed along a growing side force at that thrust until it fails: the shift
    of the tip against shift_limit, each bearing's static safety, the axial limit of a deep-groove
    bearing, and whether a thrust bearing is still pressed all round.

    design: key or `Design`. thrust: one force. shift_limit: one length that the tip may move
    sideways. demand: "normal", "shock" or "quiet", for the static safety. shaft: "elastic" or
    "rigid". Returns a tuple of `Limit`, the first to fail in front. Raises InputError. Notes: found
    to a thousandth; forces beyond 20 kN are not tried. Source: iso-16281, skf-2018,
    typical-sizes.

    >>> first = side_limits("pressure_nose", "600 N", "0.005 mm")[0]
    >>> print(first.criterion, first.side_force)  # its play alone is more than that
    tip shift 0.0 N
    """
    one_case(thrust=thrust, shift_limit=shift_limit)
    return _limits(design, thrust, shift_limit, demand, shaft)


def _limits(design, thrust, shift_limit, demand, shaft):
    forces = _first_failures(design, thrust, shift_limit, demand, shaft)
    order = sorted(forces.items(), key=lambda each: each[1])
    return tuple(_limit(name, force, shift_limit) for name, force in order)


@boundary(side_force="force >= 0", **_LOAD)
def live_centre(design, thrust, side_force, shift_limit, demand="normal", shaft="elastic"):
    """Can this design double as a live centre under that side force?

    It can if its tip stays within the shift that is allowed and none of its bearings is asked for
    more than it may carry; see `side_limits`.

    design: key or `Design`. thrust, side_force: one force each. shift_limit: one length. demand:
    "normal", "shock" or "quiet". shaft: "elastic" or "rigid". Returns a `Verdict` with `.serves`,
    `.nose`, `.tip_shift`, `.play`, `.limits`, `.governs` and `.reasons` in words. Raises
    InputError. Source: iso-16281, skf-2018, typical-sizes.

    >>> live_centre("pressure_nose", "600 N", "50 N", "0.01 mm").serves
    False
    """
    one_case(thrust=thrust, side_force=side_force, shift_limit=shift_limit)
    limits = _limits(design, thrust, shift_limit, demand, shaft)
    shift, drift = nose_shift.core(design, thrust, np.array([side_force, 0.0]), shaft)
    most = limits[0].side_force.m_as("N")
    held = shift <= shift_limit
    verdict = {
        "serves": bool(held and side_force <= most),
        "nose": "located" if held else "floating",
    }
    return Verdict(
        design=design,
        **verdict,
        tip_shift=as_shown(shift, "length"),
        play=as_shown(drift, "length"),
        limits=limits,
        reasons=_reasons(verdict["serves"], side_force, shift, drift, shift_limit, limits),
    )


def _reasons(serves, side_force, shift, drift, shift_limit, limits):
    """The verdict in sentences, the shift first."""
    force, length = (
        (lambda x: show(as_shown(x, "force"))),
        (lambda x: show(as_shown(x, "length"), figures=2)),
    )
    compared = "within" if shift <= shift_limit else "more than"
    told = [
        f"{'Yes' if serves else 'No'}: {force(side_force)} moves the tip by {length(shift)}, "
        f"{compared} the {length(shift_limit)} that is allowed."
    ]
    if drift > 0.1 * shift_limit:
        told.append(f"{length(drift)} of that is play, which needs no force at all.")
    exceeded = [limit for limit in limits if limit.side_force.m_as("N") < side_force]
    told += [f"Limit: {limit.reason}." for limit in exceeded if limit.criterion != "tip shift"]
    first = limits[0]
    if first.side_force.m_as("N") > 0:
        told.append(f"It would do {first.reason}.")
    else:
        told.append("At this thrust it would do for no side force at all.")
    return tuple(told)
