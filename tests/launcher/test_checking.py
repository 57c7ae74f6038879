"""The command that runs every check: it fails when anything fails, and its sums are right."""

import pytest

from workshop_lib.launcher import checking, running_tests

PASSING = "def test_it():\n    assert True\n"
FAILING = "def test_it():\n    assert False\n"
BROKEN = "import nothing_like_this  # noqa: F401\n"


@pytest.fixture
def house(tmp_path, monkeypatch):
    """A tiny project that passes, at whose root the checks run."""
    for folder in checking.TESTED:
        (tmp_path / folder).mkdir()
    for folder in checking.QUICK:
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "test_one.py").write_text(PASSING)
    (tmp_path / ".ruff.toml").touch()
    (tmp_path / "pytest.ini").write_text("[pytest]\naddopts = --import-mode=importlib\n")
    monkeypatch.setattr(running_tests, "ROOT", tmp_path)
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")  # they take seconds to load
    monkeypatch.setenv("PYTEST_PLUGINS", "xdist.plugin")
    monkeypatch.setattr(checking, "workers", lambda: 0)  # in pytest's own process: quicker here
    monkeypatch.setattr(checking, "other_kernels", lambda: ["Prescott", "Haswell"])
    return tmp_path


@pytest.fixture
def one_process(monkeypatch):
    """One tool and one run, so that a case costs one start of pytest."""
    monkeypatch.setattr(checking, "TOOLS", {})
    monkeypatch.setattr(checking, "other_kernels", list)


def last_line(capfd):
    return capfd.readouterr().out.splitlines()[-1]


def test_all_that_passes_is_added_up_and_numbers_are_run_under_a_second_kernel(house, capfd):
    (house / "tests" / "slip" / "test_two.py").write_text(
        "import os\n\n\ndef test_kernel():\n"
        '    assert os.environ.get("OPENBLAS_CORETYPE") in (None, "Prescott")\n'
    )
    assert checking.main([]) == 0
    told = capfd.readouterr().out
    tests = len(checking.QUICK) + 1 + len(checking.NUMERIC) + 1
    assert told.splitlines()[-1] == f"{2 + tests} passed, 0 failed"  # two tools and the tests
    assert "Prescott" in told and " minutes" in told


def test_the_quick_check_runs_the_rooms_that_compute_and_the_house(house, capfd):
    (house / "tests" / "test_apart.py").write_text(FAILING)
    assert checking.main(["--quick"]) == 0
    assert last_line(capfd) == f"{2 + len(checking.QUICK)} passed, 0 failed"


@pytest.mark.parametrize(
    ("file", "text", "good", "bad"),
    [
        ("tests/slip/test_two.py", FAILING, 0, 1),
        ("tests/slip/test_two.py", BROKEN, 0, 1),
        ("pytest.ini", "[pytest]\naddopts = --no-such-option\n", None, 1),
    ],
)
def test_any_failure_fails_the_whole(house, capfd, one_process, file, text, good, bad):
    (house / file).write_text(text)
    assert checking.main([]) == 1
    passed = len(checking.QUICK) + good if good is not None else 0
    assert last_line(capfd) == f"{passed} passed, {bad} failed"


@pytest.mark.parametrize("text", ["x =  1\n", "import os\n"])
def test_what_the_tools_complain_of_is_a_failure(house, text):
    (house / "workshop_lib" / "odd.py").write_text(text)
    assert sum(checking.run(tool) != 0 for tool in checking.TOOLS.values()) == 1


def test_a_missing_folder_is_a_failure(house, capfd, one_process):
    (house / "notebooks").rmdir()
    assert checking.main([]) == 1
    assert last_line(capfd).endswith(", 1 failed")


def test_nothing_to_run_is_a_failure(house, capfd, one_process):
    for test in house.glob("tests/*/test_*.py"):
        test.unlink()
    assert checking.main([]) == 1
    assert last_line(capfd) == "0 passed, 1 failed"


def test_arguments_go_to_pytest_alone(house, capfd):
    (house / "workshop_lib" / "odd.py").write_text("x =  1\n")
    assert checking.main(["tests", "-q", "-k", "it"]) == 0
    assert "ruff" not in capfd.readouterr().out


@pytest.mark.parametrize(("ci", "word", "status"), [("true", "Failed", 1), ("", "Left out", 0)])
def test_a_missing_browser_is_told_and_fails_only_where_all_must_run(
    house, capfd, monkeypatch, one_process, ci, word, status
):
    monkeypatch.setenv("CI", ci)
    monkeypatch.setattr(checking.browser, "find", lambda: None)
    assert checking.main([]) == status
    lines = capfd.readouterr().out.splitlines()
    assert f"{word}: {checking.browser.MISSING}" in lines
    assert lines[-1] == f"{len(checking.QUICK)} passed, {status} failed"
