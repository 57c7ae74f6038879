"""Is the workbook's own Python environment there and whole? Made once, checked fast, repaired.

A record inside the environment says what it holds. It is empty from before the first package is
touched until all are proved to run, so a set-up that was interrupted anywhere is made afresh.
"""

import contextlib
import hashlib
import itertools
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from workshop_lib.launcher import lock, trouble
from workshop_lib.launcher.progress import Progress

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOKS = ROOT / "notebooks"
MY_LESSONS = ROOT / "my_lessons"  # all that is the learner's own: copies, answers, jobs
MY_ADDITIONS = ROOT / "my_additions"  # a teacher's own tables, words, exercises and lessons
ADDITIONS = "WORKSHOP_DATA"  # names another such folder; an empty text: none
LESSON = "[0-9]{1,2}"  # how a person names a lesson
WINDOWS = os.name == "nt"
LESSONS, CHECKS, CLASS = "lessons", "checks", "class"
LIBRARY = "workshop_lib/pyproject.toml"
REQUIREMENTS = {
    LESSONS: ("requirements.txt", LIBRARY),
    CHECKS: ("tests/requirements.txt", "requirements.txt", LIBRARY),  # each includes the next
    CLASS: ("workshop_lib/classroom/requirements.txt", "requirements.txt", LIBRARY),
}
SPACE = 1_500_000_000  # bytes: what a set-up takes, with room for the downloads
# Draws matplotlib's font list up as well: done later, its warning would stand in a lesson.
PROOF = "import jupyterlab, ipywidgets, numpy, pint, matplotlib.font_manager"
# A person's own Python settings must not reach into the environment.
FOREIGN_VARIABLES = {
    "PYTHONPATH",
    "PYTHONHOME",
    "PYTHONSTARTUP",
    "PYTHONSAFEPATH",
    "__PYVENV_LAUNCHER__",
    "MPLBACKEND",
    "JUPYTER_PATH",
    "JUPYTER_CONFIG_PATH",
    "PIP_TARGET",
    "PIP_PREFIX",
    "PIP_ROOT",
    "PIP_PYTHON",
    "PIP_REQUIRE_VIRTUALENV",
}


