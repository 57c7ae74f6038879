"""JupyterLab as the workbook opens it: on this machine only, behind its token, at a lesson."""

import re
import sys
import urllib.error
import urllib.request
from types import SimpleNamespace

import nbformat
import pytest
from nbformat.sign import NotebookNotary
from nbformat.v4 import new_code_cell, new_notebook, new_output

from tests.house.thorough import only_thorough
from tests.launcher import served
from workshop_lib.launcher import copies, opening, resting
from workshop_lib.launcher.environment import ROOT, masters
from workshop_lib.launcher.trouble import Trouble

LAUNCH = "import sys;  from workshop_lib.launcher.opening import main; sys.exit(main(sys.argv[1:]))"


def running(tmp_path, *options):
    """Start JupyterLab as the command does, and end it afterwards."""
    command = [sys.executable, "-u", "-c", LAUNCH, "--no-browser", *options]
    return served.running(command, tmp_path, tmp_path, PYTHONPATH=str(ROOT))


def test_it_listens_here_only_and_asks_for_its_token(tmp_path):
    with running(tmp_path, "--masters") as process:
        url = served.address_told(process)
        served.wait_until_it_listens(url)
        assert re.fullmatch(
            r"http://127\.0\.0\.1:\d+/lab/tree/notebooks/00_start_here\.ipynb\?token=[0-9a-f]{32,}",
            url,
        )
        token = url.partition("token=")[2]
        listing = url.partition("/lab")[0] + "/api/contents/workshop_lib"
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(listing)
        assert refused.value.code == 403
        refused.value.close()
        request = urllib.request.Request(listing, headers={"Authorization": f"token {token}"})
        with urllib.request.urlopen(request) as answer:
            assert b'"workshop_lib/__init__.py"' in answer.read()


@only_thorough
@pytest.mark.parametrize("option", ["--IdentityProvider.token=", "--ip=0.0.0.0"])
def test_it_does_not_start_open_to_others(tmp_path, option):
    with running(tmp_path, "--masters", option) as process:
        output, _ = process.communicate(timeout=120)
        assert process.returncode != 0
        assert "http://" not in output


def server(ip=opening.ADDRESS, sock="", protected=True, token="0" * 48, port=8888):
    identity = SimpleNamespace(auth_enabled=protected, token=token)
    return SimpleNamespace(ip=ip, sock=sock, identity_provider=identity, port=port)


@pytest.mark.parametrize("ip", ["0.0.0.0", "", "*", "192.0.2.1"])
def test_another_address_is_refused(ip):
    with pytest.raises(Trouble, match="this machine only"):
        opening.refuse_unless_private(server(ip=ip))


@pytest.mark.parametrize("option", ["--ip=0.0.0.0", "--ServerApp.ip=0.0.0.0", "--sock=here"])
def test_an_option_that_opens_it_to_others_is_refused_in_words(option):
    with pytest.raises(Trouble, match="this machine only"):
        opening.refuse_unknown([option])


def test_a_port_that_no_machine_has_is_refused():
    with pytest.raises(Trouble, match="no port 99999"):
        opening.refuse_unless_private(server(port=99_999))


def test_a_server_without_its_token_is_refused():
    opening.refuse_unless_private(server())
    with pytest.raises(Trouble, match="access token"):
        opening.refuse_unless_private(server(protected=False))


def test_a_token_that_others_guess_is_refused():
    with pytest.raises(Trouble, match="8 letters"):
        opening.refuse_unless_private(server(token="workshop"))


GOOD = [
    *(["--no-browser", "--port=8890"], ["--port", "8890", "-y"], ["--ServerApp.port=8890"]),
    *(["--dev-mode"], ["--NewExtension.colour=green"], []),
]


@pytest.mark.parametrize("options", GOOD, ids=str)
def test_what_jupyterlab_knows_goes_on_to_it(options):
    opening.refuse_unknown(options)


BAD = [
    *(["--nonsense=1"], ["--prot=8890"], ["--ServerApp.prot=8890"], ["-x"]),
    *(["lesson"], ["--no-browser", "8890"], ["--port=8890", "8891"]),
]


@pytest.mark.parametrize("options", BAD, ids=str)
def test_what_jupyterlab_would_pass_over_without_a_word_is_refused(options):
    with pytest.raises(Trouble, match="there is no .*option|neither a lesson nor an option"):
        opening.refuse_unknown(options)


def test_a_home_that_is_no_folder_is_named(monkeypatch):
    monkeypatch.setenv("HOME", "/dev/null")
    monkeypatch.setenv("USERPROFILE", "/dev/null")
    with pytest.raises(Trouble, match="HOME"):
        opening.main(["--masters"])


