"""What every test module shares."""

import os

import hypothesis
import pytest

from workshop_lib.launcher import environment

os.environ["MPLBACKEND"] = "Agg"  # no test opens a window
os.environ.pop("WORKSHOP_ANSWERS", None)  # and none reads or writes anyone's answers

# The same examples on every run: a check that fails must fail for the next person too.
hypothesis.settings.register_profile("workshop", deadline=None, derandomize=True, database=None)
hypothesis.settings.load_profile("workshop")


@pytest.fixture
def clone(tmp_path):
    """A folder like a fresh clone as far as the set-up sees it, with a space and an accent."""
    root = tmp_path / "a clöne"
    (root / "tests").mkdir(parents=True)
    (root / "workshop_lib").mkdir()
    for name in (environment.LIBRARY, "requirements.txt"):
        (root / name).write_text("# nothing\n")
    (root / "tests" / "requirements.txt").write_text("-r ../requirements.txt\n")
    (root / "pause").write_text("0")
    return root


# What shares something costly or fixed: a page of a browser, a port, an account of the machine.
TOGETHER = ("tests/browser", "tests/classroom")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config, items):
    """Keep what belongs together in one process: a file, a notebook, all that drives a browser."""
    if not config.pluginmanager.hasplugin("xdist"):
        return
    for item in items:
        home = item.nodeid.partition("::")[0]
        shared = [folder for folder in TOGETHER if home.startswith(folder)]
        item.add_marker(pytest.mark.xdist_group(shared[0] if shared else home))
