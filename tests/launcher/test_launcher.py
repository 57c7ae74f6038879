"""The environment that the launcher makes: when, how it heals, and what a kill does to it."""

import ast
import errno
import json
import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.thorough import only_thorough
from tests.launcher.launcher_stage import QuickEnvironment, finish, runs, start, wait_until
from workshop_lib.launcher import commands, environment, lock, trouble
from workshop_lib.launcher.environment import CHECKS, LESSONS, ROOT, Environment

PACKAGE = ROOT / "workshop_lib"
posix_only = pytest.mark.skipif(os.name == "nt", reason="signals and flock are POSIX matters")


# One command, from nothing to a running environment


@pytest.fixture(scope="module")
def whole_clone(tmp_path_factory):
    """A clone with the real launcher, venv and pip; only packages and JupyterLab are missing."""
    root = tmp_path_factory.mktemp("whole") / "wörk shop"
    shutil.copytree(PACKAGE / "launcher", root / "workshop_lib" / "launcher")
    for name in ("__init__.py", "__main__.py"):
        shutil.copy(PACKAGE / name, root / "workshop_lib" / name)
    (root / "workshop_lib" / "launcher" / "opening.py").write_text(
        "import json, os, sys\n"
        "def main(arguments):\n"
        "    print(json.dumps([sys.prefix, arguments, dict(os.environ)]))\n"
        "    return 7\n"
    )
    code = root / "workshop_lib" / "launcher" / "environment.py"
    text = code.read_text(encoding="utf-8")
    assert text.count(environment.PROOF) == 1
    code.write_text(text.replace(environment.PROOF, "pass"), encoding="utf-8")
    for name in (environment.LIBRARY, "requirements.txt"):
        (root / name).write_text("# nothing\n")
    return root


def open_workbook(root, *arguments, **variables):
    """Run the real command `open` in a clone."""
    return subprocess.run(
        [sys.executable, "-m", "workshop_lib", "open", *arguments],
        cwd=root,
        env={**os.environ, **variables},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=180,
    )


def test_one_command_makes_the_environment_and_later_ones_only_use_it(whole_clone, tmp_path):
    first = open_workbook(whole_clone, "--port=1", "a b")
    assert first.returncode == 7, first.stderr
    assert "Setting up" in first.stdout
    prefix, arguments, _ = json.loads(first.stdout.splitlines()[-1])
    assert os.path.samefile(prefix, whole_clone / ".venv")
    assert arguments == ["--port=1", "a b"]

    log = (whole_clone / ".venv" / "set-up.log").read_bytes()
    foreign = ("PYTHONPATH", "PIP_TARGET", "JUPYTER_PATH", "JUPYTER_CONFIG_PATH", "MPLBACKEND")
    settings = dict.fromkeys(foreign, str(tmp_path))
    second = open_workbook(whole_clone, **settings)
    assert second.stdout.startswith("[") and second.returncode == 7
    assert (whole_clone / ".venv" / "set-up.log").read_bytes() == log
    _, _, variables = json.loads(second.stdout)
    assert not set(settings) & set(variables)
    assert commands.HANDED_OVER not in variables


def test_the_library_is_found_from_any_folder_and_the_news_question_is_off(whole_clone, tmp_path):
    open_workbook(whole_clone)
    made = Environment(whole_clone)
    answer = subprocess.check_output(
        [made.python, "-c", "import workshop_lib; print(ascii(workshop_lib.__file__))"],
        cwd=tmp_path,
        env=made.variables(),
        text=True,
    )
    assert Path(ast.literal_eval(answer)) == whole_clone / "workshop_lib" / "__init__.py"
    settings = made.folder / "share" / "jupyter" / "lab" / "settings" / "overrides.json"
    changed = json.loads(settings.read_text())
    news = changed["@jupyterlab/apputils-extension:notification"]
    assert news == {"fetchNews": "false", "checkForUpdates": False}


def test_without_a_network_one_sentence_and_the_old_environment_stays(whole_clone):
    open_workbook(whole_clone)
    before = (whole_clone / "requirements.txt").read_text()
    (whole_clone / "requirements.txt").write_text("a-package-that-is-not-there>=1\n")
    closed = {
        "PIP_INDEX_URL": "http://127.0.0.1:9/",
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_RETRIES": "1",
        "PIP_FIND_LINKS": "",
    }
    refused = open_workbook(whole_clone, **closed)
    assert refused.returncode == commands.WRONG_USE
    assert refused.stderr.splitlines() == [trouble.NO_NETWORK[0].upper() + trouble.NO_NETWORK[1:]]
    (whole_clone / "requirements.txt").write_text(before)
    again = open_workbook(whole_clone)
    assert again.returncode == 7 and again.stdout.startswith("[")


@only_thorough
def test_started_from_inside_it_is_mended_from_outside(whole_clone):
    open_workbook(whole_clone)
    made = Environment(whole_clone)
    made.condemn()
    answer = subprocess.run(
        [made.python, "-m", "workshop_lib", "open"],
        cwd=whole_clone,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=180,
    )
    assert answer.returncode == 7, answer.stderr
    assert "Setting up" in answer.stdout
    assert made.is_ready(LESSONS)


# When it is made anew, and when not


def test_ready_means_nothing_to_do(clone):
    made = QuickEnvironment(clone)
    assert not made.is_ready(LESSONS)
    made.make_ready(LESSONS)
    assert made.is_ready(LESSONS) and not made.is_ready(CHECKS)
    made.make_ready(LESSONS)
    assert runs(clone) == ["start", "end"]


