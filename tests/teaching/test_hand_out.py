"""Hand-outs without answers, and slides, made from the stored lessons."""

import html
import re

import pytest

from tests.house.thorough import only_thorough
from workshop_lib.launcher.environment import masters
from workshop_lib.launcher.trouble import Trouble
from workshop_lib.quantities import speaking
from workshop_lib.teaching.hand_out import first_sentences, hand_out, main, slides
from workshop_lib.teaching.in_units import told
from workshop_lib.teaching.lesson_parts import parts

PARTS = {path.name[:2]: parts(path) for path in masters()}


def said(page):
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())


@pytest.mark.parametrize("lesson", PARTS)
def test_a_hand_out_asks_and_never_answers(lesson):
    page = hand_out(PARTS[lesson], "a4")
    shown = said(page)
    assert "Answer:" not in shown and "Agrees:" not in shown and "Exercise" not in shown
    for part in PARTS[lesson]:
        if part.sort == "answer":
            assert said(part.html) not in shown
        if part.sort in ("take away", "caution"):
            assert said(part.html) in shown
    assert shown.count("Predict") >= sum(part.sort == "question" for part in PARTS[lesson])
    assert "trained instructor come before" in shown


def test_every_lesson_but_the_first_hands_out_a_picture_with_room_to_write():
    for lesson, found in PARTS.items():
        page = hand_out(found, "letter")
        assert ('class="notes"' in page) or lesson == "00"
        assert len(re.findall(r"<h2>Take away</h2>", page)) == 1


@pytest.mark.parametrize("lesson", PARTS)
def test_slides_have_every_question_before_its_answer_and_are_counted(lesson):
    page = slides(PARTS[lesson])
    screens = re.findall(r'<section class="slide ([a-z-]*)">(.*?)</section>', page, re.DOTALL)
    sorts = [sort for sort, _ in screens]
    assert f"1 of {len(screens)}" in screens[0][1] and "<h1>" in screens[0][1]
    assert sorts.count("question") == sum(p.sort == "question" for p in PARTS[lesson])
    assert sorts[-1] == "take-away" and "exercise" not in said(page).lower().split("take")[0][:200]
    for at in range(len(sorts)):
        assert sorts[: at + 1].count("answer") <= sorts[: at + 1].count("question")


@pytest.mark.parametrize("lesson", ["02", "05"])
def test_pages_are_whole_in_themselves(lesson):
    for page in (hand_out(PARTS[lesson], "a4"), slides(PARTS[lesson])):
        bare = page.split("</style>")[1].replace("http://www.w3.org/", "")
        assert "<script" not in page and "default-src 'none'" in page
        assert not re.search(r'(?:src|href)="https?:', bare)


def test_a_text_is_cut_at_the_end_of_a_sentence():
    long = "<p>" + "This is one sentence. " * 40 + "</p><p>And the next.</p>"
    cut = first_sentences(long)
    assert cut.endswith("sentence.</p>") and 100 < len(cut) < 400 and "next" not in cut
    assert first_sentences("<p>Short.</p><p>Too.</p>") == "<p>Short.</p><p>Too.</p>"


def test_a_text_is_told_in_inch_but_for_code_and_formulas():
    source = "A 50.8 mm pad, `50.8 mm` typed, $50.8 mm$<!-- 50.8 mm -->"
    with speaking("inch"):
        assert told(source) == source.replace("A 50.8 mm", "A 2 in")
    assert told(source) == source


def test_the_command_writes_both_and_nothing_over_a_file_of_somebody_elses(tmp_path, capsys):
    assert main(["2", "--folder", str(tmp_path)]) == 0
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == ["02_the_slip_criterion_hand_out.html", "02_the_slip_criterion_slides.html"]
    assert main(["02", "--folder", str(tmp_path)]) == 0  # its own it may replace
    (tmp_path / names[1]).write_text("mine")
    with pytest.raises(Trouble, match="there already"):
        main(["02", "--folder", str(tmp_path)])
    assert (tmp_path / names[1]).read_text() == "mine"
    with pytest.raises(Trouble, match="is no lesson"):
        main(["77", "--folder", str(tmp_path)])


@only_thorough
@pytest.mark.parametrize("lesson", ["02", "03", "04"])
def test_in_inch_no_newton_and_no_millimetre_is_handed_out(lesson):
    (path,) = (each for each in masters() if each.name.startswith(lesson))
    shown = said(hand_out(parts(path, "inch"), "letter").partition("</style>")[2])
    asked = shown.partition("What do you expect?")[2]
    assert re.search(" lbf| thou", shown) and not re.search(r"[0-9] (mm|N|N·m|MPa)\b", asked)
