"""How much is tried: a sample in the usual check, all of it by `check --thorough`."""

import os

THOROUGH = os.environ.get("WORKSHOP_THOROUGH") == "1"


def among(usual, thorough):
    """Return how much to try now."""
    return thorough if THOROUGH else usual
