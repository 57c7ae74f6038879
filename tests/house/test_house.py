"""The house keeps its order: imports run one way, pieces stay small, nothing strange comes in."""

import ast
import functools
import re
import shutil
import subprocess

import pytest

from workshop_lib.launcher.environment import ROOT

PACKAGE = ROOT / "workshop_lib"
# From the ground up: a module imports from its own storey and from those before it.
STOREYS = {
    "ground": {
        "kinds",
        "refusals",
        "typed",
        "quantities",
        "rounding",
        "boundary",
        "sources",
        "tables",
        "safe_file",
    },
    "data": {"gauge_tables", "gauges", "material_tables", "materials"},
    "physics": set(),  # every module that is not named here: the strictest rules are the rule
    "drawings": {"drawings"},
    "jobs": {"plan", "planning", "write_up", "writing"},
    "lesson": {"lesson"},
}
# What stands beside the storeys and starts them; only a command of the lessons may look at it.
APART = {"", "__main__", "launcher", "classroom"}
PICTURES = {"ipywidgets", "anywidget", "matplotlib", "IPython"}
LONGEST_MODULE = 320
LONGEST_FUNCTION = 40

MODULES = sorted(path for path in PACKAGE.rglob("*.py"))
CODE = MODULES + sorted((ROOT / "tests").rglob("*.py"))


def name(path):
    return path.relative_to(ROOT).as_posix()


def room(path):
    """Return the part of the package that a file belongs to: a module's or a subpackage's name."""
    return path.relative_to(PACKAGE).with_suffix("").parts[0].replace("__init__", "")


def syntax(path):
    return ast.parse(path.read_text(encoding="utf-8"))


@functools.cache
def imported(path):
    """Return the full names that a file imports, wherever in it, with the names taken from them."""
    names = set()
    for node in ast.walk(syntax(path)):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{name(path)}: write imports in full"
            names.update(f"{node.module}.{alias.name}" for alias in node.names)
    return names


def rooms_used(path):
    """Return the parts of the package that a file imports from."""
    own = (full.split(".") for full in imported(path))
    return {parts[1] for parts in own if parts[0] == "workshop_lib" and len(parts) > 1}


def storey(part):
    """Return the name of the storey that a part of the package stands on."""
    named = [storey for storey, parts in STOREYS.items() if part in parts]
    return named[0] if named else "physics"


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_imports_run_one_way(path):
    if room(path) in APART:
        assert rooms_used(path) <= {"launcher", "safe_file", room(path)}
        return
    order = list(STOREYS)
    own = storey(room(path))
    for part in rooms_used(path):
        assert part not in APART or (own, part) == ("lesson", "launcher")
        assert order.index(storey(part)) <= order.index(own), f"{own} imports {part}"


def circle(uses):
    """Return the parts that cannot be put in an order because each needs another of them."""
    while uses:
        free = {part for part, needed in uses.items() if not needed & set(uses)}
        if not free:
            return sorted(uses)
        uses = {part: needed for part, needed in uses.items() if part not in free}
    return []


def test_a_circle_is_seen():
    assert circle({"a": {"b"}, "b": {"c"}, "c": set()}) == []
    assert circle({"a": {"b"}, "b": {"c"}, "c": {"b"}, "d": set()}) == ["a", "b", "c"]


def test_no_import_runs_in_a_circle():
    files = {
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
        for path in MODULES
    }
    uses = {
        module: {other for other in files if other != module and reaches(path, other)}
        for module, path in files.items()
    }
    assert circle(uses) == []


def reaches(path, module):
    """Return whether a file imports a module, or a name from it."""
    return any(full == module or full.rpartition(".")[0] == module for full in imported(path))


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_physics_knows_no_unit_library_widget_or_plot(path):
    if room(path) in APART:
        return
    packages = {full.split(".")[0] for full in imported(path)}
    if storey(room(path)) != "lesson":
        assert not packages & PICTURES
    if storey(room(path)) in ("physics", "jobs"):
        assert "pint" not in packages


@pytest.mark.parametrize("path", CODE, ids=name)
def test_no_module_and_no_function_is_long(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE
    for node in ast.walk(syntax(path)):
        if isinstance(node, ast.FunctionDef):
            length = node.end_lineno - node.lineno + 1
            if ast.get_docstring(node):
                described = node.body[0]
                length -= described.end_lineno - described.lineno + 1
            assert length <= LONGEST_FUNCTION, f"{node.name} has {length} lines"


def undescribed(body, inside=""):
    """Yield the public functions, classes and methods that no docstring describes."""
    for node in body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            if not ast.get_docstring(node):
                yield inside + node.name
            if isinstance(node, ast.ClassDef):
                yield from undescribed(node.body, f"{node.name}.")


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_every_public_name_says_what_it_is_for(path):
    module = syntax(path)
    assert ast.get_docstring(module)
    assert list(undescribed(module.body)) == []


# What lies in the clone


@pytest.mark.parametrize(
    "file",
    ["requirements.txt", "tests/requirements.txt", "workshop_lib/classroom/requirements.txt"],
)
def test_every_requirement_is_bounded_and_says_what_it_is_for(file):
    lines = (ROOT / file).read_text(encoding="utf-8").splitlines()
    named = [line for line in lines if not line.startswith(("#", "-r "))]
    assert named
    for line in named:
        assert re.fullmatch(r"[a-z][a-z0-9-]*>=[\d.]+,<[\d.]+ +# \S.*", line), line


TOP = {"README.md", "DEVELOPERS.md", "requirements.txt"}
FOLDERS = {"notebooks", "workshop_lib", "tests", "figures"}
# Written so that this file does not match itself.
MACHINE_PATHS = r"(?<![\w.])/(?:wor[k]|far[m]|roo[t]|hom[e]|User[s])/|\b[A-Z]:\\User[s]"
REGISTRIES = r"pypi\.(?:or[g])|pythonhoste[d]\.|registry\.npmj[s]|anacond[a]\.(?:org|com)"


def tracked():
    """Return the files that are, or would be, in the repository."""
    if (ROOT / ".git").exists() and shutil.which("git"):
        command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
        listed = subprocess.check_output(command, cwd=ROOT, text=True, encoding="utf-8")
        files = [ROOT / line for line in listed.split("\0") if line]
    else:
        files = [path for top in FOLDERS for path in (ROOT / top).rglob("*")]
        files += [ROOT / top for top in TOP]
    return [path for path in files if path.is_file() and "__pycache__" not in path.parts]


def test_the_top_level_holds_what_the_layout_names():
    tops = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert {top for top in tops if not top.startswith(".")} <= TOP | FOLDERS


@pytest.mark.parametrize("pattern", [MACHINE_PATHS, REGISTRIES])
def test_no_file_names_a_machine_path_or_a_registry(pattern):
    found = []
    for path in tracked():
        text = path.read_bytes().decode("utf-8", "ignore")
        found += [f"{name(path)}: {match[0]}" for match in re.finditer(pattern, text)]
    assert found == []


@pytest.mark.parametrize("text", ["see /wor" + "k/x", "C:\\User" + "s\\x", "at pypi.or" + "g"])
def test_the_guard_on_names_finds_them(text):
    assert re.search(f"{MACHINE_PATHS}|{REGISTRIES}", text)


def test_the_contributors_list_of_the_house_names_every_module():
    listed = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("```")[1]
    modules = {path.stem for path in PACKAGE.glob("[a-z]*.py")}
    assert modules - set(re.findall(r"[a-z_]+", listed)) == set()
