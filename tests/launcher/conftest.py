"""What tests of learners' copies share."""

import pytest

from workshop_lib.launcher import copies


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """All copies, freshly written."""
    made = tmp_path_factory.mktemp("learner")
    assert copies.write(made) == []
    return made
