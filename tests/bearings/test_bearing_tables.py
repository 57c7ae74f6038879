"""The catalogue: what is printed, where it was printed, and how a bad table is refused."""

import numpy as np
import pytest

from workshop_lib import sources
from workshop_lib.bearings.bearing_tables import KINDS_OF_BEARING, bearings, catalogue
from workshop_lib.bearings.clearances import clearance, clearance_classes
from workshop_lib.quantities import InputError

# Designation: d, D, B mm; C, C0 N as SKF Rolling bearings 2018 prints them.
SKF = {
    "608": (8, 22, 7, 3450, 1370),
    "6001": (12, 28, 8, 5400, 2360),
    "6002": (15, 32, 9, 5850, 2850),
    "6003": (17, 35, 10, 6370, 3250),
    "6200": (10, 30, 9, 5400, 2360),
    "6201": (12, 32, 10, 7280, 3100),
    "6202": (15, 35, 11, 8060, 3750),
    "6203": (17, 40, 12, 9950, 4750),
    "7200 B": (10, 30, 9, 7020, 3350),
    "7201 B": (12, 32, 10, 7610, 3800),
    "7202 B": (15, 35, 11, 8320, 4400),
    "7203 B": (17, 40, 12, 10400, 5500),
    "7204 B": (20, 47, 14, 13300, 7650),
    "51100": (10, 24, 9, 9950, 15300),
    "51101": (12, 26, 9, 10400, 16600),
    "51102": (15, 28, 9, 10600, 18300),
    "51103": (17, 30, 9, 11400, 21200),
    "51104": (20, 35, 10, 15100, 29000),
    "NU 202": (15, 35, 11, 12500, 10200),
    "NU 203": (17, 40, 12, 20000, 14300),
    "NU 204": (20, 47, 14, 28500, 22000),
    "HK 0810": (8, 12, 10, 3690, 4050),
    "HK 1010": (10, 14, 10, 4290, 5300),
    "HK 1210": (12, 16, 10, 4840, 6400),
    "HK 1512": (15, 21, 12, 7650, 9500),
    "HK 2012": (20, 26, 12, 8420, 12500),
}
# C, C0 N as the NSK catalogue prints them.
NSK = {
    "608": (3300, 1370),
    "6001": (5100, 2370),
    "6002": (5600, 2830),
    "6003": (6000, 3250),
    "6200": (5100, 2390),
    "6201": (6800, 3050),
    "6202": (7650, 3750),
    "6203": (9550, 4800),
    "628": (3350, 1430),
    "638": (4550, 1970),
    "688": (1610, 710),
    "609": (3350, 1430),
    "629": (4550, 1970),
    "6900": (2700, 1270),
    "6901": (2890, 1460),
    "6000": (4550, 1970),
    "6004": (9400, 5000),
    "6005": (10100, 5850),
    "6204": (12800, 6600),
    "6205": (14000, 7850),
    "6300": (8100, 3450),
    "6301": (9700, 4200),
    "6302": (11400, 5450),
    "6303": (13600, 6650),
    "6304": (15900, 7900),
    "6305": (20600, 11200),
    "R4": (1610, 660),
    "R4A": (2620, 1060),
    "R6": (3350, 1410),
    "7205 B": (14800, 9400),
}
# d, D, B mm of the metric sizes, by which ISO 15 builds a number: two digits for the series, two
# for the bore (00 10, 01 12, 02 15, 03 17, then five times it). As the NSK catalogue prints them.
OUTSIDE_AND_WIDTH = {
    "60": {10: (26, 8), 12: (28, 8), 15: (32, 9), 17: (35, 10), 20: (42, 12), 25: (47, 12)},
    "62": {10: (30, 9), 12: (32, 10), 15: (35, 11), 17: (40, 12), 20: (47, 14), 25: (52, 15)},
    "63": {10: (35, 11), 12: (37, 12), 15: (42, 13), 17: (47, 14), 20: (52, 15), 25: (62, 17)},
    "69": {10: (22, 6), 12: (24, 6)},
}


