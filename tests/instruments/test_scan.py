"""Scans drawn by another path: the truth lies in what is stated; what is no disc is said."""

import io

import numpy as np
import pytest
import shapely
from PIL import Image
from scipy.ndimage import affine_transform

from tests.instruments.scenes import Scanner, Shape, covered, draw
from tests.instruments.trials import scene
from workshop_lib.instruments import (
    Picture,
    compare_turned,
    read_picture,
    scan_blank,
    scan_disc,
)
from workshop_lib.quantities import InputError

COARSE = Scanner(across=25.4 / 300, along=25.4 / 300)
AT_300 = (300 / 0.0254, 300 / 0.0254)


def plain(shapes, size=(60, 50), scanner=COARSE, **more):
    return Picture(draw(shapes, scanner, size, **more), AT_300)


def test_scenes_cover_pixels_as_shapely_does():
    """The scenes' own oversampling against areas of polygons."""
    shape, scanner = Shape(3 + 2.5j, 2.0, {3: (0.1, 1.0)}), Scanner(0.2, 0.2)
    share = covered(shape, scanner, np.arange(26.0)[:, None], np.arange(31.0))
    angle = np.linspace(0, 2 * np.pi, 4000)
    rim = shape.centre + shape.edge(angle) * np.exp(1j * angle)
    polygon = shapely.Polygon(np.column_stack([rim.real, rim.imag]))
    for row in range(0, 26, 3):
        for column in range(0, 31, 3):
            x, y = column * 0.2, row * 0.2
            cell = shapely.box(x - 0.1, y - 0.1, x + 0.1, y + 0.1)
            area = polygon.intersection(cell).area / cell.area
            assert share[row, column] == pytest.approx(area, abs=0.02)


@pytest.mark.parametrize("seed", range(3))
def test_the_truth_lies_inside_the_stated_uncertainty(seed):
    picture, ring, (diameter, zone, _) = scene(seed, (16, 19))
    found = scan_disc(picture, ring, "0.003 mm", celsius=20)
    assert abs(found.diameter.m_as("mm") - diameter) <= found.uncertainty.m_as("mm")
    assert abs(found.roundness.m_as("mm") - zone) <= found.roundness_uncertainty.m_as("mm")


@pytest.mark.parametrize("seed", range(100, 102))
def test_a_true_scanner_with_a_known_ring_finds_hundredths_and_microns(seed):
    """Aims: diameter within 0.02 mm, roundness within 6 µm, lobes with their places."""
    picture, ring, (diameter, zone, lobes) = scene(seed, (16, 19), true_scanner=True)
    found = scan_disc(picture, ring, "0.003 mm", celsius=20)
    assert found.diameter.m_as("mm") == pytest.approx(diameter, abs=0.02)
    assert found.roundness.m_as("mm") == pytest.approx(zone, abs=0.006)
    marked_at = np.pi / 2  # the scenes' pen mark lies straight down, a quarter clockwise
    for order in (2, 3, 5):
        size, crest = lobes[order]
        wave = size * np.exp(1j * order * (crest - marked_at))
        seen = found.lobes[order].vector.core * 1e3
        assert abs(seen - wave) < 0.002


def test_dust_at_the_rim_is_named_and_left_out():
    disc = Shape(25 + 24j, 20.0)
    tip = disc.centre + 20 * np.exp(1j * np.radians(40))
    found = scan_disc(plain([disc], specks=[(tip, 0.3, 0.15)]))
    (speck,) = found.specks
    assert speck.angle.m_as("deg") == pytest.approx(40, abs=1)
    assert speck.height.m_as("mm") == pytest.approx(0.3, abs=0.05)
    assert found.roundness.m_as("mm") < 0.02
    assert any("dust" in said for said in found.remarks)


def test_angles_count_clockwise_from_the_pen_mark():
    """A three-lobed disc with its mark at 100° in the picture and a crest 15° farther clockwise."""
    mark, crest = np.radians(100), np.radians(115)
    disc = Shape(25 + 24j, 20.0, {3: (0.1, crest)})
    spot = (disc.centre + 15 * np.exp(1j * mark), 1.0, 0.85)
    found = scan_disc(plain([disc], specks=[spot]))
    assert found.lobes[3].crest.m_as("deg") == pytest.approx(15, abs=0.5)
    assert found.lobes[3].amplitude.m_as("mm") == pytest.approx(0.1, abs=0.003)


