"""A bar appears only for what takes long, and follows it to the end."""

import pytest

from workshop_lib.teaching import progress_bar
from workshop_lib.uncertainty import propagate
from workshop_lib.uncertainty.spreads import normal


@pytest.fixture
def shown(monkeypatch):
    bars = []
    monkeypatch.setattr(progress_bar, "display", bars.append)
    return bars


def test_what_is_quick_shows_no_bar(shown):
    propagate(lambda a: a, {"a": normal(0, 1)}, 100_000, 1, progress_bar.bar())
    assert shown == []


def test_a_bar_follows_long_work_to_its_end(shown, monkeypatch):
    monkeypatch.setattr(progress_bar, "PATIENCE", -1.0)
    propagate(lambda a: a, {"a": normal(0, 1)}, 100_000, 1, progress_bar.bar("Margins"))
    (found,) = shown
    assert found.value == found.max == 100_000
    assert found.description == "Margins: 100 %"
