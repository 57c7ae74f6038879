"""What can a set of tests not tell, whatever its readings say?"""

import numpy as np

from workshop_lib.quantities import listed, resolution
from workshop_lib.run_out.observed import closing_error
from workshop_lib.run_out.readings import PLACES, Readings, Total
from workshop_lib.run_out.round_fit import SAME_ANGLE, distinct

SEVEN = 7  # different angles are needed to tell an offset and three harmonics


def coverage(tests):
    """Say what these tests cannot tell: a tuple of sentences, empty when nothing is missing.

    tests: list of `Readings`, `Push` and `Total`.
    """
    turns = [test for test in tests if isinstance(test, Readings)]
    said = [
        _only_totals(tests, turns),
        *(_few_angles(test) for test in turns),
        *(_one_plane(place, turns) for place in ("pad", "nose")),
        _not_clocked(tests),
        _not_pushed(tests),
        _not_repeated(turns),
        _not_closed(turns),
        _coarse(tests),
    ]
    return tuple(sentence for sentence in said if sentence)


def _only_totals(tests, turns):
    bare = {test.where for test in tests if isinstance(test, Total)}
    bare -= {test.where for test in turns}
    if bare:
        return f"Only totals are known of the {_listed(bare)}: no direction and no shape."
    return ""


def _few_angles(test):
    count = distinct(test.core.angles).size
    if count >= SEVEN:
        return ""
    if count < 3:
        return f"{test.label}: fewer than three different angles do not even give an eccentricity."
    hidden = "three lobes" if count >= 5 else "oval or three lobes"
    return f"{test.label}: {count} different angles cannot tell {hidden} from the rest."


def _one_plane(place, turns):
    here = [test for test in turns if test.where == place]
    planes = {test.core.position for test in here if test.what == "radial"}
    if len(planes) == 1 and not any(test.what == "face" for test in here):
        return f"The {place} was clocked in one plane only: off centre and tilted look alike there."
    return ""


def _not_clocked(tests):
    missing = [place for place in PLACES if all(test.where != place for test in tests)]
    return f"Nothing was clocked on the {_listed(missing)}." if missing else ""


def _not_pushed(tests):
    if any(test.what == "push" and test.where == "nose" for test in tests):
        return ""
    return "The nose was not pushed: clearance shows only as scatter."


def _not_repeated(turns):
    spots = [(t.where, t.what, t.core.position, _mark(t.core.index), t.state) for t in turns]
    more_than_one_turn = any(
        resolution.more_than(np.ptp(t.core.angles), 2.5 * np.pi) for t in turns
    )
    if len(set(spots)) < len(spots) or more_than_one_turn:
        return ""
    return "Nothing was clocked twice: whatever changes from turn to turn may be missed."


def _mark(angle):
    """Return an angle as the number of its nearest mark."""
    return int(resolution.steps_near(angle, SAME_ANGLE))


def _not_closed(turns):
    if any(closing_error(test) is not None for test in turns):
        return ""
    return "No turn was brought back to its first mark: a needle that creeps may pass for run-out."


def _coarse(tests):
    if all(test.core.graduation is not None for test in tests):
        return ""
    guessed = {
        f"{1e3 * t.division:.3g} mm" for t in tests if isinstance(t, Readings) and t.division
    }
    if not guessed:
        return "No graduation was given: how finely the needle was read is not known."
    return f"No graduation was given; the readings themselves look like {_either(guessed)}."


def _either(words):
    return " or ".join(sorted(words))


def _listed(words):
    return listed([place for place in PLACES if place in words])
