"""Does a job's rim ring, at any pass and on any facing of its kind?"""

import numpy as np
import pytest

from tests.plan.job_cases import PLAIN, plain
from workshop_lib import overhang, plan, shop
from workshop_lib.quantities import Q_


def test_corners_that_strike_at_a_frequency_of_the_rim_are_looked_at_again():
    # A speed at which the six strikes of a turn, and at another their sixth multiple, come on the
    # note of the rim without nodal diameters: leather of 20 MPa at the least, 1 mm thick.
    sizes = Q_(104 / np.cos(np.pi / 6), "mm"), "30 mm", "0.3 mm", "aluminium"
    note = overhang.soft_frequencies(*sizes, "20 MPa", "1 mm", modes=1)[0].m_as("Hz")
    job = plain(sheet__thickness="0.3 mm", pad__outer_diameter="30 mm", cut__tool="carbide")
    job = job.changed({"rim.bend_allowed": None, "rim.axial_share": 0.0})
    for multiple in (1, 6):
        at = job.changed({"cut.speed": Q_(60 * note / 6 / multiple, "rpm")})
        found = plan.assess(at, draws=0).reason("ringing")
        assert found.holds == "open"
        assert found.value.m == pytest.approx(note, rel=0.05)
        assert "within 1 %" in found.sentence or "pass 1" in found.sentence
        assert "measured.rim_note" in found.changes[-1].sentence
    stiff = plan.assess(plain(), draws=0).reason("ringing")
    assert stiff.holds == "yes" and "far from" in stiff.sentence


def test_a_later_pass_and_a_stiffer_facing_ring_too():
    # At 1400 rev/min no multiple comes within a tenth of a note of the first pass on the softest
    # leather, 20 MPa. By hand at the second: the six strikes less one turn are 5 × 23.33 Hz, which
    # lies between the notes of one nodal diameter on leather of 20 and of 200 MPa.
    job = plain(sheet__thickness="0.3 mm", pad__outer_diameter="30 mm", cut__depth="2 mm",
                cut__speed="1400 rev/min")  # fmt: skip
    first, second = job.passes[0], job.passes[1]
    found = plan.assess(job, draws=0).reason("ringing")

    def notes(one, modulus):
        sheet = 2 * one.from_radius, "30 mm", "0.3 mm", "aluminium"
        return overhang.soft_frequencies(*sheet, modulus, "1 mm")

    many = overhang.multiples_that_ring(first.engaged_share)
    before = overhang.nearest_resonance(6, "1400 rev/min", notes(first, "20 MPa"), many)
    assert abs(before.apart) > 0.1
    assert notes(second, "20 MPa")[1].m < 5 * 1400 / 60 < notes(second, "200 MPa")[1].m
    assert found.holds == "open" and found.sentence.endswith("117 Hz, lies there at pass 2.")


def test_a_speed_that_keeps_clear_of_ringing_is_one_of_the_lathes():
    sizes = Q_(104 / np.cos(np.pi / 6), "mm"), "30 mm", "0.3 mm", "aluminium"
    note = overhang.soft_frequencies(*sizes, "20 MPa", "1 mm", modes=1)[0].m_as("Hz")
    bad = round(60 * note / 6, 3)
    thin = {"sheet.thickness": "0.3 mm", "pad.outer_diameter": "30 mm", "cut.tool": "carbide"}
    entries = {k: v for k, v in PLAIN.items() if k != "rim.bend_allowed"} | thin
    entries |= {"rim.axial_share": 0.0, "cut.speed": f"{bad} rev/min"}
    lathe = '[lathe]\nspeeds = ["{} rev/min", "{} rev/min"]\n'
    clear, near = (
        plan.assess(plan.job(entries, shop.parse(lathe.format(bad, each))), 0).reason("ringing")
        for each in (30, round(0.8 * bad, 3))  # thirty times the strikes of 30 rev/min are 90 Hz
    )
    assert clear.holds == near.holds == "open"
    assert [each.entries for each in clear.changes] == [{"cut.speed": "30 rev/min"}]
    assert not near.changes[0].entries and "None of your lathe" in near.changes[0].sentence
