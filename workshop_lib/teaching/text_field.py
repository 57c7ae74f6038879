"""The field for several lines of text, such as pasted readings."""

from dataclasses import dataclass

from workshop_lib.quantities import InputError, quote

MOST_SAID = 5  # complaints that are written out beside the field; the others are counted


@dataclass(frozen=True)
class Text:
    """Several lines of text. What it means is for the judging function to say.

    name, label, help: as for `Field`. start: its text. rows: how many lines show at once. longest:
    characters that are taken.
    """

    name: str
    label: str
    start: str
    help: str = ""
    rows: int = 8
    longest: int = 4000
    control = "text"

    def __post_init__(self):
        self.read(self.start)

    def read(self, given):
        """Return the text with plain line ends; InputError for nothing, too much or no text."""
        if not isinstance(given, str):
            raise InputError(self.label, f"{quote(given)} is not text")
        if not given.strip():
            raise InputError(self.label, "nothing was typed", "Write one entry in each line")
        if len(given) > self.longest:
            problem = f"{len(given)} characters are too many"
            raise InputError(self.label, problem, f"Leave it at {self.longest}")
        return "\n".join(given.splitlines())

    def words(self, given):
        """Return how much it is; the text itself stands in the field."""
        lines = sum(bool(line.strip()) for line in str(given).splitlines())
        return f"{lines} line{'s' * (lines != 1)} of text"

    def position(self, _given):
        """Return None: there is no slider."""

    def spec(self):
        """Return what the page needs to build the field's controls."""
        spec = {"name": self.name, "control": self.control, "label": self.label, "help": self.help}
        return spec | {"rows": self.rows, "longest": self.longest}


def by_line(complaints):
    """Return complaints about single lines as one text, a line for each; "" when there are none."""
    said = [words[0].upper() + words[1:] for words in complaints[:MOST_SAID]]
    more = len(complaints) - len(said)
    return "\n".join(said + ([f"And {more} more."] if more else []))
