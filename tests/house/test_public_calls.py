"""Signature, specs and docstring of every public call agree; later modules are found by walking."""

import importlib
import inspect
import pkgutil
import re

import pytest

import workshop_lib
from tests.house.laws import held_for
from workshop_lib import sources
from workshop_lib.quantities import InputError, Quantity
from workshop_lib.quantities.kinds import KINDS
from workshop_lib.quantities.unit_boundary import boundary

APART = ("workshop_lib.__main__", "workshop_lib.launcher", "workshop_lib.classroom")
EARLIER = "workshop_lib.lesson"  # a sentence for copies of an earlier edition, raised on import
SIGNS = {"", "> 0", ">= 0"}


def modules():
    """Import and return every module of the package but the command line's."""
    found = pkgutil.walk_packages(workshop_lib.__path__, "workshop_lib.")
    names = [
        each.name for each in found if not each.name.startswith(APART) and each.name != EARLIER
    ]
    return [importlib.import_module(name) for name in names if not name.startswith(APART)]


def public_calls():
    """Return every public function with a boundary, by its full name."""
    return {
        f"{module.__name__.removeprefix('workshop_lib.')}.{name}": call
        for module in modules()
        for name, call in vars(module).items()
        if hasattr(call, "specs")
        and not name.startswith("_")
        and call.__module__ == module.__name__
    }


CALLS = public_calls()
EACH_CALL = held_for(CALLS.values())


def parameters(call):
    return inspect.signature(call).parameters


def said(call):
    """Return the docstring in one line."""
    return " ".join(call.__doc__.split())


# Lessons, jobs and write-ups of other people rely on these names.
PROMISED = {
    "quantities": "Q_ read show rounded_down times_over",
    "gauges": "thickness identify tables",
    "friction": "Pad torque_capacity side_capacity limit_curve "
    "Screw from_torque torque_for efficiency",
    "torque": "cutting_force cutting_torque spindle_speed",
    "slip": "margin thrust_needed deepest_cut holding",
    "overhang": "rim_deflection natural_frequencies",
    "blank": "Blank passes",
    "bearings": "catalogue equivalent_load rating_life static_safety axial_limit BallBearing",
    "load_path": "designs trace nose_shift",
    "run_out": "fit harmonics separate shift_between true_travel",
    "uncertainty": "propagate chance_of_slip spreads measured",
    "instruments": "read_picture scan_disc scan_blank compare_turned",
    "plan": "load save assess",
    "write_up": "write",
}


@pytest.mark.parametrize("room", PROMISED)
def test_a_room_hands_out_the_names_that_people_rely_on(room):
    door = importlib.import_module(f"workshop_lib.{room}")
    assert set(PROMISED[room].split()) <= set(door.__all__)
    assert all(hasattr(door, name) for name in door.__all__)


def test_the_walk_finds_the_calls_of_every_room_of_physics():
    assert {name.partition(".")[0] for name in CALLS} >= set(PROMISED) - {"plan", "write_up"} - {
        "quantities"
    }


@EACH_CALL
def test_every_argument_has_a_spec_and_every_spec_an_argument(call):
    assert set(call.specs) == set(parameters(call))


@EACH_CALL
def test_specs_name_known_kinds_and_signs(call):
    for spec in call.specs.values():
        if isinstance(spec, str):
            kind, _, sign = spec.partition(" ")
            assert kind in KINDS
            assert sign in SIGNS
        elif isinstance(spec, tuple):
            assert all(isinstance(choice, str) for choice in spec)
        else:
            assert callable(spec)
    assert call.returns is None or call.returns in KINDS


@EACH_CALL
def test_docstring_asks_a_physical_question_first(call):
    first = call.__doc__.strip().splitlines()[0]
    assert re.fullmatch(r"[A-Z].*\?", first), first


