"""How does a file get into a panel? By its name, or a sound recorded or chosen in the page.

A sound is decoded by the browser, whatever its form, and handed over as a WAV file in text; nothing
leaves the machine.
"""

import base64
import binascii
from dataclasses import dataclass

from workshop_lib.quantities import InputError, quote
from workshop_lib.teaching.fields import Control

START = "wav:"
LONGEST = 14_000_000  # characters; a minute and a half at 48 000 samples for each second
NOTHING = "nothing recorded yet"


@dataclass(frozen=True)
class Sound(Control):
    """A recording. Its value is text: empty, or "wav:" and a WAV file in base 64.

    name, label, help: as for `Field`. seconds: after which a recording ends by itself.
    """

    name: str
    label: str
    help: str = ""
    seconds: int = 10
    start: str = ""
    control = "sound"

    def read(self, given):
        """Return the WAV file as bytes, None where nothing was recorded; InputError in words."""
        if given == "":
            return None
        if not isinstance(given, str) or not given.startswith(START):
            mend = "Record it here, or choose a sound file"
            raise InputError(self.label, f"{quote(given)} is not a recording", mend)
        if len(given) > LONGEST:
            raise InputError(self.label, "it is too long", "Ten seconds are enough")
        try:
            return base64.b64decode(given[len(START) :], validate=True)
        except binascii.Error as error:
            raise InputError(self.label, "part of it is missing", "Record it again") from error

    def words(self, given):
        """Say how much was recorded."""
        sound = self.read(given)
        return NOTHING if sound is None else f"a sound of {len(sound) / 1000:.0f} kB"

    def shown(self, given):
        """Return what the page needs to know: never the sound itself."""
        try:
            return "" if given == "" else self.words(given)
        except InputError:
            return NOTHING

    def details(self):
        """Return how long a recording lasts."""
        return {"seconds": self.seconds}


@dataclass(frozen=True)
class FileName(Control):
    """The name of a file beside the notebook. endings: those that it may have, in small letters."""

    name: str
    label: str
    start: str
    endings: tuple
    help: str = ""
    control = "typed"

    def read(self, given):
        """Return the name; InputError in words for what is none, or has another ending."""
        if not isinstance(given, str) or not given.strip():
            raise InputError(self.label, "it has no name", f"Type a name, such as {self.start}")
        if not given.strip().lower().endswith(self.endings) or not given.isprintable():
            mend = f"The name must end in {', '.join(self.endings)}"
            raise InputError(self.label, f"{quote(given)} is the wrong kind of file", mend)
        return given.strip()

    def details(self):
        """Return an example."""
        return {"example": self.start}
