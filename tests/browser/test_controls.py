"""Controls of every panel, moved by mouse and by keyboard: what is set is what is answered.

In the usual check the kinds of controls take turns, until one has changed the panel's answer; by
`check --thorough` every control is moved.
"""

import math
import re
from collections import Counter

from playwright.sync_api import expect

from tests.house.thorough import THOROUGH
from workshop_lib.instruments import made

NUMBER = re.compile(r"^-?[0-9.]+")
AWAY = 0.04  # of a slider's travel: how exactly a hand meets a place on it


def test_the_controls_move_their_panel(lesson):
    tried = Counter()
    for panel in lesson.panels():
        panel.root.scroll_into_view_if_needed()
        start = panel.settled()["answer"]
        moved = False
        for kind, field in in_turn(panel.fields, tried):
            moved |= any(state["answer"] != start for state in use(panel, field))
            tried[kind] += 1
            if moved and not THOROUGH:
                break
        assert moved
        assert lesson.errors == []


KIND = "field => field.querySelector('.wb-slider, input, select, textarea').type"


def in_turn(fields, tried):
    """Return fields with their kinds, the kind tried least in the lesson first."""
    kinds = [field.evaluate(KIND) for field in fields]
    return sorted(zip(kinds, fields, strict=True), key=lambda pair: tried[pair[0]])


LOOK = """
field => {
  field.scrollIntoView({ block: "center" });
  const slider = field.querySelector(".wb-slider");
  const control = slider || field.querySelector("input, select, textarea");
  const box = control.getBoundingClientRect();
  const { min, max, step, value } = control;
  return {
    kind: control.type, label: field.querySelector(".wb-label, .wb-choice").textContent,
    low: Number(min), high: Number(max), step: Number(step), at: Number(value),
    x: box.x, y: box.y + box.height / 2, width: box.width,
  };
}
"""


def use(panel, field):
    """Use one field's control in both ways; return the panel's states on the way."""
    look = field.evaluate(LOOK)
    way = {
        "range": use_slider,
        "select-one": use_list,
        "radio": use_buttons,
        "checkbox": use_tick,
        "textarea": use_lines,
        "text": use_name,
        "file": use_sound,
    }
    return way[look["kind"]](panel, field, look)


def is_answered(state, said):
    """Check that the panel took what was set, or refuses it in words that cannot be overlooked."""
    assert "fault of its own" not in state["fault"]
    if state["complaints"] or state["fault"]:
        assert "last valid entries" in state["note"]
    else:
        assert said in state["setting"] and state["note"] == ""
    return state


def number(text):
    return float(NUMBER.match(text)[0])


BOTH = """
field => {
  const slider = field.querySelector(".wb-slider");
  const words = slider.getAttribute("aria-valuetext");
  return [field.querySelector(".wb-box").value, slider.valueAsNumber, words];
}
"""


def use_slider(panel, field, look):
    """One step by a key, and most of the way by the mouse; box and slider stay one value."""
    label, low, high, step, before = (look[name] for name in ("label", "low", "high", "step", "at"))
    first = field.evaluate(BOTH)[0]
    key, way = ("ArrowLeft", -step) if before + step > high else ("ArrowRight", step)
    field.locator(".wb-slider").press(key)
    text, at, words = field.evaluate(BOTH)
    assert math.isclose(number(text), before + way, abs_tol=step / 100)
    assert words.startswith(NUMBER.match(text)[0])
    states = [is_answered(panel.settled(), f"{label}: {text}")]
    # where it is now: a longer verdict above may have moved it down
    place = field.locator(".wb-slider").bounding_box()
    middle = place["y"] + place["height"] / 2
    field.page.mouse.click(place["x"] + 0.7 * place["width"], middle)
    text, at, _ = field.evaluate(BOTH)
    assert abs(number(text) - (low + 0.7 * (high - low))) <= AWAY * (high - low) + step
    assert math.isclose(number(text), at, abs_tol=step / 100)
    states.append(is_answered(panel.settled(), f"{label}: {text}"))
    states.append(is_answered(panel.type(label, first), f"{label}: {first}"))
    assert math.isclose(field.evaluate(BOTH)[1], before, abs_tol=step)
    return states


