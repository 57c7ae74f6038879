"""A job written up: what the page says agrees with the assessment, and nothing is missing."""

import re

import pytest

from tests.plan.job_cases import FILES, SCREW, full, plain
from workshop_lib import plan, write_up
from workshop_lib.materials import facings, friction
from workshop_lib.plan.reasons import brief
from workshop_lib.quantities.rounding import times_over
from workshop_lib.write_up.contents import contents
from workshop_lib.write_up.doing import CAUTIONS, measured_rows, steps
from workshop_lib.write_up.page_parts import Cautions, Heading, Listed, Picture, References, Table

STEMS = [path.stem for path in FILES]
EACH_JOB = pytest.mark.parametrize("path", FILES, ids=STEMS)


def parts_of(job):
    return contents(plan.assess(job, draws=2000))


def headings(parts):
    return [part.words for part in parts if isinstance(part, Heading)]


def table(parts, heading):
    """The rows of the first table below a heading."""
    below = parts[headings_at(parts).index(heading) + 1 :]
    return next(part for part in below if isinstance(part, Table)).rows


def headings_at(parts):
    return [part.words if isinstance(part, Heading) else None for part in parts]


def said(parts):
    """Everything that a write-up says, in one text."""
    found = []
    for part in parts:
        found += [str(value) for value in vars(part).values()]
    return "\n".join(found)


@EACH_JOB
def test_the_parts_stand_in_their_order(path):
    found = headings(parts_of(plan.load(path)))
    wanted = ["The set-up", "Before you start", "Steps, in order", "Does it hold?"]
    wanted += ["How sure is that?", "What was checked", "Default values used", "Sources"]
    assert found[0] in ("What was made, and why", "What is to be made, and why")
    places = [found.index(each) for each in wanted]
    assert places == sorted(places)


def test_a_turned_job_tells_what_was_measured_and_what_went_wrong():
    found = headings(parts_of(full()))
    for wanted in ("Computed against measured", "Run-out", "What went wrong, and why", "Remarks"):
        assert wanted in found and found.index(wanted) < found.index("Does it hold?")
    bare = headings(parts_of(plain()))
    for absent in ("Computed against measured", "Run-out", "What went wrong, and why", "Remarks"):
        assert absent not in bare


@EACH_JOB
def test_numbers_agree_with_the_assessment(path):
    job = plan.load(path)
    found = plan.assess(job, draws=2000)
    parts = contents(found)
    rows = dict(table(parts, "Does it hold?"))
    assert (
        rows["Margin at low friction"] == f"{times_over(found.reason('hold').value)} times the load"
    )
    assert rows["Worst pass"] == f"{job.passes.worst.number} of {len(job.passes)}"
    just = job.changed({"thrust.force": rows["Thrust that would just hold"]})
    if job.measured_thrust is None and job["thrust.uncertainty"] is None:
        assert 1 <= float(just.passes.worst.margin) == pytest.approx(1, rel=0.05)
    asked = table(parts, "What was checked")
    assert [row[2] for row in asked] == [reason.sentence for reason in found.reasons]


@EACH_JOB
def test_no_raw_key_is_told_to_a_reader(path):
    words = said(parts_of(plan.load(path)))
    for raw in ("hss", "stainless_steel", "galvanized_steel", "moulded_lining", "pressure_nose"):
        assert not re.search(rf"(?<![\w/]){raw}(?![\w/])", words)


@EACH_JOB
def test_every_picture_has_a_sentence_with_its_number(path):
    pictures = [part for part in parts_of(plan.load(path)) if isinstance(part, Picture)]
    assert len(pictures) >= 6 and len({each.name for each in pictures}) == len(pictures)
    for each in pictures:
        assert re.search(r"\d", each.figure.text()), each.name
        assert each.caption.endswith(".")


@EACH_JOB
def test_the_steps_name_the_sizes_of_this_job(path):
    job = plan.load(path)
    words = " ".join(steps(job))
    for key in ("disc.diameter", "pad.outer_diameter", "cut.speed"):
        assert f"{job[key].m:g} " in words
    assert "clock" in words and "stop" in words.lower()


