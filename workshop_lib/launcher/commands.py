"""Which commands does ``python3 -m workshop_lib`` know, and how is one started?

To add a command: write a module with ``main(arguments)`` that returns an exit status, and give it a
row in `COMMANDS`. The module is imported inside the environment and may use every package there.
"""

import contextlib
import difflib
import importlib
import os
import subprocess
import sys
import textwrap
from typing import NamedTuple

from workshop_lib.launcher.environment import CHECKS, LESSONS, ROOT, WINDOWS, Environment
from workshop_lib.launcher.trouble import Trouble, from_file_error, printable

START = "py -m workshop_lib" if WINDOWS else "python3 -m workshop_lib"
WRONG_USE = 2
INTERRUPTED = 130
# Set for the process that takes a command over, so that it cannot be handed on in a circle.
HANDED_OVER = "WORKSHOP_HANDED_OVER"


class Command(NamedTuple):
    """A row of the table: what a command is for, the module that runs it, and what that needs."""

    summary: str
    module: str
    needs: str | None = LESSONS
    details: str = ""


COMMANDS = {
    "open": Command(
        "open the lessons in JupyterLab, in your browser",
        "workshop_lib.launcher.opening",
        details="You work in copies of your own, in my_lessons/. Add a lesson's number to start "
        "there: open 02. --masters shows the finished lessons, already run, with the answer below "
        "each prediction. --projector makes text and panels large enough for a class to read. "
        "--fresh puts the copies and answers so far away and starts again, for a new group. Any "
        "other option goes to JupyterLab, for example --no-browser or --port=8890.",
    ),
    "check": Command(
        "run every check: lint, tests, lessons cell by cell",
        "workshop_lib.launcher.checking",
        CHECKS,
        details="--quick runs lint, units and physics only. --thorough tries every case where the "
        "usual check tries a sample. --matrix repeats the numeric tests and the lessons with "
        "the rounding of other processors, on every installed Python from 3.11 to 3.13. With any "
        "other arguments only the tests run, and pytest gets the arguments: check tests/slip, or "
        "check -k margin.",
    ),
    "assess": Command(
        "judge job files: is the disc ready to turn?",
        "workshop_lib.plan.assess_command",
        details="Name one or more job files, such as notebooks/jobs/tide_gauge_cover.toml. Exit "
        "status 0: all are ready; 1: one is not ready; 2: one cannot be read.",
    ),
    "card": Command(
        "turn job files into cards for the machine, one sheet each",
        "workshop_lib.write_up.card_page",
        details="Name one or more job files. Each card goes beside its job, or into the folder "
        "that --folder names. Print it from your browser, on A4 or Letter.",
    ),
    "write-up": Command(
        "turn job files into pages to publish",
        "workshop_lib.write_up.publish",
        details="Name one or more job files. --form html makes one file, --form markdown a text "
        "with a folder of pictures. Each page goes beside its job, or into the folder that "
        "--folder names.",
    ),
    "making-sheet": Command(
        "write a sheet for making and checking your own nose",
        "workshop_lib.write_up.making_command",
        details="It takes the nose from my_shop.toml in this folder or in my_lessons/, or from a "
        "file that you name. --nose picks one of several, --folder says where the page goes.",
    ),
    "worksheets": Command(
        "make a different worksheet for each learner, and the key",
        "workshop_lib.teaching.worksheets_command",
        details="Name lessons, such as 02 or 01 02, or all. --sheets 24 sets how many sheets (12), "
        "--tasks 4 how many questions on each, --seed 7 which numbers, --paper a4 or letter. "
        "--questions torque faces picks the questions, --units inch or metric the units. --names "
        "class.csv puts a name on each sheet (one name on each line of the list). --faded puts a "
        "worked and a half-worked example before each question. --folder says where the set goes, "
        "--name what it is called; --apart makes one file for each sheet, --replace overwrites an "
        "earlier set.",
    ),
    "hand-out": Command(
        "make a hand-out without answers, and slides, from a lesson",
        "workshop_lib.teaching.hand_out",
        details="Name lessons, such as 02. The files go into the folder hand_outs, or the one that "
        "--folder names. --units inch or metric runs the lesson again in those units; --paper a4 "
        "or letter.",
    ),
    "pages": Command(
        "export the lessons as pages to read and print",
        "workshop_lib.teaching.pages",
        details="They go into the folder pages/, or the one that --folder names; only a page of "
        "the same lesson is replaced. To export only some, name lessons (02), notebooks or "
        "Markdown texts. --units inch or metric runs the lessons again, so that they and the "
        "teacher's notes are in those units; without it nothing is run. --without-answers leaves "
        "out whatever gives an answer away. --projector starts with large text.",
    ),
    "learner-copies": Command(
        "make copies of the lessons to hand out",
        "workshop_lib.launcher.copies",
        details="They go into the folder learner/, or the one that --folder names. A copy that "
        "somebody has worked in is left as it is.",
    ),
    "overview": Command(
        "show how the class is doing, on one page to project",
        "workshop_lib.teaching.overview",
        details="Name the folder with the learners' answer files, then lessons if you do not want "
        "all that have been started: overview handed_in 02. --show names, numbers (the default) or "
        "none; --list class.csv shows who is missing; --page says where the page goes. For a class "
        "on one machine, class answers FOLDER collects the files.",
    ),
    "class": Command(
        "run a class of many learners on one Linux machine",
        "workshop_lib.classroom.command",
        needs=None,  # it makes an environment of its own, where the learners can read it
        details="First class add LIST (a text file with one name on each line), then class start, "
        "both with sudo. class start --help says how to open it to a network. There are also class "
        "show, class password LOGIN and class remove LOGIN.",
    ),
    "store": Command(
        "run the lessons and store them with their outputs",
        "workshop_lib.launcher.running_lessons",
        details="To store only some, name lessons (02) or notebooks.",
    ),
    "words": Command(
        "rebuild the glossary page and the links to it",
        "workshop_lib.teaching.word_links",
    ),
    "figures": Command("redraw the pictures in figures/", "workshop_lib.lessons.gallery"),
    "calls": Command(
        "write a reference page of the library's calls",
        "workshop_lib.launcher.calls_page",
        CHECKS,
        details="It goes to pages/calls.html, or into the file that you name, and needs no network "
        "to read: what each call answers, with units, shapes, errors, source and an example.",
    ),
    "bench": Command(
        "run the benchmarks and print their ratios",
        "tests.benchmarks.run_all",
        CHECKS,
        details="To run only some, name them: bench slip.",
    ),
    "fuzz": Command(
        "try a million bad inputs on everything that takes input",
        "tests.fuzz.run",
        CHECKS,
        details="Calls, readers, panels and their fields, entries of jobs and shops, tables, class "
        "lists and answer files: new inputs each time, and a table of the results. A number "
        "sets how many inputs, --minutes how long, --seed which ones, --only what is tried, "
        "--processes how many run at once: fuzz 5000 --only slip. A failing input is printed with "
        "the command that repeats it.",
    ),
    "faults": Command(
        "kill whatever writes files: is the last good file safe?",
        "tests.faults.run",
        CHECKS,
        details="Writes answers, jobs, pages, worksheets and the rest in a scratch folder, kills "
        "the process before each step and at random moments, and checks that the last good file "
        "is whole and that the next start puts the rest right. --count sets how many kills (300), "
        "--seed which moments, --only which kinds of files: --only worksheets.",
    ),
    "mutants": Command(
        "change the library in small ways: do the tests notice?",
        "tests.mutation.run",
        CHECKS,
        details="Changes one operator, sign, comparison or number at a time, in memory only, and "
        "runs the nearest unit tests. --count sets how many (300), --seed which ones, --rooms in "
        "which rooms: --rooms friction slip. --record FILE carries on from an earlier run; --tests "
        "only lists the nearest tests. Exit status 0 when every change was noticed.",
    ),
}
# The first command of each group, and whom the group is for.
GROUPS = {
    "open": "To start:",
    "assess": "For a job of your own:",
    "worksheets": "For a class:",
    "store": "For changing the workbook itself:",
}


