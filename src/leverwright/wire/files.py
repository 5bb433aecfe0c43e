"""Reading and saving the project file over HTTP, and the making of sheets."""

from __future__ import annotations

from typing import Literal

from leverwright.wire.strict import Document, Wire

__all__ = ["MakeRequest", "Paper", "ProjectText", "SaveRequest", "Saved", "Sheet"]

Sheet = Literal["templates", "card", "trial", "dxf", "svg"]
Paper = Literal["A4", "Letter"]


class ProjectText(Document, frozen=True, kw_only=True):
    """The file as it is on the disk."""

    name: str
    text: str
    revision: str


class SaveRequest(Wire, frozen=True):
    """The text to write; the revision it replaces goes in `If-Match`."""

    text: str


class Saved(Document, frozen=True, kw_only=True):
    """Written, read back and on the disk."""

    revision: str


class MakeRequest(Wire, frozen=True):
    """Which sheet of which vehicle, on which paper."""

    text: str
    sheet: Sheet
    paper: Paper = "A4"
