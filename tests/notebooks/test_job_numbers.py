"""Lessons and teacher's notes tell the demonstration jobs' own numbers."""

import json
import re
from pathlib import Path

import pytest

from workshop_lib import plan
from workshop_lib.own_files import as_typed
from workshop_lib.plan import brief
from workshop_lib.quantities import Q_, times_over

TOP = Path(__file__).resolve().parents[2] / "notebooks"


def job(name):
    return plan.load(TOP / "jobs" / f"tide_gauge_{name}.toml")


def typed(name, *keys):
    one = job(name)
    return [as_typed(one[key]) for key in keys]


def cover_in_lesson_03():
    flats, pad, facing, cut, last, bend = typed(
        "cover", "blank.across_flats", "pad.outer_diameter", "pad.facing_thickness", "cut.depth",
        "cut.finishing_depth", "rim.bend_allowed",
    )  # fmt: skip
    speed, disc = typed("cover", "cut.speed", "disc.diameter")
    found = plan.assess(job("cover"), draws=0).reason("rim")
    push = brief(plan.checks.axial_force(job("cover"), job("cover").passes[-1]))
    return (
        f"The {disc} cover",
        f"snipped it closer, to {flats} across its flats: {len(job('cover').passes)} passes",
        f"instead of {len(job('cover').changed({'blank.across_flats': '82 mm'}).passes)}.",
        f"a pad of {pad} with {facing} of leather, and cuts of {cut}",
        f"which push with {push} across the rim.",
        f"the last cut, of {last}, pushes with {push} too",
        f"as measured, {brief(job('cover').thickness)}, then bends by {brief(found.value)}",
        f"{bend} is allowed",
        f'"0.05 mm/rev", "{speed}", pad, "{brief(job("cover").planned_thrust)}"',
        f'pad, low = Pad("{pad}")',
    )


def lid_in_lesson_06():
    lid = job("lid")
    force, doubt, outer, inner = typed(
        "lid", "thrust.force", "thrust.uncertainty", "pad.outer_diameter", "pad.inner_diameter"
    )
    over = (lid["disc.diameter"] - lid["pad.outer_diameter"]).m_as("mm") / 2
    high, area = lid.high_thrust.m_as("N"), lid.pad.area.m_as("mm**2")
    assert float(outer.split()[0]) - 40 == float(inner.split()[0])
    return (
        f"on a {outer} pad, pressed with {force}",
        f"{force} ± {doubt} counts as {lid.low_thrust.m_as('N'):.0f} N",
        f"{force} + 1.645 × {doubt} = {high:.0f} N",
        f"{high:.0f} N / {area:.0f} mm² = {high / area:.4f} N/mm²",
        f"The pad comes within {over:g} mm",
    )


def insulator_in_lesson_06():
    force, doubt = typed("insulator", "thrust.force", "thrust.uncertainty")
    return f"the thrust is {force}, give or take {doubt}", f'force = "{force}"'


def lid_in_the_notes():
    force, outer, inner = typed("lid", "thrust.force", "pad.outer_diameter", "pad.inner_diameter")
    return (f"A pad of {outer}, cut back to {inner} in the middle, presses with {force}",)


TOLD = {
    "03_light_cuts.ipynb": (cover_in_lesson_03,),
    "06_plan_and_write_up.ipynb": (lid_in_lesson_06, insulator_in_lesson_06),
    "for_teachers/06_plan_and_write_up.md": (lid_in_the_notes,),
}


def words_of(path):
    """Sources of a lesson's cells, links and line ends of code taken out; or a note as it is."""
    if path.suffix == ".md":
        return path.read_text(encoding="utf-8")
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(cell["source"]) for cell in cells)
    text = re.sub(r"\[([^]]*)\]\([^)]*\)", r"\1", text)
    return re.sub(r'"\n\s*"', "", text)


@pytest.mark.parametrize("place", TOLD)
def test_lessons_and_notes_tell_the_jobs_own_numbers(place):
    words = words_of(TOP / place)
    for numbers in TOLD[place]:
        for said in numbers():
            assert said in words, f"{place} does not say: {said}"


def test_the_demonstration_jobs_are_honestly_ready():
    for name in ("cover", "lid", "insulator", "dust_cover"):
        found = plan.assess(job(name), draws=0)
        assert found.holds == "yes", found.verdict
        assert all(each.known for each in found.reasons)
        assert "not yet" not in {use for _, _, use, _ in found.table}
        assert times_over(found.reason("nose").value) >= "1.1", "room that a person can see"
    assert job("lid").high_thrust > job("lid").thrust > Q_(900, "N")