def test_the_steps_count_rough_and_finishing_passes():
    job = plain(cut__finishing_depth="0.1 mm")
    # corner 60.04 mm: (60.04 - 50.1) / 0.2 = 49.7, so 50 rough passes and one more
    assert "50 passes of 0.2 mm" in " ".join(steps(job)) and len(job.passes) == 51
    assert "one of 0.1 mm" in " ".join(steps(job))
    assert "51 passes" in " ".join(steps(plain()))  # (60.04 - 50) / 0.2 = 50.2


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "squeeze with 800 N"),
        (
            {"measured__scale_readings": ["790 N", "805 N", "805 N"]},
            "pull the handle",
        ),
        (
            {"thrust__force": None, "thrust__handwheel_torque": "5 N m", "thrust__screw": SCREW},
            "turn the handwheel with 5 N·m",
        ),
    ],
)
def test_the_squeeze_is_told_as_it_is_made(changes, words):
    assert words in " ".join(steps(plain(**changes)))


def test_a_screw_is_told_with_its_efficiency():
    job = plain(thrust__force=None, thrust__handwheel_torque="5 N m", thrust__screw=SCREW)
    rows = dict(table(parts_of(job), "The set-up"))
    share = 100 * job.thrust.m_as("N") * 0.004 / (2 * 3.14159265 * 5)  # N l / (2 pi T)
    assert f"{brief(share)} % of the work" in rows["Tailstock screw"]


def test_the_usual_cautions_are_there_and_those_of_the_sheet():
    sheets = {"aluminium": None, "phenolic_laminate": "laminate dust", "pvc": "acid fumes"}
    for sheet, dust in sheets.items():
        job = plain(sheet__material=sheet)
        found = next(part for part in parts_of(job) if isinstance(part, Cautions)).sentences
        assert set(CAUTIONS) <= set(found)
        assert dust is None or any(dust in each for each in found)


def test_whoever_turns_by_hand_or_clocks_isolates_and_takes_the_indicator_away():
    clocking = [step for step in steps(plain()) if "clock" in step]
    assert len(clocking) == 2 and all("ndicator" in step for step in clocking)
    by_hand = [step for step in steps(plain()) if "by hand" in step]
    assert by_hand and all("isolate" in step for step in clocking + by_hand)


def test_a_plan_that_is_not_ready_says_so_before_its_steps():
    parts = parts_of(plain(thrust__force="150 N"))
    first = next(part for part in parts if isinstance(part, Cautions)).sentences[0]
    assert "is not ready" in first
    rows = table(parts, "What to change")
    asked = [row[1] for row in rows if row[0] == "Does friction hold?"]
    assert any(each.startswith("Press ") for each in asked)
    assert not any(" 200 N" in each for each in asked)
    assert "not ready" not in said(parts_of(plain()))


def test_what_was_computed_stands_beside_what_was_measured():
    rows = {row[0]: row[1:] for row in measured_rows(full())}
    # AWG 18 is 0.0403 in = 1.024 mm; the readings' mean is 1.02 mm
    assert rows["Thickness by the gauge number"][:2] == ("1.02 mm", "1.02 mm")
    assert rows["Diameter of the disc"] == ("100.0 mm", "99.90 mm", "−0.10 mm")
    assert rows["Slip"][1] == "none"
    # fit of 20, 0, -20, 0 µm is an offset of 20 µm: indicator total 40 µm; 2 thou are allowed
    assert rows["Run-out of the disc"] == ("2 thou allowed", "0.04 mm", "within it")
    # the mean of 790, 805 and 810 N is 801.7 N
    assert rows["Thrust"][0] == "800 N" and rows["Thrust"][1].startswith("802 N ±")
    slipped = measured_rows(
        full().changed({"attempt": [{"happened": "It turned.", "slipped": True}]})
    )
    assert slipped[-1][2:] == ("it slipped", "see why")


