"""Job files: what is wrong is named by its key, and nothing but a refusal ever comes of it."""

import os
import re
import tempfile
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.house.thorough import among
from tests.plan.job_cases import COVER, FILES, FOLDER, quietly
from workshop_lib import plan
from workshop_lib.quantities import InputError

GOOD = COVER.read_text(encoding="utf-8")
LONGEST = 10.0  # seconds of this process: what grows with the square of a file takes minutes


def test_the_jobs_of_the_scenario_are_those_of_the_scenario():
    # design.md, section 8
    found = {path.stem: plan.load(path) for path in FILES}
    sizes = {name: round(job["disc.diameter"].m_as("mm"), 9) for name, job in found.items()}
    assert sorted(sizes.values()) == [64, 78, 112, 150]
    by_size = {sizes[name]: job for name, job in found.items()}
    assert by_size[78]["sheet.material"] == "stainless_steel" and by_size[78]["sheet.gauge"] == 24
    assert by_size[112]["sheet.material"] == "galvanized_steel"
    assert by_size[112]["sheet.gauge"] == 18
    assert by_size[64]["sheet.material"] == "phenolic_laminate"
    assert by_size[64].thickness.m_as("mm") == 1.6
    assert by_size[150]["sheet.material"] == "acrylic"
    assert by_size[150].thickness.m_as("mm") == 2


def test_lesson_06_finds_the_demonstration_from_any_folder_and_a_learners_own_file_first(
    tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    assert plan.load(f"jobs/{COVER.name}").file == COVER
    (tmp_path / "jobs").mkdir()
    own = tmp_path / "jobs" / COVER.name
    own.write_text(GOOD, encoding="utf-8")
    assert plan.load(f"jobs/{COVER.name}").file == own
    with pytest.raises(InputError, match="cannot be read"):
        plan.load("jobs/no_such_job.toml")


# Files that are no job


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("title = \n", 1),
        ("format = 3\n[disc\n", 2),
        ("[disc]\ndiameter = 78 mm\n", 2),
        ("[disc]\ndiameter = '78 mm'\ndiameter = '79 mm'\n", 3),
        ("[disc]\n[disc]\n", 2),
        ('[disc]\nx = """\n\n', 4),
        ("a = [1,\n2,\n", 3),
        ("\n\n= 1", 3),
    ],
)
def test_a_slip_in_the_writing_is_named_by_its_line(text, line):
    with pytest.raises(InputError) as refusal:
        plan.parse(text, "cover.toml")
    assert re.match(rf"cover\.toml, line {line}: ", str(refusal.value))


def test_what_is_not_utf8_is_named_by_its_line(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"format = 3\n[about]\ntitle = 'caf\xe9'\n")
    with pytest.raises(InputError, match=r"job\.toml, line 3: .*UTF-8"):
        plan.load(path)


@pytest.mark.parametrize(
    "encode",
    [
        lambda text: text.encode("utf-8-sig"),
        lambda text: text.replace("\n", "\r\n").encode(),
        lambda text: text.replace("\n", "\r\n").encode("utf-8-sig"),
    ],
)
def test_marks_and_line_ends_of_other_systems_do_no_harm(tmp_path, encode):
    path = tmp_path / "job.toml"
    path.write_bytes(encode(GOOD))
    job = plan.load(path)
    assert job.values == plan.parse(GOOD).values
    plan.save(job, path)
    assert list(tmp_path.iterdir()) == [path], "it is the same job: nothing need be kept beside it"
    assert plan.load(path).values == job.values


def test_a_folder_a_missing_file_and_a_name_that_is_none_are_refused(tmp_path):
    for path in (tmp_path, tmp_path / "none.toml", tmp_path / "none" / "none.toml", "a\0b", ""):
        with pytest.raises(InputError):
            plan.load(path)
    for strange in (None, 5, b"job.toml", ["job.toml"]):
        with pytest.raises(InputError, match="path"):
            plan.load(strange)