def use_list(panel, field, look):
    """One on and one back by keys, and another by name; what is chosen is what is said."""
    box, label = field.get_by_role("combobox"), look["label"]
    words = box.locator("option").all_text_contents()
    at = box.evaluate("list => list.selectedIndex")
    states = []
    for key in ("ArrowUp", "ArrowDown") if at else ("ArrowDown", "ArrowUp"):
        box.press(key)
        chosen = words[box.evaluate("list => list.selectedIndex")]
        states.append(is_answered(made_anew(panel, label, chosen), f"{label}: {chosen}"))
    assert box.evaluate("list => list.selectedIndex") == at
    box.select_option(label=words[-1])
    states.append(is_answered(made_anew(panel, label, words[-1]), f"{label}: {words[-1]}"))
    box.select_option(label=words[at])
    return [*states, is_answered(made_anew(panel, label, words[at]), f"{label}: {words[at]}")]


def use_buttons(panel, field, look):
    """Another by its words and the mouse, and back by keys."""
    buttons, label = field.get_by_role("radio"), look["label"]
    words = field.locator(".wb-choice").all_text_contents()
    at = next(index for index in range(len(words)) if buttons.nth(index).is_checked())
    other = (at + 1) % len(words)
    field.get_by_text(words[other], exact=True).click()
    states = [is_answered(made_anew(panel, label, words[other]), f"{label}: {words[other]}")]
    buttons.nth(other).press("ArrowUp")
    expect(buttons.nth(at)).to_be_checked()
    return [*states, is_answered(made_anew(panel, label, words[at]), f"{label}: {words[at]}")]


def made_anew(panel, label, words):
    """The state when it has settled; other units, or another job, make the panel anew first."""
    if label in ("I think in", "Open"):
        expect(panel.setting).to_contain_text(f"{label}: {words}")
    state = panel.settled()
    if label == "I think in":
        assert "Chosen for every lesson" in state["note"]  # that is no word of an old answer
        state["note"] = ""
    return state


def use_tick(panel, field, look):
    """On or off by the mouse, and back by the space bar."""
    tick, label = field.get_by_role("checkbox"), look["label"]
    was = tick.is_checked()
    states = []
    for use_it in (field.get_by_text(label, exact=True).click, lambda: tick.press("Space")):
        use_it()
        states.append(panel.settled())
        assert (f"{label}: yes" in states[-1]["setting"]) == tick.is_checked()
    assert tick.is_checked() == was
    return states


def use_name(panel, field, look):
    """Another name typed over a file's; it is taken, or refused in words."""
    box, label = field.get_by_role("textbox"), look["label"]
    before = box.input_value()
    name = f"another.{before.rpartition('.')[2]}"
    states = [is_answered(panel.type(label, name), f"{label}: {name}")]
    return [*states, panel.type(label, before)]


def use_sound(panel, field, look):
    """A sound file chosen in the page: decoded by the browser, handed over, and read."""
    sound = made("cutting.wav" if "turn" in panel.title else "hung.wav")
    field.locator("input[type=file]").set_input_files(str(sound))
    expect(field.locator(".wb-heard")).to_contain_text("4.0 s of sound")
    state = panel.settled()
    assert f"{look['label']}: a sound of" in state["setting"]
    heard = panel.root.get_by_label("what I record or choose below")
    heard.check()
    state = panel.settled()
    assert state["fault"] == "" and state["complaints"] == []
    return [state]


def use_lines(panel, field, look):
    """The last line once more, typed at the end; Shift and Enter writes on and runs no cell."""
    box, label = field.get_by_role("textbox"), look["label"]
    before = box.input_value()
    last = [*before.rstrip().splitlines(), "0 0"][before.rstrip().count("\n")]
    box.press("Control+End")
    box.press("Shift+Enter")
    box.press_sequentially(last)
    assert box.input_value() == f"{before.rstrip()}\n{last}"
    lines = sum(bool(line.strip()) for line in box.input_value().splitlines())
    state = is_answered(panel.settled(), f"{label}: {lines} lines of text")
    box.fill(before)
    return [state, panel.settled()]
