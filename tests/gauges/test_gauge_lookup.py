"""Gauges named from a micrometer reading, the closest first, with what rolling allows."""

import re

import pytest

from workshop_lib import gauges
from workshop_lib.gauges import compare, identify, likely, thickness
from workshop_lib.quantities import Q_, InputError

INCH = "inch"
# SMACNA galvanized sheet, Nos. 8 to 31 (source smacna-galvanized): greatest thickness in inches.
GREATEST = (
    ".1771 .1622 .1472 .1323 .1174 .1014 .0865 .0770 .0695 .0625 .0566 .0506 .0436 .0406 .0376 "
    ".0346 .0316 .0287 .0247 .0232 .0217 .0202 .0187 .0172"
)


# From a reading to a gauge


@pytest.mark.parametrize("key", gauges.tables())
def test_a_gauge_is_found_again_from_its_own_thickness(key):
    for gauge in gauges.table(key).gauges:
        match = identify(thickness(gauge, key), tables=key)[0]
        assert (match.table, match.gauge) == (key, gauge)
        assert match.difference.m_as("mm") == pytest.approx(0, abs=1e-12)


def test_the_closest_comes_first_over_all_tables():
    matches = identify("0.55 mm")
    off = [abs(match.difference.m_as("mm")) for match in matches]
    assert off == sorted(off)
    # Zinc-coated No. 26 is printed 0.0217 in = 0.5512 mm: nothing printed is nearer to 0.55 mm.
    assert (matches[0].table, matches[0].gauge) == ("galvanized_steel", 26)
    assert {match.table for match in matches} == set(gauges.tables())


def test_the_difference_is_reading_minus_gauge():
    thin, thick = (
        compare("0.55 mm", 24, "stainless_steel"),
        compare("0.7 mm", 24, "stainless_steel"),
    )
    assert thin.difference.m_as("mm") == pytest.approx(-0.085)
    assert thin.percent == pytest.approx(-100 * 0.085 / 0.635)
    assert thick.difference.m_as("mm") == pytest.approx(0.065)
    assert "thinner" in str(thin)
    assert "thicker" in str(thick)


def test_an_inch_reading_and_a_metric_one_name_the_same_gauges():
    def named(reading):
        return [(match.table, match.gauge) for match in identify(reading)]

    assert named("25 thou") == named("0.635 mm") == named(Q_(0.025, INCH))


def test_within_bounds_how_far_off_a_gauge_may_be():
    near = identify("0.55 mm", within="0.01 mm")
    assert near
    assert all(abs(match.difference.m_as("mm")) <= 0.01 for match in near)
    wider = identify("0.55 mm", within="0.2 mm")
    assert {(m.table, m.gauge) for m in near} < {(m.table, m.gauge) for m in wider}
    assert identify("0.55 mm", within="0.1 um") == []


def test_left_out_within_is_a_fifth_of_the_reading():
    def named(**given):
        return [(match.table, match.gauge) for match in identify("1 mm", **given)]

    assert named() == named(within="0.2 mm") != named(within="0.18 mm")


def test_the_edge_of_within_belongs_to_it():
    found = identify("0.645 mm", tables="stainless_steel", within="0.01 mm")
    assert [match.gauge for match in found] == [24]


def test_only_the_tables_asked_for_are_searched():
    assert {m.table for m in identify("1.2 mm", tables=["swg", "awg"])} == {"swg", "awg"}
    assert {m.table for m in identify("1.2 mm", tables="bg")} == {"bg"}


def test_of_two_equal_gauges_the_one_in_use_today_comes_first():
    assert [m.table for m in identify("0.635 mm", within="1 um")] == [
        "stainless_steel",
        "us_standard",
    ]


def test_a_sheet_thicker_than_every_table_has_no_gauge():
    assert identify("20 mm") == []
    assert re.match(r"No gauge .*20\.0 mm", likely("20 mm"))


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"thickness": 0.55}, "thickness: has no unit"),
        ({"thickness": "24"}, "thickness: ‘24’ has no unit"),
        ({"thickness": "24 ga"}, "a gauge number is not a thickness"),
        ({"thickness": "-1 mm"}, "must be greater than zero"),
        ({"thickness": "0 mm"}, "must be greater than zero"),
        ({"thickness": "5 N"}, "is a force, but this needs a length"),
        ({"thickness": ["1 mm", "2 mm"]}, "thickness: there are several values"),
        ({"thickness": None}, "thickness: ‘None’ is not a length"),
        ({"thickness": "1 mm", "within": "-1 mm"}, "within: "),
        ({"thickness": "1 mm", "tables": "steel"}, "tables: ‘steel’ is not a gauge table"),
        ({"thickness": "1 mm", "tables": []}, "tables: ‘[]’ is not a gauge table"),
        ({"thickness": "1 mm", "tables": 3}, "tables: ‘3’ is not a gauge table"),
    ],
)
def test_what_is_no_single_length_is_refused_in_words(given, said):
    with pytest.raises(InputError) as refusal:
        identify(**given)
    assert said in str(refusal.value)


# What rolling allows


def test_the_galvanized_tolerance_spans_the_printed_greatest_thickness():
    for gauge, greatest in zip(range(8, 32), map(float, GREATEST.split()), strict=True):
        match = compare(Q_(greatest, INCH), gauge, "galvanized_steel")
        assert match.tolerance.m_as(INCH) == pytest.approx(match.difference.m_as(INCH), abs=1e-6)
        assert match.within_tolerance


# Source astm-a480: 0.60 and 0.80 mm sheet ±0.05, 1.00 mm ±0.06, 3.00 mm ±0.13 (printed in mm).
@pytest.mark.parametrize(("gauge", "allowed"), [(24, 0.05), (20, 0.06), (12, 0.13)])
def test_the_stainless_tolerance_is_the_printed_one(gauge, allowed):
    nominal = thickness(gauge, "stainless_steel")
    match = compare(nominal, gauge, "stainless_steel")
    assert match.tolerance.m_as("mm") == pytest.approx(allowed, abs=0.005)
    assert compare(nominal - match.tolerance, gauge, "stainless_steel").within_tolerance
    assert not compare(nominal - 1.1 * match.tolerance, gauge, "stainless_steel").within_tolerance


def test_where_no_tolerance_was_seen_none_is_claimed():
    match = compare("0.55 mm", 24, "swg")
    assert match.tolerance is None
    assert match.within_tolerance is None
    assert "tolerance" not in str(match)


# In words


def test_the_likely_gauge_in_words_names_its_rivals_and_the_caution():
    said = likely("0.56 mm")
    assert re.match(r"\w+: 25 BG \(0\.560 mm\)", said)
    assert re.search(r"Too near.*: 24 SWG \(0\.559 mm\).* sold as\.$", said)


def test_a_thin_sheet_is_told_from_the_gauge_it_was_sold_as():
    # 0.635 − 0.55 = 0.085 mm, and 0.085 / 0.635 = 13 %.
    said = str(compare("0.55 mm", 24, "stainless_steel"))
    assert said.startswith("24 gauge stainless steel (0.635 mm)")
    assert re.search(r"0\.085 mm thinner \(13 %\), more .*tolerance of ±0\.05 mm$", said)


def test_a_reading_on_the_gauge_agrees():
    assert str(compare("0.635 mm", "24 ga", "stainless_steel")).endswith("the reading agrees")
