"""Reading and saving the project file over HTTP, and the making of sheets."""

from __future__ import annotations

from typing import Literal

import msgspec

from leverwright.wire.strict import Document, Wire

__all__ = ["MakeRequest", "Paper", "ProjectText", "SaveRequest", "Saved", "Sheet"]

Sheet = Literal["templates", "card", "trial", "setup", "measuring", "dxf", "svg"]
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
    """Which sheet of which vehicle, on which paper; the rest as typed, with units, null where nothing was.

    hole        diameter of every hole that has none of its own; `holes`: by point
    bar_across  what the 200 mm bar across the page read on the last plain print; `bar_up`: up the page
    """

    text: str
    sheet: Sheet
    paper: Paper = "A4"
    hole: str | None = None
    holes: dict[str, str] = msgspec.field(default_factory=dict)
    bar_across: str | None = None
    bar_up: str | None = None
