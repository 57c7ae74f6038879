"""Single values where no array will do, and whole numbers: refusals that several modules share."""

import numpy as np

from workshop_lib.quantities.errors import InputError, quote


def one_value(**arguments):
    """Refuse, by name, the first of these bare arguments that is an array."""
    for name, value in arguments.items():
        if np.ndim(value):
            raise InputError(name, "one value is wanted")


def whole_number(low, high):
    """Return a converter (value, name) to an int from low to high."""

    def convert(value, name):
        whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
        if not whole or not low <= value <= high:
            raise InputError(name, f"{quote(value)} is not a whole number from {low} to {high}")
        return int(value)

    return convert
