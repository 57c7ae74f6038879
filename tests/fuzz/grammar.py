"""Random input for the fuzz: mostly what people hand in, often nearly that, sometimes nonsense.

Everything is drawn from a `random.Random`, so that a seed repeats an input on every machine.
"""

import numpy as np
import pint

from workshop_lib.quantities import Quantity
from workshop_lib.quantities.kinds import KINDS

STRANGE = pint.UnitRegistry()  # somebody else's quantities
DIGITS = str.maketrans("0123456789", "٠١٢٣٤٥٦٧٨٩")
WIDE = str.maketrans("0123456789", "０１２３４５６７８９")
MARKUP = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "javascript:alert(1)",
    "{{7*7}}${7*7}",
    "</style><b>",
    "&lt;b&gt;",
    "]]>",
]
NONSENSE = [
    *MARKUP,
    None,
    True,
    False,
    "",
    " ",
    "\0",
    "nan mm",
    "inf N",
    "9**9**9",
    "1e999 mm",
    "__import__('os')",
    "../../etc/passwd",
    "\u202e12 mm",
    "3 mm\n4 mm",
    "x" * 10_000,
    b"12 mm",
    {},
    {"a": 1},
    set(),
    object(),
    [],
    (),
    [[]],
    [None],
    ["1 mm", None],
    [[1], [1, 2]],
    np.array([]),
    np.array(["a"]),
    np.array([1, None], dtype=object),
    np.array([1j]),
    np.ma.masked_array([1.0, 2.0], [True, False]),
    np.ma.masked,
    np.float64("nan"),
    np.datetime64("2020-01-01"),
    float("inf"),
    1j,
    10**5000,
    -(10**400),
    lambda: None,
    type,
]
NUMBER = [
    "{i}",
    "{i}.{j}",
    ".{j}",
    "{i}.",
    "{i}e{e}",
    "{i}/{k}",
    "{i} {n}/{k}",
    "{i}½",
    "¾",
    "-{i}",
]
NEARLY = [
    "{i},{j}",
    "{i} {j}{j}{j}",
    "{i}..{j}",
    "--{i}",
    "{i}e",
    "{i}/0",
    "0x{i}",
    "{i}_{j}",
    "{i}'{j}",
]


def number(rng):
    """A number as people write it, or nearly."""
    patterns = NUMBER if rng.random() < 0.85 else NEARLY
    parts = {name: rng.randrange(top) for name, top in (("i", 1000), ("j", 100), ("n", 8))}
    parts |= {"k": rng.choice([2, 4, 8, 16, 64, 7]), "e": rng.randrange(-12, 13)}
    text = rng.choice(patterns).format(**parts)
    return text.translate(rng.choice([DIGITS, WIDE])) if rng.random() < 0.02 else text


def typed(rng, kind):
    """A typed quantity of a kind: a number, a gap, a unit; or nearly."""
    kind = KINDS[kind]
    known = list(kind.units)
    other = list(rng.choice(list(KINDS.values())).units) + list(kind.refused)
    other += ["furlong", "MM", "%%", "tpi"]
    unit = rng.choice(known if rng.random() < 0.85 else other)
    gap = rng.choice(["", " ", " ", " ", "  ", "\u00a0", "\t", "\u2009"])
    text = f"{number(rng)}{gap}{unit}"
    if rng.random() < 0.05:  # one slip of the keyboard
        at = rng.randrange(len(text))
        text = text[:at] + rng.choice("x ,.;-0\u200b<") + text[at + 1 :]
    return text


def good(rng, kind):
    """One argument of a kind as a sensible person gives it: a quantity, or clean text."""
    core, sane = KINDS[kind].core, SANE[kind] * 10 ** rng.uniform(-1, 1)
    if kind == "ratio":
        return min(sane, 1.9)
    if rng.random() < 0.6:
        return Quantity(sane, core)
    word, unit = rng.choice(list(KINDS[kind].units.items()))
    return f"{Quantity(sane, core).m_as(unit):.6f} {word}"


def magnitude(rng, sane):
    """A float: of the usual size, or of any size and sign, or none at all."""
    if rng.random() < 0.7:
        return sane * 10 ** rng.uniform(-1, 1)
    wild = [0.0, -0.0, -sane, 5e-324, 1e-300, 1e300, 1e16 * sane, float("nan"), float("-inf")]
    return rng.choice([*wild, sane * 10 ** rng.uniform(-12, 12)])


SANE = {  # core units: what a set-up has
    "length": 0.03,
    "force": 300.0,
    "torque": 1.0,
    "speed": 30.0,
    "cutting_speed": 0.3,
    "feed": 1e-4,
    "angle": 0.5,
    "pressure": 1e7,
    "mass": 0.05,
    "density": 8000.0,
    "time": 1e4,
    "frequency": 100.0,
    "stiffness": 1e6,
    "area": 1e-3,
    "ratio": 0.5,
}


def quantity(rng, kind):
    """A quantity of a kind: usually one value in its unit, sometimes an array or a strange one."""
    core, sane = KINDS[kind].core, SANE[kind]
    if rng.random() < 0.15:
        size = rng.choice([1, 2, 3, 3, 7])
        value = np.array([magnitude(rng, sane) for _ in range(size)])
        if rng.random() < 0.1:
            value = value.reshape(-1, 1)
    else:
        value = magnitude(rng, sane)
    if kind == "ratio" and rng.random() < 0.8:
        return value
    if rng.random() < 0.04:
        return STRANGE.Quantity(value, "mm")
    unit = (
        core if rng.random() < 0.95 else rng.choice(["mm", "J", "mol", "degC", "Hz", "turn", "dB"])
    )
    return Quantity(value, unit)


def value(rng, kind):
    """One argument of a kind, as text, quantity, a list of them, or nonsense."""
    chance = rng.random()
    if chance < 0.5:
        return quantity(rng, kind)
    if chance < 0.88:
        return typed(rng, kind)
    if chance < 0.93:
        return [typed(rng, kind) for _ in range(rng.randrange(4))]
    return nonsense(rng)


def nonsense(rng):
    """Something that is no argument of anything."""
    if rng.random() < 0.05:
        deep = []
        for _ in range(rng.choice([5, 40, 3000])):
            deep = [deep]
        return deep
    return rng.choice(NONSENSE)
