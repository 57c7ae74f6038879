"""What is too small to mean anything? Whatever compares a difference with a limit asks here.

Three things set that size, and each has its own answer:

- *the machine*: results from inputs of a size S that differ by less than 1e-10 S (`SAME`) are the
  same. Rounding stays below it even where a fit is ill conditioned, and no dial comes near it: it
  is 0.01 nm on the longest of 100 mm. A limit is met as soon as it is met to that share;
- *the dial*: readings that fit exactly prove no precision. As long as few readings are left over to
  show their scatter, each counts as good to one division either way, d/sqrt(3);
- *chance*: a remark that says "this is more than scatter" may be wrong in one honest set-up of
  twenty (`STATED`), for whatever number of readings there are. It is tested at half of that
  (`ALARM`), so that it keeps its word where the needle scatters by a whole division.
"""

import numpy as np

SAME = 1e-10  # share of what goes in; results that differ by less are the same
STATED = 0.05  # share of honest set-ups in which a remark may speak of more than scatter
ALARM = STATED / 2  # chance at which it does, so that rounded readings keep below what is stated
REPUTE = 4  # readings' worth of trust in the dial: its scatter is known to 35 % (gum, G.4.2)
SLICES = 2001


def dust(*inputs):
    """Say what rounding can leave of a result whose inputs have these sizes: on the last axis."""
    return SAME * sum(np.max(np.abs(np.atleast_1d(each)), axis=-1) for each in inputs)


def without_dust(part, dust):
    """Take what rounding in the last places leaves for nothing, so that 0° does not read 360°."""
    return np.where(np.abs(part) <= dust, 0.0, part)


def span(values):
    """Say how far the largest lies above the smallest; nothing if only rounding parts them."""
    return without_dust(np.ptp(values, axis=-1), dust(values))


def deviation(values):
    """Standard deviation of one of these, on the last axis; nothing if only rounding parts them."""
    return np.where(span(values) > 0, np.std(values, axis=-1, ddof=1), 0.0)


def same(first, second):
    """Whether two results are the same but for rounding; they broadcast.

    >>> bool(same(0.1 + 0.2, 0.3)), bool(same(2.0, 2.001))
    (True, False)
    """
    return np.abs(np.subtract(first, second)) <= SAME * np.maximum(np.abs(first), np.abs(second))


def at_least(value, limit, size=0.0):
    """Whether a value reaches a limit; one that rounding put just below it does.

    size: of what went into the value, where that is more than the limit. They broadcast.

    >>> bool(at_least(1.9999999999999998, 2.0)), bool(at_least(1.999, 2.0))
    (True, False)
    """
    limit = np.asarray(limit)
    return value >= np.minimum(limit * (1 - SAME * np.sign(limit)), limit - SAME * size)


def more_than(value, limit, size=0.0):
    """Whether a value passes a limit by more than rounding; size: as for `at_least`.

    >>> bool(more_than(0.1 + 0.2, 0.3)), bool(more_than(0.301, 0.3))
    (False, True)
    """
    limit = np.asarray(limit)
    return value > np.maximum(limit * (1 + SAME * np.sign(limit)), limit + SAME * size)


def steps_up(value, step):
    """Round up to whole steps; a value that rounding put just above one counts as that one.

    >>> float(steps_up(0.30000000000000004, 0.1)), float(steps_up(0.31, 0.1))
    (3.0, 4.0)
    """
    count = np.asarray(value / step)
    return np.ceil(count - SAME * np.maximum(np.abs(count), 1))


def steps_down(value, step):
    """Round down to whole steps; a value that rounding put just below one counts as that one.

    >>> float(steps_down(0.3, 0.1)), float(steps_down(0.29, 0.1))
    (3.0, 2.0)
    """
    return -steps_up(-np.asarray(value), step)


def steps_near(value, step):
    """Round to the nearest whole step; halves go away from zero, also where rounding hides one.

    >>> float(steps_near(0.025, 0.01)), float(steps_near(-0.35, 0.1)), float(steps_near(0.34, 0.1))
    (3.0, -4.0, 3.0)
    """
    count = np.abs(value / step)
    return np.sign(value) * np.floor(count + 0.5 + SAME * np.maximum(count, 1))


def common_step(values):
    """Guess the division to which readings were taken: the largest step of which all are multiples.

    None where there is none that rounding leaves standing. By Euclid's algorithm.

    >>> float(common_step(np.array([8, 8, 8.1])).round(9)), common_step(np.array([1, 2**0.5]))
    (0.1, None)
    """
    values = np.unique(np.abs(values))
    floor = 1e3 * dust(values)
    step = 0.0
    for value in values:
        larger, smaller = max(value, step), min(value, step)
        while smaller > floor:
            rest = larger - smaller * np.round(larger / smaller)
            larger, smaller = smaller, abs(rest)
        step = larger
    return step if step > 1e4 * floor else None