class Environment:
    """The environment in the folder `.venv` of the clone at `root`."""

    maker = ("-I", "-m", "venv")
    installer = ("-m", "pip", "install", "--no-input", "--disable-pip-version-check")
    proof = PROOF
    space = SPACE

    def __init__(self, root=ROOT):
        self.root = Path(root)
        self.folder = self.root / ".venv"
        self.bin = self.folder / ("Scripts" if WINDOWS else "bin")
        self.python = self.bin / ("python.exe" if WINDOWS else "python")
        self.record_file = self.folder / "workshop.json"
        self.log_file = self.folder / "set-up.log"
        self.lock_file = self.root / ".venv.lock"

    def runs_this(self):
        """Return whether the Python that runs now is the environment's."""
        with contextlib.suppress(OSError):
            return os.path.samefile(sys.prefix, self.folder)
        return False

    def record(self):
        """Return what the environment says that it holds; nothing when it is missing or torn."""
        with contextlib.suppress(OSError, ValueError, RecursionError):
            if self.record_file.is_file():  # a pipe would be waited for
                record = json.loads(self.record_file.read_text(encoding="utf-8"))
                if isinstance(record, dict):
                    return record
        return {}

    def is_usable(self):
        """Return whether it was finished, in this place, with the Python that it still has."""
        record = self.record()
        return (
            record.get("root") == str(self.root)
            and self.python.exists()
            and record.get("python") == os.path.realpath(self.python)
        )

    def is_ready(self, needs):
        """Return whether it holds what `needs` names, as the requirements stand now."""
        held = self.record().get("held")
        if not isinstance(held, dict) or not self.is_usable():
            return False
        return held.get(needs) == self.fingerprint(needs)

    def fingerprint(self, needs):
        """Return a short text that changes when a requirements file behind `needs` changes."""
        files = [self.root / name for name in REQUIREMENTS[needs]]
        return hashlib.sha256(b"\0".join(file.read_bytes() for file in files)).hexdigest()

    def make_ready(self, needs):
        """Bring the environment to hold what `needs` names; raise Trouble when that cannot be."""
        try:
            with lock.hold(self.lock_file, say_waiting) as self._lock:
                if self.is_ready(needs):
                    return
                if not self.is_usable():
                    self._create()
                self._install(needs)
        except OSError as error:
            raise trouble.from_os_error(error, self.root) from error

    def condemn(self):
        """Mark a damaged environment, so that the next start makes it afresh."""
        write_whole(self.record_file, {})

    def variables(self):
        """Return the variables of a process in the environment, as if a person had activated it."""
        settings = os.environ.get("JUPYTER_CONFIG_DIR") or os.path.expanduser("~/.jupyter")
        looks = Path(settings, "lab", "user-settings")
        kept = {k: v for k, v in os.environ.items() if k.upper() not in FOREIGN_VARIABLES}
        # The server's settings are the workbook's own; a person's fonts and colours stay theirs.
        kept.setdefault("JUPYTERLAB_SETTINGS_DIR", str(looks))
        kept.update(
            VIRTUAL_ENV=str(self.folder),
            PATH=os.pathsep.join([str(self.bin), os.environ.get("PATH", os.defpath)]),
            PYTHONNOUSERSITE="1",
            PIP_USER="0",
            JUPYTER_PREFER_ENV_PATH="1",
            JUPYTER_CONFIG_DIR=str(self.folder / "etc" / "workshop"),
        )
        return kept

    def _create(self):
        """Make an empty environment, after a look at what would certainly stop it."""
        problem = trouble.missing_part_of_python()
        if problem:
            raise problem
        if shutil.disk_usage(self.root).free < self.space:
            raise trouble.Trouble(trouble.NO_SPACE)
        say(
            "Setting up the workbook's own Python environment in its folder .venv. This downloads "
            "about 100 MB and may take a few minutes. It is needed only once."
        )
        self._clear()
        fresh = self.root / ".venv.new"
        if not fresh.is_dir():
            self._move_aside(fresh)
        fresh.mkdir(exist_ok=True)
        write_whole(fresh / self.record_file.name, {})
        fresh.rename(self.folder)
        status, output = self._run([sys.executable, *self.maker, self.folder], "Making .venv")
        if status:
            raise trouble.from_pip(output, self.folder)

    def _clear(self):
        """Take an old environment away; one that this launcher did not make is only moved aside."""
        leaving = self.root / ".venv.old"
        remove(leaving)
        if self.record_file.exists():
            self.folder.rename(leaving)  # in one step: what is half removed must not look whole
            remove(leaving)
        else:
            self._move_aside(self.folder)

    def _move_aside(self, path):
        """Give what is not the workbook's own another name, and say so."""
        if os.path.lexists(path):
            numbered = (self.root / f"{path.name}.kept-{number}" for number in itertools.count(1))
            kept = next(each for each in numbered if not os.path.lexists(each))
            path.rename(kept)
            say(f"{path.name} was not made by the workbook: it has been renamed {kept.name}.")

    def _install(self, needs):
        """Install the requirements, prove that they run, and only then say so in the record."""
        before = self.record()
        fingerprints = {name: self.fingerprint(name) for name in {LESSONS, needs}}
        self.condemn()
        # What the checks import is compiled as they import it: a third of the set-up's work less.
        spared = ["--no-compile"] if needs == CHECKS else []
        command = [self.python, *self.installer, *spared, "-r", REQUIREMENTS[needs][0]]
        status, output = self._run(command, "Installing packages")
        if status:
            # pip takes back a change that fails, so what was usable before still is.
            write_whole(self.record_file, before)
            raise trouble.from_pip(output, self.folder)
        self._add_clone_to_path()
        self._quieten()
        status, output = self._run([self.python, "-c", self.proof], "Trying them out")
        if status:
            last = output.strip().splitlines()[-1:] or ["no message"]
            raise trouble.Trouble(f"the packages are installed but will not run here: {last[0]}")
        record = {
            "root": str(self.root),
            "python": os.path.realpath(self.python),
            "held": {**before.get("held", {}), **fingerprints},
        }
        write_whole(self.record_file, record)

    def _run(self, command, label):
        """Run one step with its output in the log; return its exit status and that output."""
        inherited = {} if WINDOWS else {"pass_fds": (self._lock,)}
        progress = Progress(label)
        with open(self.log_file, "ab") as log:
            start = log.seek(0, os.SEEK_END)
            process = subprocess.Popen(
                [str(part) for part in command],
                cwd=self.root,
                env={**self.variables(), "PYTHONUTF8": "1"},
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=subprocess.STDOUT,
                **inherited,
            )
            status = wait(process, lambda: progress.tick(self._log_from(start)))
        progress.end(failed=status != 0)
        return status, self._log_from(start)

    def _log_from(self, start):
        return self.log_file.read_bytes()[start:].decode("utf-8", "replace")

    def _add_clone_to_path(self):
        """Let `workshop_lib` be found even where pip's own entry garbles the path."""
        code = "import json, sysconfig; print(json.dumps(sysconfig.get_path('purelib')))"
        answer = subprocess.check_output([self.python, "-I", "-c", code], env=self.variables())
        packages = json.loads(answer)
        # pip writes the path itself, in UTF-8, which Pythons before 3.13 on Windows read as another
        # encoding. A relative entry needs none.
        entry = os.path.relpath(self.root, packages)
        Path(packages, "workshop_lib.pth").write_text(entry + "\n", encoding="ascii")

    def _quieten(self):
        """Ask no question about news, look for no updates on the web, and show texts as pages."""
        settings = self.folder / "share" / "jupyter" / "lab" / "settings"
        settings.mkdir(parents=True, exist_ok=True)
        quiet = {
            "@jupyterlab/apputils-extension:notification": {
                "fetchNews": "false",
                "checkForUpdates": False,
            },
            "@jupyterlab/docmanager-extension:plugin": {  # the glossary, which the lessons link to
                "defaultViewers": {"markdown": "Markdown Preview"}
            },
        }
        (settings / "overrides.json").write_text(json.dumps(quiet), encoding="utf-8")


