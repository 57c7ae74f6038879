"""A class of simulated learners on one machine: memory, waiting, failures. A command of its own:

    sudo .venv/bin/python -m tests.benchmarks.classroom_load --learners 30

Each learner signs in as a browser does, starts a server, loads JupyterLab, opens a lesson, runs its
cells in order and moves a panel's control. First all come in the same second, with new homes; then,
with homes that have been used, one after the other. It all stays on this machine (127.0.0.1), each
round ends by itself, and the accounts that it makes are removed. The driver shares the processor
with the class; its own share is printed.
"""

import argparse
import asyncio
import contextlib
import os
import resource
import statistics
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.classroom import classroom_stage
from tests.classroom.classroom_visitor import Refused, Visitor
from workshop_lib.classroom import accounts

LESSON = "lessons/02_the_slip_criterion.ipynb"
PANEL = "Will it slip?"
STEPS, PAUSE = 20, 0.25  # steps of a slider, and seconds between them
ROUND_SECONDS = 170
END_SECONDS = 60


def main(arguments):
    """Measure both rounds and print them; return an exit status."""
    asked = parser().parse_args(arguments)
    accounts.refuse_unless_possible()
    logins = [f"load-{number:02}" for number in range(1, asked.learners + 1)]
    failed = 0
    with classroom_stage.stage(asked.port, asked.folder) as stage:
        stage.add(logins)
        with stage.open():
            print(f"{asked.learners} learners, {os.cpu_count()} cores, load {load()}")
            for title, spread in (("all at once", 0), ("one by one", asked.spread)):
                failed += asyncio.run(measure_round(stage, logins, title, spread))
    return 1 if failed else 0


def parser():
    """Return the reader of the command line."""
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--learners", type=int, default=30, choices=range(1, 61), metavar="1…60")
    reader.add_argument("--spread", type=float, default=90, help="seconds over which they come")
    reader.add_argument("--port", type=int, default=8931)
    reader.add_argument("--folder", help="keeps the class's environment there for the next run")
    return reader


async def measure_round(stage, logins, title, spread):
    """Let the learners come, print what was measured, and end their servers."""
    start, driver = time.monotonic(), driver_seconds()
    free = available()
    visits = [
        visit(stage, login, start + spread * number / len(logins))
        for number, login in enumerate(logins)
    ]
    outcomes = await asyncio.gather(*visits)
    print(f"\n{title.capitalize()}" + (f", over {spread:.0f} s" if spread else ""))
    report(outcomes)
    report_machine(stage, logins, free - available())
    print(
        f"  whole round {time.monotonic() - start:.0f} s, of which the driver's own processor ",
        end="",
    )
    print(f"time {driver_seconds() - driver:.0f} s; load at its end {load()}")
    await asyncio.gather(*(leave(stage, login) for login in logins))
    # Whoever comes back while the old server still ends would have to wait for that as well.
    own = [accounts.entry(login).pw_uid for login in logins]
    classroom_stage.wait_until(lambda: not any(map(classroom_stage.processes, own)), END_SECONDS)
    return sum("failure" in outcome for outcome in outcomes)


async def visit(stage, login, when):
    """Be one learner; return the times, or the failure in words."""
    await asyncio.sleep(max(0, when - time.monotonic()))
    outcome = {"steps": []}
    try:
        async with asyncio.timeout(ROUND_SECONDS):
            await learn(stage, login, outcome)
    except TimeoutError:
        outcome["failure"] = f"not done after {ROUND_SECONDS} s"
    except (Refused, OSError) as error:
        outcome["failure"] = str(error) or type(error).__name__
    except Exception as error:  # a failure of whatever kind is a result, not the end of the run
        outcome["failure"] = f"{type(error).__name__}: {error}"
    return outcome


async def learn(stage, login, outcome):
    """Sign in, run the lesson, move a control; note the seconds since the form was sent."""
    async with Visitor(stage.address, login, ROUND_SECONDS) as visitor:
        start = time.monotonic()
        if not await visitor.sign_in(stage.passwords[login]):
            raise Refused("was not let in")
        outcome["signed in"] = time.monotonic() - start
        await visitor.spawn()
        await visitor.open_lab()
        outcome["page"] = time.monotonic() - start
        lesson = await visitor.lesson(LESSON)
        kernel = await visitor.kernel(LESSON)
        for cell in lesson["cells"]:
            if cell["cell_type"] == "code":
                await kernel.run(cell["source"])
                if "verdict" not in outcome and any(map(verdict, kernel.panels_shown())):
                    outcome["verdict"] = time.monotonic() - start
        outcome["lesson"] = time.monotonic() - start
        await move(kernel, outcome)
        await kernel.close()


