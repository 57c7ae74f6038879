"""A job in its owner's shop: what it takes from there, and what is said of nose and lathe."""

import re

import numpy as np
import pytest

from tests.house.laws import held_for
from tests.plan.job_cases import PLAIN
from workshop_lib import plan, shop, write_up
from workshop_lib.lessons.light_cuts.panels_blank import passes_scene
from workshop_lib.plan import assess_command
from workshop_lib.quantities import Q_, InputError, speaking, system

SHOP = """\
[lathe]
speeds = ["60 rpm", "105 rpm", "190 rpm", "300 rpm", "500 rpm", "900 rpm"]
swing = "9 in"
highest_thrust = "200 lbf"
calibration = { pulls = ["5 lbf", "10 lbf", "15 lbf", "20 lbf"], \
thrusts = ["42 lbf", "85 lbf", "127 lbf", "170 lbf"], graduation = "2 lbf" }
[nose.mine]
design = "pressure_nose"
bearings = { front = "6001", rear = "6001" }
plate_diameter = "90 mm"
[pads.leather]
outer_diameter = "90 mm"
facing = "leather"
facing_thickness = "3 mm"
"""
MINE = shop.parse(SHOP)
INCH = shop.parse('[units]\nsystem = "inch"\n' + SHOP)
# Ten lines and no more: title, sheet, disc, thrust.
SHORT = {
    "about.title": "A lid",
    "sheet.material": "aluminium",
    "sheet.thickness": "1 mm",
    "disc.diameter": "100 mm",
    "thrust.force": "500 N",
}


def judged(entries, mine=MINE):
    return plan.assess(plan.job(entries, mine), draws=0)


def test_a_bearing_that_may_take_592_newtons_is_not_ready_at_667():
    """0.25 × 2370 N, see tests/load_path; 667 N is 150 lbf."""
    bare = {key: value for key, value in PLAIN.items() if key != "nose.design"}
    found = judged(bare | {"thrust.force": "667 N"})
    nose = found.reason("nose")
    assert (found.holds, nose.holds) == ("no", "no")
    assert "Your nose “mine”" in nose.sentence and "axial limit" in nose.sentence
    assert float(nose.value) < 592.5 / 667
    assert judged(bare | {"thrust.force": "300 N"}).reason("nose").holds == "yes"
    assert plan.assess(plan.job(PLAIN | {"thrust.force": "667 N"})).reason("nose").holds == "yes"


def test_a_short_job_is_judged_and_says_what_it_took():
    found = judged(SHORT)
    job = found.job
    assert job["pad.outer_diameter"] == Q_(90, "mm")
    assert job["blank.across_flats"].m_as("mm") == pytest.approx(102)
    assert job["cut.depth"] == Q_(0.2, "mm")
    assert job.nose.support("front").bearing.designation == "6001"
    told = " ".join(found.remarks)
    for words in ("octagon", "depth of cut 0.2 mm", "feed in a turn 0.05 mm", "rev/min is the"):
        assert words in told
    assert "cut.depth" in dict(plan.assumed(job))


def test_the_speed_heeds_the_unbalance_of_a_blank_that_is_off_centre():
    """At 900 rev/min the blank pulls with more than a tenth of what holds; at 600 by 4/9 of it."""
    mine = shop.parse(SHOP.replace(re.search(r"speeds = (.*)", SHOP)[1], "[300, 600, 900]"))
    off = {"sheet.thickness": "3 mm", "cut.tool": "carbide", "cut.depth": "0.1 mm",
           "blank.corners": 8, "blank.across_flats": "125 mm", "blank.centre": ["8 mm", "0 mm"],
           "thrust.force": "200 N"}  # fmt: skip
    job = plan.job(SHORT | off, mine)
    assert job["cut.speed"] == Q_(600, "rpm")
    assert "at 900 rev/min, the unbalance pulls with" in job.speed_told
    faster = plan.job(SHORT | off | {"cut.speed": "900 rpm"}, mine)
    pull = [each.passes[0].unbalance.m_as("N") for each in (job, faster)]
    assert pull[0] / pull[1] == pytest.approx(4 / 9)
    held = [each.low_thrust.m_as("N") * each.friction.low for each in (job, faster)]
    assert pull[0] < 0.1 * held[0] and pull[1] > 0.1 * held[1]