def test_a_marked_centre_off_the_middle_is_measured_from_the_mark():
    disc = Shape(25 + 24j, 20.0)
    off = 1.5 * np.exp(1j * np.radians(200))
    spots = [
        (disc.centre + 15 * np.exp(1j * np.radians(90)), 1.0, 0.85),
        (disc.centre + off, 0.8, 0.85),
    ]
    found = scan_disc(plain([disc], specks=spots))
    assert found.eccentricity.m_as("mm") == pytest.approx(1.5, abs=0.03)
    assert found.eccentricity_angle.m_as("deg") == pytest.approx(110, abs=1)


def test_a_known_ring_tells_pixels_across_and_along_and_skew():
    scanner = Scanner(across=25.4 / 300 * 1.001, along=25.4 / 300 * 0.999, skew=np.radians(0.2))
    picture = plain([Shape(18 + 20j, 15.0), Shape(50 + 20j, 14.0)], (70, 42), scanner)
    scale = scan_disc(picture, "28 mm", "0.003 mm").scale
    assert scale.across.m_as("mm") == pytest.approx(scanner.across, rel=1e-4)
    assert scale.along.m_as("mm") == pytest.approx(scanner.along, rel=1e-4)
    assert scale.skew.m_as("deg") == pytest.approx(0.2, abs=0.01)


def turned_scans(scanner):
    """One oval, three-lobed disc with its mark, and the same disc a quarter turn on."""
    scans = []
    for turn in (0.0, np.pi / 2):
        lobes = {2: (0.03, 0.4 + turn), 3: (0.02, 1.1 + turn)}
        disc = Shape(25 + 24j, 20.0, lobes)
        spot = (disc.centre + 15 * np.exp(1j * turn), 1.0, 0.85)
        scans.append(scan_disc(plain([disc], scanner=scanner, specks=[spot])))
    return scans


def test_two_turned_scans_tell_the_disc_from_the_scanner():
    """A scanner 0.2 % longer across: an oval that stays with the glass."""
    square, stretched = Scanner(25.4 / 300, 25.4 / 300), Scanner(25.4 / 300 / 1.002, 25.4 / 300)
    truth = scan_disc(
        plain([Shape(25 + 24j, 20.0, {2: (0.03, 0.4), 3: (0.02, 1.1)})], scanner=square)
    )
    found = compare_turned(*turned_scans(stretched))
    assert found.roundness.m_as("mm") == pytest.approx(truth.roundness.m_as("mm"), abs=0.004)
    # stretched by s, a circle of radius R has ends that lie R s farther out than its sides
    assert found.scanner_error.m_as("mm") == pytest.approx(20 * 0.002, abs=0.003)
    assert 4 in found.blind and 2 not in found.blind


def test_two_turned_scans_need_no_allowance_for_the_carriage():
    """What each scan allows for it, two show; a true scanner leaves nothing in its place."""
    first, second = turned_scans(COARSE)
    found = compare_turned(first, second)
    others = [size for name, size in first.parts if "carriage" not in name]
    assert len(others) == len(first.parts) - 1
    assert found.standard == pytest.approx(np.hypot.reduce(others), rel=0.005)


def test_scans_that_were_not_turned_are_refused():
    first = turned_scans(COARSE)[0]
    with pytest.raises(InputError, match="^second: .*as the first"):
        compare_turned(first, first)


def test_warm_aluminium_is_brought_to_twenty_degrees():
    """23 µm per metre and kelvin (expansion-table), 10 K: 0.23 µm for each millimetre."""
    picture = plain([Shape(25 + 24j, 20.0)])
    cold = scan_disc(picture, material="aluminium", celsius=20)
    warm = scan_disc(picture, material="aluminium", celsius=30)
    shrunk = 1 - warm.diameter.m_as("mm") / cold.diameter.m_as("mm")
    assert shrunk == pytest.approx(23e-6 * 10, rel=1e-6)


def test_without_a_known_piece_the_claim_of_the_file_sets_what_it_is_good_for():
    found = scan_disc(plain([Shape(25 + 24j, 20.0)]))
    # ± 0.5 % rectangular of 40 mm, twice over: 2 × 40 × 0.005 / sqrt(3)
    assert found.parts[0][0] == "size of a pixel"
    assert found.uncertainty.m_as("mm") == pytest.approx(0.231, rel=0.05)
    assert any("what the file claims" in said for said in found.remarks)


def test_no_scan_claims_to_be_better_than_published_trials():
    picture, ring, _ = scene(3, (16, 18), true_scanner=True)
    assert scan_disc(picture, ring, "0.001 mm", celsius=20).uncertainty.m_as("mm") >= 0.05


