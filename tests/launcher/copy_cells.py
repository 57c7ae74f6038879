"""How a learner copy is read, and which of the master's cells its cells were made of."""

import re

import nbformat

from workshop_lib.launcher import copies

ADDED = re.compile(rf"({copies.AFTER_ID})*({copies.OWN_ID}|{copies.FOLDED_ID})?$")


def read(path):
    """Return a notebook."""
    return nbformat.read(path, as_version=4)


def come_from(cell):
    """Return the id of the master's cell that a copy's cell was made of."""
    return ADDED.sub("", cell.id)


def is_own(cell):
    """Return whether a cell of a copy is there for the learner's own words."""
    return cell.cell_type == "markdown" and cell.source == copies.OWN_WORDS