def test_a_bare_number_is_a_speed_in_revolutions_a_minute():
    bare = shop.parse('[lathe]\nspeeds = [900, "60", 190.5, "5 rad/s"]\n').lathe.speeds
    assert [each.m_as("rpm") for each in bare] == pytest.approx([5 * 30 / np.pi, 60, 190.5, 900])
    for wrong in ("true", "0", "-5", '"60 mm"', "nan", "1e300", "9" * 400, '"6 0"'):
        with pytest.raises(InputError, match=r"line 2, lathe.speeds\[1\]"):
            shop.parse(f"[lathe]\nspeeds = [{wrong}]\n")


@pytest.mark.parametrize(
    ("disc", "entries", "told"),
    # 22 gauge zinc-coated: (20 + 2.5) / 669.12 = 0.0336 in = 0.853 mm, by hand
    [("5 in", {"sheet.thickness": "22 ga"}, "galvanized_steel (33.6 thou)"),
     ("100 mm", {"sheet.thickness": "22 ga"}, "galvanized_steel (0.853 mm)"),
     ("5 in", {"sheet.gauge": 22}, "Type one of: galvanized_steel (33.6 thou)")],
)  # fmt: skip
def test_a_gauge_number_is_answered_in_the_discs_units(disc, entries, told):
    lid = {key: value for key, value in SHORT.items() if key != "sheet.thickness"}
    lid |= {"sheet.material": "zinc-coated", "disc.diameter": disc}
    with pytest.raises(InputError) as refused:
        plan.job(lid | entries, MINE)
    assert told in str(refused.value) and "one thing to fix" in str(refused.value)


def test_a_gauge_that_nobody_measured_is_not_said_to_agree():
    gauge = {"sheet.material": "zinc-coated", "sheet.gauge": 22, "disc.diameter": "5 in",
             "sheet.gauge_table": "galvanized_steel"}  # fmt: skip
    bare = {key: value for key, value in SHORT.items() if key != "sheet.thickness"}
    assert "nobody has measured it" in judged(bare | gauge).reason("sheet").sentence
    read = judged(bare | gauge | {"sheet.thickness": "0.0336 in"}).reason("sheet").sentence
    assert "the reading agrees" in read


def test_what_a_job_says_itself_wins():
    own = {"pad.outer_diameter": "80 mm", "pad.facing": "rubber", "cut.speed": "105 rpm",
           "nose.design": "pressure_nose", "nose.plate_diameter": "85 mm",
           "blank.side": "110 mm", "cut.depth": "0.1 mm"}  # fmt: skip
    job = plan.job(SHORT | own, MINE)
    for key, value in own.items():
        assert str(job[key]) in (value, str(plan.job(SHORT | own, MINE).values[key]))
    assert not {*own} & {*job.supplied}
    assert job.nose.support("front").bearing.designation == "6202"


def test_a_change_keeps_the_shop():
    job = plan.job(SHORT, MINE).changed({"thrust.force": "300 N", "pad.outer_diameter": "95 mm"})
    assert job["pad.facing"] == "leather"
    assert job.nose.support("front").bearing.designation == "6001"
    assert job["cut.speed"] == plan.job(SHORT, MINE)["cut.speed"]


def test_only_what_the_job_says_goes_into_its_file(tmp_path):
    job = plan.job(SHORT, MINE)
    text = plan.save(job, tmp_path / "lid.toml").read_text(encoding="utf-8")
    assert "leather" not in text and "speed" not in text
    (tmp_path / "my_shop.toml").write_text(SHOP, encoding="utf-8")
    again = plan.load(tmp_path / "lid.toml")
    assert again["cut.speed"] == job["cut.speed"]
    assert plan.save(again, tmp_path / "lid.toml").read_text(encoding="utf-8") == text


# Speed


@held_for(["60 mm", "100 mm", "150 mm", "200 mm"])
def test_the_next_higher_speed_would_break_a_limit(disc):
    entries = SHORT | {"disc.diameter": disc, "pad.outer_diameter": "50 mm"}
    job = plan.job(entries, MINE)
    speeds = [each.m_as("rpm") for each in MINE.lathe.speeds]
    place = speeds.index(job["cut.speed"].m_as("rpm"))
    at = plan.assess(job, draws=0)
    assert at.reason("speed").holds == "yes" or place == 0
    if place + 1 < len(speeds):
        faster = judged(entries | {"cut.speed": f"{speeds[place + 1]} rpm"})
        grades = ("yes", "open", "no")
        assert any(
            grades.index(faster.reason(about).holds) > grades.index(at.reason(about).holds)
            for about in ("speed", "ringing", "hold")
        )
        assert f"at {speeds[place + 1]:g} rev/min" in " ".join(at.remarks)


