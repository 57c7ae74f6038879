"""A panel's values are there again on the next day, in the units in which they were set."""

import asyncio

import pytest

from tests.teaching.test_panels import ask, scene
from workshop_lib.quantities import speaking
from workshop_lib.teaching import answer_file, kept_values


@pytest.fixture
def next_day(tmp_path):
    """Open the answers' file anew: what memory held is gone."""

    def opened():
        answer_file.use(answer_file.FileStore(tmp_path / "answers.jsonl"))
        return scene().panel()

    before = answer_file.use(answer_file.Store())
    yield opened
    answer_file.use(before)


def test_values_are_there_again_and_the_start_values_by_a_button(next_day):
    ask(next_day(), thrust="905 N", worst=True)
    again = next_day()
    assert (again.given["thrust"], again.given["worst"]) == ("905 N", True)
    assert "905 N" in again.face["setting"]
    assert again.face["buttons"] == [{"name": "reset", "label": "Start values"}]
    again._receive(again, {"stamp": ["me", 1], "action": "reset", "values": {}}, [])
    assert again.face["anew"] and again.face["buttons"] == []
    assert next_day().given == scene().given()


def test_what_cannot_be_read_any_more_or_was_set_in_other_units_is_left(next_day):
    ask(next_day(), thrust="905 N", friction="none")
    assert next_day().given["friction"] == scene().given()["friction"]
    with speaking("inch"):
        assert next_day().given == scene().given()
    assert next_day().given["thrust"] == "905 N"


def test_a_slider_that_runs_is_written_down_once_and_the_same_not_again(next_day, monkeypatch):
    monkeypatch.setattr(kept_values, "PAUSE", 0.01)
    panel = next_day()

    async def slide():
        for _ in range(2):
            for thrust in range(600, 660):
                ask(panel, thrust=f"{thrust} N")
            await asyncio.sleep(0.05)

    asyncio.run(slide())
    key = kept_values.KEY.format(scene().title)
    assert [e["values"]["thrust"] for e in answer_file.current().entries(key)] == ["659 N"]


def test_without_a_file_of_answers_nothing_is_kept():
    ask(scene().panel(), thrust="905 N")
    assert scene().panel().given == scene().given()
