"""A sentence told in inch or metric: every number with its unit, and nothing else."""

import pytest
from pint import UnitRegistry

from tests.house.laws import held_for
from workshop_lib.quantities import InputError, spoken

PINT = UnitRegistry()  # an independent registry of units
SENTENCES = {
    "A 63.5 mm pad, pressed with 800 N.": "A 2.5 in pad, pressed with 180 lbf.",
    "12 to 20 µm": "0.472 to 0.787 thou",
    "40, 0, −28 and 0 µm": "1.57, 0, −1.1 and 0 thou",
    "1600 N and 127.0 mm": "360 lbf and 5 in",
    "at 20 kN/mm, 1.5 N·m and 30 m/min": "at 114000 lbf/in, 13.3 lbf·in and 98.4 ft/min",
    "0.05 mm/rev": "1.97 thou/rev",
    "a lean of 2 µm/mm": "a lean of 2 thou/in",
    "friction 0.3, 60 N": "friction 0.3, 13.5 lbf",
    "−5 mm": "−0.197 in",
}
LEFT = (
    "24 gauge", "F/(μN)", "3 Newfoundlands", "1e3 N", "10^3 N", "r_{2} N", "250 rev/min", "18°",
    "5 in, 3 thou, 40 lbf and 90 psi", "2,5 mm", "page 3/4 mm", "3 mm⁴", "5 N·s", "1/2 N",
)  # fmt: skip


@held_for(SENTENCES)
def test_amounts_are_told_in_inch(sentence):
    assert spoken(sentence, "inch") == SENTENCES[sentence]


@held_for([words for words in LEFT if words != "3 mm⁴"])
def test_what_is_no_metric_amount_stays(words):
    assert spoken(words, "inch") == words


@held_for(["8 mm", "40 µm", "600 N", "2.5 N·m", "0.5 MPa", "30 m/min", "150 N/mm", "700 mm²"])
def test_an_amount_agrees_with_another_registry_of_units(amount):
    number, unit = spoken(amount, "inch").split(" ")
    value, _, word = amount.partition(" ")
    names = {"lbf·in": "lbf*inch", "in": "inch", "lbf/in": "lbf/inch", "in²": "inch**2",
             "thou": "milliinch", "N·m": "N*m", "mm²": "mm**2", "m/min": "m/min"}  # fmt: skip
    given = PINT.Quantity(float(value), names.get(word, word))
    told = PINT.Quantity(float(number), names.get(unit, unit))
    assert told.m_as(given.units) == pytest.approx(given.m, rel=5e-3)  # three figures


def test_until_a_system_is_chosen_a_sentence_stays_and_metric_tells_thou_in_millimetres():
    assert spoken("10 thou and 8 mm") == "10 thou and 8 mm"
    assert (
        spoken("10 thou and 5 lbf in the thread", "metric") == "0.254 mm and 22.2 N in the thread"
    )
    assert spoken(None, "inch") is None


def test_no_system_is_refused():
    with pytest.raises(InputError, match="not a system"):
        spoken("8 mm", "cubits")
