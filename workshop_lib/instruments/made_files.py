"""Which scans and recordings are there for those with no scanner or telephone at hand?"""

from pathlib import Path

from workshop_lib.quantities import InputError, quote

FOLDER = Path(__file__).resolve().parent / "made"
MADE = {
    "cover.jpg": "the 78 mm cover beside a ring of 62 mm",
    "cover_turned.jpg": "the same cover, turned by a quarter",
    "hung.wav": "the cover hung on a thread and tapped three times",
    "cutting.wav": "a blank with eight corners being cut",
    "squeezed.wav": "the cover squeezed on a leather-faced pad of 60 mm and tapped",
    "whistling.wav": "the same cut with a whistle in it",
}


def made(name):
    """Return the path of a demonstration file. It was made by computer, not scanned or recorded.

    >>> made("hung.wav").name
    'hung.wav'
    """
    if name not in MADE:
        raise InputError(
            "name", f"{quote(name)} is not one of the demonstrations", f"Choose {', '.join(MADE)}"
        )
    return FOLDER / name
