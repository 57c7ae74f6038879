"""Fields of panels in inch: round numbers, the same amounts, and every scene still answers."""

import re

import pytest

from tests.fuzz.scenes import scenes
from tests.house.laws import held_for
from tests.house.thorough import among
from workshop_lib.quantities import speaking
from workshop_lib.teaching.fields import Field

CASES = [
    (("length > 0", "60 mm", (10, 140, 1)), "2.35 in", (0.4, 5.5, 0.05)),
    (("length > 0", "0.2 mm", (0.05, 1.5, 0.05)), "8 thou", (2, 60, 2)),
    (("force >= 0", "800 N", (0, 2500, 10)), "180 lbf", (0, 560, 2)),
    (("speed > 0", "250 rev/min", (20, 1000, 10)), "250 rev/min", (20, 1000, 10)),
    (("feed > 0", "0.05 mm/rev", (0.05, 0.3, 0.01)), "2 thou/rev", None),
    (("length >= 0", "0 mm", (0, 100, 1)), "0 in", (0, 4, 0.05)),
    (("length > 0", "4 thou", (1, 20, 0.5)), "4 thou", (1, 20, 0.5)),
    (("ratio >= 0", "0.3", (0, 1, 0.01)), "0.3", (0, 1, 0.01)),
]


@held_for(CASES)
def test_start_and_slider_are_round_in_inch(case):
    (kind, start, slider), told, numbers = case
    metric = Field("x", "X", kind, start, slider=slider)
    with speaking("inch"):
        inch = Field("x", "X", kind, start, slider=slider)
    assert (metric.start, metric.slider) == (start, slider)
    assert inch.start == told
    if numbers is not None:
        assert inch.slider == pytest.approx(numbers, rel=1e-9, abs=1e-9)
    given = metric.read(start)
    step = metric.slider[2] * given.units if given.m else given
    assert abs(inch.read(inch.start) - given) <= 1.5 * abs(step)
    assert inch.position(inch.start) is not None


METRIC = re.compile(r"[0-9] ?(mm|N|N·m|m/min|MPa|µm)(?=[ .,;:)]|$)")
# Sizes of catalogued bearings, made files, the scenario's discs and a dial's face are names.
PRINTED = ("Will do: R8", "made:", "needle reads", "in is 30.48 mm", "mm a division",
           "mm phenolic", "mm zinc-coated", "mm acrylic")  # fmt: skip


@held_for(sorted(scenes())[:: among(3, 1)])
def test_the_verdict_of_every_panel_is_told_in_inch(name):
    with speaking("inch"):
        still = scenes()[name]().still()
        verdict = still.look.view.verdict
        setting = still.scene.setting(still.given)
    for words in (verdict, setting):
        if not any(each in words for each in PRINTED) and name[-10:] != "shop_scene":
            assert not METRIC.search(words), words
