"""The command `bench`: one table, shortfalls by name, and a status that says whether all ran."""

import sys
from types import ModuleType

import pytest

from tests.benchmarks import run_all
from tests.benchmarks.timing import Result, shortfalls

SLOW, QUICK = Result("a slow thing", 3.0, 1.0, 1.5), Result("a quick thing", 1.0, 1.0, 1.5)


def stand_in(monkeypatch, **benchmarks):
    """Put benchmarks that return or raise these things in place of the real ones."""
    for name, found in benchmarks.items():
        module = ModuleType(name)

        def results(found=found):
            if isinstance(found, BaseException):
                raise found
            return found

        module.results = results
        monkeypatch.setitem(sys.modules, f"tests.benchmarks.bench_{name}", module)
    monkeypatch.setattr(run_all, "names", lambda _chosen: [f"bench_{name}" for name in benchmarks])


def test_what_falls_short_is_named_with_its_ratio_the_furthest_first():
    worse = Result("a worse thing", 9.0, 1.0, 1.5)
    first, *named = shortfalls({"one": [SLOW, QUICK], "two": [worse]})
    assert first.startswith("1 of 3 aims")
    assert [line.strip().split(":")[:2] for line in named] == [
        ["two", " a worse thing"],
        ["one", " a slow thing"],
    ]
    assert "3 times the reference, 1.5 aimed at" in named[1]
    assert shortfalls({"one": [QUICK]}) == ["All 1 aims are reached."]


def test_a_slow_machine_is_no_failure(monkeypatch, capsys):
    stand_in(monkeypatch, one=[SLOW], two=[QUICK])
    assert run_all.main([]) == 0
    told = capsys.readouterr().out
    assert told.count("benchmark  what") == 1
    assert "a slow thing" in told


@pytest.mark.parametrize("trouble", [SystemExit("no browser"), ImportError("gone"), KeyError("x")])
def test_one_that_cannot_run_is_named_and_the_others_run(trouble, monkeypatch, capsys):
    stand_in(monkeypatch, one=trouble, two=[QUICK])
    assert run_all.main([]) == 1
    told = capsys.readouterr().out
    assert "a quick thing" in told
    assert f"bench_one did not run: {type(trouble).__name__}" in told
