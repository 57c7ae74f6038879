"""Which photographs go onto a page? Read with care, made small, nothing hidden left in them."""

import io
import os
import stat
import warnings
from pathlib import Path, PureWindowsPath

import numpy as np
from PIL import Image, ImageCms, ImageOps

from workshop_lib.plan import JobFaults
from workshop_lib.quantities import InputError, quote
from workshop_lib.write_up.page_parts import Photograph

LARGEST_FILE = 60_000_000  # bytes; the largest pictures of telephones have half of that
MOST_PIXELS = {"JPEG": 220_000_000, "PNG": 60_000_000, "WEBP": 60_000_000}  # JPEG is read small
LEAST_SIDE = 16  # pixels
LONGEST_SIDE = 1600  # pixels on the page: sharp on paper across a whole sheet
QUALITY = 84
FORMATS = tuple(MOST_PIXELS)


def photographs_at(job, place):
    """The photographs of a job at one place of its page, as parts. Raises `JobFaults`."""
    found, faults = [], []
    for number, each in enumerate(job["photograph"] or (), start=1):
        if each.get("place", "story") != place:
            continue
        try:
            data, size = made_small(content_of(job, each["file"]))
        except InputError as fault:
            key = f"photograph[{number}].file"
            faults.append(InputError(key, f"{quote(each['file'])} {fault.problem}", fault.mend))
            continue
        caption = " ".join(each.get("caption", "").split())
        found.append(Photograph(data, size, f"photograph_{number}", each["alt"], caption))
    if faults:
        raise JobFaults(faults, job.where)
    return found


def content_of(job, name):
    """The bytes of a file beside the job or in a folder below it. Raises InputError."""
    if job.file is None:
        raise InputError("file", "is looked for beside the job's file", "Save the job first")
    parts, windows = Path(name).parts, PureWindowsPath(name)
    if "\0" in name or Path(name).is_absolute() or windows.drive or windows.root or ".." in parts:
        mend = "Put it into the job's folder and write its name"
        raise InputError("file", "is not in the job's folder", mend)
    folder = job.file.parent.resolve()
    try:
        path = (folder / name).resolve()
        if folder not in path.parents:
            raise InputError("file", "is outside the job's folder", "Copy the picture into it")
        found = os.stat(path)
        if not stat.S_ISREG(found.st_mode):
            raise InputError("file", "is not an ordinary file", "Name a picture: JPEG, PNG or WebP")
        if found.st_size > LARGEST_FILE:
            mend = f"Save it smaller: at most {LARGEST_FILE // 10**6} MB"
            raise InputError("file", "is too large", mend)
        return path.read_bytes()
    except FileNotFoundError as error:
        raise InputError("file", "was not found", "Put it beside the job's file") from error
    except (OSError, RuntimeError) as error:  # a ring of links is a RuntimeError on Python 3.11
        why = getattr(error, "strerror", None) or "its links lead back to themselves"
        raise InputError("file", f"cannot be read ({why})") from error


def made_small(content):
    """A picture as a JPEG of modest size, upright, and its width and height.

    What else a file may carry (place, time, camera, owner, thumbnails, comments) stays behind: only
    the points of the picture are copied. Raises InputError for what is no picture or too large.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # large pictures and odd tags are judged here
            with Image.open(io.BytesIO(content), formats=FORMATS) as image:
                clean = _clean(image)
    except InputError:
        raise
    except Image.DecompressionBombError as error:
        raise _too_many() from error
    except Exception as error:  # whatever a decoder does with a broken file
        mend = "Save it again as JPEG, PNG or WebP"
        raise InputError(
            "file", "is broken, or is not a JPEG, PNG or WebP picture", mend
        ) from error
    written = io.BytesIO()
    clean.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue(), clean.size


def _clean(image):
    """The points of a picture alone, upright, in plain colours, small."""
    if image.width * image.height > MOST_PIXELS.get(image.format, MOST_PIXELS["JPEG"]):
        raise _too_many()
    if min(image.size) < LEAST_SIDE:
        raise InputError("file", "is too small to show anything", "Take a larger picture")
    profile = image.info.get("icc_profile")
    image.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))  # JPEG: fewer points are decoded
    image = _plain_colours(ImageOps.exif_transpose(image), profile)
    image.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    clean = Image.new("RGB", image.size)
    clean.paste(image)
    return clean


def _plain_colours(image, profile):
    """The picture in red, green and blue of 8 bits, on white where it is transparent."""
    if image.mode.startswith("I") or image.mode == "F":
        values = np.asarray(image).astype(float)
        top = 65535.0 if values.max() > 255 else 255.0
        image = Image.fromarray(np.clip(255 * values / top, 0, 255).astype(np.uint8))
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        image = image.convert("RGBA")
        image = Image.alpha_composite(Image.new("RGBA", image.size, "white"), image)
    if image.mode == "RGB" and profile:
        try:
            usual = ImageCms.createProfile("sRGB")
            return ImageCms.profileToProfile(image, io.BytesIO(profile), usual)
        except (ImageCms.PyCMSError, OSError, ValueError):
            return image  # a profile that cannot be read changes nothing
    return image.convert("RGB")


def _too_many():
    most = MOST_PIXELS["PNG"] // 10**6
    return InputError("file", "has too many pixels", f"Save it with at most {most} million")