def test_attempts_are_told_in_their_order_and_the_last_one_is_the_pages():
    parts = parts_of(full())
    found = headings(parts)
    at = found.index("What happened: 2 attempts")
    assert found[at + 1 : at + 3] == ["Attempt 1: it slipped", "Attempt 2: it held"]
    first, last = (dict(table(parts, found[at + n])) for n in (1, 2))
    assert "0.4 mm" in first["Set"] and "500 N" in first["Set"]
    assert (first["Happened"], first["Then changed"]) == ("A corner caught.", "Cut half as deep.")
    margin = times_over(float(full().passes.worst.margin))
    assert last["By calculation"].startswith(f"it holds {margin} times")
    assert not any(each.startswith("What happened") for each in headings(parts_of(plain())))


def test_what_went_wrong_stands_with_why_and_how_it_was_mended():
    rows = table(parts_of(full()), "What went wrong, and why")
    assert rows == (("It rang.", "Too fast.", "Slower."),)


@EACH_JOB
def test_every_source_has_its_standing(path):
    found = next(part for part in parts_of(plan.load(path)) if isinstance(part, References))
    assert len(found.rows) > 8
    assert {row[1] for row in found.rows} <= {"published", "common practice", "from memory"}
    assert all(all(row) for row in found.rows)


def test_what_was_left_out_is_told_in_words():
    rows = dict(table(parts_of(plain()), "Default values used"))
    assert rows["State of the pad facing"] == "dry" and rows["Tool"] == "high-speed steel"
    assert rows["How the thrust spreads"] == "evenly"
    assert "Default values used" not in headings(parts_of(full()))


def test_lists_are_numbered_where_order_counts():
    lists = [part for part in parts_of(full()) if isinstance(part, Listed)]
    assert [part.numbered for part in lists if len(part.sentences) == 10] == [True]


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("../../x", "x"),
        ("/etc/passwd", "etc_passwd"),
        (r"C:\x", "c_x"),
        ("CON", "job_con"),
        ("nul", "job_nul"),
        ("COM1", "job_com1"),
        ("🔩🔩", "job"),
        ("...", "job"),
        ("a" * 150, "a" * 60),
        ("Größe", "groe"),
        ("A lid. ", "a_lid"),
        ("-rf *", "rf"),
    ],
)
def test_a_title_becomes_the_name_of_a_file_in_the_folder(title, name, tmp_path):
    assert write_up.file_name(title) == (name if title != "Größe" else write_up.file_name("Große"))
    if not {"/", "\\"} & set(title):
        return  # the others name no other folder
    job = plain(about__title=title)
    for form in write_up.FORMS:
        path = write_up.write(job, tmp_path, form)
        assert tmp_path in path.parents and path.stem == write_up.file_name(title)


@EACH_JOB
def test_the_preview_is_the_head_of_the_page(path):
    job = plan.load(path)
    shown = write_up.preview(job).text()
    assert shown.startswith(job["about.title"])
    assert plan.assess(job, draws=0).verdict in shown
    parts = contents(plan.assess(job, draws=0))
    for part in parts[: parts.index(Heading("The set-up"))]:
        said = part.figure.text() if isinstance(part, Picture) else getattr(part, "words", "")
        assert said in shown
    assert "Before you start" not in shown and "The set-up cut along the axis" not in shown


def test_a_plan_that_nothing_holds_is_written_up_all_the_same():
    parts = parts_of(plain(pad__friction=[0, 0, 0]))
    rows = dict(table(parts, "Does it hold?"))
    assert rows["Margin at low friction"] == "0 times the load"
    assert rows["Thrust that would just hold"] == "none"


def test_oil_takes_from_some_facings_half_of_the_hold_and_more_as_the_cautions_say():
    left = {}
    for facing in facings():
        dry, oily = (friction(facing, "stainless_steel", each).low for each in ("dry", "oily"))
        left[facing.key] = oily / dry
    assert min(left.values()) < 0.5 < max(left.values())  # not from all of them
    assert left["leather"] < 0.5  # lesson 03 says so of its own
    assert any("half of the hold" in each for each in CAUTIONS)
