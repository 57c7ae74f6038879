"""Jobs with a likely slip of the pen: a digit lost or doubled, a unit or two entries exchanged.

Each is judged, or refused by the name of an entry; no slip ends in an error that names none.
"""

import itertools
import random
import re

import pytest

from tests.house.thorough import among
from workshop_lib import plan
from workshop_lib.launcher.environment import ROOT
from workshop_lib.plan.entry_table import ENTRIES
from workshop_lib.quantities import InputError

JOBS = sorted((ROOT / "notebooks" / "jobs").glob("*.toml"))
QUANTITY = re.compile(r'"(-?[0-9]+(?:\.[0-9]+)?)( ?)([^"0-9\n]{1,8})"')
SWAPPED = {
    "mm": "in",
    "in": "mm",
    "N": "lbf",
    "lbf": "N",
    "um": "mm",
    "rev/min": "rad/s",
    "g": "kg",
}
SLIPS = ("lost", "doubled", "point", "unit", "exchanged")


def slipped(text, found, slip):
    """Return the text with one slip at a quantity that was found in it; None where none is."""
    number, gap, unit = found.groups()
    if slip == "exchanged":
        later = QUANTITY.search(text, found.end())
        if later is None:
            return None
        between = text[found.end() : later.start()]
        return text[: found.start()] + later[0] + between + found[0] + text[later.end() :]
    written = {
        "lost": number[:-1] if len(number.strip("-")) > 1 else None,
        "doubled": number + number[-1],
        "point": number.replace(".", "") if "." in number else f"{number[:1]}.{number[1:] or 0}",
        "unit": number if unit in SWAPPED else None,
    }[slip]
    if written is None or written.endswith("."):
        return None
    unit = SWAPPED[unit] if slip == "unit" else unit
    return f'{text[: found.start()]}"{written}{gap}{unit}"{text[found.end() :]}'


def every_slip(path):
    """Yield each text of a job with one slip in it."""
    text = path.read_text(encoding="utf-8")
    for found, slip in itertools.product(QUANTITY.finditer(text), SLIPS):
        made = slipped(text, found, slip)
        if made is not None:
            yield f"{slip} at {found[0]}", made


@pytest.mark.filterwarnings("ignore::workshop_lib.quantities.OutOfRangeWarning")
@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_a_slip_of_the_pen_is_judged_or_named(path):
    told = list(every_slip(path))
    assert len(told) > 60
    for name, text in random.Random(path.stem).sample(told, among(8, len(told))):
        try:
            found = plan.assess(plan.parse(text), draws=0)
        except InputError as error:
            faults = getattr(error, "faults", [error])
            named = [each.name.split("[")[0] for each in faults]
            assert all(any(key.startswith(n) for key in ENTRIES) for n in named), (name, str(error))
        else:
            assert found.holds in ("yes", "no", "open"), name
            assert not re.search(
                r"\b(nan|inf)\b", " ".join([found.verdict, *map(str, found.table)])
            )
