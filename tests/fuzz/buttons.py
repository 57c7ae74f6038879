"""Panels that write files, and panels beside a shop file of one's own, as targets of the fuzz.

All is written in a scratch folder, where a spoilt shop may lie; no learner's folder is touched.
"""

import contextlib
import os
import tempfile
from pathlib import Path
from unittest import mock

from tests.fuzz import entries, scenes
from workshop_lib.lessons.nose import panels as nose_panels
from workshop_lib.lessons.plan import job_form
from workshop_lib.lessons.start import panels_disc, panels_shop
from workshop_lib.own_files import writer
from workshop_lib.quantities import ENGLISH, speak, speak_in
from workshop_lib.shop import shop_file

TEMPORARY = tempfile.TemporaryDirectory(prefix="workshop-fuzz-buttons-")
PANELS = {
    "own job": job_form.form_panel,
    "shop": panels_shop.shop_panel,
    "making sheet": nose_panels.sizes_panel,
    "first": panels_disc.disc_panel,
}
BESIDE_A_SHOP = {
    "sizes": lambda: nose_panels.sizes_scene().panel(),
    "press": lambda: nose_panels.press_scene().panel(),
    "checks": lambda: nose_panels.checks_scene().panel(),
    **PANELS,
}
NAMES = ["mine", "<b>x</b>", "a.b", '"', "x" * 80, "../x", "", "nose of May"]


@contextlib.contextmanager
def scratch(shop=None):
    """Work in a scratch folder as if the learner's lessons lay there, with a shop file or none."""
    folder, before = Path(TEMPORARY.name), os.getcwd()
    spoken, language = speak(None), speak_in(ENGLISH, {})  # what a shop says, or a panel sets
    with contextlib.suppress(FileNotFoundError):
        (folder / shop_file.NAME).unlink()
    if shop is not None:
        (folder / shop_file.NAME).write_bytes(shop.encode("utf-8", "surrogatepass"))
    with mock.patch.object(shop_file, "MY_LESSONS", folder):
        os.chdir(folder)
        try:
            yield folder
        finally:
            os.chdir(before)
            speak(spoken)
            speak_in(*language)


def _worked(panel, given, action):
    scenes.shown(panel, given)
    face = panel.answer(action, {})
    scenes.judged(face)


def _values(rng, panel):
    fields = [each for each in panel.scene.fields if rng.random() < 0.25]
    return {each.name: scenes.entry(rng, each) for each in fields}


def pressed(rng, make):
    """Values set in a panel, then one of its buttons."""
    with scratch():
        panel = make()
    given = _values(rng, panel)
    action = rng.choice([*getattr(panel, "buttons", ()), "reset", "nonsense"])

    def act():
        with scratch():
            _worked(panel, given, action)

    return act, {"given": given, "action": action}


def beside_a_shop(rng, make):
    """A panel opened where a spoilt shop lies, then used."""
    shop = entries.spoilt(rng, entries._shop())
    if isinstance(shop, dict) and isinstance(shop.get("nose"), dict) and rng.random() < 0.5:
        named = {rng.choice(NAMES): each for each in shop["nose"].values()}
        shop = shop | {"nose": named}
    try:
        text = writer().dumps(shop)
    except Exception:  # what TOML cannot hold is nobody's file
        text = rng.choice(["[", "nose = 3", "\0", "[nose.mine]\ndesign = 3"])

    def act():
        with scratch(text):
            panel = make()
            own = next((each for each in panel.scene.fields if each.name == "nose"), None)
            given = _values(rng, panel)
            given |= {own.name: rng.choice(list(own.options))} if own else {}
            _worked(panel, given, rng.choice([*getattr(panel, "buttons", ()), ""]))

    return act, {"shop": text}


def targets():
    """Yield (name, function of a random source) for every such panel."""
    for name, make in PANELS.items():
        yield f"panel with buttons, {name}", lambda rng, make=make: pressed(rng, make)
    for name, make in BESIDE_A_SHOP.items():
        yield f"panel beside a shop, {name}", lambda rng, make=make: beside_a_shop(rng, make)
