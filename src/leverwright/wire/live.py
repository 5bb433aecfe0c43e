"""What page and server say to each other over the socket."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from msgspec import UNSET, UnsetType

from leverwright.wire.cards import Cards
from leverwright.wire.faults import SaidFault
from leverwright.wire.findings import ShownFinding
from leverwright.wire.strict import Wire
from leverwright.wire.workspace import NextStep, Workspace

__all__ = ["Ask", "DiskEvent", "Reply"]

_Op = dict[str, Any]


class Ask(Wire, frozen=True):
    """A message of the page: `open`, `replace`, `edit`, `try`, `undo`, `redo` or `remedies`.

    A try carries either `ops`, on the kept text, or a whole `text`.
    """

    id: Annotated[int, msgspec.Meta(ge=0, le=2**53)]  # whole in a page too
    do: str
    ops: list[_Op] = msgspec.field(default_factory=list)
    text: str | None = None
    modes: list[str] = msgspec.field(default_factory=lambda: ["heave"])


class Reply(Wire, frozen=True):
    """The answer to the message of the same id: one of the others is present, `next` and `cards` beside findings."""

    id: int
    workspace: Workspace | UnsetType = UNSET
    findings: list[ShownFinding] | UnsetType = UNSET
    next: NextStep | UnsetType = UNSET
    cards: Cards | UnsetType = UNSET
    stale: bool | UnsetType = UNSET
    error: SaidFault | UnsetType = UNSET


class DiskEvent(Wire, frozen=True):
    """Unasked: the file on the disk is no longer the one the page opened or saved."""

    event: str
    revision: str | None
