"""A project's text changed by operations, so that comments, order and line ends stay.

Each operation replaces, adds or removes only its own piece of the text. The result is read again, and is
handed out only when it says exactly what was asked.

    {"op": "set", "key": ["points", "hub"], "value": [1, 2, 3]}
    {"op": "add", "key": ["bars", "link"], "value": {"ends": ["a", "b"]}}
    {"op": "delete", "key": ["bars", "link"]}
    {"op": "rename", "table": "points", "from": "a", "to": "b"}
"""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from typing import Any

from leverwright.project.fault import Fault, ProjectError
from leverwright.project.faultlist import dotted
from leverwright.project.limits import LIMITS
from leverwright.project.renaming import renamed
from leverwright.project.splices import Change, NoChange, added, deleted, replaced, spliced
from leverwright.project.toml_text import Parsed, Refused, parse
from leverwright.project.toml_words import Unwritable
from leverwright.project.values import shown

__all__ = ["apply"]

_MOST_OPERATIONS = 500  # of one call; each takes some milliseconds
_MOST_KEYS = 8  # parts of one key; the format has four
_OPERATIONS = ("set", "add", "delete", "rename")
_FORMS = '"set" or "add" with key and value, "delete" with key, "rename" with table, from and to'


def apply(text: str, ops: Sequence[Mapping[str, object]], *, name: str = "project.toml") -> str:
    """The text with the operations carried out in order; ProjectError when one cannot be, and nothing is."""
    if len(ops) > _MOST_OPERATIONS:
        raise _refused(
            name, (), f"{len(ops)} operations", f"at most {_MOST_OPERATIONS}", "send them in parts"
        )
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    body = text.removeprefix("\ufeff")
    for op in ops:
        path = _path_of(op, name)
        for part in _in_parts(op, path, _parsed(body, name)):
            body = _applied(body, part, _path_of(part, name), name)
    return mark + body


def _in_parts(op: Mapping[str, object], path: tuple[str, ...], parsed: Parsed) -> list[Mapping[str, object]]:
    """A table set as a whole, taken apart: its other keys deleted, then each of its keys set."""
    value = op.get("value")
    item = parsed.outline.items.get(path)
    written_at_once = item is not None and item.form != "header"
    if (
        op["op"] != "set"
        or not isinstance(value, Mapping)
        or path not in parsed.outline.lines
        or written_at_once
    ):
        return [op]
    here: Any = parsed.values
    for part in path:
        here = here[part]
    gone = [{"op": "delete", "key": [*path, key]} for key in here if key not in value]
    return [*gone, *({"op": "set", "key": [*path, key], "value": one} for key, one in value.items())]


def _applied(text: str, op: Mapping[str, object], path: tuple[str, ...], name: str) -> str:
    """The text with one operation carried out."""
    parsed = _parsed(text, name)
    try:
        change = _change(op, path, text, parsed)
        after = spliced(text, change.splices)
    except NoChange as no:
        raise _refused(name, path, no.found, no.allowed, no.do) from None
    except Unwritable as value:
        found = f"{value} stands in the value"
        raise _refused(name, path, found, "numbers, texts, lists and tables", "check the value") from None
    if _parsed(after, name).values != change.values:
        found, allowed = "the change would alter something else", "a change of this key alone"
        raise _refused(name, path, found, allowed, "make it in a text editor")
    return after


def _parsed(text: str, name: str) -> Parsed:
    try:
        return parse(text, name)
    except Refused as refused:
        raise ProjectError(refused.fault) from None


def _path_of(op: Mapping[str, object], name: str) -> tuple[str, ...]:
    """The key that an operation is about; refused when the operation itself is not well formed."""
    kind = op.get("op")
    parts: tuple[object, ...]
    if kind not in _OPERATIONS:
        raise _refused(name, (), f"the operation {shown(kind)}", _FORMS, "write one of these")
    if kind == "rename":
        parts = (op.get("table"), op.get("from"), op.get("to"))
    else:
        key = op.get("key")
        parts = tuple(key) if isinstance(key, (list, tuple)) else ()
    if not parts or len(parts) > _MOST_KEYS or not all(isinstance(part, str) for part in parts):
        raise _refused(
            name, (), f"an operation {shown(kind)} without its key", _FORMS, "name the key as a list of texts"
        )
    if kind in ("set", "add") and "value" not in op:
        raise _refused(name, (), f"an operation {shown(kind)} without a value", _FORMS, "give it a value")
    path = tuple(str(part) for part in parts)
    return path[:2] if kind == "rename" else path


def _change(op: Mapping[str, Any], path: tuple[str, ...], text: str, parsed: Parsed) -> Change:
    """The pieces of text that an operation replaces, and what the text then says."""
    values = copy.deepcopy(parsed.values)
    if op["op"] == "rename":
        return renamed(text, parsed, path[0], path[1], str(op["to"]))
    if op["op"] == "delete":
        return deleted(text, parsed, values, path)
    value = _as_toml(op["value"], 0)
    if op["op"] == "add":
        return added(text, parsed, values, path, value)
    return replaced(text, parsed, values, path, value)


def _as_toml(value: Any, depth: int) -> Any:  # noqa: ANN401  any JSON value
    """The value with tuples as lists, as TOML reads them back."""
    if depth > LIMITS.levels:
        raise Unwritable("lists or tables too deep inside one another")
    if isinstance(value, (list, tuple)):
        return [_as_toml(one, depth + 1) for one in value]
    if isinstance(value, Mapping):
        return {key: _as_toml(one, depth + 1) for key, one in value.items()}
    return value


def _refused(name: str, path: tuple[str, ...], found: str, allowed: str, do: str) -> ProjectError:
    return ProjectError(Fault(name, None, dotted(path) if path else None, found, allowed, do))
