"""What every test module shares."""

import gc
import os
import shutil

import hypothesis
import pytest
from hypothesis import Phase

from tests.house.thorough import NO_RATES, among
from workshop_lib.launcher import environment
from workshop_lib.shop import shop_file
from workshop_lib.sources import csv_tables

os.environ["MPLBACKEND"] = "Agg"  # no test opens a window
os.environ.pop("WORKSHOP_ANSWERS", None)  # and none reads or writes anyone's answers
os.environ[csv_tables.VARIABLE] = ""  # nor counts what a teacher has added to the tables
shop_file.MY_LESSONS = environment.ROOT / "lessons_of_no_user"  # nor speaks as somebody's shop

# Ten thousand tests stay in memory to the end: looking for waste among them over and over
# took a quarter of the time to collect them and a tenth of the time to run them.
gc.set_threshold(100_000, 50, 50)

# The same examples on every run: a check that fails must fail for the next person too.
hypothesis.settings.register_profile(
    "workshop",
    deadline=None,
    derandomize=True,
    database=None,
    max_examples=among(15 if NO_RATES else 30, 100),
    phases=among((Phase.explicit, Phase.generate), tuple(Phase)),  # shrinking takes minutes
)
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


@pytest.fixture
def own(tmp_path, monkeypatch):
    """Tables in place of the built-in ones; returns a function that changes a text in one."""
    stand_in(monkeypatch, tmp_path)

    def change(name, old, new):
        path = tmp_path / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    return change


def stand_in(monkeypatch, folder):
    """Let the tables of a folder stand in for the built-in ones; what is not there is copied."""
    for path in csv_tables.BUILT_IN.glob("*.csv"):
        if not (folder / path.name).exists():
            shutil.copy(path, folder)
    monkeypatch.setattr(csv_tables, "BUILT_IN", folder)


# What shares something costly or fixed: a page of a browser, a port, an account of the machine.
TOGETHER = ("tests/browser", "tests/classroom")


def pytest_collection_finish():
    gc.collect()
    gc.freeze()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """Spread the tests by files over the processes, and keep together what must be so."""
    from xdist.scheduler import LoadScopeScheduling  # late: a single process needs none of it

    class Together(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            home = nodeid.partition("::")[0]
            return next((folder for folder in TOGETHER if home.startswith(folder)), home)

    return Together(config, log)
