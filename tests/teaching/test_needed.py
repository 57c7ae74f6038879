"""What a notebook says whose Python lacks the library, a package, or a version that was tried."""

import json
import subprocess
import sys
from unittest.mock import Mock

import pytest

from tests.notebooks import notebook_guards as guards
from workshop_lib.launcher.environment import ROOT, masters
from workshop_lib.teaching import needed

# A kernel's way with cells, in a Python that does not find what is named on the command line.
OUTSIDE = """
import importlib.metadata, json, sys
from IPython.core.interactiveshell import InteractiveShell
gone, cells, python = json.loads(sys.stdin.read())
class Hidden:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] == gone:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, Hidden())
version = importlib.metadata.version
importlib.metadata.version = lambda name: version("no-such-package" if name == gone else name)
shell = InteractiveShell.instance(colors="nocolor")
sys.executable = python
for cell in cells:
    shell.run_cell(cell)
"""


def said_without(gone, cells, python=sys.executable):
    """Return what cells say, one by one, in a Python without a package."""
    done = subprocess.run(
        [sys.executable, "-c", OUTSIDE],
        input=json.dumps([gone, cells, python]),
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    return (done.stdout + done.stderr).strip().splitlines()


@pytest.mark.parametrize("path", masters(), ids=lambda path: path.stem[:2])
def test_every_lesson_begins_with_the_cell_that_looks_for_the_library(path):
    (_, first), *_ = guards.code_cells(guards.read(path))
    assert first.source + "\n" == needed.FIRST
    assert first.outputs == [] and first.metadata["jupyter"]["source_hidden"]


@pytest.mark.parametrize(
    ("gone", "python", "typed"),
    [
        ("workshop_lib", "/our folder/bin/python", '"/our folder/bin/python"'),
        ("pint", "/bin/python3", "/bin/python3"),
    ],
)
def test_a_missing_package_is_one_sentence_with_its_cure_in_every_cell(gone, python, typed):
    cells = [needed.FIRST, "from workshop_lib.slip import margin", "margin"]
    said = said_without(gone, cells, python)
    assert len(said) == 3 and len(set(said)) == 1, said
    assert gone in said[0]
    assert f"type  {typed} -m pip install -r requirements.txt  and" in said[0]


def test_a_python_that_is_too_old_is_told_so_and_not_what_to_install(monkeypatch):
    monkeypatch.setattr(sys, "version_info", Mock(minor=10))
    monkeypatch.setattr(needed, "check", lambda: needed.metadata.version("no-such-package"))
    with pytest.raises(ImportError, match="The lessons need Python 3.11 or newer") as told:
        exec(needed.FIRST, {"get_ipython": Mock()})
    assert "pip" not in str(told.value)


def test_where_nothing_is_missing_nothing_is_said_and_errors_stay_errors():
    said = said_without("nothing", [needed.FIRST, "no_such_name"])
    assert "NameError" in said[0] + said[-1]
    assert not any("requirements.txt" in line for line in said)


@pytest.mark.parametrize(
    ("need", "words"),
    [
        ("a-package-nobody-made>=1,<2", "package a-package-nobody-made is missing"),
        ("pytest>=1,<2", "(needed: 1 or newer, but older than 2)"),
        ("pytest>=999.0,<1000", "(needed: 999.0 or newer, but older than 1000)"),
        ("pytest>=1,<999", ""),
    ],
)
def test_a_version_that_was_not_tried_is_named(need, words):
    assert needed.fault(need).endswith(words) and bool(needed.fault(need)) == bool(words)


def test_all_faults_are_told_at_once(tmp_path):
    project = tmp_path / "pyproject.toml"
    project.write_text('[project]\ndependencies = ["aa>=1,<2", "pytest>=1,<999", "bb>=1,<2"]\n')
    with pytest.raises(ModuleNotFoundError, match="The package aa is missing, and the package bb"):
        needed.check(project)


@pytest.mark.parametrize(
    ("version", "numbers"), [("3.10.0", (3, 10)), ("2.4.1rc1", (2, 4, 1)), ("0", ()), ("12", (12,))]
)
def test_versions_are_compared_as_numbers(version, numbers):
    assert needed.numbers(version) == numbers
