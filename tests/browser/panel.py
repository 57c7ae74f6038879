"""A live panel in the page: its controls as a hand moves them, and what it then says."""

from playwright.sync_api import expect

PATIENCE = 60_000  # ms: for a busy machine; nothing here waits longer than it must
# What a hand does in a moment is done in one go; each wait below is for the panel's own mark.
STATE = """
async (panel, patience) => {
  const end = performance.now() + patience;
  while (panel.hasAttribute("data-waiting")) {
    if (!panel.isConnected) return null; // it was made anew, with other fields
    if (performance.now() > end) throw new Error("the panel has given no answer");
    await new Promise(requestAnimationFrame);
  }
  const text = (part) => panel.querySelector(part)?.textContent ?? "";
  const seen = (part) => {
    const found = panel.querySelector(part);
    return found && !found.hidden ? found.textContent : "";
  };
  return {
    verdict: text(".wb-verdict"),
    setting: text(".wb-setting"),
    note: seen(".wb-note"),
    fault: seen(".wb-fault"),
    complaints: [...panel.querySelectorAll(".wb-complaint:not([hidden])")]
      .map((complaint) => complaint.textContent),
    answer: [".wb-verdict", ".wb-picture", ".wb-details"]
      .map((part) => panel.querySelector(part).innerHTML).join("\\n"),
  };
}
"""


class Panel:
    """One live element. Fields are named by their label, as a person finds them."""

    def __init__(self, root):
        self.root, self.page = root, root.page
        self.verdict = root.locator(".wb-verdict")
        self.picture = root.locator(".wb-picture")
        self.details = root.locator(".wb-details")
        self.note = root.locator(".wb-note")
        self.fault = root.locator(".wb-fault")
        self.setting = root.locator(".wb-setting")
        self.told = root.locator(".wb-say")

    @property
    def title(self):
        """Its title."""
        return self.root.locator(".wb-title").text_content()

    @property
    def fields(self):
        """Its fields, from top to bottom."""
        return self.root.locator(".wb-field").all()

    def box(self, label):
        """The box, list or text field with this label."""
        return self.root.get_by_label(label, exact=True)

    def slider(self, label):
        """The slider of a field."""
        return self.root.get_by_role("slider", name=f"{label}, slider", exact=True)

    def complaint(self, label):
        """What stands below a field because of what was typed there."""
        box = self.page.get_by_label(label, exact=True)
        return self.root.locator(".wb-field").filter(has=box).locator(".wb-complaint")

    def settled(self):
        """Wait until the last answer to what was set stands in the page; return its state."""
        return self.root.evaluate(STATE, PATIENCE) or self.root.evaluate(STATE, PATIENCE)

    def type(self, label, text):
        """Type into a box, with Enter at the end; return the panel's state."""
        box = self.box(label)
        box.fill(text)
        box.press("Enter")
        return self.settled()

    def press(self, name):
        """Press one of a card's buttons; return the card's state."""
        self.root.get_by_role("button", name=name).click()
        return self.settled()

    def is_live(self):
        """Check that it shows an answer, and no fault."""
        expect(self.verdict).not_to_be_empty()
        expect(self.fault).to_be_hidden()
