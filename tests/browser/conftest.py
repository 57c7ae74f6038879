"""One JupyterLab and one browser for all browser tests; each lesson is opened once."""

import pytest
from playwright.sync_api import sync_playwright

from tests.browser import workbook
from tests.browser.lab import Lesson, flags
from workshop_lib.launcher import browser as program


@pytest.fixture(scope="package")
def address(tmp_path_factory):
    """The address that the README's command tells."""
    with workbook.opened(tmp_path_factory.mktemp("workbook")) as told:
        yield told


@pytest.fixture(scope="package")
def chromium():
    """The machine's own browser, without a window."""
    path = program.find()
    if path is None and program.must_be_there():
        pytest.fail(f"Failed: {program.MISSING}")
    if path is None:
        pytest.skip(f"Left out: {program.MISSING}")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=flags())
        yield browser
        browser.close()


@pytest.fixture(scope="package")
def lessons(chromium, address):
    """Lessons by name, opened and run when they are first asked for."""
    return Shelf(chromium, address)


@pytest.fixture(params=workbook.OPENED)
def lesson(request, lessons):
    """Each lesson that is opened, in turn, run from top to bottom."""
    return lessons[request.param]


class Shelf(dict):
    """The lessons that stand open."""

    def __init__(self, browser, address):
        self.browser, self.address = browser, address
        self.broken = set()  # no second wait for one that did not run

    def __missing__(self, name):
        (full,) = [lesson for lesson in workbook.LESSONS if lesson.startswith(name)]
        if full != name:
            return self[full]
        if name in self.broken:
            pytest.fail(f"{name} did not run")
        self.broken.add(name)
        lesson = Lesson(self.browser, self.address, name)
        lesson.start()
        lesson.finish()
        self.broken.remove(name)
        self[name] = lesson
        return lesson
