"""Every field of every panel as a target of the fuzz: what the page sends, and what it shows."""

import functools
import importlib
import pkgutil
import re

from tests.fuzz import grammar
from tests.fuzz.law import Fault, Wrong
from tests.references.second_reader import second_reading
from workshop_lib import lessons
from workshop_lib.own_files import texts_of
from workshop_lib.quantities import speaking, speaking_in
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.teaching.panels import Panel

TEXTS = {"en": {}, "de": texts_of("de")}
TAG = re.compile(r"<(script|img src=x|svg onload|b>)|onerror=alert", re.IGNORECASE)
NOT_SAID = re.compile(r"\b(nan|None|Traceback|inf)\b|-0 |object at 0x|Quantity\(")


@functools.cache
def scenes():
    """Return every scene of the lessons by name: functions `…_scene()` in their packages."""
    found = {}
    for each in pkgutil.walk_packages(lessons.__path__, "workshop_lib.lessons."):
        _, _, lesson, *inside = each.name.split(".")
        if inside:
            module = importlib.import_module(each.name)
            for name, make in vars(module).items():
                if name.endswith("_scene") and make.__module__ == module.__name__:
                    found[f"{lesson}.{name}"] = make
    return found


@functools.cache
def made(name, spoken=None):
    """A scene by its name, made once for each system of units."""
    with speaking(spoken):
        return scenes()[name]()


def entry(rng, field):
    """What a person or a hostile page may send for a field."""
    if rng.random() < 0.06:
        junk = grammar.nonsense(rng)
        if isinstance(junk, list):
            junk = [[1]]
        return junk if isinstance(junk, str | bool | list | dict | None) else 7  # what JSON carries
    if field.control in ("radio", "select"):
        return rng.choice(list(field.options))
    if field.control == "switch":
        return rng.random() < 0.5
    if field.control == "sound":
        return rng.choice(["", "wav:UklGRgAAAABXQVZF", "wav:%", "wav:" + "A" * 400, "<b>"])
    if hasattr(field, "endings"):
        return rng.choice(["../", "", "<b>", "x" * 300, "\0"]) + rng.choice(field.endings)
    if field.control == "text":
        text = field.start
        if rng.random() < 0.6:
            at = rng.randrange(len(text) + 1)
            text = text[:at] + rng.choice([",", "\n", "1 mm", "<b>", "x" * 50]) + text[at + 3 :]
        return text
    kind, slider = getattr(field, "kind", "").partition(" ")[0], getattr(field, "slider", None)
    if kind and slider and rng.random() < 0.5:
        low, high, step = slider
        return f"{low + step * rng.randrange(int((high - low) / step) + 1):g} {field.unit}".strip()
    if kind:
        return grammar.typed(rng, kind)
    if slider:  # a count
        return rng.choice([str(rng.randrange(100)), grammar.number(rng)])
    known = second_reading(getattr(field, "start", ""))  # an entry of a job, as it stands in a box
    kinds = [name for name, each in KINDS.items() if known and known[1] in each.units]
    odd = [grammar.number(rng), rng.choice(grammar.MARKUP), "", " x ", "24 gauge", "My cover"]
    near = kinds and rng.random() < 0.7
    return grammar.typed(rng, rng.choice(kinds)) if near else rng.choice(odd)


def shown(panel, given):
    """Let a panel answer, and hold what it shows to the law of pages."""
    judged(panel.answer("", given))


def judged(face):
    """Hold what a panel shows to the law of pages."""
    texts = [face[part] for part in ("verdict", "picture", "details")]
    page = "\n".join(texts)
    if "fault of its own" in face["fault"]:
        raise Fault(face["fault"])
    if TAG.search(page):
        raise Wrong(f"markup in the page: {TAG.search(page)[0]}")
    plain = re.sub(r"<[^>]*>", " ", page)
    if NOT_SAID.search(plain):
        at = NOT_SAID.search(plain).start()
        raise Wrong(f"the page says {plain[max(at - 60, 0) : at + 30]!r}")


def targets():
    """Yield (name, function of a random source) for every scene."""
    for name in sorted(scenes()):

        def prepare(rng, name=name):
            spoken, code = rng.choice([None, "metric", "inch"]), rng.choice(["en", "en", "de"])
            scene = made(name, spoken)
            chosen = [each for each in scene.fields if rng.random() < 0.5]
            given = {each.name: entry(rng, each) for each in chosen}

            def act():
                with speaking(spoken), speaking_in(code, TEXTS[code]):
                    shown(Panel(scene), given)

            return act, {"given": given, "units": spoken, "language": code}

        yield f"panel {name}", prepare
