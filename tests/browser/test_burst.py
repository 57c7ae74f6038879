"""A slider that runs: forty steps without a jump back, an empty picture, or a lost end."""

import re

STEPS = 40
WATCH = """
panel => {
  const slider = panel.querySelector(".wb-slider");
  const picture = panel.querySelector(".wb-picture");
  const seen = (window.seen = { places: [], empty: 0, heights: new Set(), frames: 0 });
  const look = () => {
    seen.frames += 1;
    seen.places.push(slider.valueAsNumber);
    if (!picture.querySelector("svg")) seen.empty += 1;
    seen.heights.add(Math.round(picture.getBoundingClientRect().height));
    seen.next = requestAnimationFrame(look);
  };
  look();
}
"""
ENDED = "() => (cancelAnimationFrame(seen.next), { ...seen, heights: [...seen.heights] })"


def test_a_burst_of_steps_ends_without_flicker_or_a_lost_value(lessons):
    lesson = lessons["02"]
    panel = lesson.panel("One face or two?")
    panel.type("Pad, outer diameter", "60 mm")
    panel.slider("Pad, outer diameter").focus()
    handle = panel.root.element_handle()
    handle.evaluate(WATCH)
    for _ in range(STEPS):
        lesson.page.keyboard.down("ArrowRight")  # as from a key that is held
    lesson.page.keyboard.up("ArrowRight")
    burst = panel.settled()
    seen = lesson.page.evaluate(ENDED)
    assert seen["empty"] == 0 and len(seen["heights"]) == 1
    assert seen["places"] == sorted(seen["places"]) and seen["places"][-1] == 60 + STEPS
    assert "Pad, outer diameter: 100 mm" in burst["setting"]
    slow = panel.type("Pad, outer diameter", "100.0 mm")
    assert re.sub("100.0 mm", "100 mm", slow["answer"]) == burst["answer"]


def test_a_burst_asks_only_as_often_as_it_is_answered(lessons):
    lesson = lessons["02"]
    panel = lesson.panel("Will it slip?")
    panel.slider("Thrust").focus()
    sent = []
    lesson.socket.on("framesent", lambda frame: sent.append(frame))
    for _ in range(STEPS):
        lesson.page.keyboard.down("ArrowRight")
    lesson.page.keyboard.up("ArrowRight")
    state = panel.settled()
    assert 2 <= len(sent) <= STEPS + 1
    assert "Thrust: 1200 N" in state["setting"]  # 800 N and 40 steps of 10 N
    panel.type("Thrust", "800 N")
