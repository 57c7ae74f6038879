"""The command that runs every check: it fails when anything fails, and its sums are right."""

import pytest

from workshop_lib.launcher import checking

PASSING = "def test_it():\n    assert True\n"
FAILING = "def test_it():\n    assert False\n"


@pytest.fixture
def house(tmp_path, monkeypatch):
    """A tiny project that passes, at whose root the checks run."""
    for folder in checking.TESTED:
        (tmp_path / folder).mkdir()
    for path in checking.ASIDE:
        beside = tmp_path / path
        beside = beside if beside.suffix else beside / "test_in_a_folder.py"
        beside.parent.mkdir(exist_ok=True)
        beside.write_text(PASSING)
    (tmp_path / "tests" / "test_one.py").write_text(PASSING)
    (tmp_path / ".ruff.toml").touch()
    (tmp_path / "pytest.ini").write_text("[pytest]\naddopts = -p no:cacheprovider\n")
    monkeypatch.setattr(checking, "ROOT", tmp_path)
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")  # they take a second to load
    return tmp_path


def last_line(capfd):
    return capfd.readouterr().out.splitlines()[-1]


def test_all_that_passes_is_added_up(house, capfd):
    assert checking.main([]) == 0
    assert last_line(capfd) == "5 passed, 0 failed"  # two tools and three tests


@pytest.mark.parametrize(
    ("file", "text", "total"),
    [
        ("tests/test_two.py", FAILING, "5 passed, 1 failed"),
        ("tests/test_two.py", "import nothing_like_this  # noqa: F401\n", "4 passed, 1 failed"),
        ("tests/test_one.py", "", "4 passed, 1 failed"),  # pytest found no test
        ("tests/browser/test_in_a_folder.py", FAILING, "4 passed, 1 failed"),
        (
            "tests/test_classroom_hub.py",
            "import nothing_like_this  # noqa: F401\n",
            "3 passed, 1 failed",
        ),
        ("workshop_lib/odd.py", "x =  1\n", "4 passed, 1 failed"),
        ("workshop_lib/odd.py", "import os\n", "4 passed, 1 failed"),
        ("pytest.ini", "[pytest]\naddopts = --no-such-option\n", "2 passed, 2 failed"),
    ],
)
def test_any_failure_fails_the_whole(house, capfd, file, text, total):
    (house / file).write_text(text)
    assert checking.main([]) == 1
    assert last_line(capfd) == total


def test_a_missing_folder_is_a_failure(house, capfd):
    (house / "notebooks").rmdir()
    assert checking.main([]) == 1
    assert last_line(capfd) == "4 passed, 1 failed"


def test_what_runs_aside_is_run_once_and_told_in_whole(house, capfd):
    (house / "tests" / "browser" / "test_in_a_folder.py").write_text(FAILING)
    assert checking.main([]) == 1
    told = capfd.readouterr().out
    assert told.count("FAILED tests/browser/test_in_a_folder.py::test_it") == 1
    (house / "tests" / "test_classroom_hub.py").unlink()  # missing is no less than failing
    assert checking.main([]) == 1


def test_arguments_go_to_pytest_alone(house, capfd):
    (house / "workshop_lib" / "odd.py").write_text("x =  1\n")
    assert checking.main(["tests", "-k", "it"]) == 0
    assert checking.main(["tests", "-k", "nothing"]) == 5
    assert "ruff" not in capfd.readouterr().out


@pytest.mark.parametrize(("ci", "word", "status"), [("true", "Failed", 1), ("", "Left out", 0)])
def test_a_missing_browser_is_told_and_fails_only_where_all_must_run(
    house, capfd, monkeypatch, ci, word, status
):
    monkeypatch.setenv("CI", ci)
    monkeypatch.setattr(checking.browser, "find", lambda: None)
    assert checking.main([]) == status
    lines = capfd.readouterr().out.splitlines()
    assert f"{word}: {checking.browser.MISSING}" in lines
    assert lines[-1] == f"5 passed, {status} failed"
