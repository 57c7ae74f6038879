"""A lesson on the next day: the server was stopped and started, and a panel is worked on."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser import workbook
from tests.browser.lab import Lesson
from tests.browser.panel import PATIENCE
from tests.house.thorough import only_thorough
from workshop_lib.launcher import resting

pytestmark = only_thorough
TITLE = "One face or two?"
SAVE = "() => jupyterapp.commands.execute('docmanager:save')"
RESTART = "() => jupyterapp.shell.currentWidget.sessionContext.restartKernel()"
DEAD = "model not found"


def pressed(lesson, words):
    """Press one of the buttons that JupyterLab's own commands stand behind."""
    lesson.page.get_by_role("button", name=words).first.click()


def wait_for(lesson, words):
    """Wait until such a button stands in the page."""
    button = lesson.page.get_by_role("button", name=words).first
    expect(button).to_be_visible(timeout=PATIENCE)


@pytest.fixture(scope="module")
def folder(chromium, tmp_path_factory):
    """A workbook in which somebody has set a panel, committed nothing, saved and gone."""
    folder = tmp_path_factory.mktemp("two_days")
    with workbook.opened(folder) as address:
        lesson = Lesson(chromium, address, "02_the_slip_criterion")
        pressed(lesson, resting.RUN)
        lesson.finish()
        lesson.panel(TITLE).type("Thrust", "905 N")
        lesson.page.wait_for_timeout(1500)  # the values are kept after a pause
        lesson.page.evaluate(SAVE)
        expect(lesson.page.locator(".jp-mod-dirty")).to_have_count(0)
        # A restart of Python alone, and a page that is loaded again.
        lesson.page.evaluate(RESTART)
        lesson.page.reload()
        wait_for(lesson, resting.RUN)
        assert lesson.page.get_by_text(DEAD).count() == 0
        lesson.page.close()
    return folder


def test_a_panel_rests_wakes_by_itself_and_stands_as_it_was_left(chromium, folder):
    with workbook.serving(folder) as address:
        lesson = Lesson(chromium, address, "02_the_slip_criterion")
        assert lesson.page.get_by_text(DEAD).count() == 0
        resting_cell = lesson.cells.filter(has_text=re.compile(re.escape(TITLE)))
        resting_cell.get_by_role("button", name=resting.WAKE).click()
        panel = lesson.panel(TITLE)
        expect(panel.box("Thrust")).to_have_value("905 N")
        assert "Thrust: 700 N" in panel.type("Thrust", "700 N")["setting"]
        panel.press("Start values")
        expect(panel.box("Thrust")).to_have_value("800 N")
        assert lesson.complaints() == [] and lesson.live.count() == 1
        pressed(lesson, resting.RUN)
        lesson.finish()
        assert lesson.complaints() == []
        lesson.page.close()
