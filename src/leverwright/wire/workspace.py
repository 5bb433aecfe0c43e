"""The workspace: all that the page shows of one vehicle."""

from __future__ import annotations

from typing import Any

from msgspec import UNSET, UnsetType

from leverwright.wire.answers import Answers, SaidAnswers
from leverwright.wire.drawing import Drawing
from leverwright.wire.faults import SaidFault
from leverwright.wire.findings import ShownFinding
from leverwright.wire.strict import Document, Wire
from leverwright.wire.sweep import Sweep

__all__ = ["NextStep", "Workspace"]


class NextStep(Wire, frozen=True):
    """The next thing to do, what it takes, and the builder's question that it answers."""

    do: str
    do_inch: str
    takes: str
    question: str | None


class Workspace(Document, frozen=True, kw_only=True):
    """One vehicle, whole or half made.

    A try carries neither `text` nor `values`, and only the cycles it asked for. It is answered at once
    with `partial` true: answers without errors, and no findings yet; and whole when the hand rests.
    With faults, `drawing` is what could be read and `answers` is null.
    """

    title: str
    name: str
    text: str | UnsetType = UNSET
    revision: str | None
    can_undo: bool
    can_redo: bool
    plane: str | None
    mirror: bool
    faults: list[SaidFault]
    values: dict[str, Any] | UnsetType = UNSET
    drawing: Drawing
    answers: Answers | None
    said: SaidAnswers | None
    findings: list[ShownFinding]
    cycles: dict[str, Sweep]
    next: NextStep
    partial: bool | UnsetType = UNSET
