"""A scan's rim and a tap's sound in a job: the line that a panel gives is read back and drawn."""

import re

import numpy as np
import pytest

from tests.plan.job_cases import COVER, PLAIN
from workshop_lib import instruments, plan
from workshop_lib.quantities import InputError, speaking
from workshop_lib.write_up.doing import measured_rows
from workshop_lib.write_up.page_parts import Picture
from workshop_lib.write_up.sections import instrument_parts

RATE = 44_100
POINTS = 90


def lobed(lobes, height):
    """Heights of a rim with lobes, µm from the mean circle to the crest, as a job has them."""
    turn = 2 * np.pi * np.arange(POINTS) / POINTS
    heights = [f"{each:.4f} um" for each in height * np.cos(lobes * turn)]
    return {"diameter": "100 mm", "uncertainty": "0.05 mm", "date": "May", "heights": heights}


def pictures(job):
    with job.speaking():
        return {each.name: each for each in instrument_parts(job) if isinstance(each, Picture)}


@pytest.mark.parametrize(("lobes", "across"), [(2, "100 mm"), (3, "100 mm"), (5, "3.937 in")])
def test_the_ring_that_holds_a_lobed_rim_is_as_wide_as_its_lobes_are_high(lobes, across):
    # A wave of one number of lobes touches both circles that often: from hollow to crest, 2 × 20 µm
    entries = {"measured.scan": lobed(lobes, 20.0), "disc.diameter": across}
    shown = pictures(plan.job(PLAIN | entries))["roundness"].figure
    wide = "1.6 thou" if across.endswith("in") else "40 µm"  # 0.040 mm / 25.4 µm = 1.575
    assert f"in a ring {wide} wide" in shown.text()
    assert f"narrowest ring: {wide} wide" in shown.svg


def test_a_rim_off_its_centre_is_none_the_less_round():
    # An eccentricity of 30 µm, one lobe, is no shape: only 30² / 2R is left, a hundredth of a µm
    job = plan.job(PLAIN | {"measured.scan": lobed(1, 30.0)})
    assert instruments.minimum_zone(plan.rim_seen(job)).zone < 2e-8


def test_what_a_panel_gives_for_a_job_draws_the_tap_that_was_heard():
    time = np.arange(2 * RATE) / RATE
    sound = 0.0005 * np.random.default_rng(1).normal(size=len(time))
    for pitch, loud in ((510, 1.0), (878, 0.1)):  # the second 20 dB below the first
        after = (time - 0.5).clip(0)
        sound += np.where(time > 0.5, loud * np.exp(-9 * after), 0) * np.sin(
            2 * np.pi * pitch * after
        )
    recording = instruments.Recording(sound, RATE)
    heard = instruments.hear_taps(recording)
    line = plan.note_line("sheet_note", recording, heard, heard.modes[0], "100 mm")
    text = COVER.read_text(encoding="utf-8").split("\n[measured]")[0]
    job = plan.parse(f"{text}\n[measured]\n{line}")
    note = job["measured.sheet_note"]
    assert note["frequency"].m_as("Hz") == pytest.approx(510, abs=0.2)
    pitch, level = plan.sound_heard(note)
    width = pitch[1] - pitch[0]
    assert level.max() == 0 and abs(pitch[level.argmax()] - 510) <= width
    near = level[np.abs(pitch - 878) <= width]
    assert near.max() == pytest.approx(-20, abs=2)  # as loud as summed, to the stretch's own dB
    assert level[np.abs(pitch - 700) <= width].max() < -40
    shown = pictures(job)["sheet_note"]
    assert "a note of 510 Hz" in shown.figure.text() and "computed" in shown.figure.text()


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_what_a_panel_gives_for_a_scan_draws_the_rim_that_was_scanned(units):
    scan = instruments.read_picture(instruments.made("cover.jpg"))
    found = instruments.scan_disc(scan, "62 mm", "0.005 mm", "stainless_steel", celsius=20)
    text = COVER.read_text(encoding="utf-8").split("\n[measured]")[0]
    with speaking(units):
        line = plan.scan_line(found)
    assert (" mm" in line, " in" in line) == (units == "metric", units == "inch")
    job = plan.parse(f"{text}\n[measured]\n{line}")
    scan = job["measured.scan"]
    assert scan["diameter"].m_as("mm") == pytest.approx(found.diameter.m_as("mm"), abs=6e-4)
    rim = plan.rim_seen(job)
    # drawn with an oval of 20 µm and three lobes of 12 µm, their crests 0.6 and 1.9 rad from the
    # mark, see make_demonstrations
    waves = np.fft.fft(np.abs(rim) - np.abs(rim).mean()) / len(rim)
    for lobes, height, at in ((2, 20, 0.6), (3, 12, 1.9)):
        assert 2e6 * abs(waves[lobes]) == pytest.approx(height, abs=1.5)
        assert abs(np.angle(waves[lobes] * np.exp(1j * lobes * at))) < 0.1 * lobes


def test_what_was_measured_speaks_inch_with_its_doubt():
    """1034 N ± 9 N of the scale are 232.4 lbf ± 2.0 lbf, by 4.4482 N to the pound-force."""
    text = COVER.read_text(encoding="utf-8").replace('diameter = "78 mm"', 'diameter = "3.071 in"')
    job = plan.parse(text)
    with job.speaking():
        rows = {row[0]: row[1:] for row in measured_rows(job)}
    assert rows["Thrust"][1].startswith("232 lbf ± ")
    assert not [cell for row in rows.values() for cell in row if re.search(r"\d (N|mm|µm)\b", cell)]


def test_no_picture_without_a_curve():
    bare = {key: each for key, each in lobed(2, 20.0).items() if key != "heights"}
    note = {"frequency": "520 Hz", "uncertainty": "1 Hz", "date": "May"}
    entries = {"measured.scan": bare, "measured.sheet_note": note}
    assert pictures(plan.job(PLAIN | entries)) == {} == pictures(plan.job(PLAIN))


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"low": "40 Hz", "high": "40 Hz", "below": [0] * 30}, "spectrum.high: must be higher"),
        ({"low": "40 Hz", "high": "900 Hz", "below": [-1] * 30}, "spectrum.below"),
        ({"low": "40 Hz", "high": "900 Hz", "below": [0] * 3}, "spectrum.below: it has 3 items"),
        ({"low": "40 Hz", "below": [0] * 30}, "spectrum.high: is missing"),
    ],
)
def test_a_spectrum_that_cannot_be_is_refused_at_its_entry(given, told):
    note = {"frequency": "520 Hz", "uncertainty": "1 Hz", "date": "May", "spectrum": given}
    with pytest.raises(InputError) as refused:
        plan.job(PLAIN | {"measured.sheet_note": note})
    assert told in str(refused.value)
