"""How one entry is read: what is taken, what is refused, and under which key."""

import pytest

from workshop_lib.own_files import fault_list, readers
from workshop_lib.own_files.readers import Faults, faults_of
from workshop_lib.quantities import Q_, InputError


def refusal(reader, value, key="a.b"):
    with pytest.raises(InputError) as caught:
        reader(value, key)
    return caught.value


def test_a_quantity_keeps_the_unit_that_it_was_typed_in():
    read = readers.quantity("length > 0")
    assert str(read("4 thou", "a.b").units) == "th" and read("4 thou", "a.b").m == 4
    assert read(Q_(3, "mm"), "a.b").m == 3


@pytest.mark.parametrize("value", ["0 mm", "-1 mm", "1 N", "1", 1, True, None, [], Q_([1], "mm")])
def test_what_is_no_such_quantity_is_refused_by_its_key(value):
    assert refusal(readers.quantity("length > 0"), value).name == "a.b"


def test_zero_is_taken_where_it_may_be():
    assert readers.quantity("length >= 0")("0 mm", "a.b").m == 0


def test_a_plain_number_has_its_limits():
    read = readers.plain(">= 0", 10.0)
    assert read(0, "a.b") == 0 and read(10, "a.b") == 10
    for value in (-1, 10.1, 10**400, -(10**400), float("nan"), float("inf"), True, "1", None):
        assert refusal(read, value).name == "a.b"


def test_a_whole_number_has_its_limits():
    read = readers.whole(3, 60)
    assert [read(n, "a.b") for n in (3, 60)] == [3, 60]
    for value in (2, 61, 3.0, True, "3", 10**400):
        assert refusal(read, value).name == "a.b"


def test_words_of_other_hands_are_taken_and_hidden_marks_are_not():
    assert readers.words(" Größe: 24\u00a0mm \u2009🔩 <b> ", "a.b") == "Größe: 24 mm  🔩 <b>"
    assert readers.words("one\r\ntwo\tthree", "a.b") == "one\ntwo\tthree"
    for hidden in ("\x00", "\x1b", "\u202e", "\u200b", "\ufeff", "\u2028", "\ue000"):
        assert f"U+{ord(hidden):04X}" in refusal(readers.words, f"a{hidden}b").problem
    assert refusal(readers.words, "x" * 4001).name == "a.b"
    assert len(readers.words("x" * 4000, "a.b")) == 4000


def test_a_title_says_something_in_one_line():
    assert readers.title(" A lid ", "a.b") == "A lid"
    for value in ("", "  ", "two\nlines", "a\ttab", "x" * 201, 5):
        assert refusal(readers.title, value).name == "a.b"


def test_every_item_of_a_list_that_is_at_fault_is_named():
    read = readers.several(readers.quantity("force > 0"), 1, 5)
    assert [each.m for each in read(["1 N", "2 N"], "a.b")] == [1, 2]
    found = faults_of(refusal(read, ["1 N", 2, "3 mm", "4 N"]))
    assert [each.name for each in found] == ["a.b[2]", "a.b[3]"]
    for value in ([], ["1 N"] * 6, "1 N", {"a": 1}, None):
        assert refusal(read, value).name == "a.b"


def test_every_key_of_a_group_that_is_at_fault_is_named():
    read = readers.group({"what": readers.words, "size": readers.whole(1, 9)}, ("what", "size"))
    assert read({"size": 3, "what": "x"}, "a.b") == {"size": 3, "what": "x"}
    found = faults_of(refusal(read, {"what": 1, "sise": 2}))
    assert [each.name for each in found] == ["a.b.what", "a.b.sise", "a.b.size"]
    assert "Did you mean size?" in str(found[1])
    assert refusal(read, [1]).name == "a.b"


def test_low_typical_and_high_rise():
    read = readers.rising(readers.plain(">= 0", 10.0))
    for kept in ((0.1, 0.1, 0.2), (0.1, 0.2, 0.2), (0.3, 0.3, 0.3)):
        assert read(list(kept), "a.b") == kept
    for value in ([0.3, 0.2, 0.4], [0.1, 0.3, 0.2], [0.1, 0.2], 0.1):
        assert refusal(read, value).name == "a.b"


def test_a_switch_is_true_or_false():
    assert readers.switch(True, "a.b") is True
    for value in (1, 0, "true", None):
        assert refusal(readers.switch, value).name == "a.b"


@pytest.mark.parametrize("more", [0, 1, 5])
def test_a_message_names_forty_faults_and_counts_the_others(more):
    found = fault_list.FaultList([InputError(f"a{n}", "is wrong") for n in range(40 + more)], "x")
    said = str(found)
    assert said.count("is wrong") == 40 and f"{40 + more} things" in said
    assert (f"and {more} more" in said) == bool(more)
    assert len(found.faults) == 40 + more


def test_faults_of_one_are_that_one():
    fault = InputError("a.b", "is missing")
    assert faults_of(fault) == (fault,)
    assert str(Faults([fault, fault])) == str(fault)
