"""The curve of bends on a soft facing, held against the sum for each single pad."""

import pytest

from workshop_lib.overhang import PAD_SHARES, soft_rim_curve, soft_rim_deflection
from workshop_lib.quantities import Q_


@pytest.mark.parametrize("place", [1, 10, 19, 58])
@pytest.mark.parametrize("thickness", [0.4, 1.1])
def test_the_curve_is_read_between_few_sums_and_stays_within_a_hundredth(place, thickness):
    sheet = Q_(thickness, "mm"), "stainless_steel", "20 MPa", "3 mm"
    curve = soft_rim_curve("3 N", "100 mm", *sheet).m_as("mm")
    pad = Q_(100 * PAD_SHARES[place], "mm")
    exact = soft_rim_deflection("3 N", "100 mm", pad, *sheet).m_as("mm")
    assert curve[place] == pytest.approx(exact, rel=0.01)
