"""The command `mutants`: what it changes, how it picks, and which tests it runs."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.thorough import only_thorough
from tests.mutation import changes, run
from tests.mutation.nearest import defined_in, nearest
from workshop_lib.launcher.environment import ROOT

SOURCE = '''
FEWEST = 3


def lever(force: float, arm: float = 0.5) -> float:
    """Text stays, 1 + 1 too."""
    if force < 0 or not arm:
        raise ValueError("less " + "than nothing")
    return -force * arm
'''


def changed():
    return [ast.unparse(changes.changed(SOURCE, each)) for each in changes.mutants(SOURCE)]


@pytest.mark.parametrize(
    "part",
    [
        "FEWEST = 4",
        "arm: float=0.55",
        "force <= 0 or not arm",
        "force >= 0 or not arm",
        "force < 1 or not arm",
        "force < 0 and (not arm)",
        "if force < 0 or arm:",
        "return -force / arm",
        "return +force * arm",
    ],
)
def test_each_kind_of_change_is_made_once(part):
    assert sum(part in text for text in changed()) == 1


def test_one_mutant_has_one_change_and_words_and_types_are_left_alone():
    plain = ast.unparse(ast.parse(SOURCE)).splitlines()
    assert len(changed()) == 9
    for text in changed():
        differ = [one for one, other in zip(plain, text.splitlines(), strict=True) if one != other]
        assert len(differ) == 1


def test_a_mutant_keeps_its_name_and_its_lot_when_its_module_grows():
    grown = "STEPS = 7\n" + SOURCE
    before = {each.name: changes.drawn("1", each) for each in changes.mutants(SOURCE)}
    after = {each.name: changes.drawn("1", each) for each in changes.mutants(grown)}
    assert len(before) == 9
    assert before.items() <= after.items()


def test_a_seed_picks_the_same_and_more_of_them_include_the_fewer():
    modules = run.numeric()
    few, many = (run.pick(modules, count, "7") for count in (20, 60))
    assert few == run.pick(modules, 20, "7")
    assert set(few) < set(many)
    assert len(many) == 60


@only_thorough
def test_a_test_is_near_to_what_it_takes_through_a_front_door():
    assert defined_in("workshop_lib.friction", "Pad") == "workshop_lib.friction.pad"
    near, rest = nearest(Path("workshop_lib/friction/pad.py"))
    assert near[0] == "workshop_lib/friction/pad.py"
    assert "tests/slip/test_criterion.py" in near
    assert not set(near) & set(rest)
    assert all(path.startswith("tests/friction/") for path in rest)


def test_every_module_that_computes_has_a_test_near_to_it():
    for module in run.numeric():
        near, rest = nearest(module)
        assert len(near) + len(rest) > 1, module


def test_known_equivalents_give_a_reason():
    for key, reason in run.equivalents().items():
        assert key.startswith("workshop_lib/") and " -> " in key
        assert len(reason) > 20


TRIALS = """
import ast, pathlib
from tests.mutation import changes, run, trial
module = pathlib.Path("workshop_lib/friction/limit_shape.py")
trial.warm()
source = run.text(module)
change = next(each for each in changes.mutants(source) if each.was == "larger * smaller")
for tree in (ast.parse(source), changes.changed(source, change)):
    print(trial.trial(["tests/friction/test_elliptic.py"], 60, module, tree).outcome)
"""


@only_thorough
@pytest.mark.skipif(not hasattr(os, "fork"), reason="mutants are tried in forks")
def test_a_trial_notices_a_change_and_leaves_the_file_alone():
    before = run.text(Path("workshop_lib/friction/limit_shape.py"))
    told = subprocess.run(
        [sys.executable, "-c", TRIALS], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["survived", "killed"]
    assert run.text(Path("workshop_lib/friction/limit_shape.py")) == before
