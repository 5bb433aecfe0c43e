"""One server a module: starting one takes a second."""

from __future__ import annotations

import pytest

from tests.server.running import running


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    with running(tmp_path_factory.mktemp("vehicle")) as started:
        started.enter()
        yield started


@pytest.fixture
def fresh(tmp_path):
    """A server of this test alone, not entered yet."""
    with running(tmp_path) as started:
        yield started
