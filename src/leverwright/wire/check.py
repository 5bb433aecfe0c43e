"""The document of `check --json`."""

from __future__ import annotations

from leverwright.wire.answers import Answers
from leverwright.wire.findings import FoundFinding
from leverwright.wire.strict import Document

__all__ = ["CheckDocument"]


class CheckDocument(Document, frozen=True, kw_only=True):
    """Answers and findings of one vehicle."""

    title: str
    answers: Answers
    findings: list[FoundFinding]