BOMBS = {
    "nested": "x = " + "[" * 100_000,
    "nested and closed": "x = " + "[" * 5000 + "]" * 5000,
    "nested in an old format": "format = 1\nx = " + "[" * 300 + "]" * 300,
    "nested tables": "x = " + "{a=" * 5000,
    "dotted": "a." * 60_000 + "b = 1",
    "dotted heading": "[" + "a." * 60_000 + "b]",
    "dotted inline": "x = {" + "a." * 60_000 + "b = 1}",
    "many parts": "".join(f"k{n} = 1\n" for n in range(20_000)),
    "many entries": "[disc]\n" + "".join(f"k{n} = 1\n" for n in range(20_000)),
    "many tests": "[run_out]\ntests = [" + "{where = 'x'}," * 15_000 + "]",
    "many corners": "[blank]\noutline = [" + "['1 mm', 1]," * 18_000 + "]",
    "a long number": "format = " + "9" * 200_000,
    "a long hexadecimal": "format = 0x" + "f" * 200_000,
    "a long text": f"[about]\ntitle = '{'x' * 200_000}'",
    "a long word": "x" * 240_000,
    "too long": "#" * 1_000_000,
}


@pytest.mark.parametrize("text", BOMBS.values(), ids=BOMBS)
def test_a_file_that_was_made_to_break_it_is_refused_before_it_grows(text):
    begin = time.process_time()
    with pytest.raises(InputError) as refusal:
        plan.parse(text)
    assert time.process_time() - begin < LONGEST
    assert len(str(refusal.value)) < 10_000


def test_a_file_that_is_too_large_is_not_even_read(tmp_path):
    path = tmp_path / "huge.toml"
    with path.open("wb") as file:
        file.truncate(10**10)
    with pytest.raises(InputError, match="too large"):
        plan.load(path)


def test_a_pipe_is_not_waited_for(tmp_path):
    if not hasattr(os, "mkfifo"):
        pytest.skip("no named pipes here")
    os.mkfifo(tmp_path / "job.toml")
    with pytest.raises(InputError, match="is not a file"):
        plan.load(tmp_path / "job.toml")


# Earlier formats

OLD = """# mine
format = 1

[about]
title = "Old"  # stays

[sheet]
material = "brass"
thickness = "1 mm"

[blank]
side = "90 mm"

[disc]
diameter = "78 mm"

[pad]  # one size
# the pad's size
diameter = "70 mm"
thrust = "900 N"
facing = "leather"

[cut]
depth = "0.2 mm"
feed = "0.1 mm/rev"
speed = "100 rev/min"
"""


def test_a_file_of_the_first_format_loads_and_its_comments_stay(tmp_path):
    path = tmp_path / "old.toml"
    path.write_text(OLD)
    job = plan.load(path)
    assert job["pad.outer_diameter"].m_as("mm") == 70
    assert job["thrust.force"].m_as("N") == 900
    plan.save(job, path)
    text = path.read_text()
    for comment in ("# mine", "# stays", "# one size", "# the pad's size"):
        assert comment in text
    assert "format = 3" in text and plan.load(path).values == job.values
    assert (tmp_path / "old.kept-1.toml").read_text() == OLD


SECOND = """format = 2
[about]
title = "Second"
[sheet]
material = "brass"
thickness = "1 mm"
[disc]
diameter = "78 mm"
[pad]
outer_diameter = "70 mm"
facing = "leather"
[thrust]
force = "900 N"
[cut]
speed = "100 rev/min"
[measured]
# it did
slipped = {}
disc_diameter = "78 mm"
"""


@pytest.mark.parametrize("slipped", ["true", "false"])
def test_a_file_of_the_second_format_tells_its_slip_as_an_attempt(slipped, tmp_path):
    path = tmp_path / "second.toml"
    path.write_text(SECOND.format(slipped))
    job = plan.load(path)
    (one,) = plan.attempts(job)
    assert one.slipped is (slipped == "true") and one.happened
    plan.save(job, path)
    text = path.read_text()
    assert "format = 3" in text and "[[attempt]]" in text and "# it did" in text
    assert plan.load(path).values == job.values
    with pytest.raises(plan.JobFaults, match="slipped"):
        plan.parse(SECOND.format('"no"'))