def leading(values, near):
    """Place of the greatest on the last axis; the first of all that come as near to it as that."""
    return np.argmax(values >= np.max(values, axis=-1, keepdims=True) - near, axis=-1)


def ranked(values, near):
    """Places from the greatest to the least; neighbours nearer than that keep their order.

    >>> ranked([0.3, 0.1, 0.6, 0.30000000000000004], 1e-9)
    [2, 0, 3, 1]
    """
    values = np.asarray(values)
    order = np.argsort(-values, kind="stable")
    groups = np.cumsum(np.append(0, -np.diff(values[order]) > near))
    return order[np.lexsort((order, groups))].tolist()


def own_scatter(squares, free, graduation, readings):
    """Variance of one reading against which others are to be judged, and its degrees of freedom.

    (k d²/3 + sum of squares)/(k + free), k = `REPUTE`, d the graduation: readings that scatter by
    half a division and are then rounded to one spread by d/sqrt(3). Without a graduation what is
    left over is squares/free, with the step of which all readings are multiples for a graduation.

    squares: what is left of the readings, squared and summed, m²; any shape. free: how many of them
    are left over. graduation: m or None. readings: as taken. Returns (variance, degrees of
    freedom); the variance is NaN where nothing is known: no graduation, and nothing left over, or
    only rounding. Source: gum (G.4.2) for how far a deviation from few readings is to be trusted.

    By hand: (4 × 3²/3 + 6)/(4 + 2).
    >>> print(*own_scatter(6.0, 2, 3.0, None))
    3.0 6
    """
    step = common_step(readings) if graduation is None else graduation
    known = REPUTE if step else 0
    variance = (known * (step or 0.0) ** 2 / 3 + squares) / max(known + free, 1)
    if graduation is None:
        variance = np.where((free > 0) & (squares > 0), variance, np.nan)
    return variance, known + free


def chance_of(squares, vectors, variance, freedom=np.inf):
    """How likely is it that so many vectors add up to this by scatter alone, or to more?

    The sum over both parts of m vectors, squared, over 2 m times a variance that is known to v
    degrees of freedom, is F distributed. Since 2 m is even its tail is a finite sum:
    x^(v/2) times the sum over j < m of (v/2)(v/2 + 1) … (v/2 + j − 1)/j! (1 − x)^j with
    x = 1/(1 + squares/(v variance)); for v without end exp(−q/2) times that of (q/2)^j/j!.

    squares, variance: of any shape, broadcast. vectors: whole number, m. freedom: v.
    Returns a chance from 0 to 1; NaN where the variance is not known. Source: dlmf-8.

    By hand: (1/2)² with x = 1/2 and v = 4.
    >>> print(chance_of(4.0, 1, 1.0, 4))
    0.25
    """
    count = np.arange(1, vectors)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        ratio = np.asarray(squares / variance, dtype=float)[..., None]
        if np.isinf(freedom):
            front, rise = -ratio / 2, np.log(ratio / 2) - np.log(count)
        else:
            front = -freedom / 2 * np.log1p(ratio / freedom)
            share = ratio / (freedom + ratio)
            rise = np.log(share) + np.log((freedom / 2 + count - 1) / count)
        terms = np.concatenate([front, front + np.cumsum(rise, axis=-1)], axis=-1)
    return np.minimum(np.exp(terms).sum(axis=-1), 1.0)


def reach(freedom=np.inf):
    """How many standard deviations must a vector be long to be told from scatter?

    sqrt(v (a^(−2/v) − 1)) with a the chance `ALARM`, for a deviation known to v degrees of freedom:
    `chance_of` one vector solved for its length; sqrt(−2 ln a) where it is known for certain.

    >>> round(float(reach()), 3), round(float(reach(4)), 3), round(float(reach(1)), 1)
    (2.716, 4.615, 40.0)
    """
    if np.isinf(freedom):
        return np.sqrt(-2 * np.log(ALARM))
    return np.sqrt(freedom * np.expm1(-2 * np.log(ALARM) / freedom)) if freedom > 0 else np.nan


def beyond(ratio, freedom):
    """Chance that a t distribution of so many degrees of freedom lies farther out than ± ratio.

    With t = sqrt(v) tan(a) the density becomes cos(a)^(v − 1), which is smooth and ends at 90°.
    """
    angle = np.arctan2(ratio, np.sqrt(freedom))
    inside = _area(0, angle, freedom)
    return float(1 - inside / (inside + _area(angle, np.pi / 2, freedom)))


def _area(start, end, freedom):
    """Simpson's rule on cos(a)^(v − 1), in any unit of area."""
    angles = np.linspace(start, end, SLICES)
    height = np.maximum(np.cos(angles), 0) ** (freedom - 1)
    weights = np.ones(SLICES)
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    return (weights @ height) * (end - start)
