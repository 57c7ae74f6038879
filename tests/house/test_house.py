"""The house keeps its order: imports run one way, pieces stay small, nothing strange comes in."""

import ast
import functools
import json
import re
import shutil
import subprocess

import pytest

from tests.house.laws import held_for
from workshop_lib.launcher import commands, environment
from workshop_lib.launcher.environment import ROOT
from workshop_lib.teaching import task_list

PACKAGE = ROOT / "workshop_lib"
# From the ground up, each with its tests in tests/: a room imports only from rooms before it.
THIN = (
    *("quantities", "sources", "gauges", "materials", "torque", "friction", "slip"),
    *("overhang", "blank", "bearings", "load_path", "run_out", "uncertainty", "instruments"),
)
ROOMS = [*THIN, "own_files", "shop", "plan", "drawings", "write_up", "teaching", "lessons"]
# What stands beside the rooms and starts them.
APART = {"", "__main__", "lesson", "launcher", "classroom"}
# Rooms that are entered by their modules: loading one must not load all the others.
BY_MODULE = {"drawings", "teaching", "lessons", "launcher", "classroom"}
PICTURES = {"ipywidgets", "anywidget", "matplotlib", "IPython"}
LONGEST_MODULE = 400
LONGEST_FUNCTION = 40

MODULES = sorted(path for path in PACKAGE.rglob("*.py"))
CODE = MODULES + sorted((ROOT / "tests").rglob("*.py"))


def name(path):
    return path.relative_to(ROOT).as_posix()


def room(path):
    """Return the part of the package that a file belongs to: a module's or a subpackage's name."""
    return path.relative_to(PACKAGE).with_suffix("").parts[0].replace("__init__", "")


@functools.cache
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


def test_every_room_has_a_place_in_the_order():
    assert {room(path) for path in MODULES} == {*ROOMS, *APART}
    assert len({*ROOMS}) == len(ROOMS)


@held_for(MODULES)
def test_imports_run_one_way(path):
    own = room(path)
    if own in APART:
        assert rooms_used(path) <= {"launcher", "sources", own}
        return
    for part in rooms_used(path):
        if (own, part) == ("teaching", "launcher"):
            continue  # where the notebooks lie
        assert part in ROOMS[: ROOMS.index(own) + 1], f"{own} imports {part}"


@functools.cache
def handed_out(part):
    """Return the names that a room's front door hands out."""
    return {*ast.literal_eval(syntax(PACKAGE / part / "__init__.py").body[-1].value)}


