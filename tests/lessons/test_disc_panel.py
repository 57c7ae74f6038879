"""Will my disc hold? The first panel agrees with a judged job, and takes on inch or metric."""

import pytest

from workshop_lib import plan, shop
from workshop_lib.lessons.start import panels_disc
from workshop_lib.quantities import speak, system


def look(**values):
    scene = panels_disc.disc_scene()
    return scene.look(scene.given() | values).view


def test_the_depth_that_it_names_holds_as_a_judged_job_and_the_next_does_not():
    assert look().verdict.startswith(
        "Not yet ready: friction holds it in passes no deeper than 0.05 mm,"
    )
    job = plan.job(
        panels_disc.USUAL
        | {"sheet.material": "mild_steel", "disc.diameter": "78 mm", "pad.facing": "leather"}
        | {"pad.outer_diameter": "70 mm", "thrust.force": "800 N"}
    )
    graded = [
        plan.assess(job.changed({"cut.depth": depth}), draws=0).reason("hold").holds
        for depth in ("0.05 mm", "0.07 mm")
    ]
    assert graded[0] == "yes" != graded[1]


@pytest.mark.parametrize(
    ("values", "holds", "said"),
    [
        ({}, "open", "which nose presses"),
        ({"thrust": "100 N"}, "no", "Slips"),
        ({"thrust": "2000 N"}, "open", "facing is pressed harder"),
        ({"facing": "rubber", "material": "acrylic"}, "open", "what this pad facing"),
        ({"material": "stainless_steel"}, "open", "only scrapes"),
    ],
)
def test_it_is_never_green_for_a_nose_that_it_does_not_ask_for(values, holds, said):
    view = look(**values)
    assert view.holds == holds and said in view.verdict


def test_a_choice_of_units_is_taken_on_at_once_and_written_down(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("workshop_lib.shop.shop_file.MY_LESSONS", tmp_path)
    before = speak(None)
    try:
        panel = panels_disc.disc_panel()
        values = panel.given | {"units": "inch", "pad_diameter": "71 mm"}
        panel._receive(panel, {"stamp": ["page", 1], "action": "", "values": values}, [])
        assert system() == "inch" and shop.found().units == "inch"
        assert panel.frame["fields"][2]["unit"] == "in" and "thou" in panel.face["verdict"]
        assert panel.given["pad_diameter"] == "71 mm"  # what was typed stays
    finally:
        speak(before)