@pytest.mark.parametrize("number", ["4", "99", "9" * 1000])
def test_a_newer_format_is_refused_in_words(number):
    with pytest.raises(InputError, match="^job: format: .*newer than"):
        plan.parse(GOOD.replace("format = 3", f"format = {number}"))


@pytest.mark.parametrize("number", ["0", "-1", "2.0", "true", "'2'", "[2]", "{a = 2}", "nan"])
def test_what_is_no_format_is_refused_in_words(number):
    with pytest.raises(InputError, match="^job: format: .*not a format"):
        plan.parse(GOOD.replace("format = 3", f"format = {number}"))


def test_without_a_format_it_is_the_newest():
    text = GOOD.replace("format = 3\n", "")
    assert plan.parse(text).values == plan.parse(GOOD).values


# Whatever is done to a good file

VALUES = st.one_of(
    st.sampled_from(
        [
            "1", "-1", "0", "1e400", "nan", "-inf", "true", "''", "'1 mm'", "'0 mm'", "'-3 N'",
            "'1e9 mm'", "'1e-9 mm'", "'1e300 mm'", "[]", "{}", "[[]]", "[1, 'a', {b = 1}]",
            "1979-05-27", "07:32:00", "1979-05-27T07:32:00Z", "'☃'", '"\\u0000"', "'10 kN'",
            "'0.5 in'", "'90 deg'", "'7000 rev/min'", "9" * 400,
            "['1 mm', '2 mm', '3 mm']", "['1 N', '2 N', '3 N']", "[0.1, 0.2, 0.3]",
            "[['0 mm', '0 mm'], ['100 mm', '0 mm'], ['0 mm', '100 mm']]",
        ]
    ),
    st.text(max_size=20).map(repr),
    st.floats().map(repr),
    st.integers().map(str),
)  # fmt: skip
LINES = GOOD.splitlines()
ENTRY_LINES = [n for n, line in enumerate(LINES) if re.match(r"\w+ = [^\[]*$", line)]


@st.composite
def mutated(draw):
    """A good file with some lines taken out, doubled, moved, cut short or given another value."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.sampled_from(ENTRY_LINES))
        kind = draw(st.sampled_from(["value", "value", "value", "drop", "double", "cut", "insert"]))
        line = lines[place]
        if kind == "value":
            lines[place] = f"{line.partition(' = ')[0] or 'x'} = {draw(VALUES)}"
        elif kind == "drop":
            lines[place] = ""
        elif kind == "double":
            lines[draw(st.integers(0, len(lines) - 1))] += f"\n{line}"
        elif kind == "cut":
            lines[place] = line[: draw(st.integers(0, len(line)))]
        else:
            lines[place] += draw(st.text(max_size=8))
    return "\n".join(lines)


def outcome(text):
    begin = time.process_time()
    try:
        found = quietly(plan.parse, text)
    except InputError as refusal:
        found = None
        assert str(refusal)
        assert all(line.isprintable() for line in str(refusal).splitlines())
        assert isinstance(refusal, plan.JobFaults) or refusal.name
    assert time.process_time() - begin < LONGEST
    return found


@settings(max_examples=among(60, 250))
@given(mutated())
def test_whatever_is_done_to_a_good_file_it_loads_or_is_refused_in_words(text):
    job = outcome(text)
    if job is not None:
        assert job.passes.worst.margin >= 0


@settings(max_examples=among(25, 100))
@given(st.text(max_size=200))
def test_whatever_is_typed_into_a_file_it_is_refused_in_words(text):
    assert outcome(text) is None


@settings(max_examples=among(25, 100))
@given(st.binary(max_size=200))
def test_whatever_bytes_are_in_a_file_it_is_refused_in_words(data):
    with tempfile.TemporaryDirectory() as folder:
        path = f"{folder}/job.toml"
        with open(path, "wb") as file:
            file.write(data)
        with pytest.raises(InputError):
            plan.load(path)


def test_every_job_that_comes_with_the_workbook_has_its_comments_and_format():
    for path in FOLDER.iterdir():
        text = path.read_text(encoding="utf-8")
        assert path.suffix == ".toml" and text.startswith("#") and "\nformat = 3\n" in text
