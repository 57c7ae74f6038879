"""Which other numbers can an exercise have? The same seed draws the same numbers everywhere."""

import random

from workshop_lib.quantities import InputError

TRIES = 200


def redraw(make, fits=None, **choices):
    """Return the function of a seed that an `Exercise` wants as its `remake`.

    make: function that returns the exercise for numbers handed in by name. choices: for each name
    the values to draw from. fits: function of the same names that says whether the numbers go
    together; None: all do. Numbers at which two usual slips, or a slip and the right answer, can
    not be told apart are drawn anew.
    """

    def drawn(seed):
        draw = random.Random(f"{make.__name__} {seed}")
        for _ in range(TRIES):
            # Of all draws only random() is promised to stay the same from release to release.
            numbers = {
                name: values[int(draw.random() * len(values))] for name, values in choices.items()
            }
            if fits is not None and not fits(**numbers):
                continue
            try:
                return make(**numbers)
            except InputError as error:
                if error.name != "common_wrong":
                    raise
        raise InputError("seed", f"no numbers that go together were found for {seed}")

    return drawn
