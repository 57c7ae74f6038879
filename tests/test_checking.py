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
    assert last_line(capfd) == "3 passed, 0 failed"  # two tools and one test


@pytest.mark.parametrize(
    ("file", "text", "total"),
    [
        ("tests/test_two.py", FAILING, "3 passed, 1 failed"),
        ("tests/test_two.py", "import nothing_like_this  # noqa: F401\n", "2 passed, 1 failed"),
        ("tests/test_one.py", "", "2 passed, 1 failed"),  # pytest found no test
        ("workshop_lib/odd.py", "x =  1\n", "2 passed, 1 failed"),
        ("workshop_lib/odd.py", "import os\n", "2 passed, 1 failed"),
        ("pytest.ini", "[pytest]\naddopts = --no-such-option\n", "2 passed, 1 failed"),
    ],
)
def test_any_failure_fails_the_whole(house, capfd, file, text, total):
    (house / file).write_text(text)
    assert checking.main([]) == 1
    assert last_line(capfd) == total


def test_a_missing_folder_is_a_failure(house, capfd):
    (house / "notebooks").rmdir()
    assert checking.main([]) == 1
    assert last_line(capfd) == "2 passed, 1 failed"


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
    assert lines[-1] == f"3 passed, {status} failed"
