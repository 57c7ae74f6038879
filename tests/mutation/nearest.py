"""Which tests are nearest to a module: its own, its room's, and those that use what it defines."""

import ast
import functools
from pathlib import Path

from workshop_lib.launcher.environment import ROOT

PACKAGE = "workshop_lib"
# Whole courses, servers and pages: they would find much, in minutes for each mutant.
FAR = ("browser", "fuzz", "benchmarks", "notebooks", "mutation", "house")
MANY = 25  # tests that use one module: units and errors
WHOLE = 9  # rooms used by a test that is near to none of them


def nearest(module):
    """Return the test files for a module's path, as paths from the clone, in two lists.

    First the module itself with its doctests, the tests that bear its name, and those that take
    something from it, through a front door too. Second the rest of its room's folder, which counts
    where the first has no test.
    """
    uses = {path: used(path) for path in test_files()}
    uses = {path: names for path, names in uses.items() if len(rooms(names)) < WHOLE}
    folder = [path for path in uses if path.parent.name == room(module)]
    named = module.with_stem(f"test_{module.stem}").name
    users = [path for path in uses if dotted(module) in uses[path] or path.name == named]
    if len(users) > MANY:
        users = [path for path in users if path in folder]
    rest = [path for path in folder if path not in users]
    return [str(path) for path in [module, *users]], [str(path) for path in rest]


def room(module):
    """Return the room of a module: its package, or itself where it has none."""
    return module.parts[1] if len(module.parts) > 2 else module.stem


def rooms(names):
    """Return the rooms of modules that are given by name."""
    return {name.split(".")[1] for name in names if "." in name}


def dotted(path):
    """Return the name under which a file of the clone is imported."""
    parts = path.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def library():
    """Return the library's modules, as paths from the clone."""
    return sorted(path.relative_to(ROOT) for path in Path(ROOT, PACKAGE).rglob("*.py"))


@functools.cache
def test_files():
    """Return the unit tests, as paths from the clone."""
    found = (path.relative_to(ROOT) for path in Path(ROOT, "tests").rglob("test_*.py"))
    return sorted(path for path in found if not set(path.parts) & set(FAR))


@functools.cache
def used(path):
    """Return the names of the library's modules that a file takes something from itself.

    What a test takes from a helper beside it counts too, but not what the library takes in turn.
    """
    names, modules, calls = set(), {}, []
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            helper = helpers().get(node.module)
            if helper and helper != path:
                names |= used(helper)
            for alias in node.names if node.module.split(".")[0] == PACKAGE else ():
                home = defined_in(node.module, alias.name)
                names.add(home)
                modules[alias.asname or alias.name] = home
        elif isinstance(node, ast.Import):
            for alias in node.names:
                helper = helpers().get(alias.name)
                if helper and helper != path:
                    names |= used(helper)
                if alias.name.split(".")[0] == PACKAGE:
                    names.add(alias.name)
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            calls.append((node.value.id, node.attr))
    names |= {defined_in(modules[word], part) for word, part in calls if word in modules}
    return frozenset(names)


@functools.cache
def helpers():
    """Return the modules of the tests that are no tests, by the name they are imported under."""
    found = {}
    for path in Path(ROOT, "tests").rglob("*.py"):
        path = path.relative_to(ROOT)
        if not path.stem.startswith("test_") and path.stem != "conftest":
            found[path.stem] = found[dotted(path)] = path
            found[".".join(dotted(path).split(".")[1:])] = path
    return found


@functools.cache
def tree(path):
    """Return the syntax tree of a file of the clone."""
    return ast.parse(Path(ROOT, path).read_text(encoding="utf-8"))


@functools.cache
def file_of(name):
    """Return the path of a module, None where there is no such module."""
    path = Path(*name.split("."))
    for file in (path.with_suffix(".py"), path / "__init__.py"):
        if Path(ROOT, file).exists():
            return file
    return None


@functools.cache
def defined_in(module, name):
    """Return the module that defines what `module` hands on as `name`, which may be a module."""
    if file_of(f"{module}.{name}"):
        return f"{module}.{name}"
    file = file_of(module)
    for node in tree(file).body if file else ():
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(PACKAGE):
            for alias in node.names:
                if name == (alias.asname or alias.name):
                    return defined_in(node.module, alias.name)
    return module
