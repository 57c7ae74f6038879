"""Learner copies: made from the masters, the same every time, whole, and silent about answers."""

import ast
import asyncio
import itertools
import re
import tempfile
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output
from traitlets.config import Config

from tests.house.thorough import only_thorough
from tests.launcher.copy_cells import come_from, is_own, read
from workshop_lib.launcher import copies
from workshop_lib.launcher.environment import ROOT, WINDOWS, masters

MASTERS = masters()
SECONDS_FOR_A_CELL = 60


def name(path):
    return path.stem


def pairs(master, made):
    """Return (master's cell, the copy's cells made of it) for every one that is in the copy."""
    by_id = {cell.id: cell for cell in master.cells}
    grouped = itertools.groupby(made.cells, key=come_from)
    return [(by_id[each], list(cells)) for each, cells in grouped]


def folded(cell):
    return cell.metadata.get("jupyter", {}).get("source_hidden", False)


def unfolded_source(cells):
    """Return the text of a copy's cells as one, with each explanation in the open again."""
    head, tail = (re.escape(part) for part in copies.FOLDED.split("{words}"))
    source = "\n\n".join(cell.source for cell in cells if not is_own(cell))
    return re.sub(head + r"(.*?)" + tail, r"**Explain:** \1", source, flags=re.DOTALL)


def words_of(output):
    data = output.get("data", {})
    return output.get("text", "") + data.get("text/html", "") + data.get("text/plain", "")


def explanations(source):
    """Return the texts with which a cell that reveals an answer explains it."""
    for call in ast.walk(ast.parse(source)):
        if isinstance(call, ast.Call) and copies._name(call) == "reveal" and len(call.args) > 2:
            yield ast.literal_eval(call.args[2])


# Made from the masters


@pytest.mark.parametrize("path", MASTERS, ids=name)
def test_a_copy_is_valid_and_no_id_stands_in_it_twice(path, folder):
    made = read(folder / path.name)
    nbformat.validate(made)
    ids = [cell.id for cell in made.cells]
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize("path", MASTERS, ids=name)
def test_apart_from_what_is_held_back_a_copy_is_its_master(path, folder):
    master, made = read(path), read(folder / path.name)
    found = pairs(master, made)
    kept = [before.id for before, _ in found]
    assert kept == [c.id for c in master.cells if c.id in set(kept)], "each once, in their order"
    assert all(copies.is_solution(c) for c in master.cells if c.id not in kept)
    for before, after in found:
        assert {cell.cell_type for cell in after} == {before.cell_type}
        if before.cell_type == "markdown":
            assert re.sub(r"\s+", " ", unfolded_source(after)).strip() == re.sub(
                r"\s+", " ", before.source).strip()  # fmt: skip
        else:
            (only,) = after
            assert only.source in (before.source, copies.VEIL + before.source)


@pytest.mark.parametrize("path", MASTERS, ids=name)
def test_every_explanation_waits_behind_the_learners_own(path, folder):
    wanted = sum(cell.source.count("**Explain:**") for cell in read(path).cells)
    cells = [c for c in read(folder / path.name).cells if c.cell_type == "markdown"]
    text = "\n".join(cell.source for cell in cells)
    assert "**Explain:**" not in text
    assert text.count("<details>") == text.count("</details>") == text.count("> …") == wanted
    own = [place for place, cell in enumerate(cells) if is_own(cell)]
    assert len(own) == wanted
    for place in own:
        folded_words = cells[place + 1].source
        assert folded_words.startswith("<details>") and folded_words.endswith("</details>")


def test_writing_them_again_gives_the_same_bytes(folder, tmp_path):
    copies.write(tmp_path)
    files = [path for path in folder.rglob("*") if path.is_file()]
    assert len(files) > len(MASTERS) + 1
    for path in files:
        assert (tmp_path / path.relative_to(folder)).read_bytes() == path.read_bytes()


def test_what_the_lessons_link_to_goes_along(folder):
    for path in MASTERS:
        for target in re.findall(r"\]\(([\w.]+\.(?:md|ipynb))", path.read_text(encoding="utf-8")):
            assert (folder / target).exists(), target


# Silent about answers


@pytest.mark.parametrize("path", MASTERS, ids=name)
def test_no_result_that_was_computed_stands_in_a_copy(path, folder):
    for before, (after, *_) in pairs(read(path), read(folder / path.name)):
        if after.get("outputs"):
            assert [words_of(o) for o in after.outputs] == [words_of(o) for o in before.outputs]
            last = ast.parse(after.source).body[-1].value
            assert copies._name(last) in {"you_can", "caution", "predict", "ask"}
        assert after.get("execution_count") is None


@pytest.mark.parametrize("path", MASTERS, ids=name)
def test_no_answer_and_no_reason_can_be_read_without_unfolding(path, folder):
    master, made = read(path), read(folder / path.name)
    # JupyterLab shows the first line of a folded cell.
    seen = [c.source.split("\n")[0] if folded(c) else c.source for c in made.cells]
    open_text = "\n".join(seen)
    open_text += "\n".join(words_of(o) for c in made.cells for o in c.get("outputs", []))
    code = [cell.source for cell in master.cells if cell.cell_type == "code"]
    reasons = [words for source in code for words in explanations(source)]
    assert len(reasons) == sum("reveal(" in s and "predict." in s for s in code)
    for words in reasons:
        assert words not in open_text and words not in open_text.replace('"\n    "', "")
    assert "Answer:" not in open_text
    assert not re.search(r"^# Known answer", "\n".join(s.split("\n")[0] for s in seen), re.M)


