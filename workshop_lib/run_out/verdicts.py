"""What can be said of a diagnosis? The answer first, as surely as the readings allow.

"Almost certain" is said where it was right at least 19 times in 20, "likely" at least 3 times in 4
(`belief.csv`), on set-ups with no fault, one, two at once and misread needles; `bench diagnosis`
counts it anew.
"""

import numpy as np

from workshop_lib.quantities import as_shown, listed, resolution, show
from workshop_lib.run_out.weighing import setting

# What a verdict may claim, and what must be so that it is right.
CLAIMS = {
    "almost_certain": "this cause, almost certainly",
    "likely": "this cause, likely",
    "two": "two faults, and which they are",
    "nothing": "nothing to act on",
    "unknown": "nothing that the workbook knows",
    "undecided": "not decided yet",
}


def claim(found):
    """Return the key of `CLAIMS` under which the verdict of a `Diagnosis` comes."""
    if not found.explained:
        return "unknown" if found.unknown else "two"
    if found.slight:
        return "nothing"
    word = how_sure(found.chance)
    return {"Almost certain": "almost_certain", "Likely": "likely"}.get(word, "undecided")


def verdict(found):
    """Say the outcome of a `Diagnosis` in a few sentences."""
    said = [_read_again(found), _cause(found) if found.explained else _not_one(found)]
    return " ".join(sentence for sentence in said if sentence)


def remarks(found):
    """What a diagnosis cannot explain, and what to do about it, in sentences."""
    said = []
    if found.unknown:
        said.append(
            "The readings lie further from every cause that the workbook knows than scatter "
            "explains: look for one that it does not know, a wrong unit or a wrong graduation."
        )
    elif not found.explained:
        said.append(
            "With two faults at once, fix the one that is easier to fix, clock everything again, "
            "and see what is left."
        )
    return said


def how_sure(chance):
    """The word for a chance of being right.

    >>> how_sure(0.97), how_sure(0.8), how_sure(0.6)
    ('Almost certain', 'Likely', 'Possible')
    """
    if resolution.at_least(chance, setting("almost_certain")):
        return "Almost certain"
    return "Likely" if resolution.at_least(chance, setting("likely")) else "Possible"


def _cause(found):
    leader, word = found.leader, how_sure(found.chance)
    if found.slight and leader.smallest == 0:
        return "Nothing to act on: no fault shows that is large enough to matter."
    if found.slight:
        size = show(leader.size, found.unit, figures=1)
        return f"Nothing to act on: if anything, {leader.called}, by no more than about {size}."
    others = [one.called for one in found.not_excluded]
    if word == "Possible":
        return f"Not decided yet: {_listed([leader.called, *others], 'or')}."
    said = f"{word}: {leader.called}."
    if others and word != "Almost certain":
        said += f" Still possible: {_listed(others, 'or')}."
    if resolution.more_than(found.two, setting("worth_a_word")):
        said += " A second fault besides it is not ruled out."
    return said


def _not_one(found):
    start = "No single cause explains these readings."
    if found.unknown:
        return f"{start} No two that the workbook knows do either."
    both = _listed(found.together, "and")
    return f"{start} {how_sure(found.together_chance)}: two faults at once, {both}."


def _read_again(found):
    """Name the readings that stand apart from all others."""
    if not found.apart:
        return ""
    places = [place_of(found, one) for one in found.apart]
    if len(places) == 1:
        return f"Read again: {places[0]}. It does not fit the others and was left out."
    return f"Read again: {'; '.join(places)}. They do not fit the others and were left out."


def place_of(found, one):
    """Say where a reading that stands apart was taken, and by how much it is off."""
    test = found.turns[one.test]
    core, number = test.core, one.reading
    at = f"{np.degrees(core.angles[number]):.0f}°" if core.angles.size else ""
    at = at or f"{core.forces[number]:.0f} N (reading {number + 1})"
    off = show(as_shown(abs(one.by), "length"), found.unit, figures=2)
    return f"{test.label} at {at}, off by about {off}"


def _listed(words, join):
    return listed(words[:3] + (["others"] if len(words) > 3 else []), join)
