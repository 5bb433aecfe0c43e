"""Strict JSON: ASCII only, no NaN, no infinity, the same bytes for the same document."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable
from typing import Literal, TypeVar

import msgspec

__all__ = ["Document", "StrictError", "Wire", "compact", "decode", "deeper_than", "number", "printed"]

_NOT_ASCII = re.compile(r"[^\x00-\x7f]")
_Kind = TypeVar("_Kind", bound=msgspec.Struct)


class Wire(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A piece of a document."""


class Document(Wire, frozen=True, kw_only=True):
    """A whole document; `leverwright` is the version of its form."""

    leverwright: Literal[1] = 1


class StrictError(ValueError):
    """A document that strict JSON cannot carry, or bytes that are not strict JSON."""


def number(value: float) -> float:
    """`value` as a plain float; refuses what JSON cannot say."""
    plain = float(value)
    if not math.isfinite(plain):
        raise StrictError(f"{plain} has no place in a document; null with a reason has")
    return plain + 0.0  # -0.0 is 0.0 to a reader


def printed(document: Wire) -> str:
    """The document as the terminal prints it: one line, every figure unrounded."""
    plain = msgspec.to_builtins(document)
    try:
        return json.dumps(plain, ensure_ascii=True, allow_nan=False)
    except ValueError as bad:
        raise StrictError("a figure of the document is not finite") from bad


def compact(document: Wire) -> bytes:
    """The document for the page, ASCII.

    Ten times quicker than `printed`. Its encoder would write a NaN as null, so
    whoever fills a document passes every figure through `number` or `column`.
    """
    raw = msgspec.json.encode(document)
    if raw.isascii():
        return raw
    # Anything outside ASCII stands inside a string, where an escape means the same.
    return _NOT_ASCII.sub(_escape, raw.decode("utf-8")).encode("ascii")


def _escape(found: re.Match[str]) -> str:
    return json.dumps(found.group())[1:-1]


def decode(raw: bytes, wanted: type[_Kind]) -> _Kind:
    """`raw` read as `wanted`, strictly; StrictError says what is wrong in one clause."""
    try:
        return msgspec.json.decode(raw, type=wanted)
    except RecursionError as bad:
        raise StrictError("brackets within brackets without end") from bad
    except (msgspec.MsgspecError, UnicodeDecodeError) as bad:
        raise StrictError(str(bad)) from bad


def deeper_than(levels: int, value: object) -> bool:
    """Whether lists and tables stand within one another on more than `levels` levels."""
    layer = [value]
    for _ in range(levels + 1):
        brackets = [outer for outer in layer if isinstance(outer, dict | list)]
        if not brackets:
            return False
        layer = [inner for outer in brackets for inner in _inside(outer)]
    return True


def _inside(value: dict[str, object] | list[object]) -> Iterable[object]:
    return value.values() if isinstance(value, dict) else value
