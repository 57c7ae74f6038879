"""`open --projector`: settings of its own, none of the person's, all known to JupyterLab."""

import json
import os
import sys
from pathlib import Path

import pytest

from workshop_lib.launcher import projector

SCHEMAS = Path(sys.prefix, "share", "jupyter", "lab", "schemas")


@pytest.fixture
def person(monkeypatch, tmp_path):
    """A person's own settings, which must stay as they are."""
    folder = tmp_path / "person"
    folder.mkdir()
    (folder / "mine.json").write_text("{}")
    monkeypatch.setenv("JUPYTER_CONFIG_DIR", str(folder))
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return folder


def test_without_the_option_nothing_changes(person):
    assert projector.replaced(["--port=8890", "x.ipynb"]) == ["--port=8890", "x.ipynb"]
    assert os.environ["JUPYTER_CONFIG_DIR"] == str(person)


def test_with_it_all_settings_lie_in_a_folder_of_its_own(person):
    options = projector.replaced(["x.ipynb", "--projector"])
    assert options[0] == "x.ipynb" and "--projector" not in options
    folder = Path(os.environ["JUPYTER_CONFIG_DIR"])
    assert folder != person and [path.name for path in person.iterdir()] == ["mine.json"]
    assert (folder / "custom" / "custom.css").read_text("utf-8") == projector.STYLE.read_text(
        "utf-8")  # fmt: skip
    for option in options[1:3]:
        assert Path(option.partition("=")[2]).is_relative_to(folder)
    assert json.loads(next((folder / "layout").iterdir()).read_text())["data"] == projector.LAYOUT


@pytest.mark.parametrize("name", projector.SETTINGS)
def test_every_setting_is_one_that_jupyterlab_knows(name):
    schema = json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8"))
    assert set(projector.SETTINGS[name]) <= set(schema["properties"])
    if "overrides" in projector.SETTINGS[name]:
        known = schema["definitions"]["cssOverrides"]["properties"]
        assert set(projector.SETTINGS[name]["overrides"]) <= set(known)
