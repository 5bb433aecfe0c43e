"""A fault of the file → the one short line that says what to do about it, in a builder's words."""

from __future__ import annotations

from leverwright.project import Fault
from leverwright.wire.forms import label_of

__all__ = ["mending"]


def mending(fault: Fault, room: int) -> str:
    """What to do, at most `room` characters; no key of the file where the page has a word for it."""
    what = _what(fault.key)
    missing = fault.found.startswith("the key ") and fault.found.endswith(" is missing")
    if missing and what:
        return _shortened(f"Fill in the {what}", room)
    if not what:
        return _shortened(_sentence(fault.do), room)
    whole = f"The {what}: {fault.do}"
    return whole if len(whole) <= room else _shortened(f"Put right the {what}", room)


def _what(key: str | None) -> str:
    """`shocks.rear.rate` → "rate of rear"; empty where there is no word for it."""
    if key is None:
        return ""
    table, _, rest = key.partition(".")
    if not rest:
        return label_of("", table) or ""
    name, _, last = rest.rpartition(".")
    if not name:
        return f"place of {rest}" if table == "points" else rest
    label = label_of(table, last)
    return "" if label is None else f"{label} of {name}"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _shortened(text: str, room: int) -> str:
    return text if len(text) <= room else f"{text[: room - 1].rsplit(' ', 1)[0].rstrip(',:;')} …"
