"""How fast may it turn? The panel and a job take one speed for one disc, and name one limit."""

import random

import pytest

from tests.house.thorough import among
from tests.plan.job_cases import FILES
from workshop_lib import plan, shop
from workshop_lib.blank import Blank
from workshop_lib.lessons.light_cuts import panels_speed
from workshop_lib.materials import materials
from workshop_lib.quantities import Q_, InputError

LATHE = shop.Shop({}, "metric", shop.Lathe(speeds=panels_speed.MACHINE))


def asked(given):
    """The values of the panel's fields, as its judge gets them."""
    scene = panels_speed.speed_scene()
    return {each.name: each.read((scene.given() | given)[each.name]) for each in scene.fields}


def of_job(job):
    """What a job says, as it is typed into the panel."""
    asked_for = [key for key in panels_speed.ENTRIES if key != "blank.centre"]
    shown = {panels_speed.ENTRIES[key]: job[key] for key in asked_for}
    shown |= {"thickness": job.thickness, "thrust": job.low_thrust, "off": Q_(0, "mm")}
    return shown | {k: f"{v.m!r} {v.units}" for k, v in shown.items() if hasattr(v, "units")}


def regular(job):
    """A job's entries without its speed; a blank with unequal sides, which no field asks for, as a
    regular octagon of the same width."""
    entries = {key: each for key, each in job.values.items() if key != "cut.speed"}
    if "blank.corners" not in entries:
        wide = entries.get("blank.side") or job["disc.diameter"] + Q_(2, "mm")
        entries = {key: each for key, each in entries.items() if not key.startswith("blank.")}
        entries |= {"blank.corners": 8, "blank.across_flats": wide}
    return entries


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_panel_turns_a_disc_of_the_demonstration_at_the_speed_of_its_job(path):
    job = plan.job(regular(plan.load(path)), LATHE)
    chosen = panels_speed.speed_for(asked(of_job(job)))
    assert job["cut.speed"] == chosen.job["cut.speed"]
    assert chosen.why in job.speed_told


def drawn(seed):
    """A disc that nobody chose, in numbers that people type."""
    chance = random.Random(seed)
    disc = chance.randrange(30, 180)
    return {
        "material": chance.choice([each.key for each in materials()]),
        "thickness": f"{chance.choice((0.4, 0.55, 0.8, 1, 1.6, 2))} mm",
        "corners": chance.choice((6, 8, 12)),
        "across": f"{disc + chance.choice((1, 2, 4))} mm",
        "off": f"{chance.choice((0, 0, 0.3))} mm",
        "disc_diameter": f"{disc} mm",
        "pad_diameter": f"{disc - chance.choice((3, 6, 10))} mm",
        "relief_diameter": f"{chance.choice((0, 0.3, 0.5)) * disc:.0f} mm",
        "facing": chance.choice(panels_speed.SOFT),
        "facing_thickness": f"{chance.choice((1, 2, 3))} mm",
        "tool": chance.choice(("hss", "carbide")),
        "depth": f"{chance.choice((0.1, 0.2, 0.3))} mm",
        "thrust": f"{chance.choice((300, 600, 1000))} N",
    }


def test_random_discs_turn_at_the_speed_of_a_job_with_the_same_entries_and_none_is_worse_for_it():
    limits = set()
    for seed in among(range(5), range(60)):
        given = drawn(seed)
        chosen = panels_speed.speed_for(asked(given))
        typed = {key: given[name] for key, name in panels_speed.ENTRIES.items()}
        typed["blank.centre"] = [given["off"], "0 mm"]
        job = plan.job(panels_speed.COUNTED | typed, LATHE)
        assert job["cut.speed"] == chosen.job["cut.speed"], given
        # Every question that a speed has a part in, asked of the judged job at every lathe speed.
        at = {each: plan.job(panels_speed.COUNTED | typed | {"cut.speed": each}, LATHE)
              for each in panels_speed.MACHINE}  # fmt: skip
        grades = {each: _grades(other) for each, other in at.items()}
        least = grades[panels_speed.MACHINE[0]]
        good = [
            each for each in at if all(a <= b for a, b in zip(grades[each], least, strict=True))
        ]
        assert max(good) == chosen.job["cut.speed"], given
        limits.add(chosen.limit)
    assert len(limits) >= 2


def _grades(job):
    found, order = plan.assess(job, draws=0), ("yes", "open", "no")
    about = (found.reason(each) for each in ("speed", "ringing", "hold"))
    minded = " ".join(found.cautions)
    heeded = ("The unbalance pulls" in minded, "The rim runs at" in minded)
    return [0 if each is None else order.index(each.holds) for each in about] + list(heeded)


def test_the_lathe_of_the_shop_gives_the_speeds(monkeypatch, tmp_path):
    text = 'format = 1\n[lathe]\nspeeds = ["60 rev/min", "100 rev/min"]\n'
    (tmp_path / shop.NAME).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    chosen = panels_speed.speed_for(asked({"material": "aluminium"}))
    assert chosen.job["cut.speed"].m_as("rpm") == pytest.approx(100)
    assert chosen.limit == "lathe"


@pytest.mark.parametrize("corners", [4, 8])
def test_unbalance_is_that_of_the_blank_turned_at_the_mark(corners):
    given = {"corners": corners, "across": "84 mm", "off": "1 mm", "thickness": "0.6 mm"}
    job = panels_speed.speed_for(asked(given)).job
    blank = Blank.regular(corners, across_flats="84 mm")
    pull = blank.unbalance(
        (Q_(1, "mm"), Q_(0, "mm")), "0.6 mm", "stainless_steel", job["cut.speed"]
    )
    assert job.passes[0].unbalance.m_as("N") == pytest.approx(pull.m_as("N"), rel=1e-6)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"pad_diameter": "80 mm"}, "pad_diameter"),
        ({"off": "6 mm"}, "disc_diameter"),
        ({"across": "70 mm"}, "disc_diameter"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(given, field):
    with pytest.raises(InputError) as refused:
        panels_speed.speed_for(asked(given))
    assert refused.value.name == field


def test_a_disc_that_slips_is_not_to_be_turned_at_any_speed():
    scene = panels_speed.speed_scene()
    view = scene.look(scene.given() | {"thrust": "200 N"}).view
    assert view.holds == "no" and "slips" in view.verdict
