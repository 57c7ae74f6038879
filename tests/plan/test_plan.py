"""Jobs saved and loaded: nothing typed is lost, whatever happens on the way."""

import os
import random
import signal
import subprocess
import sys
import textwrap
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.house.thorough import among, only_thorough
from tests.plan.job_cases import COVER, FILES, OTHER_WAYS, full, plain
from workshop_lib import plan
from workshop_lib.launcher.environment import ROOT
from workshop_lib.own_files import as_typed, plainly, toml_files
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.plan.job_file import parse, written
from workshop_lib.quantities import Q_, InputError, Quantity, parse_unit, read
from workshop_lib.quantities.kinds import KINDS

GOOD = COVER.read_text(encoding="utf-8")


# Round trip


def test_the_cases_fill_every_entry():
    ways = [full().values, *(full(way).values for way in OTHER_WAYS)]
    of_a_shop = {"pad.name", "nose.name", "thrust.pull", "thrust.turn"}  # see test_job_in_shop
    assert set().union(*ways) == set(ENTRIES) - of_a_shop


@pytest.mark.parametrize("way", [None, *OTHER_WAYS])
def test_every_entry_comes_back_from_its_file(way, tmp_path):
    job = full(way)
    again = plan.load(plan.save(job, tmp_path / "job.toml"))
    assert plainly(again.values) == plainly(job.values)
    assert again.values == job.values
    assert again.passes.worst.margin == job.passes.worst.margin


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_saving_an_unchanged_job_changes_no_letter(path, tmp_path):
    copy = tmp_path / path.name
    copy.write_bytes(path.read_bytes())
    plan.save(plan.load(copy), copy)
    assert copy.read_bytes() == path.read_bytes()
    assert list(tmp_path.iterdir()) == [copy]


TYPED = [(kind, unit) for kind in KINDS for unit in KINDS[kind].units.values() if unit]


@pytest.mark.parametrize(("kind", "unit"), sorted(set(TYPED)))
@given(number=st.floats(1e-3, 900))
@settings(max_examples=among(5, 15))
def test_a_quantity_is_written_so_that_it_reads_as_the_same(kind, unit, number):
    if kind in ("ratio", "density", "mass", "time", "area", "pressure", "stiffness", "frequency"):
        return  # no entry of a job is one of these
    if (kind, unit) in (("feed", "inch"), ("feed", "mm")):
        number /= 100
    q = Quantity(number, parse_unit(unit))
    if q.m_as(KINDS[kind].core) > KINDS[kind].largest:
        return
    again = read(as_typed(q), kind)
    assert again.m == number or again.m_as(q.units) == pytest.approx(number, rel=1e-15)


LENGTHS = st.floats(0.01, 500).map(lambda n: Q_(n, "mm")) | st.floats(0.001, 9).map(
    lambda n: Q_(n, "inch")
)
TOTALS = st.floats(0.001, 5).map(lambda n: Q_(n, "mm"))
TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cf", "Zs", "Zl", "Zp", "Co", "Cn"]))
HARMLESS = {  # entries that may take any value without making the job impossible
    "about.purpose": TEXTS,
    "about.made_by": TEXTS,
    "notes.remarks": st.lists(TEXTS, min_size=1, max_size=4),
    "notes.went_wrong": st.lists(
        st.fixed_dictionaries({"what": TEXTS}, optional={"why": TEXTS, "mended": TEXTS}),
        min_size=1,
        max_size=3,
    ),
    "rim.bend_allowed": LENGTHS,
    "run_out.allowed": LENGTHS,
    "attempt": st.lists(
        st.fixed_dictionaries(
            {"happened": TEXTS},
            optional={
                "changed": TEXTS,
                "slipped": st.booleans(),
                "set": st.fixed_dictionaries({}, optional={"cut.depth": LENGTHS}),
            },
        ),
        min_size=1,
        max_size=3,
    ),
    "cut.margin": st.floats(0.1, 9) | st.integers(1, 9),
    "cut.feed": st.floats(0.01, 0.3).map(lambda n: Q_(n, "mm")),
    "cut.speed": st.floats(1, 3000).map(lambda n: Q_(n, "rpm")),
    "thrust.force": st.floats(1, 5000).map(lambda n: Q_(n, "N")),
    "sheet.thickness": st.floats(0.1, 5).map(lambda n: Q_(n, "mm")),
    "cut.approach_angle": st.floats(30, 90).map(lambda n: Q_(n, "deg")),
    "run_out.tests": st.lists(
        st.fixed_dictionaries({"where": st.sampled_from(["disc", "pad"]), "total": TOTALS}),
        min_size=1,
        max_size=3,
    ),
}
CHANGES = st.fixed_dictionaries({}, optional=HARMLESS)
REMOVABLE = st.lists(st.sampled_from([key for key in HARMLESS if not key.startswith("thrust")]))
EACH_TEXT = pytest.mark.parametrize("start", [GOOD, ""], ids=["from a file", "from nothing"])


