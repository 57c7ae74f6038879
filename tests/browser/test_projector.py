"""The projector's JupyterLab as it comes up: large text, one lesson, no side bars open."""

import os
import sys

import pytest

from tests.launcher import served
from workshop_lib.launcher.environment import ROOT

LAUNCH = "import sys; from workshop_lib.launcher.opening import main; sys.exit(main(sys.argv[1:]))"
LESSON = str(ROOT / "notebooks" / "02_the_slip_criterion.ipynb")
MEASURE = """
(selector) => {
  const found = document.querySelector(selector);
  return [parseFloat(getComputedStyle(found).fontSize), found.getBoundingClientRect().width];
}
"""


@pytest.fixture(scope="module")
def page(chromium, tmp_path_factory):
    folder = tmp_path_factory.mktemp("projector")
    options = ["--no-browser", "--port=8912", "--projector", LESSON]
    command = [sys.executable, "-u", "-c", LAUNCH, *options]
    path = os.pathsep.join([os.path.dirname(sys.executable), os.environ["PATH"]])
    with served.running(command, folder, folder, PYTHONPATH=str(ROOT), PATH=path) as process:
        address = served.address_told(process)
        served.wait_until_it_listens(address)
        page = chromium.new_page(viewport={"width": 1280, "height": 720})
        page.goto(address)
        page.wait_for_selector(".jp-Notebook .jp-MarkdownOutput p", timeout=60_000)
        yield page
        page.close()


def test_text_and_code_are_large_and_the_lesson_has_the_window(page):
    page.wait_for_function(
        "() => parseFloat(getComputedStyle(document.querySelector('.jp-MarkdownOutput')).fontSize)"
        " > 20"
    )
    size, width = page.evaluate(MEASURE, ".jp-Notebook .jp-MarkdownOutput")
    assert size == 22 and width > 0.88 * 1280
    assert page.evaluate(MEASURE, ".jp-Notebook .cm-content")[0] == 19


def test_nothing_asks_a_question_and_no_number_of_a_run_shows(page):
    assert page.locator(".jp-Dialog, .Toastify__toast").count() == 0
    assert not page.locator(".jp-Notebook .jp-InputArea-prompt >> visible=true").count()
