"""How much is tried: a sample in the usual check, all of it by `check --thorough`."""

import os

import pytest

THOROUGH = os.environ.get("WORKSHOP_THOROUGH") == "1"

only_thorough = pytest.mark.skipif(not THOROUGH, reason="left to check --thorough")


def among(usual, thorough):
    """Return how much to try now."""
    return thorough if THOROUGH else usual