def test_a_speed_that_the_lathe_has_not_is_said():
    found = judged(SHORT | {"cut.speed": "150 rpm"})
    reason = next(each for each in found.reasons if each.value == Q_(150, "rpm"))
    assert (reason.about, reason.holds) == ("lathe", "open")
    assert reason.changes[0].entries == {"cut.speed": "105 rev/min"}


def test_swing_and_thrust_of_the_lathe_are_held_to():
    found = judged(SHORT | {"disc.diameter": "230 mm", "thrust.force": "900 N"})
    lathe = [each for each in found.reasons if each.about == "lathe"]
    assert [each.holds for each in lathe] == ["no", "no"]  # 248 mm over 228.6; 900 N over 889.6
    assert all(each.changes for each in lathe)


# Thrust by the lathe's own calibration


def test_thrust_follows_from_the_pull_with_its_scatter():
    entries = {key: value for key, value in SHORT.items() if key != "thrust.force"}
    job = plan.job(entries | {"thrust.pull": "10 lbf"}, MINE)
    assert job.thrust.m_as("lbf") == pytest.approx(85, abs=1)
    assert job.low_thrust < job.thrust < job.high_thrust
    assert job.slip_case().spreads["thrust"].standard_uncertainty > 0


def test_more_thrust_is_told_as_a_pull():
    entries = {key: value for key, value in SHORT.items() if key != "thrust.force"}
    found = judged(entries | {"thrust.pull": "5 lbf", "cut.depth": "0.02 mm"}, INCH)
    hold = found.reason("hold")
    assert hold.holds != "yes"
    pulls = [each for each in hold.changes if "thrust.pull" in each.entries]
    for each in pulls:
        better = found.job.changed(each.entries)
        assert better.passes.worst.margin > found.job.passes.worst.margin
        assert "pull on the handle" in each.sentence


REFUSED = [
    ({"thrust.pull": "50 lbf"}, MINE, "thrust.pull: .*outside .*calibration"),
    ({"thrust.turn": "90 deg"}, MINE, "thrust.turn: .*no calibration by the turn"),
    ({"thrust.pull": "5 lbf"}, None, "thrust.pull: the workbook has no shop"),
    ({"thrust.force": "500 N", "nose.name": "old"}, MINE, "nose.name: "),
    ({"thrust.force": "500 N", "pad.name": "felt"}, MINE, "pad.name: "),
    ({"thrust.force": "500 N", "pad.name": "leather"}, None, "pad.name: the workbook has no shop"),
    ({"thrust.force": "5 N", "nose.name": "mine", "nose.design": "pressure_nose"}, MINE, "nose"),
    ({"thrust.force": "500 N"}, None, "cut.speed: is missing"),
    ({"thrust.force": "5 N", "thrust.pull": "5 lbf"}, MINE, "both say what it is"),
]


@held_for(REFUSED)
def test_what_the_shop_has_not_is_refused_by_key(case):
    entries, mine, told = case
    short = {key: value for key, value in SHORT.items() if key != "thrust.force"}
    with pytest.raises(plan.JobFaults, match=told):
        plan.job(short | entries, mine)


def test_of_several_noses_the_job_names_one():
    two = shop.parse(SHOP + SHOP.partition("[nose.mine]")[2].join(["[nose.old]", ""]).partition(
        "[pads")[0])  # fmt: skip
    with pytest.raises(plan.JobFaults, match="nose.name: is missing.*mine, old"):
        plan.job(SHORT, two)
    assert plan.job(SHORT | {"nose.name": "old"}, two)["nose.name"] == "old"


# Inch throughout

METRIC = re.compile(r"[0-9] ?(mm|N|N·m|m/min|MPa|µm|N/mm|kg)\b")


