"""A learner's own job in lesson 06: judged, or what is wrong said, and never a traceback."""

import shutil

import pytest

from workshop_lib.launcher.environment import ROOT
from workshop_lib.lessons.plan import own_job

LID = ROOT / "notebooks" / "jobs" / "tide_gauge_lid.toml"


@pytest.fixture
def own(tmp_path):
    """A learner's copy of a job, to be changed."""
    return shutil.copy(LID, tmp_path / "mine.toml")


def changed(path, old, new):
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_a_job_that_is_ready_is_told_so_with_the_answer_to_each_question(own):
    said = repr(own_job.look_over(own))
    assert said.startswith("Ready to turn") and "Does friction hold?" in said
    assert "What to change" not in said


def test_a_job_that_is_not_ready_says_what_to_change(own):
    said = repr(own_job.look_over(changed(own, 'force = "1000 N"', 'force = "200 N"')))
    assert "What to change" in said and "Press with" in said


def test_every_fault_of_a_file_is_listed(own):
    changed(own, 'force = "1000 N"', 'force = "1000 kg"')
    said = repr(own_job.look_over(changed(own, 'diameter = "112 mm"', 'diameter = "112"')))
    assert "2 things to fix" in said and "kg is a mass" in said and "has no unit" in said
    assert repr(own_job.publish(own)) == said


@pytest.mark.parametrize("name", ["nowhere.toml", "", "no\0name", "."])
def test_a_file_that_is_not_there_is_told_in_words(name):
    assert "Correct the file first" in repr(own_job.look_over(name))
    assert "Correct the file first" in repr(own_job.publish(name))


def test_the_page_lies_beside_the_file(own):
    said = repr(own_job.publish(own))
    (page,) = own.parent.glob("*.html")
    assert page.name in said and own.name in said


def test_a_card_is_written_beside_the_job_or_its_faults_are_told(own):
    said = repr(own_job.card(own))
    (card,) = own.parent.glob("*_card.html")
    assert card.name in said and own.name in said
    assert "Correct the file first" in repr(own_job.card(own.parent / "none.toml"))