@EACH_TEXT
@given(changes=CHANGES, removed=REMOVABLE)
@settings(max_examples=among(5, 15))
def test_whatever_is_changed_comes_back_from_the_file(start, changes, removed):
    first = parse(start) if start else plain()
    optional = [key for key in removed if key in first.values and not ENTRIES[key].required]
    changes = dict.fromkeys([k for k in optional if k != "sheet.thickness"]) | changes
    job = first.changed(changes)
    again = parse(written(job))
    assert plainly(again.values) == plainly(job.values)
    for line in start.splitlines():
        if line.startswith("#") and not line.startswith(("# The job",)):
            assert line in again.text
    assert again.changed(changes).values == job.values


# Comments and order


def test_a_changed_entry_appears_in_its_place_and_all_else_stays(tmp_path):
    path = tmp_path / "cover.toml"
    path.write_text(GOOD, encoding="utf-8")
    plan.save(plan.load(path).changed({"cut.depth": "0.15 mm"}), path)
    assert path.read_text(encoding="utf-8") == GOOD.replace(
        '\ndepth = "0.1 mm"', '\ndepth = "0.15 mm"'
    )


def test_none_takes_an_entry_out_and_leaves_the_comments(tmp_path):
    path = tmp_path / "cover.toml"
    path.write_text(GOOD, encoding="utf-8")
    keys = [key for key in plan.load(path).values if key.startswith("measured.")]
    plan.save(plan.load(path).changed(dict.fromkeys(keys)), path)
    text = path.read_text(encoding="utf-8")
    assert "pull_forces" not in text and "# A pull test" in text
    assert not any(key.startswith("measured.") for key in plan.load(path).values)


def test_a_new_entry_goes_to_its_part():
    text = written(parse(GOOD).changed({"cut.approach_angle": "80 deg"}))
    parts = text.split("\n[")
    assert [part[:3] for part in parts if "approach_angle" in part] == ["cut"]


@pytest.mark.parametrize(
    "text",
    [
        GOOD.replace('[disc]\ndiameter = "78 mm"', "")
        .replace("format = 3", 'format = 3\ndisc = {diameter = "78 mm"} # mine'),
        GOOD.replace('[disc]\ndiameter = "78 mm"', "")
        .replace("format = 3", 'format = 3\ndisc.diameter = "78 mm" # mine'),
        GOOD.replace('diameter = "78 mm"', "diameter = '78 mm' # mine"),
        GOOD.replace('[disc]\ndiameter = "78 mm"', "") + '\n[disc] # mine\ndiameter = "78 mm"\n',
    ],
    ids=["inline", "dotted", "single quotes", "at the end"],
)  # fmt: skip
def test_however_a_file_is_written_it_is_changed_in_place(text):
    job = parse(text).changed({"disc.diameter": "77 mm", "cut.margin": None, "about.date": "May"})
    saved = written(job)
    assert "# mine" in saved
    assert plainly(parse(saved).values) == plainly(job.values)


def test_a_part_written_in_two_places_is_refused_or_kept_whole():
    text = GOOD.replace('[rim]\nbend_allowed = "0.05 mm"', "") + "\n[rim]\naxial_share = 0.4\n"
    text = text.replace("[nose]", "[rim.x]\n[nose]")
    with pytest.raises(InputError):
        parse(text)


def test_a_new_job_gets_a_file_that_tells_what_it_is():
    text = written(plain())
    assert text.startswith("# A job of ")
    assert "format = 3" in text
    assert parse(text).values == plain().values


# What stands there already


def test_a_file_that_changed_meanwhile_is_kept_beside(tmp_path):
    path = tmp_path / "cover.toml"
    path.write_text(GOOD, encoding="utf-8")
    job = plan.load(path)
    for number, other in enumerate(("typed in an editor", "and again"), start=1):
        path.write_text(other)
        plan.save(job.changed({"about.date": other}), path)
        assert (tmp_path / f"cover.kept-{number}.toml").read_text() == other
    assert plan.load(path)["about.date"] == "and again"


