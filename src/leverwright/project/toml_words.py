"""A value written as TOML: what is read back equals it."""

from __future__ import annotations

import math

__all__ = ["Unwritable", "key_text", "value_text"]

_BARE = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-")
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}
_LARGEST_WHOLE = 2**53  # over it a float is not exact, and some programs read floats only


class Unwritable(Exception):
    """A value that no project file can hold; the text says what it is."""


def key_text(name: str) -> str:
    """A name as one part of a key, in quotes where it must be."""
    return name if name and _BARE.issuperset(name) else _string(name)


def value_text(value: object) -> str:
    """A value on one line; Unwritable when TOML has no such value."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, int):
        return _whole(value)
    if isinstance(value, float):
        return _decimal(value)
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(value_text(one) for one in value) + "]"
    if isinstance(value, dict):
        return _table(value)
    raise Unwritable("something that is no number, text, list or table")


def _table(value: dict[object, object]) -> str:
    members = []
    for key, inside in value.items():
        if not isinstance(key, str):
            raise Unwritable("a key that is no text")
        members.append(f"{key_text(key)} = {value_text(inside)}")
    return "{ " + ", ".join(members) + " }" if members else "{}"


def _whole(value: int) -> str:
    if abs(value) > _LARGEST_WHOLE:
        raise Unwritable("a whole number that is too large")
    return str(value)


def _decimal(value: float) -> str:
    if not math.isfinite(value):
        raise Unwritable("a number that is not finite")
    return repr(value)


def _string(value: str) -> str:
    if any("\ud800" <= c <= "\udfff" for c in value):
        raise Unwritable("half of a character pair")
    return '"' + "".join(_ESCAPES.get(c) or _character(c) for c in value) + '"'


def _character(c: str) -> str:
    return f"\\u{ord(c):04X}" if ord(c) < 0x20 or ord(c) == 0x7F else c
