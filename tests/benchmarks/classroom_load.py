"""A class of simulated learners on one machine: memory, waiting, failures. A command of its own:

    sudo .venv/bin/python -m tests.benchmarks.classroom_load --learners 30

Each learner signs in as a browser does, starts a server, loads JupyterLab, opens a lesson, runs its
cells in order and moves a panel's control. First all come in the same second, with new homes; then,
with homes that have been used, one after the other; then all at once to a bare JupyterHub of the
same environment, where a learner's kernel runs the lesson's imports and nothing else. How much
later a first verdict comes than those imports is the ratio. It all stays on this machine
(127.0.0.1), each round ends by itself, and the accounts that it makes are removed. The driver
shares the processor with the class; its own share is printed.
"""

import argparse
import asyncio
import contextlib
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.benchmarks.bench_start import imports
from tests.classroom import classroom_stage
from tests.classroom.classroom_visitor import Refused, Visitor
from workshop_lib.classroom import accounts
from workshop_lib.launcher.environment import ROOT

LESSON = "lessons/02_the_slip_criterion.ipynb"
PANEL = "Will it slip?"
STEPS, PAUSE = 20, 0.25  # steps of a slider, and seconds between them
ROUND_SECONDS = 170
END_SECONDS = 60
AIM = 1.2  # first verdict against the bare hub's imports
BARE = """
c = get_config()
c.JupyterHub.bind_url = "{address}"
c.JupyterHub.hub_port, c.ConfigurableHTTPProxy.api_url = {port}, "http://127.0.0.1:{inner}"
c.PAMAuthenticator.service, c.Authenticator.allow_all = "{service}", True
c.Spawner.http_timeout = c.Spawner.start_timeout = 300
"""


def main(arguments):
    """Measure both rounds and print them; return an exit status."""
    asked = parser().parse_args(arguments)
    accounts.refuse_unless_possible()
    logins = [f"load-{number:02}" for number in range(1, asked.learners + 1)]
    with classroom_stage.stage(asked.port, asked.folder) as stage:
        stage.add(logins)
        with stage.open():
            print(f"{asked.learners} learners, {os.cpu_count()} cores, load {load()}")
            rounds = [asyncio.run(measure_round(stage, logins, "all at once", learn))]
            if asked.spread:
                title = "one by one"
                rounds.append(asyncio.run(measure_round(stage, logins, title, learn, asked.spread)))
        with bare_hub(stage):
            rounds.append(asyncio.run(measure_round(stage, logins, "a bare hub", import_only)))
    say_ratio(rounds[0], rounds[-1])
    return 1 if any("failure" in outcome for each in rounds for outcome in each) else 0


def say_ratio(ours, bare):
    """Print how much later the first verdict comes than the bare hub's imports are done."""
    for words, of in (("median", statistics.median), ("longest", max)):
        first, imported = (
            of([one.get("verdict", ROUND_SECONDS) for one in each]) for each in (ours, bare)
        )
        print(f"first verdict, {words}: {first / imported:.2f} of the bare hub's (aim {AIM})")


@contextlib.contextmanager
def bare_hub(stage):
    """Run a plain JupyterHub of the class's environment for the same accounts."""
    python = stage.places.workbook / ".venv" / "bin" / "python"
    facts = {"address": stage.address, "port": stage.port + 1, "inner": stage.port + 2}
    with tempfile.TemporaryDirectory() as folder:
        config, log = Path(folder, "bare.py"), Path(folder, "log")
        config.write_text(BARE.format(service=accounts.SERVICE.name, **facts))
        command = [python, "-m", "jupyterhub", "-f", config]
        path = os.pathsep.join([str(python.parent), os.defpath])
        with (
            open(log, "wb") as said,
            subprocess.Popen(
                command, cwd=folder, env={"PATH": path}, stdout=said, stderr=said
            ) as hub,
        ):
            try:
                up = classroom_stage.wait_until(lambda: b"is now running" in log.read_bytes(), 60)
                assert up, log.read_text()
                yield
            finally:
                hub.terminate()
                hub.wait(END_SECONDS)


async def import_only(stage, login, outcome):
    """Sign in and import what the lesson imports; note the seconds since the form was sent."""
    code = imports(ROOT / "notebooks" / Path(LESSON).name)
    async with Visitor(stage.address, login, ROUND_SECONDS) as visitor:
        start = time.monotonic()
        if not await visitor.sign_in(stage.passwords[login]):
            raise Refused("was not let in")
        await visitor.spawn()
        await visitor.open_lab()
        outcome["page"] = time.monotonic() - start
        kernel = await visitor.kernel("bare.ipynb")
        await kernel.run(code)
        outcome["verdict"] = time.monotonic() - start
        await kernel.close()


def parser():
    """Return the reader of the command line."""
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--learners", type=int, default=30, choices=range(1, 61), metavar="1…60")
    reader.add_argument(
        "--spread", type=float, default=90, help="seconds over which they come (0: no)"
    )
    reader.add_argument("--port", type=int, default=8931)
    reader.add_argument("--folder", help="keeps the class's environment there for the next run")
    return reader


async def measure_round(stage, logins, title, act, spread=0):
    """Let the learners come, print what was measured, end their servers; return the outcomes."""
    start, driver = time.monotonic(), driver_seconds()
    free = available()
    visits = [
        visit(stage, login, start + spread * number / len(logins), act)
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
    return outcomes


async def visit(stage, login, when, act):
    """Be one learner; return the times, or the failure in words."""
    await asyncio.sleep(max(0, when - time.monotonic()))
    outcome = {"steps": []}
    try:
        async with asyncio.timeout(ROUND_SECONDS):
            await act(stage, login, outcome)
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
    hub = classroom_stage.of_class(stage)
    print(
        f"  memory of the hub, its proxy and culler: {classroom_stage.memory_of(hub):.0f} MB; ",
        end="",
    )
    print(f"the machine's available memory fell by {taken:.0f} MB")


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
