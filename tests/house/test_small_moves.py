"""Nothing that is said hangs on rounding: inputs moved in the twelfth figure change no word.

Every panel, every job file, every public call and every call on readings is asked once as it is,
and again with each number that goes in moved by up to 1e-12 of itself, up or down by luck. Every
sentence, boolean and verdict must come out the same to the letter, and every number that was known
must stay so. Inputs are round numbers, as people type them: just where limits lie. What lies within
1e-10 of a limit counts as having met it, see `resolution`; so a move can only tell where an input
is nearer than 1e-12 to the end of *that*, which no round number is.

One setting of each is tried, many by `check --thorough`.
"""

import dataclasses
import random
import re
import warnings

import numpy as np
import pytest

from tests.fuzz import calls
from tests.fuzz.scenes import scenes
from tests.house.thorough import among, some
from tests.plan.job_cases import FILES, MORE, OTHER_WAYS, PLAIN, without_none
from workshop_lib import plan, run_out
from workshop_lib.quantities import Q_, InputError, Quantity, units
from workshop_lib.run_out import Readings
from workshop_lib.uncertainty import measured

TRIES = among(1, 20)
FAR = 1e-12
ECHO = re.compile(r"\d+\.\d{9,}(e-?\d+)?")  # what was typed, told with all of its figures


@pytest.fixture
def moved(monkeypatch):
    """A switch: called with a random source or None, it makes every typed number move or stay."""
    read, state = units.number_and_unit, {"luck": None}

    def number_and_unit(*given):
        number, unit = read(*given)
        return move(number, state["luck"]), unit

    monkeypatch.setattr(units, "number_and_unit", number_and_unit)
    return lambda luck: state.update(luck=luck)


def move(value, luck, deep=0):
    """The same value with each of its numbers moved."""
    if luck is None or deep > 9 or isinstance(value, bool | int | str | bytes | None):
        return value
    if isinstance(value, float | np.floating):
        return value * (1 + luck.choice([-1, 1]) * luck.uniform(0.1, 1) * FAR)
    if type(value) is np.ndarray and value.dtype.kind == "f":
        flat = [move(float(each), luck) for each in value.ravel()]
        return np.array(flat).reshape(value.shape)
    if isinstance(value, Quantity):
        return Quantity(move(value.magnitude, luck), value.units)
    if isinstance(value, list | tuple):
        return type(value)(move(each, luck, deep + 1) for each in value)
    if isinstance(value, dict):
        return {key: move(each, luck, deep + 1) for key, each in value.items()}
    return value


def told(found, deep=0):
    """All that an answer says, in a form that can be compared; numbers only by whether known."""
    if isinstance(found, Quantity):
        found = found.magnitude
    if isinstance(found, str):
        return ECHO.sub(lambda number: f"{float(number[0]):.9g}", found)
    if found is None or isinstance(found, bool | np.bool_ | int):
        return found
    if isinstance(found, float | np.floating | complex | np.ndarray):
        return np.isnan(found).tolist() if np.asarray(found).dtype.kind in "fc" else repr(found)
    if isinstance(found, dict):
        return {str(key): told(each, deep + 1) for key, each in found.items()}
    if isinstance(found, list | tuple):
        return [told(each, deep + 1) for each in found]
    if deep > 3 or not type(found).__module__.startswith("workshop_lib"):
        return type(found).__name__
    return {name: told(value, deep + 1) for name, value in public(found)}


def public(found):
    """The attributes and properties of an object, without those that would compute for long."""
    names = [name for name in dir(type(found)) if isinstance(getattr(type(found), name), property)]
    if dataclasses.is_dataclass(found):
        names += [each.name for each in dataclasses.fields(found)]
    for name in sorted(set(names)):
        if not name.startswith(("_", "core")):
            yield name, getattr(found, name)


def changes(before, after, where=""):
    """What differs between two things that were told: a list of sentences."""
    if isinstance(before, dict) and isinstance(after, dict) and before.keys() == after.keys():
        return [one for key in before for one in changes(before[key], after[key], f"{where}.{key}")]
    pair = isinstance(before, list | tuple) and isinstance(after, list | tuple)
    if pair and len(before) == len(after):
        rows = enumerate(zip(before, after, strict=True))
        return [one for place, row in rows for one in changes(*row, f"{where}[{place}]")]
    if isinstance(before, str) and isinstance(after, str) and "\n" in before:
        return changes(before.splitlines(), after.splitlines(), where)
    return [] if before == after else [f"{where}: {before!r} became {after!r}"]


def answered(act):
    """What a call says: its answer, warnings and refusals without their numbers."""
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        try:
            answer = told(act())
        except InputError as error:
            answer = "refused", error.name, unquoted(error)
    return answer, [unquoted(each.message) for each in caught]


def unquoted(words):
    """A refusal without what it quotes, and without numbers."""
    return re.sub(r"‘[^’]*’|[\d.]+", "#", str(words))


