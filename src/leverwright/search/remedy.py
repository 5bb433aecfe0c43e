"""A change that cures a finding: what to do, what it takes, before and after, and the edit that does it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["Candidate", "Effort", "Remedy"]


@dataclass(frozen=True, slots=True)
class Effort:
    """Workshop time [minutes] and the word for it, from a spanner to a cut weld."""

    minutes: float
    word: str


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change, solved again: it cures its finding and causes no worse one.

    before, after  sentences with the numbers that the finding turns on
    ops            edits of the project file (leverwright.project.edit) that carry it out
    """

    do: str
    effort: Effort
    before: str
    after: str
    ops: tuple[Mapping[str, object], ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A change to be tried: what to do in words, what it takes, and the edits."""

    do: str
    effort: Effort
    ops: tuple[Mapping[str, object], ...]
