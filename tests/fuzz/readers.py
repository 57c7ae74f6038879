"""Every reader of typed, pasted or filed text as a target of the fuzz.

To add one: a function in `READERS` of a random source that returns (what to do, what was given).
What it does must answer sensibly, refuse with an InputError, or raise `Wrong` for a wrong reading.
"""

import functools
import importlib
import io
import json
import struct
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

from tests.fuzz import grammar, tables
from tests.fuzz.law import Wrong
from tests.fuzz.misread import same_size, should_be_taken
from tests.run_out.run_out_cases import TESTS
from tests.shop.shop_cases import FULL
from workshop_lib.blank import Blank
from workshop_lib.instruments import read_picture, read_recording
from workshop_lib.quantities import InputError, read
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.run_out.reading_text import from_csv, from_text
from workshop_lib.teaching import answer_file, class_answers, overview
from workshop_lib.write_up.photographs import LONGEST_SIDE, made_small

FOLDER = tempfile.TemporaryDirectory(prefix="workshop-fuzz-")


def typed(rng):
    """A typed quantity: read as an exact second reader reads it, or refused where that refuses."""
    kind = rng.choice(list(KINDS))
    text = grammar.typed(rng, kind)

    def act():
        try:
            found = read(text, kind)
        except InputError:
            if should_be_taken(text, kind):
                raise Wrong(f"{text!r} should be read as {kind}") from None
            raise
        if not same_size(text, found, kind):
            raise Wrong(f"{text!r} was read as {found}")

    return act, {"text": text, "kind": kind}


def table_text(rng, titles, kinds):
    """Rows under titles, with separators, quotes, gaps and slips as people paste them."""
    separator = rng.choice([",", ",", ";", "\t", " "])
    lines = [separator.join(titles)] if rng.random() < 0.9 else []
    for _ in range(rng.choice([0, 1, 3, 5, 12])):
        cells = [
            grammar.typed(rng, kind) if rng.random() < 0.4 else grammar.number(rng)
            for kind in kinds
        ]
        if rng.random() < 0.1:
            cells = cells[: rng.randrange(len(cells) + 1)] + rng.choice([[], ["x"], ["", ""]])
        if rng.random() < 0.05:
            cells[-1:] = [str(rng.choice(grammar.NONSENSE[:20]))[:200]]
        lines.append(separator.join(cells))
    return rng.choice(["\n", "\n", "\r\n", "\r"]).join(lines) + rng.choice(
        ["", "\n", "\n\n", "\0", "\ufeff"]
    )


def _finite(found):
    for each in [found] if not isinstance(found, dict) else found.values():
        for numbers in (each.core.angles, each.core.readings) if hasattr(each, "core") else ():
            if not np.isfinite(numbers).all():
                raise Wrong("a reading that is no number")


def pasted(rng):
    """Pasted readings."""
    titles = rng.choice([["angle", "reading"], ["angle (deg)", "reading (um)"], ["a", "b"]])
    text = table_text(rng, titles, ["angle", "length"])
    settings = {
        "unit": rng.choice([None, "um", "thou", "N"]),
        "angle_unit": rng.choice(["deg", "turn"]),
    }
    return lambda: _finite(from_text(text, **settings).kept), {
        "text": text,
        **settings,
    }


def _file(text, name):
    path = Path(FOLDER.name, name)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    return path


OUTLINES = (
    "x (mm),y (mm)\n0,0\n80,0\n80,75\n10,82\n",
    "x_in,y_in\n0,0\n3.2,0\n3 1/4,3\n-0.1,2.9\n",
    "x,y,unit\n0,0,mm\n80,0,mm\n40,60,mm\n",
)


def near_table(rng, text):
    """A good table with up to three of its cells changed, a line lost or one said twice."""
    rows = [line.split(",") for line in text.splitlines()]
    for _ in range(rng.randrange(4)):
        row = rng.choice(rows[1:] if rng.random() < 0.9 else rows)
        at = rng.randrange(len(row))
        kinds = [grammar.typed(rng, "length"), grammar.number(rng), row[at][:-1], f"-{row[at]}"]
        row[at] = rng.choice([*kinds, "", str(rng.choice(grammar.NONSENSE[:12]))])
    if rng.random() < 0.2:
        rows.insert(rng.randrange(len(rows)), rng.choice(rows))
    if rng.random() < 0.2:
        rows.pop(rng.randrange(len(rows)))
    return "\n".join(map(rng.choice(",,,,,,,,,,;").join, rows)) + "\n"


def readings_file(rng):
    """A CSV file of tests."""
    if rng.random() < 0.6:
        text = near_table(rng, TESTS)
        return lambda: from_csv(_file(text, "readings.csv")), {"text": text}
    titles = ["test", "angle", "reading (um)", "where", "what", "index", "state"]
    text = table_text(rng, rng.sample(titles, rng.randrange(2, 8)), ["angle"] * 3)
    return lambda: from_csv(_file(text, "readings.csv")), {"text": text}


def outline_file(rng):
    """A CSV file of an outline's points."""
    if rng.random() < 0.6:
        text = near_table(rng, rng.choice(OUTLINES))
        return lambda: Blank.from_csv(_file(text, "outline.csv")), {"text": text}
    titles = rng.choice([["x (mm)", "y (mm)"], ["x_in", "y_in"], ["x", "y", "unit"], ["x", "y"]])
    text = table_text(rng, titles, ["ratio", "ratio", "length"][: len(titles)])
    return lambda: Blank.from_csv(_file(text, "outline.csv")), {"text": text}


