"""The files for a cluster: image and values name the same places, and hand the lessons out."""

import re

import yaml

from workshop_lib.classroom.seat import LESSONS, SHELF
from workshop_lib.launcher import answers, copies
from workshop_lib.launcher.environment import ROOT

FOLDER = ROOT / "workshop_lib" / "classroom" / "kubernetes"
IMAGE = (FOLDER / "Containerfile").read_text(encoding="utf-8")
LEARNER = yaml.safe_load((FOLDER / "values.yaml").read_text(encoding="utf-8"))["singleuser"]


def test_image_and_values_name_the_same_home_and_lessons():
    home = LEARNER["storage"]["homeMountPath"]
    assert f"--home-dir {home} " in IMAGE and f"WORKDIR {home}\n" in IMAGE
    assert f"{answers.VARIABLE}={home}/{LESSONS}/{answers.FILE.name}" in IMAGE
    assert LEARNER["defaultUrl"].startswith(f"/lab/tree/{LESSONS}/")
    assert f"--folder {SHELF}" in IMAGE
    assert all((ROOT / source).exists() for source in re.findall(r"^COPY (\S+)", IMAGE, re.M))


def test_the_hook_hands_the_lessons_out(tmp_path, monkeypatch):
    shelf, home = tmp_path / "shelf", tmp_path / "home"
    copies.write(shelf)
    home.mkdir()
    *_, code = LEARNER["lifecycleHooks"]["postStart"]["exec"]["command"]
    named = f"/opt/workbook/{SHELF}"
    assert named in code
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("USERPROFILE", str(home))
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    exec(code.replace(named, shelf.as_posix()), {})
    lesson = "00_start_here.ipynb"
    assert (home / LESSONS / lesson).read_bytes() == (shelf / lesson).read_bytes()