@EACH_CALL
def test_docstring_describes_every_argument(call):
    """Each name stands before a colon, alone or with others: `axial Fa, radial Fr: forces.`"""
    plain = re.sub(r" ?\([^()]*\)", "", said(call))
    described = re.findall(r"(?<=[.?;:] )[^.?;:]{1,120}(?=: )", plain)
    for name in parameters(call):
        assert name in re.findall(r"\w+", " ".join(described)), name


@EACH_CALL
def test_docstring_says_what_comes_back_what_is_refused_and_who_says_so(call):
    for word in ("Returns ", "Raises InputError", "Source: "):
        assert word in said(call), word


@EACH_CALL
def test_docstring_carries_an_example_that_runs(call):
    assert ">>> " in call.__doc__


@EACH_CALL
def test_docstring_names_the_unit_that_comes_back(call):
    written = {"N*m": "N·m", "mm**2": "mm²", "kg/m**3": "kg/m³", "dimensionless": "ratio"}
    if call.returns is not None:
        unit = KINDS[call.returns].shown
        told = said(call).split("Returns ")[1]
        assert written.get(unit, unit) in told or call.returns in told


@EACH_CALL
def test_choices_and_defaults_stand_in_the_docstring(call):
    for name, spec in call.specs.items():
        default = parameters(call)[name].default
        if isinstance(spec, tuple):
            for choice in spec:
                assert choice in said(call), f"{name}: {choice}"
            assert default is inspect.Parameter.empty or default in spec


@EACH_CALL
def test_sources_in_the_docstring_are_in_the_table_of_sources(call):
    cited = said(call).rpartition("Source: ")[2].split(">>>")[0]
    for key in re.findall(r"\b[a-z]+(?:-[a-z0-9]+)+\b", re.sub(r"`[^`]*`", "", cited)):
        assert sources.find_source(key).key == key


# Whoever calls without sense gets a sentence

HUGE = 10**5000
NONSENSE = [
    None,
    True,
    "",
    "x" * 10_000,
    "<script>alert(1)</script>",
    "9**9**9",
    "1,5 mm",
    b"1",
    {},
    object(),
    [],
    [[1], [1, 2]],
    [None],
    float("nan"),
    float("-inf"),
    HUGE,
    Quantity(1, "mol"),
]


def alone(argument, spec):
    """Return a function of one argument with this name behind the same boundary."""

    def core(value):
        return value

    one = inspect.Parameter(argument, inspect.Parameter.POSITIONAL_OR_KEYWORD)
    core.__signature__ = inspect.Signature([one])
    return boundary(**{argument: spec})(core)


EACH_ARGUMENT = held_for([(call, name) for call in CALLS.values() for name in call.specs])


@EACH_ARGUMENT
def test_nonsense_for_an_argument_is_refused_by_its_name(call, argument):
    convert = alone(argument, call.specs[argument])
    for number, value in enumerate(NONSENSE):
        if value is None and parameters(call)[argument].default is None:
            continue
        with pytest.raises(InputError) as refusal:
            convert(value)
            raise AssertionError(f"nonsense {number} was taken")
        assert refusal.value.name == argument
        assert str(refusal.value).isprintable()
        assert len(str(refusal.value)) < 400


@EACH_ARGUMENT
def test_defaults_are_taken_by_their_own_spec(call, argument):
    default = parameters(call)[argument].default
    if default not in (inspect.Parameter.empty, None):
        alone(argument, call.specs[argument])(default)


@EACH_ARGUMENT
def test_signs_are_kept(call, argument):
    spec = call.specs[argument]
    if not isinstance(spec, str) or " " not in spec:
        return
    kind, _, sign = spec.partition(" ")
    unit = KINDS[kind].core
    for number, taken in ((-1.0, False), (0.0, sign == ">= 0"), (0.5, True)):
        value = Quantity(number, unit) if kind != "ratio" else number
        if taken:
            assert alone(argument, spec)(value) == number
            continue
        with pytest.raises(InputError, match=argument):
            alone(argument, spec)(value)