def test_what_serves_the_checks_serves_the_lessons_too(clone):
    made = QuickEnvironment(clone)
    made.make_ready(CHECKS)
    assert made.is_ready(LESSONS) and made.is_ready(CHECKS)


def test_changed_requirements_are_installed_into_the_same_environment(clone):
    made = QuickEnvironment(clone)
    made.make_ready(CHECKS)
    (made.folder / "kept").touch()
    (clone / "requirements.txt").write_text("# changed\n")
    assert not made.is_ready(LESSONS) and not made.is_ready(CHECKS)
    made.make_ready(LESSONS)
    assert made.is_ready(LESSONS) and not made.is_ready(CHECKS)
    assert (made.folder / "kept").exists()
    assert runs(clone) == ["start", "end"] * 2


def damage_move(made):
    moved = made.root.with_name("moved")
    made.root.rename(moved)
    return QuickEnvironment(moved)


def damage_record(text):
    def damage(made):
        made.record_file.write_text(text)
        return made

    return damage


def damage_pipe(made):
    made.record_file.unlink()
    os.mkfifo(made.record_file)
    return made


def damage_python(made):
    made.python.unlink()
    made.python.symlink_to(made.root / "a Python that was removed")
    return made


def damage_condemned(made):
    made.condemn()
    return made


@pytest.mark.parametrize(
    "damage",
    [
        damage_move,
        damage_condemned,
        damage_record(""),
        damage_record("[1]"),
        damage_record('{"held": 3}'),
        damage_record("[" * 100_000),
        pytest.param(damage_pipe, marks=posix_only),
        pytest.param(damage_python, marks=posix_only),
    ],
)
def test_a_moved_or_damaged_environment_is_made_afresh(clone, damage):
    made = QuickEnvironment(clone)
    made.make_ready(LESSONS)
    (made.folder / "old").touch()
    made = damage(made)
    assert not made.is_ready(LESSONS)
    made.make_ready(LESSONS)
    assert made.is_ready(LESSONS)
    assert not (made.folder / "old").exists()


def test_a_clear_that_was_interrupted_leaves_nothing_behind(clone):
    made = QuickEnvironment(clone)
    (clone / ".venv.old" / "half").mkdir(parents=True)
    (clone / ".venv.new").mkdir()
    made.make_ready(LESSONS)
    assert sorted(path.name for path in clone.glob(".venv*")) == [".venv", ".venv.lock"]


def test_an_environment_of_other_origin_is_kept_under_another_name(clone, capsys):
    made = QuickEnvironment(clone)
    for number in (1, 2):
        made.folder.mkdir()
        (made.folder / "mine").write_text("precious")
        made.make_ready(LESSONS)
        assert (clone / f".venv.kept-{number}" / "mine").read_text() == "precious"
        assert f"it has been renamed .venv.kept-{number}" in capsys.readouterr().out
        shutil.rmtree(made.folder)


def test_a_file_in_the_way_of_a_set_up_is_kept_under_another_name(clone):
    (clone / ".venv.new").write_text("precious")
    made = QuickEnvironment(clone)
    made.make_ready(LESSONS)
    assert made.is_ready(LESSONS)
    assert (clone / ".venv.new.kept-1").read_text() == "precious"


def test_packages_that_do_not_run_are_told_and_tried_again(clone):
    made = QuickEnvironment(clone)
    made.proof = "raise ImportError('libxyz is missing')"
    with pytest.raises(trouble.Trouble, match="not run here: .*libxyz is missing"):
        made.make_ready(LESSONS)
    assert not made.is_usable()


def test_windows_and_posix_each_have_their_places(clone, monkeypatch):
    monkeypatch.setattr(environment, "WINDOWS", True)
    assert Environment(clone).python == clone / ".venv" / "Scripts" / "python.exe"
    monkeypatch.setattr(environment, "WINDOWS", False)
    assert Environment(clone).python == clone / ".venv" / "bin" / "python"


# Killed, interrupted, and two at once


@posix_only
def test_a_killed_start_holds_the_next_one_until_its_pip_has_ended(clone):
    (clone / "pause").write_text("2")
    killed = start(clone)
    wait_until(lambda: runs(clone) == ["start"])
    killed.kill()
    finish(killed)
    (clone / "pause").write_text("0")
    status, output = finish(start(clone))
    assert status == 0
    assert "waiting for it" in output.splitlines()[0]
    assert runs(clone) == ["start", "end", "start", "end"]  # one after the other
    assert QuickEnvironment(clone).is_ready(LESSONS)


@posix_only
def test_two_starts_at_once_set_up_once(clone):
    (clone / "pause").write_text("0.5")
    first, second = start(clone), start(clone)
    outcomes = [finish(first), finish(second)]
    assert [status for status, _ in outcomes] == [0, 0]
    assert runs(clone) == ["start", "end"]
    assert sum("waiting for it" in output for _, output in outcomes) == 1


@posix_only
def test_an_interrupt_ends_pip_and_leaves_a_sentence(clone):
    (clone / "pause").write_text("30")
    stopped = start(clone)
    wait_until(lambda: runs(clone) == ["start"])
    stopped.send_signal(signal.SIGINT)
    status, output = finish(stopped)
    assert status == commands.INTERRUPTED
    assert output.endswith("Stopped.\n") and "Traceback" not in output
    with lock.hold(clone / ".venv.lock", lambda: pytest.fail("pip was left running")):
        pass


@posix_only
def test_a_file_system_without_locks_does_not_stop_the_workbook(tmp_path, monkeypatch):
    def refuse(*_):
        raise OSError(errno.ENOLCK, "no locks")

    monkeypatch.setattr(lock.fcntl, "flock", refuse)
    with lock.hold(tmp_path / "lock", pytest.fail):
        pass
