"""Photographs over HTTP: what was stored, and what is to be removed."""

from __future__ import annotations

from leverwright.wire.strict import Document, Wire

__all__ = ["RemovePhoto", "StoredPhoto"]


class StoredPhoto(Document, frozen=True, kw_only=True):
    """The name under which a photograph lies in the folder beside the file, and its size in pixels."""

    picture: str
    width: int
    height: int


class RemovePhoto(Wire, frozen=True):
    """Which picture goes."""

    picture: str
