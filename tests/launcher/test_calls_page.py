"""The page of calls: every public name is on it, and it asks for nothing from outside."""

import re

import pytest

from workshop_lib.launcher import calls_page
from workshop_lib.launcher.environment import ROOT


@pytest.fixture(scope="module")
def page():
    return calls_page.page()


def test_every_public_name_is_there_with_what_its_docstring_says(page):
    anchors = re.findall(r'\bid="([^"]+)"', page)
    assert len(anchors) == len(set(anchors))
    for room in calls_page.rooms():
        for name in calls_page.names(ROOT / "workshop_lib" / room / "__init__.py"):
            assert f"{room}.{name}" in anchors, name
            assert f'<a href="#{room}.{name}">' in page.partition("</ul>")[0], name
    assert {"slip", "gauges", "bearings", "plan", "write_up"} <= set(calls_page.rooms())
    assert "By what factor can side force" in page


def test_links_stay_on_the_page_and_nothing_is_fetched(page):
    links = set(re.findall(r'href="([^"]*)"', page))
    assert links and all(link.startswith("#") for link in links)
    assert {link[1:] for link in links} <= set(re.findall(r'\bid="([^"]+)"', page))
    assert not re.search(r"<script|<link|<img|@import|url\((?!data:|\s*['\"]?data:)", page)
    assert str(ROOT) not in page


def test_the_command_writes_where_it_is_told(tmp_path, capsys):
    file = tmp_path / "a folder" / "calls.html"
    assert calls_page.main([str(file)]) == 0 and file.stat().st_size > 100_000
    assert calls_page.main(["--what"]) == 2
    assert "Name one file" in capsys.readouterr().err
