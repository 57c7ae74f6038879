"""Which side to tap and by how much: half the total, at the high spot, and in whole sentences."""

import re

import numpy as np
import pytest

from tests.run_out.run_out_cases import TURN, wave
from workshop_lib.quantities import Q_, InputError
from workshop_lib.run_out import causes
from workshop_lib.run_out.corrections import correction
from workshop_lib.run_out.readings import Readings
from workshop_lib.run_out.vectors import Vector


def test_half_the_total_and_not_the_total():
    # round-eccentricity: the eccentricity is half the total. 0.08 mm of total: tap by 0.04 mm.
    test = Readings(Q_(TURN, "deg"), Q_(wave(0.04, 300), "mm"), "disc")
    mend = correction("displaced_disc", test)
    assert test.total.m_as("mm") == pytest.approx(0.08)
    assert mend.tap_by.m_as("mm") == pytest.approx(0.04)
    assert mend.tap_at.m_as("deg") == pytest.approx(300)


def test_tapped_so_it_runs_true():
    before = Vector(np.asarray(40e-6 * np.exp(1j * np.radians(300))), np.zeros((2, 2)))
    mend = correction("eccentric_seat", before, "pad")
    tapped = -mend.tap_by.m_as("m") * np.exp(1j * mend.tap_at.m_as("rad"))
    assert abs(before.core + tapped) < 1e-15


@pytest.mark.parametrize(
    ("size", "unit", "said"),
    [
        ("0.0688 mm", "mm", "about 0.07 mm"),
        ("0.1234 mm", "mm", "about 0.12 mm"),
        ("2.7 thou", "thou", "about 2.5 thou"),
        ("68.8 um", "um", "about 70 µm"),
        ("6.3 um", "um", "about 6 µm"),
    ],
)
def test_a_tap_is_told_no_more_finely_than_a_hammer_goes(size, unit, said):
    assert f" {said}," in correction("displaced_disc", size, unit=unit).sentence


def test_a_bare_eccentricity_leaves_the_mark_open():
    mend = correction("displaced_disc", "2 thou", unit="thou")
    assert re.search("high spot .*about 2 thou", mend.sentence)
    assert np.isnan(mend.tap_at.m)
    assert mend.tap_by.m_as("thou") == pytest.approx(2)


def test_fits_are_taken_and_untold_marks_are_not_named():
    lost = Readings(Q_(TURN, "deg"), Q_(wave(1, 0), "um"), graduation="10 um")
    assert "its high spot" in correction("displaced_disc", lost.fit()).sentence


def test_what_is_skimmed_or_remade_is_not_tapped():
    test = Readings(Q_(TURN, "deg"), Q_(wave(40, 300), "um"), "nose")
    for cause in ("oval", "eccentric_seat"):
        mend = correction(cause, test, "nose")
        assert np.isnan(mend.tap_at.m)
        assert np.isnan(mend.tap_by.m)


def test_359_and_a_half_degrees_is_mark_nought():
    vector = Vector(np.asarray(1e-5 * np.exp(1j * np.radians(359.6))), np.zeros((2, 2)))
    assert "at 0° towards" in correction("displaced_disc", vector).sentence


@pytest.mark.parametrize(
    "cause", causes.candidates(), ids=lambda cause: f"{cause.key}-{cause.part}"
)
def test_every_correction_is_a_whole_sentence(cause):
    said = correction(cause.key, "0.05 mm", cause.part).sentence
    assert "{" not in said
    assert said.endswith(".")
    assert (
        ("tap" in said.lower()) == (cause.action == "tap")
        or "nothing to tap" in said
        or "before you tap" in said
    )


@pytest.mark.parametrize(
    ("name", "settings"),
    [
        ("cause", {"cause": "gremlins"}),
        ("cause", {"cause": None}),
        ("part", {"part": "spindle"}),
        ("found", {"found": "2"}),
        ("found", {"found": "-2 um"}),
        ("found", {"found": "2 N"}),
        ("found", {"found": Vector(np.zeros(2) + 0j, np.zeros((2, 2)))}),
        ("unit", {"unit": "deg"}),
    ],
)
def test_bad_corrections_are_refused_by_name(name, settings):
    with pytest.raises(InputError, match=f"^{name}: "):
        correction(**{"cause": "displaced_disc", "found": "2 um", **settings})