def past_the_door(tree, own=""):
    """Yield what code takes from a room that its front door does not hand out; `own` is free."""
    taken, called = [], {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            taken += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            taken += [f"{node.module}.{alias.name}" for alias in node.names]
            if node.module == "workshop_lib":
                called |= {alias.asname or alias.name: alias.name for alias in node.names}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and getattr(node.value, "id", "") in called:
            taken.append(f"workshop_lib.{called[node.value.id]}.{node.attr}")
    for full in taken:
        package, part, inside = [*full.split(".", 2), "", ""][:3]
        behind = part in ROOMS and part not in {*BY_MODULE, own} and inside
        if package == "workshop_lib" and behind and inside not in handed_out(part):
            yield full


@pytest.mark.parametrize(
    "code",
    [
        "from workshop_lib.slip.criterion import margin",
        "from workshop_lib.slip import criterion",
        "import workshop_lib.slip.criterion",
        "from workshop_lib import slip as door\ndoor.criterion.margin()",
    ],
)
def test_a_way_past_the_front_door_is_seen(code):
    assert list(past_the_door(ast.parse(code)))
    assert not list(past_the_door(ast.parse(code), own="slip"))


@held_for(MODULES)
def test_another_room_is_entered_by_its_front_door(path):
    own = room(path)
    assert list(past_the_door(syntax(path), own)) == []
    if own in ROOMS and own not in BY_MODULE and path.stem != "__init__":
        for full in imported(path):  # siblings import siblings, never their own front door
            _, part, inside, *_ = [*full.split("."), "", ""]
            assert part != own or (PACKAGE / own / f"{inside}.py").exists(), full


@pytest.mark.parametrize("part", [part for part in ROOMS if part not in BY_MODULE])
def test_a_front_door_holds_names_and_no_code(part):
    module = syntax(PACKAGE / part / "__init__.py")
    described, *rest = module.body
    assert ast.get_docstring(module)
    *imports, named = rest
    assert all(isinstance(node, ast.ImportFrom) for node in imports)
    assert isinstance(named, ast.Assign) and named.targets[0].id == "__all__"
    brought = {alias.asname or alias.name for node in imports for alias in node.names}
    assert set(ast.literal_eval(named.value)) == brought
    modules = {path.stem for path in (PACKAGE / part).glob("*.py")}
    handed_on = {
        a.name for node in imports for a in node.names if node.module == f"workshop_lib.{part}"
    }
    assert brought & modules <= handed_on, "a function hides the module of the same name"


@pytest.mark.parametrize("lesson", task_list.COURSE)
def test_a_lesson_takes_nothing_from_another_lesson(lesson):
    for path in (PACKAGE / "lessons" / lesson).glob("*.py"):
        for full in imported(path):
            if full.startswith("workshop_lib.lessons."):
                assert full.split(".")[2] in (lesson, "shared_fields"), f"{name(path)}: {full}"


def shown_code():
    """Yield the code that people are shown: cells, the guides' examples, values of the notes."""
    for path in sorted((ROOT / "notebooks").glob("*.ipynb")):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        yield path, "\n".join("".join(c["source"]) for c in cells if c["cell_type"] == "code")
    for path in (file for file in tracked() if file.suffix == ".md"):
        examples = re.findall(r"```python\n(.*?)```", path.read_text(encoding="utf-8"), re.DOTALL)
        yield path, "\n".join(examples)
    notes = ROOT / "tests" / "notebooks" / "note_values.py"
    yield notes, notes.read_text(encoding="utf-8")


def test_what_people_are_shown_uses_front_doors_only():
    found = [(name(path), list(past_the_door(ast.parse(code)))) for path, code in shown_code()]
    assert len(found) > 20 and [each for each in found if each[1]] == []


def test_tests_stand_in_the_rooms_of_what_they_test():
    apart = {
        "references",
        "browser",
        "fuzz",
        "benchmarks",
        "faults",
        "mutation",
        "house",
        "notebooks",
    }
    folders = {path.name for path in (ROOT / "tests").iterdir() if any(path.glob("*.py"))}
    assert folders <= {*ROOMS, *APART, *apart}
    assert {path.name for path in (ROOT / "tests").glob("*.py")} == {"conftest.py"}


def test_no_name_stands_for_two_modules():
    """A lesson's modules are called as every lesson's: panels and exercises."""
    shared = [path for path in MODULES if path.parent.parent.name != "lessons"]
    names = [path.stem for path in shared if path.stem != "__init__"]
    assert {each for each in names if names.count(each) > 1} == set()


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
    uses = {module: reached(path, files) - {module} for module, path in files.items()}
    assert circle(uses) == []


def reached(path, files):
    """Return the modules that a file imports, or takes a name from."""
    homes = (full if full in files else full.rpartition(".")[0] for full in imported(path))
    return {home for home in homes if home in files}


@held_for(MODULES)
def test_physics_knows_no_unit_library_widget_or_plot(path):
    packages = {full.split(".")[0] for full in imported(path)}
    if room(path) in (*THIN, "plan"):
        assert not packages & PICTURES
    if room(path) in (*THIN[1:], "plan"):
        assert "pint" not in packages


@held_for(CODE)
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


@held_for(MODULES)
def test_every_module_asks_its_question_and_every_public_name_says_what_it_is_for(path):
    module = syntax(path)
    assert "?" in ast.get_docstring(module).splitlines()[0], "which question does it answer?"
    assert list(undescribed(module.body)) == []


# What lies in the clone


@pytest.mark.parametrize(
    "file",
    [
        *("requirements.txt", "tests/requirements.txt", "workshop_lib/classroom/requirements.txt"),
        environment.LIBRARY,
    ],
)
def test_every_requirement_is_bounded_and_says_what_it_is_for(file):
    text = (ROOT / file).read_text(encoding="utf-8")
    if file == environment.LIBRARY:  # only what stands in its list
        listed = text.partition("dependencies = [\n")[2].partition("\n]\n")[0]
        text = re.sub(r'^ *"(.*?)", ', r"\1 ", listed, flags=re.M)
    lines = text.splitlines()
    named = [line for line in lines if not line.startswith(("#", "-r ", "-e "))]
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


def test_the_developers_guide_names_every_room():
    listed = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("```")[1]
    rooms = {room(path) for path in MODULES} - {"", "__main__", "lesson"}
    assert rooms - set(re.findall(r"[a-z_]+", listed)) == set()


def test_the_developers_guide_is_read_in_ten_minutes_and_names_only_what_is_there():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert len(re.sub(r"[|─-]{2,}|\|", " ", guide).split()) <= 2600
    files = re.findall(r"`([\w.]+(?:/[\w.]+)+\.\w+)`", guide)
    files += [f"data/{table}" for table in re.findall(r"`([a-z_]+\.csv)`", guide)]
    assert len(files) > 60
    for file in files:
        there = [top / file for top in (ROOT, PACKAGE) if (top / file).exists()]
        assert there or "NN_" in file or "my_additions" in file or "pages/" in file, file
    rows = guide.split("| command |")[1].split("\n\n")[0].splitlines()[2:]
    named = {each for row in rows for each in re.findall(r"`(\w[\w-]*)", row.split("|")[1])}
    assert named <= {*commands.COMMANDS} and len(named) > 8
