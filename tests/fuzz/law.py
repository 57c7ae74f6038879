"""The law that every input is held to: a sensible answer, or a refusal in words, and soon.

`tried` runs one input and says what came of it: "answered", "refused", or what it did wrong.
"""

import math
import time
import warnings
from dataclasses import dataclass

import numpy as np
import pint

from workshop_lib.quantities import InputError, OutOfRangeWarning

SLOWEST = 1.0  # s of the processor's time
LONGEST = 4000  # characters of a refusal; that of a job file names every bad entry


SORTS = ("traceback", "wrong reading", "ill put", "too slow")


class Wrong(AssertionError):
    """What came back breaks the law."""


class Fault(Wrong):
    """What would have been a traceback, had nobody caught it."""


@dataclass(frozen=True)
class Outcome:
    """What came of one input: a word, the processor's seconds, what was wrong and its sort."""

    word: str
    seconds: float
    wrong: str = ""
    sort: str = ""  # of `SORTS`


def tried(act):
    """Call `act()` and judge: it may answer, warn in words, or refuse in words."""
    begun = time.thread_time()
    wrong, word, sort = "", "answered", "ill put"
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        try:
            act()
        except InputError as error:
            word, wrong = "refused", _ill_put(error)
        except Exception as error:  # the point of the whole exercise
            wrong = f"{type(error).__name__}: {str(error)[:200]}"
            sort = "wrong reading" if type(error) is Wrong else "traceback"
    seconds = time.thread_time() - begun
    strange = [each for each in caught if not issubclass(each.category, OutOfRangeWarning)]
    if strange and not wrong:
        wrong = f"{strange[0].category.__name__}: {strange[0].message}"
    if seconds > SLOWEST and not wrong:
        wrong, sort = f"took {seconds:.1f} s", "too slow"
    return Outcome("failed" if wrong else word, seconds, wrong, sort if wrong else "")


def _ill_put(error):
    """Say what is wrong with the words of a refusal, or nothing."""
    text = str(error)
    if len(text) > LONGEST:
        return f"a refusal of {len(text)} characters"
    if not all(c.isprintable() or c == "\n" for c in text):
        return f"a refusal that cannot be printed: {text!r}"
    return "" if text.strip() else "a refusal without a word"


def has_number(found):
    """Refuse an answer that is, or holds, NaN: nobody asked for that."""
    if isinstance(found, pint.Quantity):
        found = found.magnitude
    if isinstance(found, float | np.ndarray | np.floating):
        array = np.asarray(found)
        if array.dtype.kind == "f" and np.isnan(array).any():
            raise Wrong("NaN was handed out")
    elif isinstance(found, tuple | list):
        for each in found:
            has_number(each)
    elif isinstance(found, float) and math.isnan(found):
        raise Wrong("NaN was handed out")
    return found
