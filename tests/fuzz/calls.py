"""Every public call as a target of the fuzz, found by walking the package.

A call that joins the package joins the fuzz. Arguments are drawn by their specs; where a spec is a
class or a converter, `samples.SAMPLES` makes good ones, and what it does not know gets nonsense.
"""

import importlib
import inspect
import pkgutil

import workshop_lib
from tests.fuzz import grammar
from tests.fuzz.law import has_number
from tests.fuzz.samples import EXTRA, sample

APART = ("workshop_lib.__main__", "workshop_lib.launcher", "workshop_lib.classroom")
EARLIER = "workshop_lib.lesson"  # a sentence for copies of an earlier edition, raised on import


def modules():
    """Import and return every module of the package that can be imported here."""
    names = [each.name for each in pkgutil.walk_packages(workshop_lib.__path__, "workshop_lib.")]
    for name in names:
        if not name.startswith(APART) and name != EARLIER:
            yield importlib.import_module(name)


def public_calls():
    """Every function with a boundary, by its full name, and the few calls that have none."""
    found = {
        f"{module.__name__.split('.')[1]}.{name}": (call, call.specs)
        for module in modules()
        for name, call in vars(module).items()
        if hasattr(call, "specs")
        and not name.startswith("_")
        and call.__module__ == module.__name__
    }
    return found | EXTRA


def argument(rng, spec, default, hostile):
    """One argument for a spec, good or hostile."""
    if hostile and rng.random() < 0.3:
        other = rng.choice(list(grammar.SANE))
        return grammar.nonsense(rng) if rng.random() < 0.5 else grammar.value(rng, other)
    if default is not inspect.Parameter.empty and rng.random() < 0.4:
        return default
    if isinstance(spec, str):
        draw = grammar.value if hostile else grammar.good
        return draw(rng, spec.partition(" ")[0])
    if isinstance(spec, tuple):
        return rng.choice(spec)
    return sample(rng, spec)


def arguments(rng, call, specs):
    """Draw all arguments of a call by name: in half of the inputs one is hostile, or all are."""
    known = inspect.signature(call).parameters
    chance, victim = rng.random(), rng.choice([*specs, ""])
    hostile = dict.fromkeys(specs, chance < 0.1) | {victim: chance < 0.55}
    return {
        name: argument(rng, spec, known[name].default, hostile[name])
        for name, spec in specs.items()
    }


def targets():
    """Yield (name, function of a random source that returns what to do) for every public call."""
    for name, (call, specs) in sorted(public_calls().items()):

        def prepare(rng, call=call, specs=specs):
            given = arguments(rng, call, specs)
            judged = has_number if getattr(call, "returns", None) else _quiet
            return lambda: judged(call(**given)), given

        yield f"call {name}", prepare


def _quiet(found):
    """Take an object for an answer; what it says of itself must be words."""
    repr(found)
    return found
