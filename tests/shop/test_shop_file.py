"""A shop file: read strictly, every fault with its line, saved with its comments."""

import pytest

from tests.house.laws import held_for
from tests.shop.shop_cases import FULL
from workshop_lib import shop
from workshop_lib.quantities import Q_, InputError


def test_everything_in_it_is_read():
    found = shop.parse(FULL)
    assert found.units == "inch"
    assert [each.m for each in found.lathe.speeds] == [60, 105, 190, 300, 500, 900]
    assert set(found.noses) == {"mine", "old", "pushed", "centre"}
    assert found.nose("mine").design.support("rear").fit == pytest.approx(20.32e-6)
    assert found.nose("old").design.support("rear").bearing.core.bore == pytest.approx(12.7e-3)
    assert found.pad("leather_4in")["friction"] == (0.3, 0.4, 0.5)


def test_an_empty_file_and_the_template_are_shops_without_anything():
    for text in ("", "format = 1\n", shop.TEMPLATE):
        found = shop.parse(text)
        assert (found.units, found.lathe, found.noses, found.pads) == (None, None, {}, {})


def test_the_template_uncommented_is_a_whole_shop():
    """Whoever takes every # away in front of an entry has a shop that is read."""
    keys = {row[0].rpartition(".")[2] for row in shop.entries()}
    lines = []
    for line in shop.TEMPLATE.splitlines():
        bare = line.removeprefix("# ")
        counts = bare.partition(" =")[0] in keys or bare.startswith("[")
        lines.append(bare if counts else line)
    found = shop.parse("\n".join(lines))
    assert found.units and found.lathe.calibration and found.noses and found.pads


FAULTS = [
    ('system = "inch"', 'system = "imperial"', 5, "units.system"),
    ("[units]\n", "[units]\ncolour = 1\n", 5, "units.colour"),
    ('"105 rpm"', '"105 mm"', 10, r"lathe.speeds\[3\]"),
    ('"105 rpm"', '"-5 rpm"', 10, r"lathe.speeds\[3\]"),
    ('swing = "9 in"', "swing = 9", 11, "lathe.swing"),
    ('"150 lbf"], ', '"150 lbf", "1 lbf"], ', 13, "lathe.calibration.thrusts"),
    ("pulls = ", "pushes = ", 13, "lathe.calibration.pushes"),
    ('"50 lbf", "100 lbf", "150 lbf"', '"150 lbf", "100 lbf", "50 lbf"', 13, "lathe.calibration"),
    ('front = "6001", rear = 6001', 'front = "6O01", rear = 6001', 17, "nose.mine.bearings.front"),
    ('front = "6001", rear = 6001', 'front = "6001"', 17, "nose.mine.bearings.rear"),
    ('front = "6001", rear', 'front = "HK 1210", rear', 17, "nose.mine.bearings.front"),
    ('"H7", rear', '"JS7", rear', 18, "nose.mine.fit.front"),
    ('plate_diameter = "4 in"', 'plate_diameter = "4 lbf"', 19, "nose.mine.plate_diameter"),
    ('static_rating = "537 lbf"', 'static_rating = "5 lbf"', 31, "nose.old.bearings.rear.static"),
    ('width = "0.25 in"\n', "", 25, "nose.old.bearings.rear.width"),
    ('facing = "leather"\n', "", 33, "pads.leather_4in.facing"),
    ('facing = "leather"', 'facing = "lether"', 35, "pads.leather_4in.facing"),
    ("[pads.leather_4in]\nouter", "[pads]\nouter", 34, "pads.outer_diameter"),
    ("[lathe]", "[mill]", 8, "mill"),
    ("format = 1", "format = 9", 2, "format"),
    ("format = 1", 'format = "1"', 2, "format"),
]


@held_for(FAULTS)
def test_a_fault_is_named_with_its_line(case):
    old, new, line, key = case
    assert old in FULL
    with pytest.raises(InputError, match=f"line {line}, {key}"):
        shop.parse(FULL.replace(old, new, 1))


def test_all_faults_are_told_at_once():
    bad = FULL.replace('"9 in"', '"9"').replace('"leather"', '"silk"').replace("6001", "6O01", 1)
    with pytest.raises(shop.ShopFaults, match="3 things to fix") as refusal:
        shop.parse(bad)
    assert len(refusal.value.faults) == 3


