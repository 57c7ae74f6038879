"""Single values and whole numbers: what is taken, and by which name the rest is refused."""

import numpy as np
import pytest

from workshop_lib.quantities import InputError
from workshop_lib.quantities.unit_boundary import one_value, whole_number


def test_the_first_array_is_refused_by_its_name():
    one_value(force=3.0, speed=np.float64(2))
    with pytest.raises(InputError, match="one value") as refusal:
        one_value(force=3.0, speed=np.array([2.0]), angle=np.zeros((2, 2)))
    assert refusal.value.name == "speed"


@pytest.mark.parametrize("value", [2, 7, np.int64(5)])
def test_whole_numbers_in_range_are_taken(value):
    found = whole_number(2, 7)(value, "modes")
    assert found == value
    assert type(found) is int


@pytest.mark.parametrize("value", [1, 8, 3.0, True, None, "3", [3], float("nan"), 10**50])
def test_all_else_is_refused_by_name(value):
    with pytest.raises(InputError, match="whole number .*2 to 7") as refusal:
        whole_number(2, 7)(value, "modes")
    assert refusal.value.name == "modes"
