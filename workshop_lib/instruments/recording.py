"""How does a sound recording become numbers? One channel's samples, and how many in a second.

WAV files are read here. Any other form a browser decodes and hands over as samples; only samples
and rate are kept, never the place or time that a telephone may have written beside them.
"""

import struct
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from workshop_lib.quantities import InputError, quote
from workshop_lib.sources import ordinary_file

LARGEST_FILE = 60_000_000  # bytes; five minutes of 24 bits in stereo
RATES = (8_000, 192_000)
LONGEST, SHORTEST = 120.0, 0.1  # s
FULL = 0.985  # of the largest sample: at or above it, several in a row are clipped
IN_A_ROW = 3
PCM, FLOATING, EXTENSIBLE = 1, 3, 0xFFFE


@dataclass(frozen=True, eq=False)
class Recording:
    """Samples (floats, any scale, shape (n,)) and their rate in samples for each second."""

    samples: np.ndarray = field(repr=False)
    rate: int

    def __post_init__(self):
        samples, rate = self.samples, self.rate
        if not isinstance(rate, int | float | np.number) or isinstance(rate, bool):
            raise InputError("rate", f"{quote(rate)} is not a number of samples per second")
        if not RATES[0] <= rate <= RATES[1]:
            raise InputError("rate", f"{rate:g} samples per second is not a usual rate")
        if not isinstance(samples, np.ndarray) or samples.ndim != 1 or samples.dtype.kind != "f":
            raise InputError("samples", "are not a list of numbers")
        if not SHORTEST <= len(samples) / rate <= LONGEST:
            mend = f"Record between a second and {LONGEST:.0f} s"
            raise InputError("samples", f"last {len(samples) / rate:.2g} s", mend)
        if not np.isfinite(samples).all():
            raise InputError("samples", "some of them are not numbers")

    @property
    def length(self):
        """How long it lasts, s."""
        return len(self.samples) / self.rate

    @cached_property
    def clipped(self):
        """Which samples were cut off by a recorder set too loud: several in a row at the top."""
        loud = np.abs(self.samples)
        top = loud >= FULL * loud.max() if loud.max() > 0 else np.zeros(len(loud), bool)
        row = np.convolve(top, np.ones(IN_A_ROW), "valid") >= IN_A_ROW
        marked = np.zeros(len(loud), bool)
        for shift in range(IN_A_ROW):
            marked[shift : shift + len(row)] |= row
        return marked


def read_recording(source):
    """Read a recording from a WAV file.

    source: path, or the file's content as bytes; 8 to 32 bits or floating, any count of channels,
    which are averaged. Returns a `Recording`. Raises InputError in words for anything else.
    """
    if isinstance(source, bytes):
        content = source
    else:
        try:
            content = ordinary_file(source, LARGEST_FILE).read_bytes()
        except OSError as error:
            raise InputError("recording", "cannot be read") from error
    if content[:4] != b"RIFF" or content[8:12] != b"WAVE":
        mend = "Save it as WAV, or let the panel's browser read it"
        raise InputError("recording", "is not a WAV file", mend)
    form, data = _parts(content)
    return _decoded(*form, data)


def _parts(content):
    """Return the format and the sound data of a WAV file."""
    place, form = 12, None
    while place + 8 <= len(content):
        name, size = content[place : place + 4], struct.unpack_from("<I", content, place + 4)[0]
        body = content[place + 8 : place + 8 + size]
        if name == b"fmt " and len(body) >= 16:
            kind, channels, rate, _, block, bits = struct.unpack_from("<HHIIHH", body)
            if kind == EXTENSIBLE and len(body) >= 26:
                kind = struct.unpack_from("<H", body, 24)[0]
            form = kind, channels, rate, block, bits
        if name == b"data" and form:
            return form, body
        place += 8 + size + size % 2
    raise InputError("recording", "is a WAV file with no sound in it")


def _decoded(kind, channels, rate, block, bits, data):
    width = bits // 8
    known = {PCM: (1, 2, 3, 4), FLOATING: (4, 8)}.get(kind, ())
    if width not in known or bits % 8 or not channels or block != channels * width:
        mend = "Save it as WAV, PCM 16 bit"
        raise InputError("recording", "is a WAV file packed in an unknown way", mend)
    data = data[: len(data) // block * block]
    if kind == FLOATING:
        values = np.frombuffer(data, f"<f{width}").astype(float)
    elif width == 1:
        values = np.frombuffer(data, np.uint8).astype(float) - 128
    elif width == 3:
        three = np.frombuffer(data, np.uint8).reshape(-1, 3)
        four = np.zeros((len(three), 4), np.uint8)
        four[:, 1:] = three
        values = four.view("<i4")[:, 0].astype(float)
    else:
        values = np.frombuffer(data, f"<i{width}").astype(float)
    return Recording(values.reshape(-1, channels).mean(axis=1), rate)
