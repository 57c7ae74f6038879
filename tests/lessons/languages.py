"""Every text of a lesson's panels in the language that is spoken, at the ends of its controls."""

import csv
import re

from tests.house.thorough import THOROUGH, among
from workshop_lib.drawings.markup import plain
from workshop_lib.launcher.environment import ROOT
from workshop_lib.lessons.slip import panels, panels_stack
from workshop_lib.quantities import KINDS
from workshop_lib.sources import csv_tables
from workshop_lib.teaching.fields import Choice
from workshop_lib.teaching.live import fault_sentence
from workshop_lib.teaching.panels import Panel

SCENES = (
    panels.slip_scene,
    panels.faces_scene,
    panels.laws_scene,
    panels.creep_scene,
    panels_stack.stack_scene,
)
# What people type wrong, once for each sentence that the reader of amounts has for it.
TYPED = (
    *("", "5", "abc", "3,5 mm", "10,000 N", "1.234,5 N", "1.500 N", "5 lb", "5 pounds", "5'5"),
    *("5 000 N", "5 Mm", "5 s", "5 furlongs", "24 gauge", "1e99 mm", "1e99 N", "1e-99 mm", "-3 N"),
    *("-1 mm", "-0.5", "0 mm", "0", "9" * 50, "1/0 mm", "1 3/2 mm", "5 mil", "5 tenths", "5 mm"),
    *("5 kg", "99", "2.5", "3 J", "5 ft lb", "5 in lb", "5 g", "200 mm", "5 N", "5 N m", "5 MPa"),
    *("5 N/mm", "5 deg", "5 rpm", "5 m/min", "5 Hz", "5 g/cm3", "5 mm2", "1e99", "50 %", "5 m"),
)
# Settings that no single control reaches.
TOGETHER = {
    "Will it slip?": (
        {"depth": "0 mm", "thrust": "0 N"},
        {"depth": "1 mm", "thrust": "2500 N", "relief_diameter": "20 mm"},
        {"thrust": "40 N", "depth": "0.01 mm", "feed": "0.02 mm/rev"},
    ),
    "One face or two?": (
        {"side": "0 N", "torque": "0 N m"},
        {"mu": "3", "thrust": "2500 N"},
        {"pad_diameter": "1.5 mm", "side": "5000 N"},
    ),
    "Where does the pad press?": (
        {"pressure": "hertz", "relief_diameter": "20 mm"},
        {"pressure": "rigid_punch", "relief_diameter": "20 mm"},
        {"pressure": "uniform_wear", "relief_diameter": "20 mm"},
        {"side": "0 N", "torque": "0 N m"},
        {"side": "5 N", "torque": "15 N m"},
        {"side": "500 N", "torque": "0.1 N m"},
    ),
    "What if the tailstock creeps back?": ({"side": "0 N", "torque": "0 N m"},),
    "How many discs at once?": (
        {"count": "1", "between": "card"},
        {"between": "card", "condition": "oily"},
        {"condition": "oily", "material": "acrylic"},
        {"cut": "plunge", "count": "24"},
        {"thickness": "6 mm", "count": "24", "depth": "0.01 mm"},
        {"thickness": "60 mm"},
        {"depth": "0 mm"},
        {"thrust": "0 N"},
    ),
}


def settings(scene, kinds):
    """Yield every setting of one control at its ends, wrong ones, and those of several at once.

    kinds: those of which the wrong amounts were tried already; a field of another kind adds its.
    In the usual check one end of each control, and wrong amounts of two kinds.
    """
    yield {}
    for number, field in enumerate(scene.fields):
        if isinstance(field, Choice):
            values = list(field.options)
        else:
            unit, kind = getattr(field, "unit", ""), getattr(field, "kind", "a whole number")
            values = [f"{each:g} {unit}".strip() for each in field.slider[:2]]
            values = values if THOROUGH else values[number % 2 :][:1]
            values += [] if kind in kinds or len(kinds) >= among(2, 99) else TYPED
            kinds.add(kind)
        for value in values:
            yield {field.name: value}
    yield from TOGETHER[scene.title]


def looks(make, kinds):
    """Yield (where, texts, view) for all that a learner can meet in a panel."""
    scene = make()
    panel = Panel(scene)
    yield "frame", [panel.frame["title"], *panel.frame["words"].values()], None
    for spec in panel.frame["fields"]:
        said = [spec.get(key, "") for key in ("label", "help", "unit_words", "slider_label")]
        yield spec["name"], said + [words for _, words in spec.get("options", ())], None
    for given in settings(scene, kinds):
        face = panel.answer("", scene.given() | given)
        yield given, shown(face), None if face["note"] else panel.good[1].view
    yield "still", [scene.still().text()], None
    yield "refused", [scene.still(thrust="?").text()], None
    yield "fault", [fault_sentence(ValueError())], None


def shown(face):
    """Return every text of a panel's face, those of its pictures and their alt sentences too."""
    found = [face[key] for key in ("setting", "note", "fault")]
    found += [each["complaint"] for each in face["fields"].values()]
    found += [str(each["words"]) for each in face["fields"].values() if not each["complaint"]]
    found += [each["label"] for each in face["buttons"]]
    for key in ("verdict", "picture", "moving", "details", "alt"):
        html = face.get(key) or ""
        found += re.findall(r'(?:alt|aria-label)="([^"]*)"', html)
        found += [plain(each) for each in re.findall(r">([^<>]+)<", f">{html}<")]
    return [each for each in found if each]


def unsaid(texts):
    """Return those texts that neither the code nor a table, built in or added, can say."""
    files = (ROOT / "workshop_lib").rglob("*.py")
    code = "\n".join(path.read_text(encoding="utf-8") for path in files)
    code = re.sub(r'"\s*\n\s*"', "", code)  # a sentence over several lines
    cells = set()
    for kind in KINDS.values():
        cells |= {kind.label, kind.article, *kind.refused.values()}
    for folder in filter(None, (csv_tables.BUILT_IN, csv_tables.own_folder())):
        for table in folder.glob("*.csv"):
            with table.open(encoding="utf-8", newline="") as file:
                cells |= {cell for row in csv.reader(file) for cell in row}
    return [each for each in texts if each not in cells and f'"{each}"' not in code]
