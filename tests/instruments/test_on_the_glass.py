"""What lies on the glass: light and dark, dust at the border, lids, pictures that are shrunk."""

import numpy as np
import pytest
import shapely

from tests.instruments.scenes import Scanner, Shape, draw
from workshop_lib.instruments import Picture, scan_disc
from workshop_lib.instruments.blank_scan import _corners
from workshop_lib.instruments.bodies import bodies
from workshop_lib.instruments.picture import MOST_PIXELS, _too_large
from workshop_lib.instruments.profile import clean
from workshop_lib.instruments.scale import from_circle
from workshop_lib.quantities import InputError

COARSE = Scanner(across=25.4 / 300, along=25.4 / 300)
AT_300 = (300 / 0.0254, 300 / 0.0254)


def glass(rows, columns, grey=255):
    return np.full((rows, columns), grey, np.uint8)


def test_dust_and_a_lid_at_the_border_are_no_work_that_is_cut_off():
    values = glass(300, 300)
    values[100:200, 100:200] = 0
    values[:9, 40:49] = 0  # dust
    values[-5:, 60:] = 0  # the lid's shadow
    (body,) = bodies(Picture(values, AT_300))
    assert body.area == pytest.approx(100 * 100, rel=0.01)
    values[:80, :120] = 0  # work
    with pytest.raises(InputError, match="cut off"):
        bodies(Picture(values, AT_300))


def test_the_background_is_what_the_whole_border_shows():
    values = glass(160, 100, 0)
    values[:3], values[-3:] = 255, 255  # a lid's two edges: two whole sides, the less of the border
    values[60:100, 30:70] = 255
    (body,) = bodies(Picture(values, AT_300))
    assert body.light


def test_a_large_picture_is_looked_at_small_and_told_in_its_own_pixels():
    values = glass(1400, 1600)
    values[300:500, 900:1300] = 0
    picture = Picture(values, AT_300)
    assert picture.shrunk == 2
    (body,) = bodies(picture)
    assert body.area == pytest.approx(200 * 400, rel=0.01)
    middle = body.outline.mean()
    assert (middle.real, middle.imag) == pytest.approx((1099.5, 399.5), abs=2)


@pytest.mark.parametrize("lean", [0.014, 0.016])
def test_a_known_piece_that_leans_was_taken_at_an_angle(lean):
    """Sheared by that share of its height, as no scanner does by more than 0.015."""
    circle = 150 * np.exp(1j * np.linspace(0, 2 * np.pi, 400))
    points = 200 + 300j + circle - lean * circle.imag
    if lean < 0.015:
        found = from_circle(points, 0.03, 1e-5).matrix
        assert found == pytest.approx(np.array([[1e-4, lean * 1e-4], [0, 1e-4]]), abs=1e-9)
    else:
        with pytest.raises(InputError, match="angle"):
            from_circle(points, 0.03, 1e-5)


def test_a_small_picture_is_looked_at_as_it_is():
    values = glass(80, 70, 51)
    picture = Picture(values, AT_300)
    assert picture.shrunk == 1
    assert picture.small == pytest.approx(np.full((80, 70), 51 / 255))


def test_too_large_says_how_many_million_pixels_there_may_be():
    assert f"at most {MOST_PIXELS / 1e6:.0f} million" in str(_too_large())


def test_corners_leave_an_outline_by_less_than_was_allowed():
    """Shapely's distance of every point of the outline from the corners' polygon."""
    rng = np.random.default_rng(3)
    turn = np.exp(1j * np.linspace(0, 2 * np.pi, 600, endpoint=False))
    for _ in range(20):
        waves = [rng.normal(0, 12 / k) * np.cos(k * np.angle(turn) + k) for k in range(2, 7)]
        line = (150 + sum(waves)) * turn
        kept = _corners(line, 0.75)
        polygon = shapely.LinearRing(np.column_stack([kept.real, kept.imag]))
        apart = shapely.distance(polygon, shapely.points(line.real, line.imag))
        assert apart.max() <= 0.75 + 1e-9
        assert len(kept) < 120


@pytest.mark.parametrize("times", [5.7, 6.3])
def test_dust_stands_out_by_more_than_six_times_the_scatter(times):
    """Six standard deviations: of a million honest points none is taken for dust."""
    angle = np.linspace(0, 2 * np.pi, 4000, endpoint=False)
    radius = 0.05 + np.random.default_rng(1).uniform(-3e-4, 3e-4, 4000)
    scatter = clean(radius * np.exp(1j * angle), 8e-5)[2]
    assert scatter == pytest.approx(3e-4 / 3**0.5, rel=0.3)
    radius[1000:1004] = 0.05 + times * scatter
    kept, specks, _ = clean(radius * np.exp(1j * angle), 8e-5)
    assert len(specks) == (times > 6) and kept[1000:1004].any() == (times < 6)


def test_dust_is_told_from_the_pen_mark_on():
    """Mark at 100° and dust at 140° in the picture: 40° clockwise from the mark."""
    disc = Shape(25 + 24j, 20.0)
    spot = (disc.centre + 15 * np.exp(1j * np.radians(100)), 1.0, 0.85)
    speck = (disc.centre + 20 * np.exp(1j * np.radians(140)), 0.3, 0.15)
    found = scan_disc(Picture(draw([disc], COARSE, (60, 50), specks=[spot, speck]), AT_300))
    assert found.specks[0].angle.m_as("deg") % 360 == pytest.approx(40, abs=1)


@pytest.mark.parametrize("share", [0.0048, 0.0053])
def test_a_disc_squashed_by_more_than_five_thousandths_was_taken_at_an_angle(share):
    """Of the radius, either way: as a camera would show it that is tilted by some 8 degrees."""
    picture = Picture(
        draw([Shape(25 + 24j, 20.0, {2: (20 * share, 0.4)})], COARSE, (60, 50)), AT_300
    )
    if share < 0.005:
        assert scan_disc(picture).lobes[2].amplitude.m_as("mm") == pytest.approx(
            20 * share, rel=0.03
        )
    else:
        with pytest.raises(InputError, match="angle"):
            scan_disc(picture)