def masters(folder=NOTEBOOKS):
    """Return the paths of the lessons in their order."""
    return sorted(folder.glob("[0-9][0-9]_*.ipynb"))


def own_lessons():
    """Return the lessons that a teacher has added, such as `my_additions/20_our_lathe.ipynb`."""
    named = os.environ.get(ADDITIONS, MY_ADDITIONS)
    return masters(Path(named)) if named else []


def master(number):
    """Return the path of a lesson by its number as a person types it; Trouble if there is none.

    One that a teacher has added counts too.
    """
    lessons, own = masters(), own_lessons()
    for path in [*own, *lessons]:
        if path.name.startswith(f"{int(number):02}_"):
            return path
    more = "".join(f", and {path.name[:2]} of your own" for path in own)
    last = f"{len(lessons) - 1:02}{more}"
    raise trouble.Trouble(f"there is no lesson {number}: the lessons are 00 to {last}")


def write_whole(path, record):
    """Replace a record in one step, so that it is never seen half written."""
    fresh = path.with_suffix(".new")
    fresh.write_text(json.dumps(record), encoding="utf-8")
    os.replace(fresh, path)


def remove(folder):
    """Remove a folder, or only the link where the environment was put elsewhere by a link."""
    if folder.is_symlink():
        folder.unlink()
    elif folder.exists():
        shutil.rmtree(folder)


def say(text):
    """Print a line at once, even where the output is a file."""
    print(trouble.printable(text), flush=True)


def say_waiting():
    """Tell why nothing seems to happen while another start has the lock."""
    say("Another start is setting the workbook up; waiting for it to end …")


def wait(process, tick):
    """Wait for a child, ticking meanwhile; when interrupted, end the child first."""
    try:
        while True:
            try:
                return process.wait(timeout=0.3)
            except subprocess.TimeoutExpired:
                tick()
    except KeyboardInterrupt:
        process.terminate()
        process.wait()
        raise
