"""Photographs over HTTP: what was stored, what is to be removed, and what the picks say."""

from __future__ import annotations

from leverwright.wire.strict import Document, Wire

__all__ = ["PhotoReading", "PhotoText", "RemovePhoto", "SaidDistance", "SaidPhoto", "StoredPhoto"]


class StoredPhoto(Document, frozen=True, kw_only=True):
    """The name under which a photograph lies in the folder beside the file, and its size in pixels."""

    picture: str
    width: int
    height: int


class RemovePhoto(Wire, frozen=True):
    """Which picture goes."""

    picture: str


class PhotoText(Wire, frozen=True):
    """The text whose photographs are read."""

    text: str


class SaidDistance(Wire, frozen=True):
    """How far apart two picked points are, to be checked with a tape: "between 318 and 326 mm"."""

    ends: tuple[str, str]
    said: str
    said_inch: str


class SaidPhoto(Wire, frozen=True):
    """What one photograph says.

    sentence   the verdict, and in inches; `refused`: why nothing is taken from it
    notes      what limits it: the lens, the camera's place, rectangles that do not fit together
    distances  from the first picked point to the others
    rough      point -> about where it is, mm, in the file's axes: a first place for the tapes
    sketched   picked points that take their place from here, having no coordinates of their own
    """

    sentence: str
    sentence_inch: str
    refused: bool
    notes: list[str]
    notes_inch: list[str]
    distances: list[SaidDistance]
    rough: dict[str, list[float]]
    sketched: list[str]


class PhotoReading(Document, frozen=True, kw_only=True):
    """Every photograph of a text by name."""

    photos: dict[str, SaidPhoto]
