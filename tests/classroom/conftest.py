"""A real class of two for the tests here, closed or open."""

import asyncio
import contextlib
from types import SimpleNamespace

import pytest

from tests.classroom import classroom_stage
from tests.classroom.classroom_stage import ANN, ASKED, BEN, LESSON
from tests.classroom.classroom_visitor import Visitor
from workshop_lib.classroom import accounts


@pytest.fixture(scope="module")
def stage():
    """A class of two, not open yet."""
    accounts.refuse_unless_possible()
    assert classroom_stage.python_for_all(), "no Python here that every account can run"
    folder = ASKED if "/" in ASKED else None
    with classroom_stage.stage(classroom_stage.free_port(), folder) as own:
        own.add([ANN, BEN])
        yield own


@pytest.fixture(scope="module")
def opened(stage):
    """The class while it is open, with both learners at work in one lesson."""
    with contextlib.ExitStack() as stack:
        said = stack.enter_context(stage.open())
        runner = stack.enter_context(asyncio.Runner())
        rooms = {}

        def come_in(login):
            visitor, rooms[login] = Visitor(stage.address, login), None
            stack.callback(lambda: runner.run(visitor.client.aclose()))
            assert runner.run(visitor.sign_in(stage.passwords[login]))
            runner.run(visitor.spawn())
            runner.run(visitor.open_lab())
            kernel = runner.run(visitor.kernel(LESSON))
            stack.callback(lambda: runner.run(kernel.close()))
            rooms[login] = (visitor, kernel)
            return visitor

        for login in (ANN, BEN):
            come_in(login)
        yield SimpleNamespace(
            stage=stage, said=said, rooms=rooms, run=runner.run, come_in=come_in, end=stack.close
        )


@pytest.fixture(scope="module")
def closed(opened):
    """The class after it was open, closed again."""
    opened.end()
    return opened.stage