def test_another_file_and_bytes_that_are_no_text_are_kept_beside(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_bytes(b"\xff\xfe\x00precious")
    plan.save(parse(GOOD), path)
    assert (tmp_path / "mine.kept-1.toml").read_bytes() == b"\xff\xfe\x00precious"


def test_saving_twice_keeps_nothing_beside(tmp_path):
    path, job = tmp_path / "cover.toml", parse(GOOD)
    for depth in ("0.1 mm", "0.2 mm", "0.3 mm"):
        job = job.changed({"cut.depth": depth})
        plan.save(job, path)
    assert list(tmp_path.iterdir()) == [path]


def test_two_who_save_the_same_file_lose_nothing(tmp_path):
    path = tmp_path / "cover.toml"
    path.write_text(GOOD, encoding="utf-8")
    one, other = plan.load(path), plan.load(path)
    plan.save(one.changed({"cut.depth": "0.11 mm"}), path)
    plan.save(other.changed({"cut.depth": "0.12 mm"}), path)
    assert plan.load(tmp_path / "cover.kept-1.toml")["cut.depth"].m == 0.11
    assert plan.load(path)["cut.depth"].m == 0.12


def test_a_folder_that_may_not_be_written_to_is_told(tmp_path):
    folder = tmp_path / "locked"
    folder.mkdir()
    path = folder / "job.toml"
    plan.save(plain(), path)
    before = path.read_bytes()
    path.chmod(0o444)
    folder.chmod(0o555)
    try:
        if os.access(folder, os.W_OK):
            pytest.skip("this account may write everywhere")
        with pytest.raises(InputError, match="cannot be written"):
            plan.save(plain(cut__depth="0.2 mm"), path)
    finally:
        folder.chmod(0o755)
    assert path.read_bytes() == before


def test_a_place_that_is_none_is_told(tmp_path):
    for path in (tmp_path, tmp_path / "none" / "job.toml", "a\0b", None):
        with pytest.raises(InputError):
            plan.save(plain(), path)
    with pytest.raises(InputError, match="is not a job"):
        plan.save({"disc.diameter": "78 mm"}, tmp_path / "job.toml")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("call", ["replace_text", "keep_copy"])
def test_a_disk_that_fails_leaves_the_file_as_it_was(tmp_path, monkeypatch, call):
    path = tmp_path / "cover.toml"
    path.write_text("something of mine")

    def full_disk(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(toml_files, call, full_disk)
    with pytest.raises(InputError, match=r"cover\.toml: .*written .*No space"):
        plan.save(plain(), path)
    assert path.read_text() == "something of mine"


def test_a_job_that_would_not_read_back_is_not_written(tmp_path, monkeypatch):
    monkeypatch.setattr(toml_files, "as_typed", lambda q: "1 mm")
    with pytest.raises(InputError):
        plan.save(plain(), tmp_path / "job.toml")
    assert list(tmp_path.iterdir()) == []


SAVER = """
    import itertools, sys
    from workshop_lib import plan
    job = plan.load(sys.argv[1])
    print("ready", flush=True)
    for n in itertools.count(1):
        job = job.changed({"about.date": f"{n} " * 300})
        plan.save(job, sys.argv[1])
        if n == 1:
            print("saved", flush=True)
"""


@pytest.mark.skipif(os.name == "nt", reason="a kill is a POSIX matter")
@only_thorough  # the command `faults` does it to every kind of file
def test_a_process_that_is_killed_while_it_saves_leaves_a_whole_file(tmp_path):
    path, chance = tmp_path / "cover.toml", random.Random(6)
    path.write_text(GOOD, encoding="utf-8")
    for _ in range(5):
        with subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(SAVER), path], stdout=subprocess.PIPE, cwd=ROOT
        ) as saver:
            assert [saver.stdout.readline() for _ in range(2)] == [b"ready\n", b"saved\n"]
            time.sleep(chance.uniform(0, 0.3))
            saver.send_signal(signal.SIGKILL)
        job = plan.load(path)
        date = job["about.date"]
        assert len(set(date.split())) == 1 and len(date.split()) == 300
        assert "# Close to the finished" in job.text
    assert not list(tmp_path.glob("*.kept-*"))
