"""The four circles against independent solutions: SciPy's linear programme, Shapely's circles."""

import numpy as np
import pytest
from scipy.optimize import least_squares as scipy_least_squares
from scipy.optimize import linprog
from shapely import MultiPoint, Polygon, maximum_inscribed_circle, minimum_bounding_radius

from workshop_lib.instruments import largest_in, least_squares, minimum_zone, smallest_round
from workshop_lib.quantities import InputError


def profiles():
    """Yield lobed, noisy profiles of few and many points, even and uneven."""
    rng = np.random.default_rng(12)
    for trial in range(24):
        count = int(rng.choice([24, 90, 360, 720]))
        angle = np.arange(count) * 2 * np.pi / count
        if trial % 2:
            angle = np.sort(rng.uniform(0, 2 * np.pi, count))
        radius = 30 + rng.normal(0, 0.003, count)
        for order in range(2, 9):
            radius += rng.normal(0, 0.02) * np.cos(order * angle + rng.uniform(0, 6))
        yield radius * np.exp(1j * angle) + complex(*rng.normal(0, 3, 2))


EACH = pytest.mark.parametrize("places", list(profiles()))
CLOSE = 1e-9  # of profiles 60 across: far below any scan, above solvers' own ends


def programme(places, objective, rows, right, free):
    """Solve a linear programme about a centre anew until the centre stays; return that centre."""
    centre = least_squares(places).centre
    for _ in range(12):
        away = places - centre
        distance = np.abs(away)
        answer = linprog(
            objective,
            rows(away / distance),
            right(distance),
            bounds=[(None, None)] * 3 + [(0, None)] * (free - 3),
        )
        centre += complex(answer.x[0], answer.x[1])
    return centre


@EACH
def test_minimum_zone_is_that_of_scipys_linear_programme(places):
    ones = np.ones((len(places), 1))

    def rows(unit):
        plane = np.column_stack([unit.real, unit.imag, ones])
        return np.block([[-plane, -ones], [plane, -ones]])

    centre = programme(places, [0, 0, 0, 1], rows, lambda r: np.concatenate([-r, r]), 4)
    found = minimum_zone(places)
    assert found.zone == pytest.approx(np.ptp(np.abs(places - centre)), abs=CLOSE)


@EACH
def test_smallest_circle_round_it_is_shapelys(places):
    known = minimum_bounding_radius(MultiPoint(np.column_stack([places.real, places.imag])))
    assert smallest_round(places).radius == pytest.approx(known, abs=1e-6)


@EACH
def test_largest_circle_in_it_is_that_of_scipys_linear_programme(places):
    def rows(unit):
        return np.column_stack([unit.real, unit.imag, np.ones(len(unit))])

    centre = programme(places, [0, 0, -1], rows, lambda r: r, 3)
    assert largest_in(places).radius == pytest.approx(np.abs(places - centre).min(), abs=CLOSE)


def test_largest_circle_in_a_fine_outline_is_shapelys():
    angle = np.linspace(0, 2 * np.pi, 2000, endpoint=False)
    places = (30 + 0.3 * np.cos(3 * angle)) * np.exp(1j * angle) + 1 - 2j
    outline = Polygon(np.column_stack([places.real, places.imag]))
    known = maximum_inscribed_circle(outline, tolerance=1e-6).length
    assert largest_in(places).radius == pytest.approx(known, abs=1e-4)


@EACH
def test_least_squares_is_scipys(places):
    answer = scipy_least_squares(
        lambda p: np.abs(places - complex(p[0], p[1])) - p[2],
        [places.real.mean(), places.imag.mean(), 30],
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    )
    found = least_squares(places)
    assert [found.centre.real, found.centre.imag, found.radius] == pytest.approx(
        answer.x.tolist(), abs=1e-7
    )


@EACH
def test_no_zone_is_narrower_and_the_radii_stand_in_order(places):
    every = [make(places) for make in (minimum_zone, least_squares, largest_in, smallest_round)]
    assert all(every[0].zone <= other.zone + CLOSE for other in every)
    assert every[2].radius < every[1].radius < every[3].radius


def test_a_three_lobed_shape_of_even_thickness_has_its_zone_by_hand():
    """r = R + a cos 3 theta: by symmetry about the centre all zones are 2 a."""
    angle = np.arange(720) * 2 * np.pi / 720
    places = (30 + 0.01 * np.cos(3 * angle)) * np.exp(1j * angle)
    assert minimum_zone(places).zone == pytest.approx(0.02, abs=1e-9)
    assert smallest_round(places).radius == pytest.approx(30.01, abs=1e-9)
    assert largest_in(places).radius == pytest.approx(29.99, abs=1e-9)


@pytest.mark.parametrize("make", [minimum_zone, least_squares, largest_in, smallest_round])
def test_what_tells_no_circle_is_refused(make):
    for places in ([1, 2, 3], np.arange(10) * (1 + 1j), np.full(9, np.nan), np.zeros(12)):
        with pytest.raises(InputError, match="places"):
            make(np.asarray(places, complex))


@pytest.mark.parametrize("make", [minimum_zone, largest_in, smallest_round])
def test_less_than_half_a_turn_is_refused(make):
    places = np.exp(1j * np.linspace(0, 2.5, 50))
    with pytest.raises(InputError, match="half a turn"):
        make(places)