def setting(luck, field):
    """A round value of a field, as somebody who works a slider or types would set it."""
    if field.control in ("radio", "select"):
        return luck.choice(list(field.options))
    if field.control == "switch":
        return luck.random() < 0.5
    if field.control == "text" or not getattr(field, "slider", None):
        return field.start
    low, high, *step = field.slider
    step = step[0] if step else 1
    count = int(round((high - low) / step))
    place = luck.choice([0, count, luck.randrange(count + 1), luck.randrange(count + 1) // 10 * 10])
    number = f"{low + step * place:.10g}"
    return f"{number} {field.unit}".strip() if hasattr(field, "unit") else number


@pytest.mark.parametrize("name", sorted(scenes()))
def test_no_word_of_a_panel_hangs_on_rounding(name, moved):
    scene, luck = scenes()[name](), random.Random(name)
    for attempt in range(TRIES):
        given = scene.given()
        if attempt:
            given |= {each.name: setting(luck, each) for each in scene.fields}
        moved(None)
        said = told(scene.still(**given).text())
        moved(luck)
        assert not changes(said, told(scene.still(**given).text())), given


JOBS = {path.stem: plan.load(path).values for path in FILES}
JOBS |= {"plain": PLAIN, "more": PLAIN | MORE}
JOBS |= {way: without_none(PLAIN | MORE | other) for way, other in OTHER_WAYS.items()}


@pytest.mark.parametrize("name", some(JOBS, 3))
def test_no_word_about_a_job_hangs_on_rounding(name, moved):
    luck = random.Random(name)
    for _ in range(TRIES):
        moved(None)
        said = told(plan.assess(plan.job(JOBS[name]), draws=2000))
        moved(luck)
        again = plan.assess(plan.job(move(JOBS[name], luck)), draws=2000)
        assert not changes(said, told(again))


LEAST = "is smaller than any"


@pytest.mark.parametrize("name", some(sorted(calls.public_calls())))
def test_no_word_of_a_call_hangs_on_rounding(name, moved):
    call, specs = calls.public_calls()[name]
    luck = random.Random(name)
    for _ in range(5 * TRIES):
        given = calls.arguments(luck, call, specs)
        moved(None)
        said = answered(lambda given=given: call(**given))
        moved(luck)
        again = {key: move(value, luck) for key, value in given.items()}
        also = answered(lambda again=again: call(**again))
        if (LEAST in str(said)) == (LEAST in str(also)):  # else the least size lies between them
            assert not changes(said, also), given


# Calls on readings: exact ones, and the same with scatter, read to a division


MARKS = {count: np.arange(count) * 360 / count for count in (3, 4, 12)}


def turn(vector, marks=4, noise=None, **about):
    """Readings (µm) of a centre at `vector`, exact or with scatter and read to 2 µm."""
    values = 7 + np.real(vector * np.exp(-1j * np.radians(MARKS[marks])))
    if noise is not None:
        values = 2 * np.round((values + noise.normal(0, 1, marks)) / 2)
    return MARKS[marks], values, about


def made(rows, luck):
    """`Readings` of rows that `turn` made, moved by luck."""
    for degrees, values, about in rows:
        numbers = Q_(move(degrees, luck), "deg"), Q_(move(values, luck), "um")
        yield Readings(*numbers, **{key: move(each, luck) for key, each in about.items()})


def separated(rows, luck):
    """The three rows at three positions."""
    positions = ("0 deg", "120 deg", "240 deg")
    return run_out.separate(dict(zip(positions, made(rows, luck), strict=True)))


def in_planes(rows, luck):
    """The three rows in three planes, and what leans."""
    places = [Q_(move(place, luck), "mm") for place in (10.0, 25.0, 40.0)]
    axis = run_out.axis_through(list(made(rows, luck)), places)
    return axis, axis.at("0 mm"), axis.over("100 mm")


def shifted(rows, luck):
    """From the first to the second row, to the same again, and as bare totals."""
    first, second, _ = made(rows, luck)
    totals = [Q_(move(total, luck), "um") for total in (20.0, 20.0)]
    return [
        run_out.shift_between(*pair)
        for pair in ((first, second), (first, *made(rows[:1], luck)), totals)
    ]


def corrected(rows, luck):
    """What to do about the first row."""
    first, *_ = made(rows, luck)
    return [run_out.correction(cause, first, "disc") for cause in ("displaced_disc", "oval")]


def diagnosed(rows, luck):
    """All that a diagnosis says."""
    found = run_out.diagnose(list(made(rows, luck)))
    said = [(one.called, one.speaks_for, one.speaks_against, one.mark) for one in found.findings]
    return found.verdict, found.remarks, said, [each.sentence for each in found.next_tests]


def pulled(rows, luck):
    """The readings of the first row as pulls and as angles, with and without a graduation."""
    pulls, tilts = Q_(move(rows[0][1] + 33, luck), "N"), Q_(move(rows[0][1] + 33, luck), "deg")
    return [
        *(measured.pull_test(pulls, "100 N", graduation=step) for step in (None, "1 N")),
        *(measured.tilt_test(tilts, graduation=step) for step in (None, "1 deg")),
        *(measured.pull_test(Q_(move(row, luck), "N"), "20 N") for row in ALIKE),
    ]


def fitted(rows, luck):
    """Fit and harmonics of the first row."""
    first, *_ = made(rows, luck)
    return first.fit(), list(first.harmonics(2)), first.total


ALIKE = np.array([8, 8, 8, 8, 8.1]), np.array([8, 8, 8, 8, 8.0]), np.array([8, 8, 8, 8, 20.0])
ON_READINGS = (separated, in_planes, shifted, corrected, diagnosed, pulled, fitted)


VECTORS = (20, 30j, -25), (20, 20, 20), (0, 0, 0.1), (12.5, 12.5, 15)


@pytest.mark.parametrize("exact", [True, False])
@pytest.mark.parametrize("marks", MARKS)
@pytest.mark.parametrize("ask", ON_READINGS)
def test_no_word_about_readings_hangs_on_rounding(ask, marks, exact):
    luck = random.Random(f"{marks}")
    noise = None if exact else np.random.default_rng(marks)
    for vectors in VECTORS[:1] if ask is pulled else VECTORS:  # it takes long, and few numbers
        about = {} if marks == 4 else {"graduation": "2 um"}
        rows = [turn(vector, marks, noise, **about) for vector in vectors]
        said = answered(lambda rows=rows: ask(rows, None))
        assert not changes(said, answered(lambda rows=rows: ask(rows, luck))), vectors
