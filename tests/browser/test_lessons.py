"""Every lesson runs from top to bottom in JupyterLab, with nothing red and every panel live."""

from playwright.sync_api import expect

from tests.browser import workbook


def test_a_lesson_runs_from_top_to_bottom_with_every_panel_live(lesson):
    assert lesson.complaints() == []
    panels, cards = workbook.live_elements(lesson.name)
    expect(lesson.live).to_have_count(panels)
    expect(lesson.cards).to_have_count(cards)
    for panel in lesson.panels():
        panel.is_live()
    assert lesson.errors == []