def run(arguments, environment=None):
    """Run the command that `arguments` name and return its exit status."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:  # closed by whoever started this
            setattr(sys, name, open(os.devnull, "w"))  # noqa: SIM115
        with contextlib.suppress(AttributeError):
            getattr(sys, name).reconfigure(errors="replace")  # a folder's name may not fit
    try:
        status = dispatch(arguments, environment or Environment())
        sys.stdout.flush()
        return status
    except BrokenPipeError:  # whoever reads has had enough, as in `… | head`
        say_no_more()
        return 0
    except Trouble as trouble:
        return refuse(trouble)
    except OSError as error:
        status = refuse(from_file_error(error, ROOT))
        say_no_more()
        return status
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return INTERRUPTED


def say_no_more():
    """Let what is still to be printed go nowhere: the way out is closed or full."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def dispatch(arguments, environment):
    """Find the command, make its environment ready, and run it there."""
    handed_over = os.environ.pop(HANDED_OVER, None) is not None
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(help_text())
        return 0
    name, *rest = arguments
    if name not in COMMANDS:
        return refuse(unknown(name))
    command = COMMANDS[name]
    if rest and rest[0] in ("-h", "--help"):
        print(help_text(name))
        return 0
    if handed_over or not command.needs:
        return call(command, rest, environment)
    if not environment.is_ready(command.needs):
        if environment.runs_this():  # it cannot take itself away: the Python behind it does that
            variables = {**os.environ, "PYTHONPATH": str(ROOT)}
            return hand_over(sys._base_executable, arguments, variables)
        environment.make_ready(command.needs)
    variables = {**environment.variables(), HANDED_OVER: "1"}
    return hand_over(environment.python, arguments, variables)


