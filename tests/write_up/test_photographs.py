"""Photographs of a job: upright, small, nothing hidden left in them; what is none is refused."""

import base64
import io
import os
import re
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, PngImagePlugin

from tests.house.laws import held_for
from tests.plan.job_cases import plain
from tests.write_up.test_write_up_forms import Page, render
from workshop_lib import plan, write_up
from workshop_lib.plan.entry_table import PLACES_ON_PAGE
from workshop_lib.quantities import InputError
from workshop_lib.write_up import html_page, markdown_page
from workshop_lib.write_up.contents import contents
from workshop_lib.write_up.page_parts import Heading, Photograph
from workshop_lib.write_up.photographs import LARGEST_FILE, LONGEST_SIDE, made_small, photographs_at

SECRET = b"51.4778N 0.0015W of Anna"
ORIENTATION, DESCRIPTION, GPS = 0x0112, 0x010E, 0x8825


def half_red(size=(120, 80)):
    """A picture whose left half is red and right half blue."""
    values = np.zeros((size[1], size[0], 3), np.uint8)
    values[:, : size[0] // 2, 0] = 255
    values[:, size[0] // 2 :, 2] = 255
    return Image.fromarray(values)


def saved(image, kind, **more):
    stream = io.BytesIO()
    image.save(stream, kind, **more)
    return stream.getvalue()


def tagged(kind):
    """A picture that lies on its side and says where and by whom it was taken."""
    image, exif = half_red(), Image.Exif()
    exif[ORIENTATION], exif[DESCRIPTION] = 6, SECRET.decode()  # 6: to be turned a quarter right
    exif.get_ifd(GPS)[29] = SECRET.decode()
    more = {"exif": exif}
    if kind == "JPEG":
        more |= {"comment": SECRET, "xmp": SECRET, "quality": 95}
    if kind == "PNG":
        more["pnginfo"] = PngImagePlugin.PngInfo()
        more["pnginfo"].add_text("Comment", SECRET.decode())
    if kind == "WEBP":
        more |= {"xmp": SECRET, "lossless": True}
    return saved(image, kind, **more) + SECRET  # and behind the picture's end


@held_for(["JPEG", "PNG", "WEBP"])
def test_a_photograph_stands_upright_and_tells_nothing_else(kind):
    content = tagged(kind)
    assert SECRET in content
    made, size = made_small(content)
    assert size == (80, 120) and SECRET not in made and b"Exif" not in made
    with Image.open(io.BytesIO(made)) as image:
        assert image.format == "JPEG" and not image.getexif() and "comment" not in image.info
        assert not {"exif", "xmp", "icc_profile", "photoshop"} & set(image.info)
        top, bottom = (image.getpixel((40, y)) for y in (20, 100))
    # Turned a quarter to the right, what lay on the left lies on top.
    assert top[0] > 200 > 60 > top[2] and bottom[2] > 200 > 60 > bottom[0]


@held_for(["L", "LA", "P", "1", "RGBA", "CMYK", "I;16", "RGB"])
def test_every_sort_of_colours_becomes_a_plain_picture(mode):
    if mode == "I;16":
        image = Image.fromarray(np.linspace(0, 65535, 6400).astype(np.uint16).reshape(80, 80))
    else:
        image = half_red((80, 80)).convert(mode)
    made, size = made_small(saved(image, "JPEG" if mode == "CMYK" else "PNG"))
    assert size == (80, 80)
    with Image.open(io.BytesIO(made)) as image:
        assert image.mode == "RGB"


def test_what_is_clear_lies_on_white_and_large_ones_shrink_in_shape():
    made, size = made_small(saved(Image.new("RGBA", (4000, 1000), (0, 0, 0, 0)), "PNG"))
    assert size == (LONGEST_SIDE, LONGEST_SIDE // 4)
    with Image.open(io.BytesIO(made)) as image:
        assert min(image.getpixel((5, 5))) > 250
    assert made_small(saved(half_red((3000, 4000)), "JPEG"))[1] == (1200, 1600)


def claiming(width, height):
    """A PNG of few bytes that claims to be very large."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = [b"IHDR" + head, b"IDAT" + zlib.compress(b"\0" * 5000), b"IEND"]
    body = b"".join(
        struct.pack(">I", len(part) - 4) + part + struct.pack(">I", zlib.crc32(part))
        for part in parts
    )
    return b"\x89PNG\r\n\x1a\n" + body


BAD = {
    "a bomb": (claiming(30_000, 30_000), "too many pixels"),
    "a large one": (claiming(9_000, 9_000), "too many pixels"),
    "a lie": (claiming(500, 500), "broken"),
    "cut short": (tagged("JPEG")[:900], "broken"),
    "nothing": (b"", "broken"),
    "words": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a JPEG, PNG or WebP"),
    "a moving one": (saved(half_red().convert("P"), "GIF"), "not a JPEG, PNG or WebP"),
    "a scan": (saved(half_red(), "TIFF"), "not a JPEG, PNG or WebP"),
    "a speck": (saved(half_red((8, 8)), "PNG"), "too small"),
}


@held_for(BAD)
def test_what_cannot_be_shown_is_refused_in_words(name):
    content, words = BAD[name]
    with pytest.raises(InputError, match=words):
        made_small(content)


def placed(folder, **photograph):
    """The plain job in a file of this folder, with one photograph."""
    job = plain(photograph=[{"file": "a.jpg", "alt": "The disc between pad and nose"} | photograph])
    plan.save(job, folder / "job.toml")
    return plan.load(folder / "job.toml")


PLACES = {  # place on the page -> the headings between which the photograph stands
    "opening": ("What is to be made, and why", "The set-up"),
    "set_up": ("The set-up", "Before you start"),
    "steps": ("Steps, in order", "Does it hold?"),
    "story": ("Photographs", "Does it hold?"),
    "end": ("What was checked", "Default values used"),
}


def test_each_photograph_stands_at_its_place(tmp_path):
    (tmp_path / "a.jpg").write_bytes(saved(half_red(), "JPEG"))
    for place, (before, after) in PLACES.items():
        job = placed(tmp_path, place=place)
        parts = contents(plan.assess(job, draws=0))
        told = [each.words if isinstance(each, Heading) else type(each) for each in parts]
        assert told.index(before) < told.index(Photograph) < told.index(after), place
    assert PLACES.keys() == set(PLACES_ON_PAGE)


def test_a_page_holds_the_photograph_and_markdown_has_it_beside_it(tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "a.jpg").write_bytes(tagged("JPEG"))
    job = placed(tmp_path, file="mine/a.jpg", caption="Mind the *edge*.")
    html = write_up.write(job, tmp_path / "out").read_text(encoding="utf-8")
    (image,) = [named for tag, named in Page(html).attributes if tag == "img"]
    assert image["alt"] == "The disc between pad and nose"
    content = base64.b64decode(image["src"].partition("base64,")[2])
    assert content[:2] == b"\xff\xd8" and SECRET not in content
    page = write_up.write(job, tmp_path / "out", "markdown")
    text = page.read_text(encoding="utf-8")
    found = re.search(r"!\[The disc between pad and nose\]\((figures/photograph_1\.jpg)\)", text)
    assert (page.parent / found[1]).read_bytes() == content
    assert "Mind the *edge*." in Page(render(text)).text
    first = [{"file": "mine/a.jpg", "alt": "The disc between", "place": "opening"}]
    assert "The disc between" in write_up.preview(job.changed({"photograph": first})).text()


@held_for(['"><script>alert(1)</script>', "![x](javascript:alert(1))", "</figure><h1>x", "a](b)"])
def test_markup_in_caption_and_alt_text_stays_text(words):
    part = Photograph(b"", (1, 1), "photograph_1", words, words)
    html = Page(html_page.page("Page", [part]))
    assert "script" not in html.tags and html.tags.count("h1") == 1 and words in html.text
    (image,) = [named for tag, named in html.attributes if tag == "img"]
    assert image["alt"] == words
    shown = Page(render(markdown_page.page("Page", [part])))
    assert not {"script", "a"} & set(shown.tags) and shown.tags.count("h1") == 1
    assert words in shown.text


def refused(job):
    with pytest.raises(plan.JobFaults) as refusal:
        photographs_at(job, "story")
    assert "photograph[1].file" in str(refusal.value)
    return str(refusal.value)


def test_files_that_are_missing_strange_or_elsewhere_are_refused_in_words(tmp_path):
    home = tmp_path / "home"
    home.mkdir()
    (tmp_path / "a.jpg").write_bytes(saved(half_red(), "JPEG"))
    assert "was not found" in refused(placed(home))
    (home / "a.jpg").write_bytes(b"no picture")
    assert "broken" in refused(placed(home))
    for elsewhere in ("../a.jpg", str(tmp_path / "a.jpg"), r"C:\a.jpg", r"\\server\a.jpg"):
        assert "not in the job" in refused(placed(home, file=elsewhere))
    (home / "folder.jpg").mkdir()
    assert "ordinary" in refused(placed(home, file="folder.jpg"))
    with (home / "large.jpg").open("wb") as file:
        file.truncate(LARGEST_FILE + 1)
    assert "too large" in refused(placed(home, file="large.jpg"))
    if hasattr(os, "mkfifo"):
        os.mkfifo(home / "pipe.jpg")
        assert "ordinary" in refused(placed(home, file="pipe.jpg"))
        (home / "out.jpg").symlink_to(tmp_path / "a.jpg")
        assert "is outside" in refused(placed(home, file="out.jpg"))
        (home / "ring.jpg").symlink_to(home / "ring.jpg")
        assert "cannot be read" in refused(placed(home, file="ring.jpg"))
    with pytest.raises(plan.JobFaults, match="Save the job first"):
        write_up.write(plain(photograph=[{"file": "a.jpg", "alt": "x"}]), tmp_path)
    for wrong in ({"alt": ""}, {"place": "cellar"}, {"file": "a\tb"}, {"size": 5}):
        with pytest.raises(plan.JobFaults, match=r"photograph\[1\]"):
            placed(tmp_path, **wrong)
