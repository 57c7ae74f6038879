"""The command line: its table, and the one sentence for each obstacle."""

import ast
import errno
import os
import re
import shutil
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from tests.launcher.launcher_stage import QuickEnvironment
from workshop_lib.launcher import commands, trouble
from workshop_lib.launcher.environment import LESSONS, ROOT

PACKAGE = ROOT / "workshop_lib"
posix_only = pytest.mark.skipif(os.name == "nt", reason="signals and flock are POSIX matters")


# One sentence for each obstacle


def run_as(version, path="", *arguments):
    """Run the command line as if by a Python of another version, and with only `path` to search."""
    code = f"""
        import runpy, sys
        sys.version_info = {version}
        sys.argv[1:] = {list(arguments)}
        runpy.run_module("workshop_lib", run_name="__main__", alter_sys=True)
    """
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code)],
        cwd=ROOT,
        env={"PATH": str(path), "SYSTEMROOT": os.environ.get("SYSTEMROOT", "")},
        capture_output=True,
        text=True,
    )


def test_the_wording_for_an_old_python_is_one_sentence():
    answer = run_as((3, 8, 18), "", "open")
    assert answer.returncode == commands.WRONG_USE and not answer.stdout
    assert answer.stderr == (
        "The workbook needs Python 3.11 or newer and this is 3.8: install a newer one from "
        "python.org or your system's packages, then start again\n"
    )


@posix_only
def test_an_old_python_names_a_newer_one_that_is_there(tmp_path):
    broken, newer = tmp_path / "python3.13", tmp_path / "python3.12"
    broken.write_text("#!/bin/sh\nexit 127\n")
    newer.write_text("#!/bin/sh\nexit 0\n")
    broken.chmod(0o755)
    newer.chmod(0o755)
    answer = run_as((2, 7, 18), tmp_path, "check", "-x")
    assert answer.stderr.endswith(": python3.12 -m workshop_lib check -x\n")


@pytest.mark.parametrize("version", ["2.7", "3.6", "3.8", "3.10"])
def test_a_real_old_python_reads_the_command_line(version):
    kept = sorted(Path.home().glob(f".pyenv/versions/{version}.*/bin/python"))
    python = kept[0] if kept else shutil.which(f"python{version}")
    if not python:
        pytest.skip(f"no Python {version} on this machine")
    answer = subprocess.run(
        [python, "-m", "workshop_lib", "open"], cwd=ROOT, capture_output=True, text=True
    )
    assert answer.returncode == commands.WRONG_USE
    assert len(answer.stderr.splitlines()) == 1 and f"this is {version}:" in answer.stderr


NEW_SYNTAX = (ast.JoinedStr, ast.NamedExpr, ast.AnnAssign, ast.Match, ast.AsyncFunctionDef)


@pytest.mark.parametrize("name", ["__init__.py", "__main__.py"])
def test_what_an_old_python_reads_has_only_old_syntax(name):
    text = (PACKAGE / name).read_bytes()
    assert text.isascii()  # Python 2 refuses anything else
    for node in ast.walk(ast.parse(text)):
        assert not isinstance(node, NEW_SYNTAX), f"{name}:{node.lineno}"
        if isinstance(node, ast.FunctionDef):
            arguments = node.args
            assert not arguments.kwonlyargs and not arguments.posonlyargs and not node.returns


@pytest.mark.parametrize("absent", ["venv", "ensurepip"])
def test_a_python_without_venv_gets_one_sentence(clone, monkeypatch, capsys, absent):
    monkeypatch.setitem(sys.modules, absent, None)
    monkeypatch.setitem(commands.COMMANDS, "ready", commands.Command("", ""))
    assert commands.run(["ready"], QuickEnvironment(clone)) == commands.WRONG_USE
    message = capsys.readouterr().err
    assert len(message.splitlines()) == 1
    assert "sudo apt install python3." in message
    assert not (clone / ".venv").exists()


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "The disk is full: free about 1.5 GB"),
        (errno.EACCES, "riting is not allowed in"),
        (errno.EROFS, "riting is not allowed in"),
        (errno.EIO, "Input/output error"),
    ],
)
def test_a_refusal_of_the_system_gets_one_sentence(clone, monkeypatch, capsys, number, words):
    def refuse(*_, **__):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "open", refuse)
    monkeypatch.setitem(commands.COMMANDS, "ready", commands.Command("", ""))
    assert commands.run(["ready"], QuickEnvironment(clone)) == commands.WRONG_USE
    message = capsys.readouterr().err
    assert len(message.splitlines()) == 1 and words in message


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere"
)
def test_a_folder_without_write_permission_gets_one_sentence(clone, capsys):
    clone.chmod(0o555)
    with pytest.raises(trouble.Trouble, match="writing is not allowed"):
        QuickEnvironment(clone).make_ready(LESSONS)


def test_a_disk_too_full_is_told_before_anything_is_removed(clone):
    made = QuickEnvironment(clone)
    made.space = 10**18
    with pytest.raises(trouble.Trouble, match="disk is full"):
        made.make_ready(LESSONS)
    assert not made.folder.exists()


# The first lines are pip's own, from runs of pip 23.2 against a closed port and a full disk.
OFFLINE = (
    "WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after "
    "connection broken by 'NewConnectionError('<pip._vendor.urllib3.connection.HTTPConnection "
    "object at 0x7f2>: Failed to establish a new connection: [Errno 111] Connection refused')': "
    "/numpy/\nERROR: Could not find a version that satisfies the requirement numpy (from versions: "
    "none)\nERROR: No matching distribution found for numpy\n"
)
FULL = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device\n"
RECOVERED = "WARNING: Retrying after connection broken by 'ReadTimeoutError'\nERROR: Bad wheel\n"


