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
        details="They are your own copies, in my_lessons/. Give a lesson's number to start there: "
        "open 02. With --masters the lessons are shown as they stand in the workbook, run, with "
        "the answer below each prediction; with --projector text and panels are large, for a "
        "class to read. With --fresh a new group begins with copies that nobody has worked in. "
        "Other options go to JupyterLab, for example --no-browser or --port=8890.",
    ),
    "check": Command(
        "run every check: lint, tests, lessons cell by cell",
        "workshop_lib.launcher.checking",
        CHECKS,
        details="--quick runs lint, units and physics only; --thorough tries all that the usual "
        "check tries a sample of; --matrix the numeric tests and the "
        "lessons as other processors round, on each Python from 3.11 to 3.13 that is here. With "
        "other arguments only the tests run, and pytest gets the arguments: check tests/slip, or "
        "check -k margin.",
    ),
    "bench": Command(
        "run the benchmarks and print their ratios",
        "tests.benchmarks.run_all",
        CHECKS,
        details="Name benchmarks to run only those: bench slip.",
    ),
    "learner-copies": Command(
        "make copies of the lessons to hand out",
        "workshop_lib.launcher.copies",
        details="They go into learner/, or where --folder says. A copy in which somebody has "
        "worked is left as it is.",
    ),
    "pages": Command(
        "export the lessons as pages to read and print",
        "workshop_lib.teaching.pages",
        details="They go into pages/, or where --folder says; nothing is run (but for --units inch "
        "or metric, in which lessons and teacher's notes are then told), and only a page of the "
        "same lesson is replaced. Name lessons, such as 02, notebooks or Markdown texts to "
        "export only those. --without-answers leaves out what gives an answer away; --projector "
        "begins with large text.",
    ),
    "calls": Command(
        "write one page of the library's calls",
        "workshop_lib.launcher.calls_page",
        CHECKS,
        details="It goes to pages/calls.html, or into the file that you name, and is read without "
        "a network: what each call answers, with units, shapes, errors, source and an example.",
    ),
    "words": Command(
        "write the glossary's page and links anew",
        "workshop_lib.teaching.word_links",
    ),
    "fuzz": Command(
        "hand everything that takes input a million hostile ones",
        "tests.fuzz.run",
        CHECKS,
        details="Calls, readers, panels and their fields, entries of jobs and shops, tables, class "
        "lists and answer files: new inputs each time, and a table of what came of them. A number "
        "sets how many, --minutes how long, --seed which, --only what is tried, --processes how "
        "many at once: fuzz 5000 --only slip. What fails is printed with the way to repeat it.",
    ),
    "faults": Command(
        "kill what writes files, at every step: is the last good one there?",
        "tests.faults.run",
        CHECKS,
        details="Writes answers, jobs, pages, worksheets and the rest in a scratch folder, kills "
        "the process before each step and at moments drawn by chance, and looks whether what was "
        "good is whole and the next start mends the rest. --count says how many kills (300), "
        "--seed which moments, --only worksheets which kinds of files.",
    ),
    "mutants": Command(
        "change the library in small ways: do the tests notice?",
        "tests.mutation.run",
        CHECKS,
        details="Changes one operator, sign, comparison or number at a time, in memory only, and "
        "runs the nearest unit tests. --count says how many (300), --seed which ones, --rooms "
        "friction slip only where; --record FILE goes on from what was found before; --tests only "
        "says which tests are nearest. It ends with 0 when nothing survived.",
    ),
    "figures": Command("draw the pictures in figures/ anew", "workshop_lib.lessons.gallery"),
    "assess": Command(
        "judge job files: is the disc ready to turn?",
        "workshop_lib.plan.command",
        details="Name job files, such as notebooks/jobs/tide_gauge_cover.toml. It ends with 0 when "
        "all are ready, with 1 when one is not, with 2 when one cannot be read.",
    ),
    "write-up": Command(
        "write job files up as pages to publish",
        "workshop_lib.write_up.command",
        details="Name job files. --form html (one file) or markdown (with a folder of pictures); "
        "--folder says where the pages go, which is beside the job otherwise.",
    ),
    "card": Command(
        "write job files as cards, one sheet each, for the machine",
        "workshop_lib.write_up.card_command",
        details="Name job files. Each card goes beside its job, or where --folder says; print it "
        "from your browser, on A4 or Letter.",
    ),
    "making-sheet": Command(
        "write a sheet to make and check your own nose by",
        "workshop_lib.write_up.making_command",
        details="It takes the nose of my_shop.toml in this folder or in my_lessons/, or of a file "
        "that you name; --nose says which of several, --folder where the page goes.",
    ),
    "store": Command(
        "run the lessons and store them with their outputs",
        "workshop_lib.launcher.running_lessons",
        details="Name notebooks to store only those.",
    ),
    "worksheets": Command(
        "make different worksheets for a class, and their key",
        "workshop_lib.teaching.worksheets_command",
        details="Name lessons, such as 02 or 01 02, or all. --sheets 24 says how many (12), "
        "--tasks 4 how many questions on each, --seed 7 which numbers, --paper a4 or letter; "
        "--questions torque faces says which questions, --units inch or metric in which numbers, "
        "--names class.csv whose (a name on each line), --faded puts a worked example and a "
        "half-worked one before each question; "
        "--folder where, --name under which name; --apart makes one file for each sheet, "
        "--replace writes over an earlier set.",
    ),
    "overview": Command(
        "one page to project on how a class stands",
        "workshop_lib.teaching.overview",
        details="Name the folder with the learners' answer files, and lessons such as 02 if not "
        "all that were begun: overview handed_in 02. --show names, numbers (usual) or none; --list "
        "class.csv tells who is missing; --page where it goes. Of a class on one machine, class "
        "answers FOLDER gathers the files.",
    ),
    "hand-out": Command(
        "make a hand-out without answers, and slides, of a lesson",
        "workshop_lib.teaching.hand_out",
        details="Name lessons, such as 02. They go into the folder hand_outs, --folder says where; "
        "--units inch or metric runs the lesson anew in it; --paper a4 or letter.",
    ),
    "class": Command(
        "many learners at once on one Linux machine",
        "workshop_lib.classroom.command",
        needs=None,  # it makes an environment of its own, where the learners can read it
        details="First class add LIST, with a name on each line of the list, then class start; "
        "both with sudo. class start --help tells how to open it to a network. Others are class "
        "show, class password LOGIN and class remove LOGIN.",
    ),
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
            f"the environment in .venv is damaged ({error}): start the same command again, which "
            "makes it afresh"
        ) from error
    try:
        return module.main(arguments)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise from_file_error(error, ROOT) from error
    except RuntimeError as error:  # so Pythons before 3.13 call what they cannot follow
        if "Symlink loop" in str(error):
            raise Trouble(f"{error}: a link leads in a circle, name another place") from error
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
    print(text[:1].upper() + text[1:], file=sys.stderr)
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
        text = f"{START} {name}: {command.summary}. {command.details}"
        return textwrap.fill(text.strip(), 90)
    width = max(map(len, COMMANDS))
    rows = [f"  {START} {key:{width}}  {row.summary}" for key, row in COMMANDS.items()]
    return "\n".join(
        [
            "A workbook on turning thin sheet discs that have no hole. Its commands:",
            "",
            *rows,
            "",
            "The first start fetches what is needed into .venv. --help after a command tells more.",
        ]
    )
