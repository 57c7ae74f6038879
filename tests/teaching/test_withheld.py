"""What a cell shows after a prediction was asked waits, folded, until it is committed."""

import pytest
from IPython.core.interactiveshell import InteractiveShell

from workshop_lib.teaching import answer_file, predict, withheld


class Pub:
    """Where a shell publishes: keeps what came."""

    def __init__(self, said):
        self.said = said

    def publish(self, data, transient=None, update=False, **_):
        self.said.append((transient["display_id"], update, data["text/html"]))


@pytest.fixture
def shell(tmp_path, monkeypatch):
    before = answer_file.use(answer_file.FileStore(tmp_path / "answers.jsonl"))
    shell = InteractiveShell()
    monkeypatch.setattr(withheld, "get_ipython", lambda: shell)
    shell.said = []
    shell.display_pub = Pub(shell.said)
    shell.user_ns["predict"] = predict
    yield shell
    withheld._asked.clear()
    withheld._shown.clear()
    answer_file.use(before)


ASK = "predict.predict('k-1', 'How much?', kind='force')"


def test_what_cells_show_waits_until_the_prediction_is_committed(shell, capsys):
    shell.run_cell(f"card = {ASK}")
    shell.run_cell("print('the answer: 120 N')\n1 + 1")
    assert "120 N" not in capsys.readouterr().out
    ((place, _, html),) = shell.said
    waits, folded = html.split("<details", 1)
    assert withheld.WAITS in waits and "120" not in waits and "120 N" in folded
    predict.commit("k-1", "100 N")
    assert shell.said[1][:2] == (place, True)
    assert "120 N" in shell.said[1][2] and withheld.WAITS not in shell.said[1][2]
    shell.run_cell("print('more')")
    assert "more" in capsys.readouterr().out and len(shell.said) == 2


def test_the_reveal_ends_the_waiting_and_what_tells_nothing_never_waits(shell, capsys):
    shell.run_cell(f"card = {ASK}")
    shell.run_cell("print('a panel') # panel()")
    assert "a panel" in capsys.readouterr().out
    shell.run_cell("shown = predict.reveal('k-1', predict._asked['k-1'].read('120 N'), 'because')")
    shell.run_cell("print('after')")
    assert "after" in capsys.readouterr().out and shell.said == []
    resting = str(shell.user_ns["shown"].at_rest().html())
    assert "120 N" not in resting.split("<details", 1)[0] and "120 N" in resting


def test_where_nobody_learns_everything_shows(shell, capsys):
    answer_file.use(answer_file.Store())
    shell.run_cell(f"card = {ASK}")
    shell.run_cell("print('the answer: 120 N')")
    assert "120 N" in capsys.readouterr().out