def test_an_inch_shop_is_told_nothing_in_metric(tmp_path, capsys):
    """Every line of `assess`, whatever it finds; gauges are printed in both."""
    (tmp_path / "my_shop.toml").write_text('[units]\nsystem = "inch"\n' + SHOP, encoding="utf-8")
    path = tmp_path / "lid.toml"
    path.write_text(
        '[about]\ntitle = "Lid"\n[sheet]\nmaterial = "galvanized_steel"\nthickness = "0.034 in"\n'
        '[disc]\ndiameter = "5 in"\n[pad]\nouter_diameter = "4 in"\n[thrust]\npull = "15 lbf"\n'
        '[nose]\nplate_diameter = "4 in"\n[rim]\nbend_allowed = "1 thou"\n',
        encoding="utf-8",
    )
    assert assess_command.main([str(path)]) == 1
    out = capsys.readouterr().out
    for line in out.splitlines():
        assert not METRIC.search(line), line
    assert "Your nose “mine”" in out and "thou" in out and "ft/min" in out
    assert system() is None


def test_a_disc_in_inches_is_answered_in_inch_without_any_shop():
    found = plan.assess(plan.job(PLAIN | {"disc.diameter": "3.9375 in"}), draws=0)
    assert " lbf" in " ".join(each.sentence for each in found.reasons)
    assert not METRIC.search(found.reason("tipping").sentence)
    metric = shop.parse('[units]\nsystem = "metric"\n')
    found = plan.assess(plan.job(PLAIN | {"disc.diameter": "3.9375 in"}, metric), draws=0)
    assert not re.search(r" (lbf|thou|in)\b", found.reason("tipping").sentence)


def test_steps_are_round_in_the_system_that_is_spoken():
    with speaking("inch"):
        told = plan.set_up("thrust", Q_(100, "N")).told, plan.set_up("pad", Q_(100, "mm")).told
    assert told == ("24 lbf", "3 15/16 in")
    assert plan.set_up("thrust", Q_(101, "N")).told == "110 N"


def test_a_thrust_beyond_lathe_or_calibration_is_not_proposed():
    """Its tailstock may take 200 lbf, its readings go up to 170 lbf."""
    entries = {key: value for key, value in SHORT.items() if key != "thrust.force"}
    for given in ({"thrust.pull": "15 lbf"}, {"thrust.force": "100 lbf"}):
        hold = judged(entries | given | {"sheet.material": "stainless_steel"}, INCH).reason("hold")
        assert hold.holds == "no"
        told = [each.sentence for each in hold.changes if "hrust alone" in each.sentence]
        assert len(told) == 1
        assert not any(each.sentence.startswith("Press") for each in hold.changes)


def test_a_faulty_shop_stops_its_jobs_with_its_line(tmp_path):
    (tmp_path / "my_shop.toml").write_text(SHOP.replace('"60 rpm"', '"60 mm"'), encoding="utf-8")
    plan_path = tmp_path / "lid.toml"
    plan_path.write_text('[about]\ntitle = "x"\n', encoding="utf-8")
    with pytest.raises(InputError, match=r"my_shop.toml: .*\n.*line 2, lathe.speeds"):
        plan.load(plan_path)


# What people type

SAID = [
    ({"sheet.material": "galvanised_steel"}, "sheet.material", "galvanized_steel"),
    ({"sheet.material": "zinc-coated"}, "sheet.material", "galvanized_steel"),
    ({"sheet.material": "Stainless steel"}, "sheet.material", "stainless_steel"),
    ({"sheet.material": "aluminum"}, "sheet.material", "aluminium"),
    ({"disc.diameter": "5 1/4 in"}, "disc.diameter", Q_(133.35, "mm")),
    ({"thrust.force": "200 lbf"}, "thrust.force", Q_(889.6443, "N")),
    ({"cut.speed": "105 rpm"}, "cut.speed", Q_(105, "rev/min")),
    ({"sheet.gauge": "22 gauge", "sheet.gauge_table": "galvanised steel"}, "sheet.gauge", 22),
    ({"sheet.gauge": "22 ga", "sheet.gauge_table": "swg"}, "sheet.gauge_table", "swg"),
    ({"sheet.gauge": "No. 22 ga", "sheet.gauge_table": "swg"}, "sheet.gauge", 22),
]


@held_for(SAID)
def test_what_people_say_is_understood(case):
    entries, key, wanted = case
    found = plan.job(SHORT | entries, MINE)[key]
    if isinstance(wanted, str | int):
        assert found == wanted
    else:
        assert found.m_as(wanted.units) == pytest.approx(wanted.m, rel=1e-6)


