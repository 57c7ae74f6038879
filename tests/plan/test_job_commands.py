"""The commands `assess` and `write-up`: what they print and what they end with."""

import re
import subprocess
import sys

import pytest

from tests.plan.job_cases import COVER, FILES, plain
from workshop_lib import plan
from workshop_lib.launcher.environment import ROOT
from workshop_lib.plan.assess_command import main as assess
from workshop_lib.write_up.publish import main as write_up


@pytest.fixture
def weak(tmp_path):
    """A job that slips."""
    path = tmp_path / "weak.toml"
    text = COVER.read_text(encoding="utf-8")
    path.write_text(text.replace("scale_readings", "# readings").replace("scale_grad", "# grad")
                    .replace('"1000 N"', '"100 N"'), encoding="utf-8")  # fmt: skip
    return path


def test_jobs_that_are_ready_end_with_nought(capsys):
    assert assess([str(path) for path in FILES]) == 0
    said = capsys.readouterr()
    assert said.out.count("It holds") == 2 * len(FILES) and not said.err
    assert re.search("how sure: No slip .*100 000", said.out)


@pytest.mark.parametrize("thrust", ["100 N", "550 N"])
def test_no_draws_are_told_where_the_hold_is_not_good(thrust, tmp_path, capsys):
    path = tmp_path / "plain.toml"
    plan.save(plain(thrust__force=thrust), path)
    found = plan.assess(plan.load(path), draws=2000)
    assert found.chance is not None and found.reason("hold").holds != "yes"
    assert assess([str(path)]) == 1
    said = capsys.readouterr().out
    assert "draws" not in said and "how sure" not in said
    assert write_up([str(path)]) == 0
    page = path.with_suffix(".html").read_text(encoding="utf-8")
    assert "draws" not in page and "How sure is that?" not in page


def test_a_job_that_is_not_ready_ends_with_one_and_says_what_to_change(weak, capsys):
    assert assess([str(COVER), str(weak)]) == 1
    said = capsys.readouterr().out
    assert re.search("does not hold.*: at pass 1", said)
    assert "change: Press with" in said


def test_a_file_that_cannot_be_read_ends_with_two_and_the_others_are_judged(weak, capsys):
    bad = weak.with_name("bad.toml")
    bad.write_text("[disc]\ndiameter = 78\n")
    none = weak.with_name("none.toml")
    assert assess([str(bad), str(none), str(COVER)]) == 2
    said = capsys.readouterr()
    assert "bad.toml: " in said.err and "disc.diameter: ‘78’ has no unit" in said.err
    assert re.search(r"none\.toml: cannot be read .*No such file", said.err)
    assert re.search("tide gauge: .*sound plan", said.out)
    assert "Traceback" not in said.err


@pytest.mark.parametrize("command", [assess, write_up])
def test_without_a_file_the_use_is_told(command, capsys):
    with pytest.raises(SystemExit) as end:
        command([])
    assert end.value.code == 2 and "usage" in capsys.readouterr().err


def test_pages_are_written_beside_the_job_or_where_they_are_wanted(weak, tmp_path, capsys):
    there = tmp_path / "there"
    there.mkdir()
    assert write_up([str(weak)]) == 0
    assert write_up([str(COVER), str(FILES[1]), "--folder", str(there), "--form", "markdown"]) == 0
    assert (tmp_path / "weak.html").is_file()
    pages = sorted(path.relative_to(there).as_posix() for path in there.glob("*/*.md"))
    assert pages == sorted(f"{path.stem}/{path.stem}.md" for path in (COVER, FILES[1]))
    assert capsys.readouterr().out.count(": written") == 3


def test_of_two_jobs_with_one_title_each_has_its_page(weak, capsys):
    twin = weak.with_name("twin.toml")
    twin.write_bytes(weak.read_bytes())
    assert write_up([str(weak), str(twin)]) == 0
    assert weak.with_suffix(".html").is_file() and twin.with_suffix(".html").is_file()
    said = capsys.readouterr().out.splitlines()
    assert [line.endswith(".html: written.") for line in said] == [True, True]


def test_of_two_jobs_with_one_file_name_the_second_page_has_a_number_and_it_is_said(
    weak, tmp_path, capsys
):
    other, pages = tmp_path / "other", tmp_path / "pages"
    other.mkdir()
    pages.mkdir()
    (other / weak.name).write_bytes(weak.read_bytes())
    jobs = [str(weak), str(other / weak.name), "--folder", str(pages)]
    for _ in range(2):  # the second time each replaces its own
        assert write_up(jobs) == 0
        assert sorted(path.name for path in pages.iterdir()) == ["weak.html", "weak_2.html"]
        first, second = capsys.readouterr().out.splitlines()
        assert first.endswith("weak.html: written.")
        assert re.search(r"weak_2\.html: written\. weak\.html .*not come from this job", second)


def test_what_cannot_be_written_up_ends_with_two(tmp_path, capsys):
    assert write_up([str(tmp_path / "none.toml")]) == 2
    assert write_up([str(COVER), "--folder", str(COVER)]) == 2
    said = capsys.readouterr().err
    assert "none.toml: cannot be read" in said and f"‘{COVER.name}’ is not a folder" in said
    with pytest.raises(SystemExit) as end:
        write_up([str(COVER), "--form", "pdf"])
    assert end.value.code == 2
    assert list(tmp_path.iterdir()) == []


def test_both_stand_on_the_command_line(tmp_path):
    def run(*arguments):
        code = "import sys\nfrom workshop_lib.launcher.commands import COMMANDS\n"
        code += "import importlib\nname, *rest = sys.argv[1:]\n"
        code += "sys.exit(importlib.import_module(COMMANDS[name].module).main(rest))"
        return subprocess.run(
            [sys.executable, "-W", "error", "-c", code, *arguments],
            cwd=ROOT,
            capture_output=True,
            encoding="utf-8",
            env={"PYTHONIOENCODING": "utf-8", "PATH": ""},
        )

    judged = run("assess", str(COVER))
    assert judged.returncode == 0 and "A sound plan" in judged.stdout and not judged.stderr
    written = run("write-up", str(COVER), "--folder", str(tmp_path))
    assert written.returncode == 0 and not written.stderr
    assert [path.suffix for path in tmp_path.iterdir()] == [".html"]
    assert run("assess", str(tmp_path / "none.toml")).returncode == 2
