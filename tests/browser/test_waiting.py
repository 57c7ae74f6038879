"""A card while the computer is busy: its own page side, before a Python that answers when told."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.teaching.exercise_cases import FACES, RIM, exercise
from workshop_lib.teaching import answer_file, live

# What the page sends is kept until the test lets Python answer it.
PAGE = """
async ([source, style, frame, face]) => {
  const held = { frame, face }, heard = {};
  window.sent = [];
  window.give = (face) => { held.face = face; heard["change:face"](); };
  const model = {
    get: (name) => held[name], on: (name, call) => (heard[name] = call), off() {},
    send: (message) => sent.push(message),
  };
  const module = await import(`data:text/javascript,${encodeURIComponent(source)}`);
  document.head.append(Object.assign(document.createElement("style"), { textContent: style }));
  module.default.render({ model, el: document.body.appendChild(document.createElement("div")) });
}
"""


class Stage:
    """A card in a page whose clock the test turns, and its Python beside it."""

    def __init__(self, page, card):
        self.page, self.card = page, card
        here = Path(live.__file__)
        texts = [here.with_name(name).read_text("utf-8") for name in ("panel.js", "panel.css")]
        page.clock.install()
        page.evaluate(PAGE, [*texts, card.frame, card.face])
        self.verdict, self.wait = page.locator(".wb-verdict"), page.locator(".wb-wait")
        self.told, self.note = page.locator(".wb-say"), page.locator(".wb-note")

    def hand_in(self, text):
        """Type an answer and press Check."""
        self.page.locator("input.wb-box").fill(text)
        self.page.locator(".wb-first").click()

    def answer(self):
        """Let Python answer what was sent."""
        for message in self.page.evaluate("sent.splice(0)"):
            self.card._receive(self.card, message, [])
            self.page.evaluate("face => give(face)", self.card.face)


@pytest.fixture
def stage(chromium):
    before, page = answer_file.use(answer_file.Store()), chromium.new_page()
    yield Stage(page, exercise().ask())
    page.close()
    answer_file.use(before)


def test_no_old_verdict_stands_while_a_new_answer_waits_for_its_own(stage):
    stage.hand_in("2.4 N m")
    stage.answer()
    expect(stage.verdict).to_contain_text(FACES)
    expect(stage.verdict).to_be_visible()
    stage.hand_in("1.8 N m")
    expect(stage.verdict).to_be_hidden()
    expect(stage.wait).to_be_hidden()  # an answer in good time comes without a word
    stage.answer()
    expect(stage.verdict).to_be_visible()
    expect(stage.verdict).to_contain_text(RIM)


def test_while_the_computer_is_busy_the_card_says_so_in_a_learners_words(stage):
    stage.hand_in("2.4 N m")
    stage.answer()
    stage.hand_in("1.2 N m")
    stage.page.clock.run_for(2_000)
    expect(stage.wait).to_have_text("One moment: the computer is still working.")
    expect(stage.verdict).to_be_hidden()
    stage.page.clock.run_for(12_000)
    expect(stage.wait).to_contain_text("press Shift + Enter")
    assert "kernel" not in stage.wait.text_content()
    stage.answer()
    expect(stage.wait).to_be_hidden()
    expect(stage.verdict).to_contain_text("Right")
    expect(stage.verdict).to_be_visible()


def test_an_answer_to_what_was_asked_before_does_not_bring_its_verdict_back(stage):
    stage.hand_in("2.4 N m")
    stage.answer()
    stage.page.get_by_role("button", name="Hint").click()
    stage.hand_in("1.8 N m")  # while the hint is still due
    hint, *_ = stage.page.evaluate("sent")
    stage.answer()
    assert hint["action"] == "hint"
    expect(stage.verdict).to_be_hidden()
    stage.answer()
    expect(stage.verdict).to_contain_text(RIM)
    expect(stage.verdict).to_be_visible()


def test_a_hint_leaves_the_verdict_where_it_stands(stage):
    stage.hand_in("2.4 N m")
    stage.answer()
    stage.page.get_by_role("button", name="Hint").click()
    expect(stage.verdict).to_be_visible()


def test_the_same_verdict_a_second_time_is_told_a_second_time(stage):
    for answer in ("2.4 N m", "2.40 N m"):
        stage.hand_in(answer)
        expect(stage.told).to_have_text("")
        stage.answer()
        stage.page.clock.run_for(1_000)
        expect(stage.told).to_contain_text(FACES)


def test_an_answer_that_is_typed_over_is_no_longer_under_the_verdict_on_the_one_before(stage):
    stage.hand_in("2.4 N m")
    stage.answer()
    expect(stage.note).to_be_hidden()
    stage.page.locator("input.wb-box").fill("9")
    expect(stage.note).to_have_text("Feedback on your previous answer.")
    expect(stage.page.locator(".wb-stale .wb-verdict")).to_be_visible()
    stage.hand_in("1.8 N m")
    expect(stage.note).to_be_hidden()
    stage.answer()
    expect(stage.page.locator(".wb-stale")).to_have_count(0)
    expect(stage.verdict).to_contain_text(RIM)
