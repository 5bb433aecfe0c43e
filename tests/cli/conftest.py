"""The command run inside this process, its output caught."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from leverwright.__main__ import main


@dataclass(frozen=True)
class Ended:
    """What a run left: exit status, what it printed, what it noted."""

    status: int
    out: str
    notes: str

    @property
    def document(self):
        """Its strict ASCII JSON."""
        assert self.out.isascii()
        return json.loads(self.out, parse_constant=pytest.fail)

    @property
    def said(self) -> str:
        """All that was noted, as one line: how it was wrapped is left out."""
        return " ".join(self.notes.split())


@pytest.fixture
def leverwright(capsys, monkeypatch, tmp_path) -> Callable[..., Ended]:
    """A function that runs the command in an empty folder."""
    monkeypatch.chdir(tmp_path)

    def run(*words: str) -> Ended:
        status = main(words)
        out, notes = capsys.readouterr()
        return Ended(status, out, notes)

    return run
