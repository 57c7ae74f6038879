"""How much is tried: a sample in the usual check, all of it by `check --thorough`."""

import os

import pytest

THOROUGH = os.environ.get("WORKSHOP_THOROUGH") == "1"

AGAIN = os.environ.get("WORKSHOP_AGAIN") == "1"

# Rates over hundreds of set-ups: rounding may not change them by one, which the sample of
# small moves holds; they are counted under the machine's own kernel, and by --thorough under all.
once = pytest.mark.skipif(AGAIN and not THOROUGH, reason="counted once, under one kernel")

only_thorough = pytest.mark.skipif(not THOROUGH, reason="left to check --thorough")


def among(usual, thorough):
    """Return how much to try now."""
    return thorough if THOROUGH else usual
