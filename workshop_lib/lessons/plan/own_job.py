"""What does a learner's own job file say in lesson 06? Judged or refused, in words."""

from pathlib import Path

from workshop_lib import plan, write_up
from workshop_lib.drawings import page
from workshop_lib.lessons.plan.panels import WORDS, answers
from workshop_lib.quantities import InputError


def look_over(file):
    """Judge the job in a file, or list what is wrong with the file. Returns a block of a page."""
    try:
        found = plan.assess(plan.load(file))
    except InputError as error:
        return _faults(error)
    remarks = [list(found.remarks)] if found.remarks else []
    verdict = page.verdict(found.verdict, found.holds, WORDS[found.holds])
    return page.stack(verdict, *answers(found), *remarks)


def publish(file):
    """Write the job in a file up, beside the file, and say where. Returns a block of a page."""
    try:
        job = plan.load(file)
        written = write_up.write(job, Path(file).parent)
    except InputError as error:
        return _faults(error)
    words = f"Written: {written.name}, beside {Path(file).name}."
    return page.note(f"{words} {write_up.why_numbered(job, written)}".rstrip())


def card(file):
    """Write the card of the job in a file, beside the file, and say where. Returns a block."""
    try:
        written = write_up.write_card(plan.load(file), Path(file).parent)
    except InputError as error:
        return _faults(error)
    words = f"Written: {written.name}, beside {Path(file).name}. Open it and print it: one sheet."
    return page.note(words)


def _faults(error):
    """What is wrong with a file: how much in a line, then each fault for itself."""
    first, *each = str(error).splitlines()
    heading = page.verdict(first, "no", "Correct the file first")
    return page.stack(heading, [line.strip() for line in each]) if each else heading