@pytest.fixture
def own(monkeypatch, tmp_path):
    """The folder of a learner's own, not laid out yet; nothing is signed outside the test."""
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    monkeypatch.setattr(opening, "MY_LESSONS", tmp_path / "my_lessons")
    return tmp_path / "my_lessons"


def test_a_notebook_can_be_named_and_the_rest_goes_on_to_jupyterlab(own, monkeypatch, tmp_path):
    monkeypatch.setattr(opening, "ROOT", tmp_path)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my own.ipynb").touch()
    lesson, options = opening.choose_lesson(["--port", "8890", "my own.ipynb"])
    assert options == ["--port", "8890"]
    assert "--LabApp.default_url=/lab/tree/my%20own.ipynb" in opening.own_options(lesson, False)
    with pytest.raises(Trouble, match=r"other\.ipynb"):
        opening.choose_lesson(["other.ipynb"])
    assert not own.exists()


def test_the_learners_own_copies_are_shown_unless_the_masters_are_asked_for(own):
    lesson, options = opening.choose_lesson(["--no-browser"])
    assert lesson == own / "00_start_here.ipynb" and options == ["--no-browser"]
    assert [path.name for path in masters()] == [path.name for path in masters(own)]
    assert opening.choose_lesson(["--masters"]) == (masters()[0], [])


def test_a_lesson_can_be_named_by_its_number(own):
    assert opening.choose_lesson(["02"])[0] == own / "02_the_slip_criterion.ipynb"
    assert opening.choose_lesson(["--masters", "3"])[0] == masters()[3]
    with pytest.raises(Trouble, match=f"no lesson 17: .*00 to {masters()[-1].name[:2]}"):
        opening.choose_lesson(["17"])


def test_two_lessons_at_once_are_refused(own):
    with pytest.raises(Trouble, match="one lesson .*01 or 02"):
        opening.choose_lesson(["01", "02"])


def test_the_number_of_a_port_is_no_lesson(own):
    lesson, options = opening.choose_lesson(["--port", "8890"])
    assert lesson == own / "00_start_here.ipynb" and options == ["--port", "8890"]


def test_own_copies_are_trusted_and_what_somebody_put_in_one_later_is_not(own):
    opening.choose_lesson([])
    lesson = nbformat.read(own / "02_the_slip_criterion.ipynb", as_version=4)
    notary = NotebookNotary()
    assert notary.check_signature(lesson)
    lesson.cells.append(new_code_cell("", outputs=[new_output("display_data", {"text/html": ""})]))
    nbformat.write(lesson, own / "02_the_slip_criterion.ipynb")
    opening.choose_lesson([])
    assert not notary.check_signature(lesson)
    notary.store.close()


def test_where_no_copies_can_be_written_the_masters_are_shown(own, capsys):
    own.write_text("a file where the folder should be")
    assert opening.choose_lesson([])[0] == masters()[0]
    assert "cannot be written" in capsys.readouterr().out


def test_a_newer_edition_beside_ones_own_is_told(own, capsys):
    opening.choose_lesson([])
    earlier = own / "01_holding_without_a_bore.ipynb"
    notebook = nbformat.read(earlier, as_version=4)
    notebook.metadata[copies.OWN] = "an earlier edition"
    nbformat.write(notebook, earlier)
    assert capsys.readouterr().out == ""
    opening.choose_lesson([])
    assert "01_holding_without_a_bore (newer).ipynb" in capsys.readouterr().out
    opening.choose_lesson([])
    assert capsys.readouterr().out == ""


def test_only_an_administrator_gets_allow_root_and_is_told(capsys):
    lesson = masters()[0]
    assert "--allow-root" not in opening.own_options(lesson, False)
    assert capsys.readouterr().out == ""
    assert "--allow-root" in opening.own_options(lesson, True)
    assert len(capsys.readouterr().out.splitlines()) == 1


def test_stored_drawings_of_the_lessons_are_trusted_and_a_broken_file_is_passed_over(
    monkeypatch, tmp_path
):
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    output = new_output("display_data", {"text/html": "<svg></svg>"})
    lesson = new_notebook(cells=[new_code_cell("draw()", outputs=[output])])
    nbformat.write(lesson, tmp_path / "01_lesson.ipynb")
    nbformat.write(new_notebook(), tmp_path / "somebody_elses.ipynb")
    (tmp_path / "02_torn.ipynb").write_text('{"cells": [')
    resting.trust(masters(tmp_path))
    notary = NotebookNotary()
    assert notary.check_signature(nbformat.read(tmp_path / "01_lesson.ipynb", as_version=4))
    other = nbformat.read(tmp_path / "somebody_elses.ipynb", as_version=4)
    assert not notary.check_signature(other)
    notary.store.close()
