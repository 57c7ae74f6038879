"""How the library says no: the error, and how what was handed in is quoted."""

import copy
import pickle
import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output
from traitlets.config import Config

from workshop_lib.quantities import LONGEST_TEXT, InputError, quote


def test_the_wording_of_an_input_error_is_the_same_wherever_it_is_sent():
    refusal = InputError("thrust", "‘-1 N’ must not be negative", "Write 1 N")
    assert isinstance(refusal, ValueError)
    for twin in (pickle.loads(pickle.dumps(refusal)), copy.copy(refusal)):
        assert str(twin) == str(refusal) == "thrust: ‘-1 N’ must not be negative. Write 1 N."
        assert (twin.name, twin.problem, twin.mend) == ("thrust", refusal.problem, "Write 1 N")


@given(
    st.one_of(st.text(), st.binary(), st.integers(), st.floats(), st.lists(st.text()), st.none())
)
def test_whatever_is_quoted_is_short_and_printable(thing):
    quoted = quote(thing)
    assert quoted.isprintable()
    assert len(quoted) <= LONGEST_TEXT + 2


class Hostile:
    def __repr__(self):
        raise RuntimeError("no")

    __str__ = __repr__


@pytest.mark.parametrize(
    "thing", [Hostile(), [Hostile()], np.arange(10**6), [0] * 10**6, {0: 1}, object()]
)
def test_what_cannot_be_quoted_is_named_by_its_type(thing):
    started = time.process_time()
    assert type(thing).__name__ in quote(thing)
    assert "0x" not in quote(thing)
    assert time.process_time() - started < 0.05


def test_a_notebook_shows_the_sentence_and_no_lines_of_the_library(monkeypatch, tmp_path):
    monkeypatch.setenv("IPYTHONDIR", str(tmp_path))
    shell = InteractiveShell(config=Config(HistoryManager={"enabled": False}))
    source = "from workshop_lib.quantities import read\nread('600 kg', 'force')"
    with capture_output() as shown:
        result = shell.run_cell(source)
    assert isinstance(result.error_in_exec, InputError)  # for a check it stays an error
    assert str(result.error_in_exec) in shown.stdout + shown.stderr
    assert "Traceback" not in shown.stdout + shown.stderr and ".py" not in shown.stdout
