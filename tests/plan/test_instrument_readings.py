"""Notes and a scan in a job: judged with what was measured, and shown with ± and date."""

import pytest

from tests.plan.job_cases import PLAIN
from workshop_lib import overhang, plan
from workshop_lib.plan import sheet_checks
from workshop_lib.quantities import InputError
from workshop_lib.write_up.doing import measured_rows

JOB = PLAIN | {"pad.outer_diameter": "70 mm", "pad.facing_thickness": "3 mm"}
SET_UP = ("100 mm", "70 mm", "1 mm", "aluminium")


def ringing(modulus):
    """The lowest note of the job's squeezed rim on a facing of that modulus, as a job has it."""
    lowest = overhang.soft_frequencies(*SET_UP, modulus, "3 mm", modes=3).min().m_as("Hz")
    note = {"frequency": f"{lowest} Hz", "uncertainty": "2 Hz", "date": "12 May"}
    return {"measured.rim_note": note}


HUNG = {"frequency": "518 Hz", "uncertainty": "1 Hz", "date": "12 May"}
SCAN = {"diameter": "100.03 mm", "uncertainty": "0.05 mm", "roundness": "20 um",
        "roundness_uncertainty": "6 um", "date": "13 May"}  # fmt: skip


def judged(entries):
    return plan.assess(plan.job(JOB | entries), draws=0)


@pytest.mark.parametrize("modulus", [15, 120])
def test_the_facing_that_gives_the_note_is_found_again(modulus):
    found = plan.job(JOB | ringing(f"{modulus} MPa")).heard_facing
    assert found.modulus.m_as("MPa") == pytest.approx(modulus, rel=1e-4)
    assert found.low.m < found.modulus.m < found.high.m


def test_a_stiffer_facing_by_its_note_bends_the_rim_less():
    soft, hard = (plan.job(JOB | ringing(each)) for each in ("15 MPa", "120 MPa"))
    bends = [sheet_checks.bend(job, "5 N").m_as("mm") for job in (soft, hard)]
    assert bends[0] > bends[1]
    # The low end of what was heard counts, and the table's low end where nothing was.
    assert bends[1] == pytest.approx(overhang.soft_rim_deflection(
        "5 N", *SET_UP, hard.heard_facing.low, "3 mm").m_as("mm"))  # fmt: skip


def test_the_ringing_is_judged_with_the_note_that_was_heard():
    """At the last pass the blank is hardly larger than the disc that was tapped."""
    told = judged(ringing("40 MPa"))
    assert any("measured on 12 May" in each and "judged with it" in each for each in told.remarks)
    assert not any("stiffness was measured" in each for each in judged({}).remarks)


def test_another_pad_keeps_the_facing_that_was_heard():
    job = plan.job(JOB | ringing("40 MPa"))
    other = job.changed({"pad.outer_diameter": "80 mm"})
    assert other.heard_facing is job.heard_facing
    anew = job.changed(ringing("120 MPa"))
    assert anew.heard_facing.modulus.m_as("MPa") == pytest.approx(120, rel=1e-4)


@pytest.mark.parametrize(
    ("note", "holds", "told"),
    # 5.253 or so / (2 pi 0.05²) × sqrt(69e9 × 0.001² / (12 × 2700 × 0.89)) is about 517 Hz.
    [
        ("518 Hz", "yes", "agrees with the measured thickness"),
        ("430 Hz", "open", "yours was measured at 1.00 mm"),
    ],
)
def test_the_note_of_the_free_disc_is_held_against_its_sheet(note, holds, told):
    reason = judged({"measured.sheet_note": HUNG | {"frequency": note}}).reason("note")
    assert reason.holds == holds and told in reason.sentence


def test_all_of_it_is_shown_with_its_doubt_and_its_date():
    job = plan.job(JOB | ringing("40 MPa") | {"measured.sheet_note": HUNG, "measured.scan": SCAN})
    rows = {row[0]: row[1:] for row in measured_rows(job)}
    assert "12 May" in rows["Stiffness of the pad facing"][1]
    assert rows["Note of the free disc"][1:] == ("518 Hz ± 1.0 Hz, 12 May", "agrees")
    assert rows["Diameter on the scanner"] == (
        "100.00 mm", "100.03 mm ± 0.050 mm, 13 May", "+0.03 mm")  # fmt: skip
    assert "20.0 µm ± 6.0 µm, 13 May" in rows["Out of round on the scanner"]
    inch = plan.job(JOB | ringing("40 MPa") | {"disc.diameter": "3.937 in"})
    with inch.speaking():
        told = " ".join(str(cell) for row in measured_rows(inch) for cell in row)
    assert "psi" in told and "MPa" not in told


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("rim_note", HUNG | {"frequency": "9 Hz"}, "measured.rim_note.frequency: no "),
        ("rim_note", {"frequency": "9 Hz", "date": "May"}, "rim_note.uncertainty: is missing"),
        ("rim_note", HUNG | {"frequency": "9 mm"}, "is a length, but this needs a frequency"),
        ("rim_note", "600 Hz", "measured.rim_note: "),
        ("sheet_note", HUNG | {"mode": 9}, "sheet_note.mode: "),
        ("sheet_note", HUNG | {"date": ""}, "sheet_note.date: it is empty"),
        ("scan", SCAN | {"diameter": "0 mm"}, "scan.diameter: "),
        ("scan", SCAN | {"lobes": "3"}, "scan.lobes: "),
    ],
)
def test_what_cannot_be_is_refused_at_its_entry(key, value, told):
    with pytest.raises(InputError) as refused:
        judged({f"measured.{key}": value})
    assert told in str(refused.value)


def test_a_note_of_the_rim_needs_the_facings_thickness():
    bare = {key: value for key, value in JOB.items() if key != "pad.facing_thickness"}
    with pytest.raises(InputError, match="pad.facing_thickness: is missing"):
        plan.job(bare | ringing("40 MPa"))
