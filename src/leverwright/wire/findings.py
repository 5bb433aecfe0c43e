"""Findings and remedies."""

from __future__ import annotations

from typing import Any, Literal

from leverwright.wire.strict import Wire

__all__ = ["FoundFinding", "FoundRemedy", "RemedyWithOps", "Severity", "ShownFinding", "Where"]

Severity = Literal["stop", "fix", "watch", "good"]


class Where(Wire, frozen=True):
    """Points sorted by name; the travel of the wheel, where there is one."""

    points: list[str]
    travel_mm: float | None


class FoundRemedy(Wire, frozen=True):
    """One change, solved again: what it does and costs, before and after."""

    do: str
    effort: str
    before: str
    after: str


class RemedyWithOps(FoundRemedy, frozen=True):
    """A remedy that the page can carry out, and its sentences in inches and pounds."""

    ops: list[dict[str, Any]]
    do_inch: str
    before_inch: str
    after_inch: str


class FoundFinding(Wire, frozen=True):
    """One answer to one of the builder's questions."""

    id: str
    severity: Severity
    question: str
    sentence: str
    where: Where
    why: str
    remedies: list[FoundRemedy]
    source: str


class ShownFinding(Wire, frozen=True):
    """A finding for the page, in either system of units."""

    id: str
    severity: Severity
    question: str
    sentence: str
    sentence_inch: str
    where: Where
    why: str
    why_inch: str
    remedies: list[RemedyWithOps]
    source: str
