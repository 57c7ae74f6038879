"""How much is tried: a sample in the usual check, all of it by `check --thorough`."""

import os

import pytest

THOROUGH = os.environ.get("WORKSHOP_THOROUGH") == "1"

NO_RATES = os.environ.get("WORKSHOP_NO_RATES") == "1"

# Rates over hundreds of set-ups: rounding may not change them by one, which the sample of
# small moves holds; they are counted under the machine's own kernel, and by --thorough under all.
once = pytest.mark.skipif(NO_RATES and not THOROUGH, reason="rates are counted under one kernel")

only_thorough = pytest.mark.skipif(not THOROUGH, reason="left to check --thorough")


def some(cases, one_in=2):
    """Return the cases to try now: all of them, or the first of every few."""
    cases = list(cases)
    return cases if THOROUGH else cases[::one_in]


def among(usual, thorough):
    """Return how much to try now."""
    return thorough if THOROUGH else usual
