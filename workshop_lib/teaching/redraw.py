"""Which other numbers can an exercise have, in round figures of the system that is spoken?

The same seed draws the same numbers everywhere. An exercise is written once, in one system, with
`@sized(pad="mm", thrust="N")` to say what its numbers are. Where the other system is spoken, each
of them is moved to the nearest round number of that system before it is handed in, still in the
unit that the exercise computes in: 40 mm become 41.275 mm, which are 1 5/8 in.
"""

import functools
import inspect
import random

from workshop_lib.quantities import InputError, system
from workshop_lib.teaching.round_inch import round_in

TRIES = 200


def sized(inch=None, metric=None, **units):
    """Say in which unit an exercise's numbers are, so that they are round where it is asked.

    inch, metric: the exercise's own numbers in that system, where the nearest round ones will not
    do. units: for each number its unit. A number without a unit stays.
    """
    own = {"inch": inch or {}, "metric": metric or {}}

    def measured(make):
        usual = {name: each.default for name, each in inspect.signature(make).parameters.items()}

        @functools.wraps(make)
        def made(**given):
            numbers = usual | own.get(system(), {}) | given
            return make(**made.rounded(numbers))

        made.rounded = lambda numbers: {
            name: _rounded(value, units.get(name)) for name, value in numbers.items()
        }
        return made

    return measured


def _rounded(value, unit):
    """Return a number, or several with a unit each, as round as `round_in` makes them."""
    if isinstance(unit, tuple):
        return tuple(round_in(*each) for each in zip(value, unit, strict=True))
    return value if unit is None else round_in(value, unit)


def redraw(make, fits=None, inch=None, **choices):
    """Return the function of a seed that an `Exercise` wants as its `remake`.

    make: function that returns the exercise for numbers handed in by name; `sized` rounds them.
    choices: for each name the values to draw from. inch: other values to draw from, by name, where
    inch is spoken. fits: function of the same names that says whether the numbers go together;
    None: all do. Numbers at which two usual slips, or a slip and the right answer, can not be told
    apart are drawn anew.
    """

    def drawn(seed):
        draw = random.Random(f"{make.__name__} {seed}")
        ladders = choices | ((inch or {}) if system() == "inch" else {})
        for _ in range(TRIES):
            # Of all draws only random() is promised to stay the same from release to release.
            numbers = {
                name: values[int(draw.random() * len(values))] for name, values in ladders.items()
            }
            numbers = getattr(make, "rounded", dict)(numbers)
            if fits is not None and not fits(**numbers):
                continue
            try:
                return make(**numbers)
            except InputError as error:
                if error.name != "common_wrong":
                    raise
        raise InputError("seed", f"no numbers that go together were found for {seed}")

    return drawn
