"""Every fault in a job is named by its key, all of them at once."""

import re

import pytest

from tests.plan.job_cases import COVER, PLAIN
from workshop_lib import plan
from workshop_lib.plan.entry_table import ENTRIES

GOOD = COVER.read_text(encoding="utf-8")


def faults(text):
    """The keys at fault, with the whole message."""
    with pytest.raises(plan.JobFaults) as refusal:
        plan.parse(text)
    return [each.name for each in refusal.value.faults], str(refusal.value)


def spoilt(entry, value):
    """The good job with another value behind an entry's name, wherever it stands."""
    found, count = re.subn(rf"(?m)^{entry} = .*$", lambda _: f"{entry} = {value}", GOOD)
    assert count == 1
    return found


@pytest.mark.parametrize(
    ("entry", "value", "key", "words"),
    [
        ("diameter", "78", "disc.diameter", "has no unit"),
        ("diameter", '"78"', "disc.diameter", "has no unit"),
        ("diameter", '"78 m"', "disc.diameter", "more than 10 m"),
        ("diameter", '"78 N"', "disc.diameter", "this needs a length"),
        ("diameter", '"7,8 mm"', "disc.diameter", "comma"),
        ("diameter", '"-78 mm"', "disc.diameter", "greater than zero"),
        ("diameter", "true", "disc.diameter", "one value with its unit"),
        ("diameter", '["78 mm"]', "disc.diameter", "one value with its unit"),
        ("diameter", "1979-05-27", "disc.diameter", "one value with its unit"),
        ("diameter", "nan", "disc.diameter", "has no unit"),
        ("diameter", '"9**9**9 mm"', "disc.diameter", "is not a unit"),
        ("title", '"  "', "about.title", "it is empty"),
        ("title", '"two\\nlines"', "about.title", "one line"),
        ("title", '"\\u202ETurned"', "about.title", "U+202E"),
        ("title", "7", "about.title", "not a text"),
        ("made_by", "1979-05-27", "about.made_by", "not a text"),
        ("state", '"truned"', "about.state", "Did you mean turned?"),
        ("material", '"stainles steel"', "sheet.material", "Did you mean stainless_steel?"),
        ("facing", '"lether"', "pad.facing", "Did you mean leather?"),
        ("gauge", "24.0", "sheet.gauge", "whole number"),
        ("gauge", "true", "sheet.gauge", "whole number"),
        ("gauge", "99", "sheet.gauge", "whole number"),
        ("gauge", "60", "sheet.gauge", "not in stainless_steel"),
        ("corners", "2", "blank.corners", "from 3"),
        ("margin", '"2"', "cut.margin", "plain number"),
        ("margin", "nan", "cut.margin", "not a finite number"),
        ("margin", "inf", "cut.margin", "is too large"),
        ("margin", "-inf", "cut.margin", "negative"),
        ("margin", "0", "cut.margin", "greater than zero"),
        ("margin", "9" * 3000, "cut.margin", "is too large"),
        ("margin", "-" + "9" * 3000, "cut.margin", "negative"),
        ("margin", "0x" + "f" * 9000, "cut.margin", "is too large"),
        ("changed", "7", "attempt[1].changed", "not a text"),
        ("set", '{ cut.dept = "1 mm" }', "attempt[1].set.cut.dept", "Did you mean cut.depth?"),
        ("set", '{ cut.depth = "1 N" }', "attempt[1].set.cut.depth", "this needs a length"),
        ("set", '{ disc.diameter = "1 mm" }', "attempt[1].set.disc", "may set blank"),
        ("set", '"deeper"', "attempt[1].set", "is not a table of settings"),
        ("pull_forces", '["8 N", 8, "9 N"]', "measured.pull_forces[2]", "has no unit"),
        ("pull_forces", '["8 N"]', "measured.pull_forces", "3 to 200"),
        ("pull_forces", '"8 N"', "measured.pull_forces", "not a list"),
        ("pull_forces", "[[[1]]]", "measured.pull_forces", "3 to 200"),
        ("scale_readings", '["1 N", "2 N", {}]', "measured.scale_readings[3]", "one value"),
    ],
)
def test_a_fault_is_named_by_its_key(entry, value, key, words):
    names, message = faults(spoilt(entry, value))
    assert names == [key]
    assert words in message


