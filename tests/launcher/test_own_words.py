"""Learner copies ask for the learner's own words first, in a cell that holds nothing else."""

import pytest
from nbformat.v4 import new_markdown_cell, new_notebook

from tests.launcher.copy_cells import come_from, is_own
from workshop_lib.launcher import copies


def one_text(source):
    """Return the cells that a learner gets for one text cell of a master."""
    master = new_notebook(cells=[new_markdown_cell(source, id="l09-07")])
    return copies.learner_copy(master).cells


def test_a_double_click_on_the_learners_own_words_opens_nothing_but_these():
    cells = one_text("Look.\n\n**Explain:** it is so.\n\nAnd so.\n\n## Next\n\nText.")
    assert [cell.source for cell in cells] == [
        "Look.",
        copies.OWN_WORDS,
        "<details><summary>What the workbook says</summary>\n\nit is so.\n\nAnd so.\n\n</details>",
        "## Next\n\nText.",
    ]
    assert "it is so" not in copies.OWN_WORDS and "#" not in copies.OWN_WORDS
    assert len({cell.id for cell in cells}) == 4 and cells[0].id == "l09-07"
    assert all(cell.id.startswith("l09-07") for cell in cells)


@pytest.mark.parametrize(
    ("source", "ends"),
    [
        ("**Explain:** so.", ["own", "folded"]),
        ("**Explain:** so.\n\n### Next", ["own", "folded", "after"]),
        ("Look.\n\n**Explain:** so.", ["l09-07", "own", "folded"]),
        ("No question of why.", ["l09-07"]),
        ("To **Explain:** is not asked here.", ["l09-07"]),
    ],
)
def test_nothing_empty_is_made_of_a_cell_that_explains(source, ends):
    cells = one_text(source)
    assert all(cell.source for cell in cells)
    assert [cell.id.removeprefix("l09-07-") for cell in cells] == ends


def test_a_cell_that_explains_twice_asks_twice_and_no_id_comes_again():
    cells = one_text("**Explain:** a.\n\n## B\n\nLook.\n\n**Explain:** c.\n\n## D\n\nEnd.")
    assert [is_own(cell) for cell in cells] == [True, False, False, True, False, False]
    assert [cell.source for cell in cells][2::3] == ["## B\n\nLook.", "## D\n\nEnd."]
    assert len({cell.id for cell in cells}) == len(cells)
    assert {come_from(cell) for cell in cells} == {"l09-07"}
    again = one_text("**Explain:** a.\n\n## B\n\nLook.\n\n**Explain:** c.\n\n## D\n\nEnd.")
    assert [cell.id for cell in again] == [cell.id for cell in cells]
