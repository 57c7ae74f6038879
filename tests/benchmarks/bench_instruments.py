"""Does the truth lie inside what a scan states, and how fast is it? From the top folder:

    python -m tests.benchmarks.run_all instruments

Three hundred scenes and three hundred taps made by another path than the library's
(`tests/instruments/scenes.py`, `signals.py`). Of an expanded uncertainty of 95 in 100 at most 5 in
100 may miss; the share that missed is held against that. It takes some minutes. A large scan is
held against Pillow's own reading of the same file; on two quiet cores that is 1.7 s.
"""

import io

import numpy as np
from PIL import Image, ImageDraw

from tests.benchmarks.timing import Result, median_ms
from tests.instruments.trials import judged, judged_quick, scene
from workshop_lib.instruments import read_picture, scan_disc

SCENES = 300


def scans():
    """Return the lines for scenes on imperfect and on true scanners."""
    missed = {"diameters": 0, "out-of-rounds": 0}
    for seed in range(1000, 1000 + SCENES):
        picture, ring, (diameter, zone, _) = scene(seed, (15, 45))
        found = scan_disc(picture, ring, "0.003 mm", celsius=20)
        missed["diameters"] += abs(found.diameter.m_as("mm") - diameter) > found.uncertainty.m_as(
            "mm"
        )
        missed["out-of-rounds"] += abs(
            found.roundness.m_as("mm") - zone
        ) > found.roundness_uncertainty.m_as("mm")
    worst = {"diameter": 0.0, "roundness": 0.0}
    for seed, size in enumerate((50, 50, 75, 75, 100, 100, 150, 200), start=2000):
        picture, ring, (diameter, zone, _) = scene(seed, (size, size + 1), true_scanner=True)
        found = scan_disc(picture, ring, "0.003 mm", celsius=20)
        off = abs(found.diameter.m_as("mm") - diameter), abs(found.roundness.m_as("mm") - zone)
        worst = {key: max(worst[key], each) for key, each in zip(worst, off, strict=True)}
    return [
        *(
            Result(f"{key} of {SCENES} outside the statement, %", 100 * count / SCENES, 5, 1, "")
            for key, count in missed.items()
        ),
        Result("worst diameter of 50 to 200 mm at 600 dpi", worst["diameter"], 0.02, 1, "mm"),
        Result("worst roundness of the same", worst["roundness"], 0.006, 1, "mm"),
    ]


def large():
    """Return the line for a scan of 100 megapixels, from the file to the numbers."""
    image = Image.new("L", (8500, 11_800), 30)
    ImageDraw.Draw(image).ellipse((1000, 2000, 7000, 8000), fill=200)
    rough = np.random.default_rng(0).integers(-3, 4, (11_800, 8500), dtype=np.int16)
    image = Image.fromarray((np.asarray(image) + rough).astype(np.uint8))
    stream = io.BytesIO()
    image.save(stream, "PNG", dpi=(1200, 1200))
    content = stream.getvalue()
    whole, read = median_ms(
        lambda: scan_disc(read_picture(content)),
        lambda: np.asarray(Image.open(io.BytesIO(content))),
        runs=3,
    )
    return [Result("100 megapixels from file to numbers, against Pillow", whole, read, 3)]


def sounds():
    """Return the lines for taps with noise, hum, echoes, clipping and a limiter."""
    every = [judged(seed) for seed in range(1000, 1000 + SCENES)]
    off = np.abs(np.concatenate([each for _, each, _ in every]))
    late = sum(not found for found, _, _ in every)
    strange = sum(each for *_, each in every)
    return [
        Result(f"notes of {len(off)} outside the statement, %", 100 * np.mean(off > 1), 5, 1, ""),
        Result(f"taps of {SCENES} not found within 5 ms, %", 100 * late / SCENES, 5, 1, ""),
        Result(
            "notes that were not there, for each hundred taps", 100 * strange / SCENES, 5, 1, ""
        ),
    ]


def quick_sounds():
    """Return the lines for rims on leather, which fall silent at once, and for knocks."""
    every = [judged_quick(seed) for seed in range(1000, 1000 + SCENES)]
    heard = [inside for found, inside, *_ in every if found]
    asked = [found for found, *_, slow_enough in every if slow_enough]
    strange = sum(each[2] for each in every)
    knocks = sum(judged_quick(seed, knock=True)[2] > 0 for seed in range(1000, 1000 + SCENES))
    told = f"quick notes of {len(heard)} outside the statement, %"
    return [
        Result(told, 100 - 100 * np.mean(heard), 5, 1, ""),
        Result(
            f"of {len(asked)} up to 500 1/s not heard, %", 100 - 100 * np.mean(asked), 20, 1, ""
        ),
        Result("notes that were not there, for each hundred", 100 * strange / SCENES, 5, 1, ""),
        Result(f"knocks of {SCENES} given a note, %", 100 * knocks / SCENES, 5, 1, ""),
    ]


def results():
    """Return the lines of the table."""
    return [*scans(), *large(), *sounds(), *quick_sounds()]
