"""What tests of several lessons' panels share."""

import pytest

from workshop_lib.shop import shop_file


@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder of lessons of one's own, in which nothing stands."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(shop_file, "MY_LESSONS", tmp_path)
    return tmp_path