@pytest.mark.parametrize("bad", ["[lathe", "a = = 1", "x = 1e", "[lathe]\n[lathe]", "\0"])
def test_what_is_not_toml_is_refused_with_its_line(bad):
    with pytest.raises(InputError, match="line [12]"):
        shop.parse(bad)


def test_a_change_keeps_comments_and_everything_else():
    found = shop.parse(FULL)
    text = shop.changed(found, "units", {"system": "metric"})
    assert text == FULL.replace('"inch"', '"metric"')
    text = shop.changed(found, "nose", {"fit": None, "overhang": "1 in"}, "mine")
    made = shop.parse(text)
    assert "# I think in thou" in text
    assert made.nose("mine").design.overhang.m_as("inch") == pytest.approx(1)


def test_it_is_saved_in_one_step_and_what_was_there_is_kept(tmp_path):
    path = tmp_path / "my_shop.toml"
    first = shop.save(shop.changed(None, "units", {"system": "inch"}), path)
    assert (first.units, first.file) == ("inch", path.resolve())
    second = shop.save(shop.changed(first, "lathe", {"speeds": ["60 rpm"]}), path, first)
    assert second.units == "inch"
    assert [each.name for each in tmp_path.iterdir()] == ["my_shop.toml"]
    path.write_text("# somebody else's\n", encoding="utf-8")
    shop.save(second.text, path, second)
    assert len(list(tmp_path.iterdir())) == 2
    with pytest.raises(InputError):
        shop.save("[lathe]\nspeeds = 1\n", path)
    assert shop.load(path).units == "inch"


def test_it_is_found_beside_a_job_and_not_for_the_workbooks_own(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("workshop_lib.shop.shop_file.MY_LESSONS", tmp_path / "nowhere")
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    assert shop.find(jobs / "a.toml") is None
    (tmp_path / "my_shop.toml").write_text('[units]\nsystem = "inch"\n', encoding="utf-8")
    assert shop.found(jobs / "a.toml").units == "inch"
    assert shop.found(tmp_path / "b.toml").units == "inch"
    from workshop_lib.shop.shop_file import MASTERS

    assert shop.find(MASTERS / "jobs" / "tide_gauge_cover.toml") is None


# Calibration


def calibrated(pulls, thrusts, by="pull"):
    unit = "lbf" if by == "pull" else "deg"
    return shop.Calibration(
        by, tuple(Q_(each, unit) for each in pulls), tuple(Q_(each, "N") for each in thrusts)
    )


def test_readings_on_a_line_give_the_line_and_no_scatter():
    found = calibrated((5, 10, 15, 20), (100, 220, 340, 460)).thrust_at(Q_(12, "lbf"))
    assert [each.m_as("N") for each in (found.value, found.low, found.high)] == pytest.approx(
        [268] * 3
    )


def test_the_scatter_is_that_of_a_line():
    """By hand: x = 1, 2, 3, 4; y = 10, 22, 28, 40: slope 9.6, start 1; residuals −0.6, 1.8, −1.8,
    0.6; s² = 7.2/2; at the middle, 2.5, a next one scatters by s sqrt(1 + 1/4) with two degrees of
    freedom, t = 2.920 at 95 % (any table). The draws are of t with three, scaled to the same
    standard deviation of the readings: within a third."""
    found = calibrated((1, 2, 3, 4), (10, 22, 28, 40)).thrust_at(Q_(2.5, "lbf"))
    assert found.value.m_as("N") == pytest.approx(25)
    wide = 3.6**0.5 * 1.25**0.5 * 2.920
    assert found.high.m_as("N") - 25 == pytest.approx(wide, rel=0.33)


def test_readings_at_one_pull_grow_with_the_pull():
    found = calibrated((10, 10, 10), (100, 104, 96))
    assert found.thrust_at(Q_(10.5, "lbf")).value.m_as("N") == pytest.approx(105)


def test_turn_and_pull_are_found_again_from_the_thrust():
    for by in ("pull", "turn"):
        found = calibrated((10, 20, 30), (150, 250, 350), by)
        at = found.needed_for(Q_(300, "N"))
        assert found.thrust_at(at).value.m_as("N") == pytest.approx(300)
        assert found.needed_for(Q_(1000, "N")) is None


def test_beyond_the_readings_nothing_is_promised():
    found = calibrated((10, 20, 30), (150, 250, 350))
    for wrong in (5, 40):
        with pytest.raises(InputError, match="^thrust.pull: .*outside .*calibration"):
            found.thrust_at(Q_(wrong, "lbf"))