def job_file(rng):
    """A job file, as it was saved, with lines changed at random."""
    plan = importlib.import_module("workshop_lib.plan")
    text = _with_changed_lines(rng, _job_text())
    return lambda: plan.load(_file(text, "job.toml")), {"text": text}


def shop_file(rng):
    """A shop file with lines changed at random: a shop, or a refusal in words."""
    shop = importlib.import_module("workshop_lib.shop")
    text = _with_changed_lines(rng, FULL)
    return lambda: shop.parse(text), {"text": text}


def _with_changed_lines(rng, text):
    lines = text.splitlines()
    for _ in range(rng.randrange(4)):
        at, kind = rng.randrange(len(lines)), rng.choice(list(KINDS))
        key = lines[at].partition("=")[0]
        typed_value = grammar.typed(rng, kind).replace("\\", "").replace('"', "'")
        junk = rng.choice(["[[", "nan", "true", "''", "1e400", "[1, 2]", "{a = 1}", '"<script>"'])
        lines[at] = rng.choice(
            [f'{key}= "{typed_value}"', f"{key}= {junk}", "", lines[at][:-1], junk]
        )
    return "\n".join(lines)


@functools.cache
def _job_text():
    jobs = sorted(Path(__file__).parents[2].glob("notebooks/jobs/*.toml"))
    return jobs[0].read_text(encoding="utf-8") if jobs else ""


@functools.cache
def _good_files():
    """A small scan and a short recording, as files' content."""
    stream = io.BytesIO()
    Image.fromarray(np.eye(80, dtype=np.uint8) * 200).save(stream, "PNG", dpi=(300, 300))
    sound = np.zeros(4000, "<i2").tobytes()
    head = struct.pack("<4sIHHIIHH", b"fmt ", 16, 1, 1, 8000, 16_000, 2, 16)
    body = b"WAVE" + head + struct.pack("<4sI", b"data", len(sound)) + sound
    return stream.getvalue(), b"RIFF" + struct.pack("<I", len(body)) + body


def _spoilt(rng, content):
    """A file with some of its bytes changed, cut off or doubled."""
    content = bytearray(content)
    for _ in range(rng.randrange(4)):
        content[rng.randrange(len(content))] = rng.randrange(256)
    start, stop = sorted(rng.randrange(len(content) + 1) for _ in range(2))
    return bytes(rng.choice([content, content[:stop], content[start:], content * 2]))


def scan_file(rng):
    """A scan's file, spoilt: a picture or a refusal."""
    content = _spoilt(rng, _good_files()[0])
    return lambda: read_picture(content).white, {"content": content}


def photograph(rng):
    """A photograph's file, spoilt: a small JPEG with nothing but its picture, or a refusal."""
    content = _spoilt(rng, _photographs()[rng.randrange(3)])

    def act():
        made, size = made_small(content)
        if max(size) > LONGEST_SIDE or b"Exif" in made:
            raise Wrong(f"a photograph of {size} points, or with more than its picture")

    return act, {"content": content}


@functools.cache
def _photographs():
    image = Image.fromarray(np.arange(3 * 64 * 48, dtype=np.uint8).reshape(48, 64, 3))
    exif = Image.Exif()
    exif[0x0112] = 6
    found = []
    for kind in ("JPEG", "PNG", "WEBP"):
        stream = io.BytesIO()
        image.save(stream, kind, exif=exif)
        found.append(stream.getvalue())
    return found


def sound_file(rng):
    """A recording's file, spoilt: samples or a refusal."""
    content = _spoilt(rng, _good_files()[1])
    return lambda: _finite(read_recording(content).length), {"content": content}


def answer_files(rng):
    """A class's answer files, with odd values and torn lines: a page without a tag of theirs."""
    keys = ["who", "l02-both", "l02-creep", "l02-task-torque", "l02-task-low", "l99-none", 7]
    names = ["given", "raw", "right", "within", "state", "mistake", "helped", "numbers", "when"]

    def value():
        typed = rng.choice(["slips", "right", "known", grammar.typed(rng, "force"), "<b id=x>"])
        odd = [
            str(rng.choice(grammar.NONSENSE[:20]))[:200],
            None,
            [],
            {"a": typed},
            1e999,
            10**400,
            True,
        ]
        return typed if rng.random() < 0.7 else rng.choice(odd)

    def line():
        entry = {name: value() for name in rng.sample(names, rng.randrange(len(names)))}
        text = json.dumps({"key": rng.choice(keys), **entry}, default=str)
        return text if rng.random() < 0.95 else text[: rng.randrange(len(text))]

    heads = [answer_file.HEAD.strip()] * 5 + ["", "{}"]
    texts = ["\n".join([rng.choice(heads), *(line() for _ in range(20))]) for _ in range(3)]

    def act():
        folder = Path(FOLDER.name, "answers")
        folder.mkdir(exist_ok=True)
        for number, text in enumerate(texts):
            (folder / f"{number}.jsonl").write_bytes(text.encode("utf-8", "surrogatepass"))
        found = overview.document(class_answers.read_folder(folder), ["02"], "names")
        if "<b id=x>" in found:
            raise Wrong("a tag of a learner's is in the page")

    return act, {"texts": texts}


READERS = {
    "answer_files": answer_files,
    "scan_file": scan_file,
    "photograph": photograph,
    "sound_file": sound_file,
    "typed": typed,
    "pasted": pasted,
    "readings_file": readings_file,
    "outline_file": outline_file,
    "data_table": tables.data_table,
    "job_file": job_file,
    "shop_file": shop_file,
}


def targets():
    """Yield (name, function of a random source) for every reader."""
    for name, prepare in READERS.items():
        if name != "job_file" or _job_text():
            yield f"reader {name}", prepare