def test_a_gauge_for_a_thickness_is_answered_with_the_tables():
    """0.0336 in zinc-coated, 0.0299 in uncoated, as the printed tables round them."""
    with pytest.raises(plan.JobFaults) as refusal:
        plan.job(SHORT | {"sheet.thickness": "22 ga"}, MINE)
    told = str(refusal.value)
    assert "gauge = 22" in told
    assert "galvanized_steel (0.853 mm)" in told and "uncoated_steel (0.759 mm)" in told
    with pytest.raises(plan.JobFaults, match="sheet.gauge_table: is missing.*galvanized_steel"):
        plan.job(SHORT | {"sheet.gauge": "22 ga"}, MINE)


# A blank that wastes time


def test_a_wasteful_blank_is_answered_with_a_closer_one():
    """A 120 mm square round a 100 mm disc: its corners stand 34.9 mm out, at 0.2 mm a pass."""
    found = judged(SHORT | {"blank.side": "120 mm"})
    reason = found.reason("blank")
    assert reason.holds == "yes"
    (change,) = reason.changes
    closer = found.job.changed(change.entries)
    all_of_them, left = len(found.job.passes), len(closer.passes)
    assert f"{all_of_them - left} of {all_of_them} passes" in change.sentence
    assert len(found.job.passes) == 175 and len(closer.passes) < 40
    assert judged(SHORT | {"cut.depth": "1 mm"}).reason("blank") is None


def test_what_a_closer_blank_saves_is_said_first_in_verdict_changes_write_up_and_card(tmp_path):
    found = judged(PLAIN | {"cut.depth": "0.05 mm"}, None)
    saving = found.reason("blank").changes[0].sentence
    assert found.holds == "yes" and found.changes[0].sentence == saving
    assert found.verdict.startswith(f"Ready to turn. {saving}")
    assert found.mends[0][1] == saving
    for page in (write_up.write(found.job, tmp_path), write_up.write_card(found.job, tmp_path)):
        assert saving in page.read_text(encoding="utf-8")
    weak = judged(PLAIN | {"cut.depth": "0.05 mm", "thrust.force": "100 N"}, None)
    assert weak.verdict.startswith("Not yet. It holds") and weak.verdict.endswith(saving)
    turned = judged(PLAIN | {"cut.depth": "0.05 mm", "about.state": "turned"}, None)
    assert saving not in turned.verdict


def test_the_panel_of_passes_says_of_a_closer_blank_what_the_job_says():
    scene = passes_scene()
    wide = {"disc_diameter": "100 mm", "across": "104 mm", "depth": "0.05 mm"}
    verdict = scene.look(scene.given() | wide | {"corners": 6}).view.verdict
    found = judged(PLAIN | {"cut.depth": "0.05 mm"}, None)
    assert verdict.endswith(found.changes[0].sentence.rstrip("."))


def test_a_closer_blank_is_told_in_inch():
    found = judged(SHORT | {"blank.side": "5 in"}, INCH)
    assert " in across the flats" in found.reason("blank").changes[0].sentence


def test_both_ends_of_the_usual_speeds_are_told_in_one_unit():
    """By hand: 27 and 76 m/min are 88.6 and 249.3 ft/min, at 0.3048 m to the foot."""
    entries = {**SHORT, "sheet.material": "galvanized_steel", "cut.tool": "hss"}
    metric, inch = (judged(entries, mine).reason("speed") for mine in (MINE, INCH))
    assert "; 27 to 76 m/min is usual" in metric.sentence
    assert re.search(r"; 8[89] to 249 ft/min is usual", inch.sentence)


def test_a_facing_of_unknown_thickness_leaves_rim_and_ringing_open():
    """Clamped, as the sum would have it, no rim bends less and none rings higher."""
    entries = {key: value for key, value in PLAIN.items() if key != "pad.facing_thickness"}
    del entries["rim.bend_allowed"]
    found = plan.assess(plan.job(entries), draws=0)
    assert found.holds == "open"
    for about in ("rim", "ringing"):
        assert not found.reason(about).known and "thick" in found.reason(about).sentence
    told = [each.sentence for each in found.changes]
    assert len(told) == len(set(told)) and any("pad.facing_thickness" in each for each in told)