def test_each_way_of_answering_is_held_back():
    shown = [new_output("execute_result", {"text/plain": "5.60 N·m"}, execution_count=3)]
    cells = [
        new_code_cell("task.worked()", id="worked", outputs=shown),
        new_code_cell("task.check('2 N m')", id="check"),
        new_code_cell("print(task.hint(1))", id="hint"),
        new_code_cell("answer = 5.6", id="tagged", metadata={"tags": ["solution"]}),
        new_markdown_cell("It is 5.6.", id="words", metadata={"tags": ["solution"]}),
        new_code_cell("show(torque)", id="computed", outputs=shown),
        new_code_cell("# Known answer: by hand\nassert True", id="known", outputs=shown),
        new_code_cell("predict.reveal('k', torque, 'so')", id="reveal", outputs=shown),
        new_code_cell("task.ask()", id="ask", outputs=shown),
    ]
    master = new_notebook(cells=cells)
    made = {cell.id: cell for cell in copies.learner_copy(master).cells}
    assert list(made) == ["computed", "known", "reveal", "ask"]
    assert [len(cell.outputs) for cell in made.values()] == [0, 0, 0, 1]
    assert made["known"].source.startswith(copies.VEIL)
    assert folded(made["known"]) and folded(made["reveal"]) and not folded(made["computed"])
    assert master.cells[0].outputs and len(master.cells) == 9  # the master stays as it is


# Nothing of the learner's is lost


def test_a_copy_in_which_somebody_has_worked_is_left_as_it_is(tmp_path, capsys):
    assert copies.main(["--folder", str(tmp_path)]) == 0
    path = tmp_path / MASTERS[0].name
    notebook = read(path)
    notebook.cells[-1].source += "\n# mine"
    nbformat.write(notebook, path)
    before = path.read_bytes()
    capsys.readouterr()
    assert copies.main(["--folder", str(tmp_path)]) == 0
    assert path.read_bytes() == before
    assert f"{path.name}: left as it is" in capsys.readouterr().out


def test_a_copy_that_was_only_run_is_made_afresh(tmp_path):
    copies.write(tmp_path)
    path = tmp_path / MASTERS[0].name
    fresh, notebook = path.read_bytes(), read(path)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.execution_count = 1
    nbformat.write(notebook, path)
    assert copies.write(tmp_path) == []
    assert path.read_bytes() == fresh


def test_a_job_that_a_learner_has_changed_is_left_as_it_is(tmp_path):
    copies.write(tmp_path)
    job = next((tmp_path / "jobs").glob("*.toml"))
    job.write_text("# mine")
    copies.write(tmp_path)
    assert job.read_text() == "# mine"


@pytest.mark.parametrize("content", ['{"cells": [', '{"nbformat": 4}', "my own text"])
def test_a_file_that_is_no_copy_is_left_as_it_is(tmp_path, content):
    path = tmp_path / MASTERS[0].name
    path.write_text(content)
    assert copies.write(tmp_path) == [path.name]
    assert path.read_text() == content


def test_the_masters_are_never_written_over(capsys):
    assert copies.main(["--folder", str(ROOT / "notebooks")]) == 2
    assert "another folder" in capsys.readouterr().err


# Every copy runs


def spoken_to(name):
    """Return the settings of a kernel that is spoken to by files, where a system has such files.

    A port that was free may be taken by another program before the kernel has it.
    """
    if WINDOWS:
        return Config()
    return Config({"KernelManager": {"transport": "ipc", "ip": name}})


async def run_all(paths, sockets):
    """Run the copies from top to bottom, two at a time, the longest file first."""
    gate = asyncio.Semaphore(2)

    async def run(path):
        async with gate:
            client = NotebookClient(
                read(path),
                timeout=SECONDS_FOR_A_CELL,
                kernel_name="python3",
                resources={"metadata": {"path": str(path.parent)}},
                store_widget_state=False,
                extra_arguments=["--IPKernelApp.log_level=ERROR"],
                config=spoken_to(str(sockets / path.stem[:2])),
            )
            return path.stem, await client.async_execute()

    longest_first = sorted(paths, key=lambda path: -path.stat().st_size)
    return dict(await asyncio.gather(*map(run, longest_first)))


@only_thorough  # the browser's tests run every copy, too
def test_every_copy_runs_from_top_to_bottom(folder, monkeypatch, tmp_path):
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    monkeypatch.setenv("IPYTHONDIR", str(tmp_path))
    with tempfile.TemporaryDirectory() as sockets:  # its name is short, as a socket's must be
        done = asyncio.run(run_all([folder / path.name for path in MASTERS], Path(sockets)))
    assert sorted(done) == [path.stem for path in MASTERS]
    for notebook in done.values():
        code = [cell for cell in notebook.cells if cell.cell_type == "code"]
        assert all(cell.execution_count for cell in code)
        warned = [o.text for c in code for o in c.outputs if o.get("name") == "stderr"]
        assert warned == []