@pytest.mark.parametrize(
    ("output", "words"),
    [
        (OFFLINE, "check the network connection"),
        (FULL, "disk is full"),
        (RECOVERED, "pip said: ERROR: Bad wheel"),
        ("", "could not be installed"),
    ],
)
def test_what_pip_says_becomes_a_sentence(output, words):
    message = str(trouble.from_pip(output, "here"))
    assert words in message and "\n" not in message


# The command line itself


@pytest.mark.parametrize("arguments", [[], ["--help"], ["-h"], ["help"]])
def test_help_names_every_command(arguments, capsys):
    assert commands.run(arguments) == 0
    text = capsys.readouterr().out
    lines = text.splitlines()
    assert len(lines) < 35 and max(map(len, lines)) <= 80 and f"{commands.START} open" in text
    assert [line.split()[0] for line in lines if line[:2] == "  "] == list(commands.COMMANDS)
    assert set(commands.GROUPS) < set(commands.COMMANDS)


@pytest.mark.parametrize("name", commands.COMMANDS)
def test_every_command_explains_itself_and_has_a_module(name, capsys):
    assert commands.run([name, "--help"]) == 0
    assert commands.COMMANDS[name].summary in " ".join(capsys.readouterr().out.split())
    path = ROOT.joinpath(*commands.COMMANDS[name].module.split("."))
    module = path.with_suffix(".py") if path.with_suffix(".py").exists() else path / "__init__.py"
    names = [
        node.name for node in ast.parse(module.read_text("utf-8")).body if hasattr(node, "name")
    ]
    assert "main" in names


def test_a_mistyped_command_is_answered_with_the_nearest(capsys):
    assert commands.run(["opne"]) == commands.WRONG_USE
    assert re.fullmatch(r".* 'opne': .* mean open\?\n", capsys.readouterr().err)
    assert commands.run(["zzz"]) == commands.WRONG_USE
    assert f"the commands are {', '.join(commands.COMMANDS)}" in capsys.readouterr().err


def test_a_package_that_vanished_condemns_the_environment(clone, monkeypatch):
    made = QuickEnvironment(clone)
    made.make_ready(LESSONS)
    (clone / "lost.py").write_text("import a_package_that_vanished\n")
    monkeypatch.syspath_prepend(clone)
    with pytest.raises(trouble.Trouble, match="damaged .*a_package_that_vanished"):
        commands.call(commands.Command("", "lost"), [], made)
    assert not made.is_usable()


def test_where_a_process_cannot_become_another_it_waits_for_it(monkeypatch, capfd):
    monkeypatch.setattr(commands, "WINDOWS", True)
    variables = {**os.environ, "PYTHONPATH": str(ROOT)}
    assert commands.hand_over(sys.executable, ["--help"], variables) == 0
    assert "Type a command" in capfd.readouterr().out
    assert commands.hand_over(sys.executable, ["nonsense"], variables) == commands.WRONG_USE


def test_the_launcher_needs_only_the_standard_library():
    without_packages = [sys.executable, "-S", "-m", "workshop_lib"]
    answer = subprocess.run(without_packages, cwd=ROOT, capture_output=True, text=True)
    assert (answer.returncode, answer.stderr) == (0, "")
    assert "Type a command" in answer.stdout
    refused = subprocess.run([*without_packages, "opne"], cwd=ROOT, capture_output=True, text=True)
    assert refused.returncode == commands.WRONG_USE


@pytest.mark.parametrize(
    ("name", "shown"), [("/a/page.html", "/a/page.html"), ("/a/.page.html.part", "/a")]
)
def test_a_command_that_cannot_write_names_the_place_and_not_the_workbook(name, shown):
    error = OSError(errno.EACCES, "Permission denied", name)
    said = str(trouble.from_file_error(error, "/the/workbook"))
    assert said.startswith(shown) and "(Permission denied)" in said and "/the/workbook" not in said
    full = trouble.from_file_error(OSError(errno.ENOSPC, "full", name), "/the/workbook")
    assert str(full) == trouble.NO_ROOM


@posix_only
@pytest.mark.parametrize("stream", ["> /dev/full", ">&-", "2>&-"])
def test_where_nothing_can_be_printed_there_is_no_traceback(stream):
    python = f"{commands.HANDED_OVER}=1 {sys.executable} -m workshop_lib --help {stream}"
    done = subprocess.run(["sh", "-c", python], cwd=ROOT, capture_output=True, text=True)
    full = "full" in stream and os.path.exists("/dev/full")
    assert done.returncode == (commands.WRONG_USE if full else 0)
    assert ("no room left" in done.stderr) == full and len(done.stderr.splitlines()) == full


def test_a_name_that_steers_the_terminal_is_printed_as_text(capsys):
    commands.refuse(trouble.Trouble("there is no \x1b[31mfolder\r"))
    assert capsys.readouterr().err == "There is no ?[31mfolder?\n"


@posix_only
@pytest.mark.parametrize(
    "arguments",
    [["--help"], ["assess", "notebooks/jobs/tide_gauge_cover.toml"]],
    ids=lambda a: a[0],
)
def test_a_reader_that_has_had_enough_is_no_trouble(arguments):
    reading, writing = os.pipe()
    os.close(reading)  # as `| head` does once it has its lines
    done = subprocess.run(
        [sys.executable, "-m", "workshop_lib", *arguments],
        cwd=ROOT,
        env={**os.environ, commands.HANDED_OVER: "1"},
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, "")