@pytest.mark.parametrize("designation", SKF)
def test_sizes_and_ratings_are_as_skf_prints_them(designation):
    bearing = catalogue(designation).with_rating("skf-2018")
    sizes = [
        length.m_as("mm") for length in (bearing.bore, bearing.outside_diameter, bearing.width)
    ]
    ratings = [rating.m_as("N") for rating in (bearing.dynamic_rating, bearing.static_rating)]
    assert sizes + ratings == pytest.approx(SKF[designation])


@pytest.mark.parametrize("designation", NSK)
def test_deep_groove_ratings_are_as_nsk_prints_them_and_these_are_used(designation):
    bearing = catalogue(designation)
    assert bearing.rating.source == "nsk-catalogue"
    ratings = bearing.dynamic_rating.m_as("N"), bearing.static_rating.m_as("N")
    assert ratings == NSK[designation]


def test_boundary_dimensions_are_those_of_iso_15():
    codes = {10: "00", 12: "01", 15: "02", 17: "03", 20: "04", 25: "05"}
    for series, sizes in OUTSIDE_AND_WIDTH.items():
        for bore, (outside, width) in sizes.items():
            core = catalogue(series + codes[bore]).core
            found = [1e3 * each for each in (core.bore, core.outside_diameter, core.width)]
            assert found == pytest.approx([bore, outside, width])
            assert core.diameter_series == int(series[1])


def test_inch_sizes_are_round_in_inches():
    """The inch sizes by their names: bores in sixteenths of an inch."""
    for name, bore, outside in (("R4", 4, 10), ("R6", 6, 14), ("R8", 8, 18), ("R10", 10, 22)):
        core = catalogue(name).core
        assert (core.bore, core.outside_diameter) == pytest.approx(
            (bore * 25.4e-3 / 16, outside * 25.4e-3 / 16), abs=1e-6
        )


def test_6000_and_6200_are_as_ntn_prints_them():
    for designation, printed, f0 in (("6000", (4550, 1960), 12.4), ("6200", (5100, 2390), 13.2)):
        bearing = catalogue(designation).with_rating("ntn-6000")
        assert (bearing.core.dynamic_rating, bearing.core.static_rating) == printed
        assert bearing.core.f0 == f0


def test_every_rating_has_a_source_that_is_known():
    for bearing in bearings():
        for rating in bearing.ratings:
            assert sources.find_all(rating.source)
        assert sources.find_all(bearing.source)


def test_no_inside_passes_for_published():
    for bearing in bearings():
        if bearing.inside is not None:
            assert sources.standing(bearing.inside_source) == "from memory"


def test_another_rating_changes_only_the_ratings():
    used, other = catalogue("6202"), catalogue("6202").with_rating("skf-2018")
    assert other.core.dynamic_rating == 8060
    assert other.bore == used.bore
    assert other.inside == used.inside
    assert catalogue("6202").core.dynamic_rating == 7650
    with pytest.raises(InputError, match="^source: .*Known: nsk-catalogue, skf-2018"):
        used.with_rating("fag")


@pytest.mark.parametrize("written", ["NU 202", "NU202", "nu 202", " NU  202 ", "nU202"])
def test_a_designation_is_known_however_it_is_spaced(written):
    assert catalogue(written).designation == "NU 202"


def test_a_designation_may_be_a_plain_number():
    assert catalogue(6202).designation == "6202"


@pytest.mark.parametrize(
    "nonsense", [None, "", "6292", "x" * 500, True, 6202.0, [], {}, b"6202", 10**400, object()]
)
def test_an_unknown_designation_is_refused(nonsense):
    with pytest.raises(InputError, match="^bearing: ") as refusal:
        catalogue(nonsense)
    assert len(str(refusal.value)) < 300


def test_a_misspelt_designation_is_answered_with_a_near_one():
    with pytest.raises(InputError, match="Did you mean 6202"):
        catalogue("62O2")


def test_a_bearing_comes_back_as_it_is():
    bearing = catalogue("6202").with_rating("skf-2018")
    assert catalogue(bearing) is bearing