def test_all_faults_are_told_at_once():
    text = (
        spoilt("diameter", "78")
        .replace('depth = "0.1 mm"', 'depth = "0.1 N"', 1)
        .replace('"leather"', '"lether"')
    )
    text = text.replace('where = "nose"', 'where = "nse"').replace('"45 deg"', '"45 mm"')
    text = text.replace('made_by = "the evening class"', "made_by = 1\nmadeby = 'x'\n")
    text = text.replace('"0.61 mm", "0.62 mm"]', '0.61, "0.62 N"]')
    assert faults(text)[0] == [
        "about.made_by",
        "about.madeby",
        "sheet.readings[4]",
        "sheet.readings[5]",
        "disc.diameter",
        "pad.facing",
        "cut.depth",
        "run_out.tests[1].where",
        "run_out.tests[2].angles[2]",
    ]


def test_parts_that_cannot_be_made_are_told_beside_entries_that_cannot_be_read():
    text = spoilt("margin", '"x"').replace('"75 mm"', '"79 mm"')
    names, message = faults(text)
    assert names == ["cut.margin", "pad.outer_diameter"]
    assert "smaller than the disc" in message


def test_a_part_that_fails_is_told_once():
    assert faults(GOOD.replace('"75 mm"', '"79 mm"'))[0] == ["pad.outer_diameter"]
    assert faults(
        GOOD.replace('facing = "leather"', 'inner_diameter = "75 mm"\nfacing = "leather"')
    )[0] == ["pad.inner_diameter"]
    assert faults(GOOD.replace('"78 mm"', '"81 mm"'))[0] == ["disc.diameter"]
    assert faults(GOOD.replace('"0.05 mm"\nfeed', '"5 mm"\nfeed'))[0] == ["cut.finishing_depth"]
    assert faults(GOOD.replace('"270 deg", "315 deg"', '"270 deg"'))[0][0].startswith(
        "run_out.tests[2]"
    )


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("[dsic]\ndiameter = '78 mm'", "Did you mean disc?"),
        ("[disc]\ndiamter = '78 mm'", "Did you mean disc.diameter?"),
        ("diameter = '78 mm'", "Put it under [disc]"),
        ("'disc.diameter' = '78 mm'", "Write diameter under [disc]"),
        ("disc = '78 mm'", "Write it as [disc]"),
        ("[[disc]]\ndiameter = '78 mm'", "Write it as [disc]"),
        ("[run_out]\ntests = [{where = 'disc', totl = '1 mm'}]", "Did you mean total?"),
    ],
)
def test_an_unknown_key_is_told_with_what_was_probably_meant(typed, meant):
    assert meant in faults(typed)[1]


STRANGE = ["a.b", "🔩", "<b>", r"\"", r"\u202E", r"\u0000", "x" * 5000, "", r"\n", "d' i"]


@pytest.mark.parametrize("key", STRANGE)
def test_a_strange_key_is_quoted_in_one_printable_line(key):
    text = f"[disc]\ndiameter = '78 mm'\n\"{key}\" = 1\n"
    names, message = faults(text)
    assert all(name.isprintable() for name in names)
    assert all(line.isprintable() and len(line) < 300 for line in message.splitlines())