def call(command, arguments, environment):
    """Import a command's module and run it; a package that is gone condemns the environment."""
    # It checks addresses in other alphabets, which nothing here has, and loads for a second.
    sys.modules.setdefault("rfc3987_syntax", None)
    try:
        module = importlib.import_module(command.module)
    except ModuleNotFoundError as error:
        if (error.name or "").startswith("workshop_lib"):
            raise
        environment.condemn()
        raise Trouble(
            f"the environment in .venv is damaged ({error}): run the same command again, and it "
            "will be rebuilt"
        ) from error
    try:
        return module.main(arguments)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise from_file_error(error, ROOT) from error
    except RuntimeError as error:  # so Pythons before 3.13 call what they cannot follow
        if "Symlink loop" in str(error):
            raise Trouble(f"{error}: a link leads back to itself, so name another place") from error
        raise


def hand_over(python, arguments, variables):
    """Go on in another Python with the same command; on Windows wait for it, as it is a child."""
    command = [str(python), "-m", "workshop_lib", *arguments]
    sys.stdout.flush()
    if not WINDOWS:
        os.execve(command[0], command, variables)
    process = subprocess.Popen(command, env=variables)
    while True:
        with contextlib.suppress(KeyboardInterrupt):  # the child hears it too and ends by itself
            return process.wait()


def refuse(reason):
    """Say in one sentence why nothing was done."""
    text = printable(reason)
    names_a_file = "." in text.partition(" ")[0].rstrip(".")
    print(text if names_a_file else text[:1].upper() + text[1:], file=sys.stderr)
    return WRONG_USE


def unknown(name):
    """Return the sentence for a command that does not exist, with the nearest one that does."""
    near = difflib.get_close_matches(name, COMMANDS, n=1)
    guess = f"did you mean {near[0]}?" if near else f"the commands are {', '.join(COMMANDS)}"
    return f"there is no command {name!r}: {guess}"


def help_text(name=None):
    """Return the few lines that explain the commands, or one of them."""
    if name:
        command = COMMANDS[name]
        end = "" if command.summary.endswith("?") else "."
        text = f"{START} {name}: {command.summary}{end} {command.details}"
        return textwrap.fill(text.strip(), 90)
    width = max(map(len, COMMANDS))
    lines = [
        "A workbook on turning thin sheet discs that have no hole. Type a command after",
        f"{START}, for example {START} open",
    ]
    for key, row in COMMANDS.items():
        if key in GROUPS:
            lines += ["", GROUPS[key]]
        lines.append(f"  {key:{width}}  {row.summary}")
    lines += ["", "The first start downloads what is needed into .venv, in about a minute."]
    return "\n".join([*lines, "To read more about a command, type --help after it."])
