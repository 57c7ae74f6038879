"""Teacher's notes: one for each lesson, with all their parts, and every number in them computed."""

import ast
import re

import nbformat
import pytest

from tests.notebooks.note_values import MARK, marked, value_of
from workshop_lib.launcher.environment import ROOT

LESSONS = sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
FOLDER = ROOT / "notebooks" / "for_teachers"
PARTS = [
    "What they can do afterwards",
    "Minutes",
    "On the bench",
    "Live demonstration",
    "Predictions to collect",
    "What usually goes wrong",
    "Questions to ask",
    "How to tell that they have got it",
]
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.]*\d)")
# A number that is followed by one of these is a quantity, and must be computed or given.
UNIT = r"\s?(?:mm|µm|thou|N·m|N/mm²|N\b|kN|MPa|%|°|times|Hz|rev/min|m/min|h\b)"


def name(path):
    return path.stem


def notes(path):
    return (FOLDER / f"{path.stem}.md").read_text(encoding="utf-8")


def parts(text):
    """Return the parts of a note by their headings."""
    found = re.split(r"^## (.+)$", text, flags=re.MULTILINE)
    return dict(zip(found[1::2], found[2::2], strict=True))


def items(text):
    """Return the items of a list, each on a line of its own."""
    return [line[2:] for line in text.splitlines() if line.startswith("- ")]


def abilities(path):
    """Return the minutes of a lesson and what it says that you can do afterwards."""
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "code" and "page.you_can(" in cell.source:
            call = ast.parse(cell.source).body[-1].value
            return [ast.literal_eval(each) for each in call.args]
    raise AssertionError("the lesson does not say what it teaches")


def asked(path):
    """Return the keys of the exercises that a lesson asks."""
    source = "\n".join(c.source for c in nbformat.read(path, as_version=4).cells)
    number = path.name[:2]
    return {f"l{number}-task-{key}" for key in re.findall(r'\["([\w-]+)"\]\.ask\(\)', source)}


def predictions(path):
    """Return the keys of the predictions that a lesson asks for."""
    source = "\n".join(c.source for c in nbformat.read(path, as_version=4).cells)
    return re.findall(r"predict\.predict\(\s*\"([\w-]+)\"", source)


def test_every_lesson_has_its_notes_and_there_are_no_others():
    assert [path.stem for path in sorted(FOLDER.glob("[0-9]*.md"))] == [p.stem for p in LESSONS]


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_notes_have_all_their_parts_in_order_and_none_is_empty(path):
    assert list(parts(notes(path))) == PARTS
    assert all(len(part.strip()) > 60 for part in parts(notes(path)).values())
    title = re.search(r"^# (.+)$", path.read_text("utf-8").replace('"# ', "\n# "), re.MULTILINE)[1]
    number, _, words = title.split("\\n")[0].rstrip('",').partition(" · ")
    assert notes(path).startswith(f"# Teacher's notes: {number} {words}\n")


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_abilities_are_the_lessons_and_each_is_shown_by_something(path):
    _, *wanted = abilities(path)
    stated = [item.split(" *Shown by:* ") for item in items(parts(notes(path))[PARTS[0]])]
    assert [ability for ability, _ in stated] == wanted
    assert all(shown.endswith(".") for _, shown in stated)


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_minutes_add_up_to_those_of_the_lesson(path):
    rows = re.findall(r"^\| (.+?) \| (\d+) \|$", parts(notes(path))["Minutes"], re.MULTILINE)
    *each, (last, total) = [(words, int(minutes)) for words, minutes in rows]
    assert last == "Total"
    assert sum(minutes for _, minutes in each) == total == abilities(path)[0]


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_every_exercise_and_prediction_named_is_there(path):
    assert "`l0" not in notes(path), "a key tells a teacher nothing: name it in words"
    named = set(re.findall(r"<!-- (l\d\d-[\w-]+) -->", notes(path)))
    assert named and named <= asked(path) | set(predictions(path))


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_every_prediction_of_the_lesson_is_collected(path):
    collected = parts(notes(path))["Predictions to collect"]
    assert all(f"<!-- {key} -->" in collected for key in predictions(path))


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_the_demonstration_has_its_cautions_and_defers(path):
    shown = parts(notes(path))["Live demonstration"]
    _, _, cautions = shown.partition("**Cautions.**")
    for words in ("local rules", "the machine's own instructions", "trained instructor"):
        assert words in cautions, words


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_each_question_has_its_answer(path):
    asked = items(parts(notes(path))["Questions to ask"])
    assert len(asked) >= 4
    for item in asked:
        question, _, answer = item.partition(" *Answer:* ")
        assert "?" in question and answer.strip()


@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_every_value_in_the_notes_is_what_the_library_computes(path):
    values = list(marked(notes(path)))
    assert values
    for before, expression in values:
        assert before.endswith(f" {value_of(expression)}"), f"{before[-25:]} is not {expression}"


@pytest.mark.parametrize("part", PARTS[4:7])
@pytest.mark.parametrize("path", LESSONS, ids=name)
def test_no_number_stands_there_that_is_neither_computed_nor_given(path, part):
    for item in items(parts(notes(path))[part]):
        given = " ".join(MARK.findall(item))
        question = item.partition("*Answer:*")[0] if "*Answer:*" in item else ""
        unmarked = re.sub(r"\S+(?:[ \u00a0]\S+)?<!-- = .*? -->|`[^`]*`", " ", item)
        for match in re.finditer(rf"({NUMBER.pattern}){UNIT}", unmarked):
            numbers = NUMBER.findall(f"{given} {MARK.sub('', question)}")
            assert match[1] in numbers, f"{match[0]} in: {unmarked[:80]}"
