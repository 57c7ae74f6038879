"""How does a scan become numbers? Grey values of every pixel, and the scale its file claims.

Only grey values and the claimed pixels per metre are kept; place, time, maker and owner that a
file may carry are never read further and never handed on.
"""

import io
import warnings
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from PIL import Image, UnidentifiedImageError

from workshop_lib.quantities import InputError
from workshop_lib.sources import ordinary_file

LARGEST_FILE = 400_000_000  # bytes
MOST_PIXELS = 170_000_000  # A4 at 1200 dots per inch has 140 million
LEAST_SIDE = 64
FORMATS = ("PNG", "JPEG", "TIFF")
INCH = 0.0254
CLAIMS = (50, 10_000)  # dots per inch that a scanner may claim; screens and cameras say 72 or none
OF_CAMERAS = (33434, 33437, 37386)  # tags: exposure time, f-number, focal length
COARSE_PIXELS = 1_500_000  # of the small copy in which a disc is looked for


@dataclass(frozen=True, eq=False)
class Picture:
    """A grey picture, row 0 on top.

    values: whole numbers (8 or 16 bits) or shares of white from 0 to 1, shape (rows, columns).
    per_metre: pixels per metre across and down, as the file claims; None where it claims nothing.
    photograph: whether the file carries a camera's exposure or lens.
    """

    values: np.ndarray = field(repr=False)
    per_metre: tuple | None = None
    photograph: bool = False

    def __post_init__(self):
        values = self.values
        if not isinstance(values, np.ndarray) or values.ndim != 2 or min(values.shape) < LEAST_SIDE:
            mend = f"Give rows and columns of grey values, at least {LEAST_SIDE} each way"
            raise InputError("picture", "is not a grey picture, or is very small", mend)
        if values.dtype not in (np.uint8, np.uint16, np.float32, np.float64):
            mend = "Use 8 or 16 bits, or shares of white"
            raise InputError("picture", "its grey values are of an unknown kind", mend)
        if values.dtype.kind == "f" and not (np.min(values) >= 0 and np.max(values) <= 1):
            raise InputError("picture", "its shares of white are not all between 0 and 1")

    @property
    def white(self):
        """The value of full white."""
        return np.iinfo(self.values.dtype).max if self.values.dtype.kind == "u" else 1.0

    @cached_property
    def small(self):
        """A copy as shares of white, each pixel the mean of `shrunk` × `shrunk` pixels."""
        step = self.shrunk
        if step == 1:
            return self.values / np.float32(self.white)
        if self.values.dtype == np.uint8:
            small = np.asarray(Image.fromarray(self.values).reduce(step)) / np.float32(255)
        else:
            small = self._mean(step)
        rows, columns = (side // step for side in self.values.shape)
        return small[:rows, :columns]

    def _mean(self, step):
        rows, columns = (side // step for side in self.values.shape)
        total = np.zeros((rows, columns), np.float32)
        for down in range(step):
            for right in range(step):
                total += self.values[down : rows * step : step, right : columns * step : step]
        return total / np.float32(step**2 * self.white)

    @property
    def shrunk(self):
        """How many pixels each way make one of the small copy."""
        return max(1, int(np.ceil(np.sqrt(self.values.size / COARSE_PIXELS))))


def read_picture(source):
    """Read a scan from a PNG, JPEG or TIFF file.

    source: path, or the file's content as bytes. Returns a `Picture`; colours become grey. Raises
    InputError in words for anything else, or for more pixels than fit in memory.
    """
    stream = (
        io.BytesIO(source) if isinstance(source, bytes) else ordinary_file(source, LARGEST_FILE)
    )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # large scans and odd tags are no cause for alarm
            with Image.open(stream, formats=FORMATS) as image:
                return _read(image)
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, MemoryError) as error:
        if isinstance(error, InputError):
            raise
        mend = "Save the scan as PNG, TIFF or JPEG and try that file"
        raise InputError("picture", "cannot be read as a picture", mend) from error
    except Image.DecompressionBombError as error:
        raise _too_large() from error


def _read(image):
    if image.width * image.height > MOST_PIXELS:
        raise _too_large()
    claim, tags = _claimed(image.info.get("dpi")), image.getexif()
    camera = any(tag in tags or tag in tags.get_ifd(0x8769) for tag in OF_CAMERAS)
    if image.mode in ("I;16", "I;16B", "I;16L", "I"):
        values = np.asarray(image)
        values = np.clip(values, 0, 65535).astype(np.uint16)
    else:
        if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
            image = image.convert("RGBA")
            image = Image.alpha_composite(Image.new("RGBA", image.size, "white"), image)
        values = np.asarray(image.convert("L"))
    return Picture(values, claim, bool(camera))


def _claimed(dots):
    """Return pixels per metre across and down that a file claims, where the claim makes sense."""
    try:
        across, down = (float(each) for each in dots)
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    known = all(CLAIMS[0] <= each <= CLAIMS[1] and round(each) != 72 for each in (across, down))
    return (across / INCH, down / INCH) if known else None


def _too_large():
    mend = f"Scan at 600 dots per inch or crop it: at most {MOST_PIXELS // 10**6} million pixels"
    return InputError("picture", "is too large", mend)
