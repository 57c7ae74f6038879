"""One trial: the nearest tests on the library with one change, in a fork of a warmed interpreter.

The change is made while the module is imported, so no file is written; numpy, pytest and the like
are imported once, by the parent, and the library afresh by each child.
"""

import contextlib
import gc
import importlib
import importlib.util
import os
import signal
import sys
import time
from importlib.machinery import SourceFileLoader
from pathlib import Path
from typing import NamedTuple

from tests.mutation.nearest import dotted, room
from workshop_lib.launcher.environment import ROOT

WARM = [
    *("numpy.ma", "numpy.random", "numpy.polynomial", "pint", "pytest", "_pytest.doctest"),
    *("hypothesis.strategies", "unittest.mock", "nbformat"),
    *("scipy.integrate", "scipy.optimize", "scipy.special", "scipy.stats", "scipy.spatial"),
    *("mpmath", "shapely", "ipywidgets", "anywidget", "IPython.display"),
]
OPTIONS = [
    *("-x", "-q", "--tb=no", "-o", "addopts=", "--import-mode=importlib", "--doctest-modules"),
    # What looks for rubbish after each run takes as long as the tests themselves.
    *("-p", "no:cacheprovider", "-p", "no:unraisableexception", "-p", "no:threadexception"),
]
BASE = "quantities"  # the room that uses no other: kept, for its registry takes time to build
SURVIVED, KILLED, TIMED_OUT = "survived", "killed", "timed out"
NO_TESTS = 5  # pytest's exit status for a file without any
MEMORY = 4 << 30  # bytes; a mutant that grows without end dies of it
PATIENCE = 12  # times as long by the clock as by the processor, on a machine that is busy


class Trial(NamedTuple):
    """What became of a mutant, and the processor time it took in seconds."""

    outcome: str
    seconds: float


def warm():
    """Import what every trial needs of other people's packages."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    os.environ["MPLBACKEND"] = "Agg"
    for name in WARM:
        with contextlib.suppress(ImportError):
            importlib.import_module(name)


def warm_for(module):
    """Import the library's units too, unless they are what is changed: call it for those first."""
    if room(module) != BASE:
        importlib.import_module(f"workshop_lib.{BASE}")
        gc.freeze()


def trial(tests, limit, module=None, tree=None):
    """Run tests in a fork, with another tree for one module if given, for `limit` seconds."""
    started = time.monotonic()
    child = os.fork()
    if not child:
        os._exit(status(tests, limit, module, tree))
    try:
        while True:
            ended, code, usage = os.wait4(child, os.WNOHANG)
            if ended or time.monotonic() - started > limit * PATIENCE:
                break
            time.sleep(0.01)
    finally:
        if not ended:
            os.kill(child, signal.SIGKILL)
            _, code, usage = os.wait4(child, 0)
    seconds = usage.ru_utime + usage.ru_stime
    if os.WIFSIGNALED(code):
        return Trial(TIMED_OUT, seconds)
    return Trial(SURVIVED if os.WEXITSTATUS(code) == 0 else KILLED, seconds)


def status(tests, limit, module, tree):
    """Run the tests in this process and return 0 if all passed; any accident is no pass."""
    import resource  # not on Windows, where nothing forks either

    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    resource.setrlimit(resource.RLIMIT_CPU, (int(limit) + 1,) * 2)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY,) * 2)
    os.chdir(ROOT)
    try:
        with open(os.devnull, "r+") as nowhere:
            for stream in (0, 1, 2):
                os.dup2(nowhere.fileno(), stream)
            sys.stdout = sys.stderr = nowhere
            return tested(tests, module, tree)
    except BaseException:  # whatever it is, the change was noticed
        return 1


def tested(tests, module, tree):
    """Import the changed module, then run the test files one by one until one does not pass."""
    import pytest

    gc.disable()
    forget_the_library(module)
    if module:
        sys.meta_path.insert(0, Changed(module, tree))
        importlib.import_module(dotted(module))
    for path in tests:  # one by one: most changes are found without collecting the rest
        if path.startswith("workshop_lib"):
            importlib.import_module(dotted(Path(path)))  # or pytest would import it twice
        found = pytest.main([*OPTIONS, path], plugins=[NoShrinking()])
        if found not in (0, NO_TESTS):
            return 1
    return 0


def forget_the_library(module):
    """Let everything of ours be imported afresh that could take something from a changed module."""
    kept = {"launcher", "mutation"} | ({BASE} - {room(module)} if module else {BASE})
    for name in list(sys.modules):
        place = name.split(".")
        if place[0] in ("workshop_lib", "tests") and place[1:] and place[1] not in kept:
            del sys.modules[name]


class NoShrinking:
    """A failing example need not be made simple here: it is not shown."""

    def pytest_collection(self):
        """Take the tests' own settings, less the phases that only serve a reader."""
        from hypothesis import Phase, settings

        settings.register_profile("mutants", settings(), phases=[Phase.explicit, Phase.generate])
        settings.load_profile("mutants")


class Changed(SourceFileLoader):
    """Finds and loads one module from another syntax tree than that of its file."""

    def __init__(self, module, tree):
        super().__init__(dotted(module), str(Path(ROOT, module)))
        self.tree = tree

    def find_spec(self, name, path=None, target=None):
        """Find that module, and leave all others to the usual finders."""
        if name != self.name:
            return None
        return importlib.util.spec_from_file_location(name, self.path, loader=self)

    def get_code(self, name):
        """Compile the tree, whatever stands in the file or was kept of it."""
        return compile(self.tree, self.path, "exec")