def test_lists_hold_each_kind():
    assert sum(len(bearings(kind)) for kind in KINDS_OF_BEARING) == len(bearings())
    assert {bearing.kind for bearing in bearings("thrust_ball")} == {"thrust_ball"}
    with pytest.raises(InputError, match="^kind: "):
        bearings("plain")


def test_a_description_names_both_catalogues_and_the_one_in_use():
    told = catalogue("6202").describe()
    assert "catalogue B (published)" in told and "catalogue A (2018) (published)" in told
    assert told.rpartition("Used: ")[2].startswith("bearing catalogue B")


# Clearance, ISO 5753-1 as SKF 2018 prints it, µm

CLEARANCES = {
    ("608", "C2"): (0, 7),
    ("608", "normal"): (2, 13),
    ("608", "C5"): (20, 37),
    ("6200", "normal"): (2, 13),  # a bore of 10 mm is in the row over 6 up to 10
    ("6001", "normal"): (3, 18),
    ("6202", "C3"): (11, 25),
    ("6203", "C4"): (18, 33),
    ("NU 204", "C2"): (0, 25),
    ("NU 202", "normal"): (20, 45),
}


@pytest.mark.parametrize(("designation", "of_class"), CLEARANCES)
def test_clearance_is_that_of_the_printed_table(designation, of_class):
    low, middle, high = clearance(designation, of_class)
    expected = CLEARANCES[designation, of_class]
    assert (low.m_as("um"), high.m_as("um")) == pytest.approx(expected)
    assert middle.m_as("um") == pytest.approx(sum(expected) / 2)


@pytest.mark.parametrize("bearing", [each for each in bearings() if each.kind == "deep_groove"])
def test_a_higher_class_is_looser(bearing):
    middles = [clearance(bearing, each).typical.m for each in clearance_classes("deep_groove")]
    assert np.all(np.diff(middles) > 0)


@pytest.mark.parametrize("designation", ["7202 B", "51102", "HK 1010"])
def test_bearings_without_clearance_classes_say_so(designation):
    with pytest.raises(InputError, match="^bearing: there is no table of clearance classes"):
        clearance(designation)


def test_an_unknown_class_is_refused():
    with pytest.raises(InputError, match="^clearance_class: .*Known: C2, normal"):
        clearance("6202", "C9")


# Tables of one's own


def test_a_bearing_that_a_teacher_adds_is_there_at_once(own):
    row = "6006,deep_groove,30,55,13,0,14.7,,from-memory,11,7.144,42.5,,0,bearing-geometry,\n608,"
    own("bearings.csv", "608,", row)
    own("bearing_ratings.csv", "608,", "6006,13200,8300,from-memory\n608,")
    assert catalogue("6006").core.static_rating == 8300
    assert "6006" in [bearing.designation for bearing in bearings("deep_groove")]


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        ("bearings.csv", "608,deep_groove", "608,deepgroove", r"bearings\.csv, line 2: kind"),
        (
            "bearings.csv",
            "608,deep_groove,8,22",
            "608,deep_groove,28,22",
            "bore_mm .28. is greater",
        ),
        ("bearings.csv", "\n6000,", "\n608,", r"line \d+: ‘608’ is in line 2"),
        ("bearings.csv", "iso-76-f0,7,", "iso-76-f0,,", "must all be filled in"),
        ("bearings.csv", "0,12.4,,nsk", "0,,,nsk", "needs f0"),
        (
            "bearings.csv",
            "inner-geometry-inferred,\n51101",
            ",\n51101",
            "inside_source .* is not the key of a source",
        ),
        ("bearings.csv", "0.0012,", ",", "needs minimum_load_kN"),
        (
            "bearing_ratings.csv",
            "608,3300,1370,nsk-catalogue\n608,3450,1370,skf-2018\n",
            "",
            "‘608’ has no row",
        ),
        ("bearing_ratings.csv", "608,3300", "608,three", "line 2: dynamic_N"),
        ("clearances.csv", "C2,0,7", "C2,9,7", r"clearances\.csv, line 2: low_um"),
    ],
)
def test_a_bad_row_is_named_by_file_and_line(own, name, old, new, told):
    own(name, old, new)
    with pytest.raises(InputError, match=told):
        catalogue("608")
        clearance("608")
