"""A tyre's rate by scale and ruler."""

from __future__ import annotations

from leverwright.wire.answers import WireAnswer
from leverwright.wire.strict import Document

__all__ = ["TyreDocument"]


class TyreDocument(Document, frozen=True, kw_only=True):
    """The rate, what to do with it and how it was reckoned."""

    rate: WireAnswer
    sentences: list[str]
    why: str