def test_a_blank_comes_from_the_glass_with_its_largest_disc():
    """A rectangle of 40 by 30 mm: largest disc 30 mm. Its own area against the drawn one."""
    scanner = COARSE
    row, column = np.arange(590.0)[:, None], np.arange(708.0)
    place = scanner.place(row, column) - (30 + 25j)
    inside = (np.abs(place.real) < 20) & (np.abs(place.imag) < 15)
    values = np.where(inside, 40, 220).astype(np.uint8)
    blank = scan_blank(Picture(values, AT_300))
    assert blank.largest_disc().diameter.m_as("mm") == pytest.approx(30, abs=0.15)
    assert blank.area.m_as("mm**2") == pytest.approx(1200, rel=0.006)


# What is no scan of one disc is said


def no_disc():
    values = np.full((500, 600), 220, np.uint8)
    values[150:350, 150:350] = 40
    return values


def squashed():
    values = draw([Shape(25 + 24j, 20.0)], COARSE, (60, 50))
    return affine_transform(values, [[1 / np.cos(np.radians(12)), 0], [0, 1]], mode="nearest")


REFUSED = {
    "no disc": (no_disc, "not a disc"),
    "two discs": (
        lambda: draw([Shape(16 + 24j, 12.0), Shape(44 + 24j, 12.0)], COARSE, (60, 50)),
        "there are 2 things on the glass",
    ),
    "cut off": (lambda: draw([Shape(8 + 24j, 20.0)], COARSE, (60, 50)), "cut off"),
    "at an angle": (squashed, "at an angle"),
    "empty": (lambda: np.full((300, 300), 200, np.uint8), "too alike"),
    "noise": (
        lambda: np.random.default_rng(0).integers(0, 255, (400, 400)).astype(np.uint8),
        "too alike|nothing on the glass|no disc",
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_no_scan_of_one_whole_disc_is_refused_in_words(case):
    make, words = REFUSED[case]
    with pytest.raises(InputError, match=words):
        scan_disc(Picture(make(), AT_300))


def test_a_reference_needs_its_uncertainty_and_a_file_its_scale():
    picture = plain([Shape(25 + 24j, 20.0)])
    with pytest.raises(InputError, match="reference_uncertainty"):
        scan_disc(picture, reference="25 mm")
    with pytest.raises(InputError, match="how many dots per inch"):
        scan_disc(Picture(picture.values))


def saved(values, form, **more):
    stream = io.BytesIO()
    Image.fromarray(values).save(stream, form, **more)
    return stream.getvalue()


@pytest.mark.parametrize(("form", "more"), [("PNG", {}), ("TIFF", {}), ("JPEG", {"quality": 92})])
def test_a_file_of_each_form_is_read_with_its_scale(form, more):
    values = plain([Shape(25 + 24j, 20.0)]).values
    picture = read_picture(saved(values, form, dpi=(300, 300), **more))
    assert picture.per_metre == pytest.approx(AT_300, rel=1e-3)
    assert scan_disc(picture).diameter.m_as("mm") == pytest.approx(40, abs=0.05)


def test_sixteen_bits_and_colour_say_the_same_as_eight_gray_ones():
    values = plain([Shape(25 + 24j, 20.0)]).values
    plain_one = scan_disc(Picture(values, AT_300)).diameter
    deep = read_picture(saved(values.astype(np.uint16) * 257, "TIFF", dpi=(300, 300)))
    coloured = read_picture(saved(np.stack([values] * 3, axis=2), "PNG", dpi=(300, 300)))
    for each in (deep, coloured):
        assert scan_disc(each).diameter.m_as("mm") == pytest.approx(plain_one.m_as("mm"), abs=0.002)


def test_a_photograph_is_known_by_its_lens():
    values = plain([Shape(25 + 24j, 20.0)]).values
    exif = Image.Exif()
    exif.get_ifd(0x8769)[37386] = 4.2
    picture = read_picture(saved(values, "JPEG", dpi=(300, 300), exif=exif))
    with pytest.raises(InputError, match="photograph"):
        scan_disc(picture)


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\x89PNG\r\n\x1a\n" + b"\0" * 40])
def test_what_is_no_picture_is_refused(content):
    with pytest.raises(InputError, match="picture"):
        read_picture(content)


def test_a_picture_that_claims_too_many_pixels_is_refused_before_it_is_read():
    content = bytearray(saved(np.zeros((64, 64), np.uint8), "PNG"))
    content[16:24] = (60_000).to_bytes(4, "big") * 2
    with pytest.raises(InputError, match="too large|cannot be read"):
        read_picture(bytes(content))


def test_claims_that_no_scanner_makes_are_not_believed():
    values = plain([Shape(25 + 24j, 20.0)]).values
    assert read_picture(saved(values, "PNG", dpi=(72, 72))).per_metre is None
