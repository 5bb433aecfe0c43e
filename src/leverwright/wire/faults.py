"""A refusal, as every surface shows it."""

from __future__ import annotations

from leverwright.wire.strict import Document, Wire

__all__ = ["ErrorDocument", "FaultDocument", "Refusal", "SaidFault"]


class Refusal(Wire, frozen=True):
    """Where, what was found, what is allowed, what to do."""

    file: str
    line: int | None
    key: str | None
    found: str
    allowed: str
    do: str


class SaidFault(Refusal, frozen=True):
    """A refusal with the one sentence that a person reads."""

    sentence: str


class ErrorDocument(Document, frozen=True, kw_only=True):
    """What `--json` prints at status 2."""

    error: Refusal


class FaultDocument(Document, frozen=True, kw_only=True):
    """What the server answers when it refuses."""

    error: SaidFault