def test_an_empty_file_is_told_what_belongs_there():
    names, message = faults("")
    needed = [key for key, entry in ENTRIES.items() if entry.required]
    assert names[: len(needed)] == needed
    assert {"thrust", "sheet.thickness"} <= set(names)
    assert f"job: {len(needed) + 2} things" in message


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"blank.side": "90 mm"}, "blank"),
        ({"thrust.handwheel_torque": "1 N m"}, "thrust"),
        ({"thrust.handwheel_torque": "1 N m"}, "thrust.screw"),
        ({"sheet.gauge": 18}, "sheet.gauge_table"),
        ({"sheet.gauge_table": "swg"}, "sheet.gauge"),
        ({"blank.across_flats": None}, "blank.across_flats"),
        ({"blank.clipped_corner": "1 mm"}, "blank.side"),
        ({"measured.pull_forces": ["1 N"] * 3}, "measured.normal_force"),
        ({"measured.pull_graduation": "1 N"}, "measured.pull_forces"),
        ({"measured.normal_force": "1 N"}, "measured.pull_forces"),
        ({"measured.tilt_graduation": "1 deg"}, "measured.tilt_angles"),
        ({"measured.scale_graduation": "1 N"}, "measured.scale_readings"),
        ({"pad.friction": [0.3, 0.2, 0.4]}, "pad.friction"),
        ({"run_out.tests": [{"where": "disc"}]}, "run_out.tests[1]"),
        (
            {"run_out.tests": [{"where": "disc", "total": "1 mm", "angles": ["0 deg"] * 3}]},
            "run_out.tests[1]",
        ),
        ({"thrust.force": None, "thrust.handwheel_torque": "1 N m"}, "thrust.screw"),
    ],
)
def test_what_contradicts_or_stands_alone_is_named(changes, key):
    entries = {k: v for k, v in (PLAIN | changes).items() if v is not None}
    with pytest.raises(plan.JobFaults) as refusal:
        plan.job(entries)
    assert key in [each.name for each in refusal.value.faults]


def test_two_tests_of_friction_say_the_same_in_two_ways():
    pulls = {"measured.pull_forces": ["1 N"] * 3, "measured.normal_force": "4 N"}
    with pytest.raises(plan.JobFaults, match="Keep one and delete the other"):
        plan.job(PLAIN | pulls | {"measured.tilt_angles": ["20 deg"] * 3})


def test_what_is_no_sheet_and_what_no_tailstock_presses_is_named_by_its_key():
    text = GOOD.replace('"0.62 mm", "0.63 mm"', '"0.62 m", "0.63 mm"', 1)
    assert text != GOOD
    keys, words = faults(text)
    assert keys == ["sheet.readings[1]"] and "more than 25 mm" in words
    with pytest.raises(plan.JobFaults, match="thrust.force.*1000 kN"):
        plan.job(PLAIN | {"thrust.force": "1e8 N"})


@pytest.mark.parametrize(
    ("entries", "key"),
    [
        ({"pad.inner_diameter": "74.95 mm"}, "pad.inner_diameter"),
        ({"pad.outer_diameter": "77.95 mm", "pad.inner_diameter": "77.5 mm"}, "pad.inner_diameter"),
    ],
)
def test_a_pad_that_no_sum_of_the_rim_serves_is_named_by_its_key(entries, key):
    cover = plan.load(COVER)
    with pytest.raises(plan.JobFaults) as caught:
        cover.changed(entries)
    assert [each.name for each in caught.value.faults] == [key]


def test_a_blank_too_wide_for_its_pad_is_named_though_the_disc_is_not():
    """80 mm across flats are 86.6 mm across corners: a twentieth of that is 4.33 mm."""
    cover = plan.load(COVER)
    with pytest.raises(plan.JobFaults, match="pad.outer_diameter: .*of the blank, .* 87 mm"):
        cover.changed({"pad.outer_diameter": "4.2 mm"})


def test_a_block_on_soft_felt_is_no_sheet_in_a_job_either():
    """5 mm across and 20 mm thick, on 10 mm of felt: by hand k a⁴/D is 8e-9."""
    cover = plan.load(COVER)
    small = {"disc.diameter": "5 mm", "pad.outer_diameter": "4 mm", "blank.across_flats": "6 mm"}
    thick = {"sheet.thickness": "20 mm", "pad.facing": "felt", "pad.facing_thickness": "10 mm"}
    gone = [key for key in cover.values if key.startswith("measured.")]
    gone += ["sheet.readings", "sheet.gauge", "sheet.gauge_table", "disc.tolerance"]
    gone += [key for key in cover.values if key.startswith("run_out.")]
    with pytest.raises(plan.JobFaults) as caught:
        cover.changed(dict.fromkeys(gone) | small | thick)
    assert "sheet.thickness" in [each.name for each in caught.value.faults]
