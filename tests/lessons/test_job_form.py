"""The form for a job of one's own: refused at its fields, saved, opened again, written up."""

from pathlib import Path

import pytest

from workshop_lib import plan
from workshop_lib.lessons.plan import job_form
from workshop_lib.quantities import Q_, speaking
from workshop_lib.teaching import answer_file


@pytest.fixture
def form(monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("workshop_lib.shop.shop_file.MY_LESSONS", tmp_path)
    return job_form.form_panel()


def send(form, action="", **values):
    """Send what a person set, as the page does; return the new face."""
    form._receive(form, {"stamp": ["page", 1], "action": action, "values": values}, [])
    return form.face


def complaints(face):
    return {name: each["complaint"] for name, each in face["fields"].items() if each["complaint"]}


def options(form):
    return [key for key, _ in form.frame["fields"][0]["options"]]


def test_every_refusal_stands_at_its_field_and_nothing_is_saved(form):
    typed = {"thrust_force": "5 pounds", "disc_diameter": "", "cut_speed": "fast", "name": "Mine"}
    refused = complaints(send(form, **typed))
    assert "lbf" in refused["thrust_force"] and "missing" in refused["disc_diameter"]
    assert refused.keys() == {"thrust_force", "disc_diameter", "cut_speed"}
    assert "Nothing was written" in send(form, "save", name="Mine")["note"]
    assert not Path("my_jobs").exists()


def test_a_job_is_saved_by_its_name_and_opened_again(form):
    assert "Saved" in send(form, "save", name="My own lid", thrust_force="950 N")["note"]
    saved = plan.load("my_jobs/my_own_lid.toml")
    assert saved["about.title"] == "My own lid" and saved.thrust == Q_(950, "N")
    assert "my_own_lid" in options(form)
    send(form, which="")
    assert form.given["thrust_force"] == "1000 N"
    face = send(form, which="my_own_lid")
    assert face["anew"] and form.given["thrust_force"] == "950 N"
    Path("my_jobs/my_own_lid.toml").write_text("# mine\n" + saved.text)
    send(form, which="")
    send(form, which="my_own_lid")
    send(form, "save", disc_diameter="110 mm")
    text = Path("my_jobs/my_own_lid.toml").read_text()
    assert text.startswith("# mine\n") and '"110 mm"' in text
    assert [path.name for path in Path("my_jobs").iterdir()] == ["my_own_lid.toml"]


def test_another_job_of_that_name_is_not_written_over(form):
    send(form, "save", name="Lid")
    send(form, which="")
    face = send(form, "save", name="Lid", thrust_force="700 N")
    assert "saved before" in face["note"]
    assert plan.load("my_jobs/lid.toml").thrust == Q_(1000, "N")


@pytest.mark.parametrize(("action", "page"), [("write", "lid.html"), ("card", "lid_card.html")])
def test_a_page_is_written_beside_the_job_and_linked(form, action, page):
    face = send(form, action, name="Lid")
    assert f"my_jobs/{page}" in face["note"] and face["done"]
    assert face["opens"]["page"] == Path("my_jobs", page).read_text(encoding="utf-8")
    assert "Lid" in face["opens"]["page"]


def test_nobody_takes_over_what_others_measured(form):
    send(form, which="demonstration/tide_gauge_cover")
    job = form.scene.judge.job
    assert not [key for key in job.values if key.startswith(("measured", "notes", "run_out"))]
    assert job.measured_thrust is None and form.given["sheet_thickness"] == "0.62 mm"


def test_a_blank_of_another_shape_takes_the_place_of_equal_sides(form):
    corners = "0 mm, 0 mm\n118 mm, 0 mm\n118 mm, 120 mm\n0 mm, 120 mm"
    face = send(form, "save", name="Lid", blank_outline=corners, blank_corners="12",
                blank_across_flats="114.5 mm")  # fmt: skip
    assert "Saved" in face["note"]
    job = plan.load("my_jobs/lid.toml")
    assert "blank.corners" not in job.values and len(job["blank.outline"]) == 4
    face = send(form, blank_outline="0 mm 0 mm")
    assert "two lengths" in complaints(face)["blank_outline"]


def test_what_the_form_does_not_show_stays_in_the_file(form):
    send(form, "save", name="Lid")
    path = Path("my_jobs/lid.toml")
    path.write_text(path.read_text() + '\n[notes]\nremarks = ["mine"]\n')
    send(form, which="")
    send(form, which="lid")
    send(form, "save", thrust_force="990 N")
    assert plan.load(path)["notes.remarks"] == ("mine",)


def test_in_inch_a_new_job_starts_in_round_inches(form):
    with speaking("inch"):
        scene = job_form.form_scene()
        assert scene.given()["thrust_force"] == "220 lbf"
        assert scene.look(scene.given()).complaints == {}


def test_the_job_that_was_open_last_is_open_on_the_next_day(form, tmp_path):
    before = answer_file.use(answer_file.FileStore(tmp_path / "answers.jsonl"))
    try:
        send(form, "save", name="Lid", thrust_force="940 N")
        send(form, disc_diameter="111 mm")
        answer_file.use(answer_file.FileStore(tmp_path / "answers.jsonl"))
        again = job_form.form_panel()
        assert (again.given["which"], again.given["disc_diameter"]) == ("lid", "111 mm")
        assert again.scene.judge.job.file.name == "lid.toml"
        assert "Saved" in send(again, "save")["note"]
    finally:
        answer_file.use(before)


@pytest.mark.parametrize("sent", [7, None, ["x"], "no_such_job", {"a": 1}])
def test_a_job_that_is_not_on_the_list_is_not_opened(form, sent):
    face = form.answer("", {"which": sent})
    assert "is not one of the choices" in face["fields"]["which"]["complaint"]
    assert not face["fault"]