def verdict(panel):
    """Return what a panel answers, when it is one that answers without being asked."""
    return panel["frame"].get("follows") and panel["face"].get("verdict")


async def move(kernel, outcome):
    """Move the thrust of a panel step by step, and check that each answer is the step's own."""
    model = next(m for m in kernel.panels if kernel.models[m]["frame"]["title"] == PANEL)
    for step in range(STEPS):
        start, thrust = time.monotonic(), f"{500 + 20 * step} N"
        face = await kernel.set_panel(model, {"thrust": thrust})
        outcome["steps"].append(time.monotonic() - start)
        if not face["verdict"] or face["fields"]["thrust"]["value"] != thrust:
            raise Refused(f"the panel did not follow to {thrust}")
        await asyncio.sleep(PAUSE)


async def leave(stage, login):
    """End a learner's server, as the button in the hub's page does."""
    async with Visitor(stage.address, login, 60) as visitor:
        with contextlib.suppress(Exception):  # what is left is ended with the class
            await visitor.sign_in(stage.passwords[login])
            await visitor.end_server()


def report(outcomes):
    """Print the waiting times and the failures."""
    for name, words in (
        ("signed in", "signed in"),
        ("page", "JupyterLab's page loaded"),
        ("verdict", "first verdict of a panel"),
        ("lesson", "whole lesson run"),
    ):
        spread([outcome[name] for outcome in outcomes if name in outcome], words, 1, "s")
    steps = [1000 * step for outcome in outcomes for step in outcome["steps"]]
    spread(steps, f"panel step, {len(steps)} of them", 0, "ms")
    failures = Counter(outcome["failure"] for outcome in outcomes if "failure" in outcome)
    print(f"  failures: {sum(failures.values())} of {len(outcomes)}")
    for words, count in failures.items():
        print(f"    {count} × {words}")


def spread(values, words, digits, unit):
    """Print median, 90th percentile and largest of some values."""
    if not values:
        print(f"  {words}: never")
        return
    tenths = statistics.quantiles(values, n=10, method="inclusive") if values[1:] else values * 9
    shown = (statistics.median(values), tenths[8], max(values))
    parts = [f"{value:.{digits}f}" for value in shown]
    print(f"  {words}: median {parts[0]} {unit}, 90 % {parts[1]} {unit}, longest {parts[2]} {unit}")


def report_machine(stage, logins, taken):
    """Print memory and processor time of each learner, and of the hub."""
    own = [classroom_stage.processes(accounts.entry(login).pw_uid) for login in logins]
    spread([classroom_stage.memory_of(each) for each in own], "memory of a learner", 0, "MB")
    spread(
        [classroom_stage.seconds_of(each) for each in own], "processor time of a learner", 1, "s"
    )
    hub = hub_processes(stage)
    print(
        f"  memory of the hub, its proxy and culler: {classroom_stage.memory_of(hub):.0f} MB; ",
        end="",
    )
    print(f"the machine's available memory fell by {taken:.0f} MB")


def hub_processes(stage):
    """Return the processes of the hub: those that run from the class's environment as root."""
    mark = str(stage.places.folder).encode()
    found = []
    for number in classroom_stage.processes(0):
        with contextlib.suppress(OSError):
            if mark in Path(f"/proc/{number}/cmdline").read_bytes():
                found.append(number)
    return found


def available():
    """Return the memory in MB that the machine could still give."""
    lines = Path("/proc/meminfo").read_text().splitlines()
    fields = next(line.split() for line in lines if line.startswith("MemAvailable:"))
    return int(fields[1]) * 1024 / 1e6


def driver_seconds():
    """Return the processor time that this process has used."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


def load():
    """Return the machine's load averages in words."""
    return " ".join(f"{value:.1f}" for value in os.getloadavg())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
