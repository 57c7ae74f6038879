"""Does a notebook's Python have what the lessons need? Told before anything else is loaded.

Every lesson begins with the cell `FIRST`. A notebook may be opened in any front end, with any
kernel; where something is missing, that cell and every later one say in one sentence what to type.
"""

import re
import tomllib
from importlib import metadata
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[1] / "pyproject.toml"
FIRST = """\
# Finds the workbook's library and its packages, or says in one sentence what to type.
try:
    from workshop_lib.teaching import needed

    needed.check()
except ImportError as missing:
    import sys

    python = f'"{sys.executable}"' if " " in sys.executable else sys.executable
    pip = f"{python} -m pip install -r requirements.txt"
    cure = f"{missing}: in the workbook's folder type  {pip}  and restart the kernel."
    if sys.version_info.minor < 11:
        cure = "The lessons need Python 3.11 or newer: choose a kernel with a newer Python."
    get_ipython().set_custom_exc((ImportError, NameError), lambda *_, **__: print(cure))
    raise ImportError(cure) from None
"""


def check(project=PROJECT):
    """Raise ModuleNotFoundError, in words, when a package is missing or not of a tried version."""
    needs = tomllib.loads(project.read_text(encoding="utf-8"))["project"]["dependencies"]
    faults = [sentence for need in needs if (sentence := fault(need))]
    if faults:
        raise ModuleNotFoundError(f"The {', and the '.join(faults)}")


def fault(need):
    """Return what is wrong with one package, or an empty text. need: such as "pint>=0.25,<0.27"."""
    name, least, below = re.fullmatch(r"([\w-]+)>=([\d.]+),<([\d.]+)", need).groups()
    try:
        version = metadata.version(name)
    except metadata.PackageNotFoundError:
        return f"package {name} is missing"
    if numbers(least) <= numbers(version) < numbers(below):
        return ""
    return f"package {name} is version {version} (needed: {least} or newer, but older than {below})"


def numbers(version):
    """Return the numbers that a version begins with, without zeros at the end: "3.10.0" (3, 10)."""
    found = [int(part) for part in re.match(r"[\d.]*", version)[0].strip(".").split(".") if part]
    while found and found[-1] == 0:
        found.pop()
    return tuple(found)
