"""The button of lesson 08 writes a page, and its link opens that page in a tab of its own."""

from playwright.sync_api import expect

from tests.house.thorough import only_thorough


@only_thorough
def test_the_button_offers_a_page_that_opens(lessons):
    lesson = lessons["08"]
    panel = next(each for each in lesson.panels() if "What sizes" in each.title)
    panel.root.scroll_into_view_if_needed()
    link = panel.root.locator(".wb-made")
    expect(link).to_be_hidden()
    state = panel.press("Write the making sheet")
    assert "Written: making_nose.html" in state["note"]
    with lesson.page.expect_popup() as opened:
        link.click()
    page = opened.value
    expect(page.get_by_role("heading", level=1)).to_have_text("Making sheet: your pressure nose")
    expect(page.locator("table").first).to_contain_text("12.001 to 12.009 mm")
    page.close()
    panel.type("Front to rear bearing", "40 mm")
    expect(link).to_be_hidden()
    assert lesson.errors == []
