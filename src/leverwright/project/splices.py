"""Pieces of a TOML text replaced, added or removed, everything around them kept."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from leverwright.project.keys import SINGLE
from leverwright.project.outline import Item, Outline, Path
from leverwright.project.toml_text import Parsed
from leverwright.project.toml_words import key_text, value_text

__all__ = ["Change", "NoChange", "Splice", "added", "deleted", "replaced", "spliced"]

Splice = tuple[int, int, str]
"""From, to, what stands there then."""

# The one list that a thing may consist of, and the key it is when the thing is written as a table.
_SHORT = {"points": "at", "bodies": "points"}


class NoChange(Exception):
    """A change that cannot be made: found, allowed, what to do."""

    def __init__(self, found: str, allowed: str, do: str) -> None:
        super().__init__(found)
        self.found = found
        self.allowed = allowed
        self.do = do


@dataclass(frozen=True, slots=True)
class Change:
    """Pieces to put into the text, and what the text must say afterwards."""

    splices: tuple[Splice, ...]
    values: dict[str, Any]


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """The text with the pieces put in; they do not overlap."""
    for start, end, piece in sorted(splices, reverse=True):
        text = text[:start] + piece + text[end:]
    return text


def replaced(text: str, parsed: Parsed, values: dict[str, Any], path: Path, value: Any) -> Change:  # noqa: ANN401
    """A key set to a value, added when it is not there."""
    path = _meant(values, path, value)
    here = _get(values, path)
    if here is None:
        return added(text, parsed, values, path, value)
    item = parsed.outline.items.get(path)
    if item is not None and item.form != "header":
        _put(values, path, value)
        return Change(_new_value(text, parsed.outline, path, here, value), values)
    raise NoChange("a table stands here", "a table of keys", "set one of its keys")


def added(text: str, parsed: Parsed, values: dict[str, Any], path: Path, value: Any) -> Change:  # noqa: ANN401
    """A key that was not there."""
    if _get(values, path) is not None:
        raise NoChange(
            "the key is there already", "a key that is not there", "set it, or choose another name"
        )
    for length in range(len(path) - 1, 0, -1):
        above = _get(values, path[:length])
        if above is None:
            continue
        if isinstance(above, dict):
            break
        return _wrapped(text, parsed, values, path, value)
    _put(values, path, value)
    return Change((_insertion(text, parsed, path, value),), values)


def deleted(text: str, parsed: Parsed, values: dict[str, Any], path: Path) -> Change:
    """A key, or a table with all that is in it, taken out."""
    if _get(values, path) is None:
        raise NoChange(
            "the key is not in the file", "a key that is written", "if it is a twin, delete its original"
        )
    parent = _get(values, path[:-1])
    del parent[path[-1]]
    outline = parsed.outline
    item = outline.items.get(path)
    if item is not None and item.form == "member":
        splices = [_without_member(outline, item)]
    elif item is not None and item.form == "value":
        splices = [_line_of(text, item)]
    else:
        splices = list(_sections(text, outline, path))
    _keep_empty(values, path[:-1], outline)
    return Change(tuple(splices), values)


def _meant(values: dict[str, Any], path: Path, value: Any) -> Path:  # noqa: ANN401
    """Where a value belongs: a point's list goes to its `at` when it is a table, and the other way round."""
    short = _SHORT.get(path[0])
    if short is None:
        return path
    here = _get(values, path)
    if len(path) == 2 and isinstance(value, list) and isinstance(here, dict):
        # A rough place that is put elsewhere stays a rough place.
        return (*path, "sketch" if "sketch" in here and short not in here else short)
    if len(path) == 3 and path[2] == short and isinstance(_get(values, path[:2]), list):
        return path[:2]
    return path


def _new_value(text: str, outline: Outline, path: Path, old: Any, new: Any) -> tuple[Splice, ...]:  # noqa: ANN401
    """A value exchanged; of a list over several lines only what changes."""
    start, end = outline.items[path].value
    places = outline.arrays.get(path)
    if isinstance(old, list) and isinstance(new, list) and places is not None:
        if len(old) == len(new):
            pairs = zip(places, old, new, strict=True)
            return tuple(
                (*place, value_text(after)) for place, before, after in pairs if not _same(before, after)
            )
        if "\n" in text[start:end]:
            if new[: len(old)] == old and places:
                rest = "".join(f", {value_text(one)}" for one in new[len(old) :])
                return ((places[-1][1], places[-1][1], rest),)
            kept = _kept(old, new)
            if kept is not None:
                return tuple(
                    _without_element(text, place, end) for at, place in enumerate(places) if at not in kept
                )
    return ((start, end, value_text(new)),)


def _same(before: Any, after: Any) -> bool:  # noqa: ANN401
    return type(before) is type(after) and before == after


def _kept(old: list[Any], new: list[Any]) -> set[int] | None:
    """Which elements of `old` make `new` when the others go; None when none do."""
    kept: set[int] = set()
    wanted = 0
    for at, one in enumerate(old):
        if wanted < len(new) and one == new[wanted]:
            kept.add(at)
            wanted += 1
    return kept if wanted == len(new) else None


def _without_element(text: str, place: tuple[int, int], end: int) -> Splice:
    """An element with the comma after it, and its line when nothing else stands on it."""
    start, stop = place
    at = stop
    while at < end and text[at] in " \t\r\n":
        at += 1
    if text[at] == ",":
        stop = at + 1
    line_start = text.rfind("\n", 0, start) + 1
    line_end = text.find("\n", stop)
    if not text[line_start:start].strip() and not text[stop:line_end].strip() and line_end < end:
        return line_start, line_end + 1, ""
    while text[stop] in " \t":
        stop += 1
    return start, stop, ""


def _wrapped(text: str, parsed: Parsed, values: dict[str, Any], path: Path, value: Any) -> Change:  # noqa: ANN401
    """A second key of a point that is written as a list: the list becomes its `at`."""
    name = path[:2]
    item = parsed.outline.items.get(name)
    if path[2:] == (_SHORT.get(path[0]),):
        raise NoChange("the key is there already", "a key that is not there", "set it")
    if path[0] != "points" or len(path) != 3 or item is None or not isinstance(_get(values, name), list):
        raise NoChange(
            "a value stands where a table is needed", "a key of a table", "set the value above it first"
        )
    start, end = item.value
    _put(values, name, {"at": _get(values, name), path[2]: value})
    extra = f"{key_text(path[2])} = {value_text(value)}"
    return Change(((start, end, f"{{ at = {text[start:end]}, {extra} }}"),), values)


def _insertion(text: str, parsed: Parsed, path: Path, value: Any) -> Splice:  # noqa: ANN401
    """Where and how a new key is written: beside its like."""
    outline = parsed.outline
    parent = path[:-1]
    for length in range(len(parent), 0, -1):
        above = path[:length]
        table = outline.items.get(above)
        if table is not None and table.form != "header":
            inside = _nested(path[length + 1 :], value)
            return _new_member(outline, above, f"{key_text(path[length])} = {value_text(inside)}")
        beside = _dotted_lines(outline, above)
        if beside:
            last = max(beside, key=lambda item: item.value[1])
            relative = ".".join(map(key_text, path[len(last.base) :]))
            return _after_line(text, last.value[1], f"{relative} = {value_text(value)}")
    if _is_section(path, value):
        return _new_section(text, outline, path, value)
    if not parent or parent in outline.items:
        return _new_line(text, outline, parent, f"{key_text(path[-1])} = {value_text(value)}")
    if len(path) > 2 and parent not in outline.lines and (path[0] in ("points", *SINGLE) or len(path) > 3):
        return _insertion(text, parsed, parent, {path[-1]: value})
    return _new_section(text, outline, parent, {path[-1]: value})


def _nested(path: Path, value: Any) -> Any:  # noqa: ANN401
    """The value in as many tables as the path has parts."""
    for part in reversed(path):
        value = {part: value}
    return value


def _is_section(path: Path, value: Any) -> bool:  # noqa: ANN401
    """Is it written under a header of its own: a bar, a wheel and so on?"""
    if not isinstance(value, dict):
        return False
    return (
        path[0] in SINGLE[1:]
        if len(path) == 1
        else len(path) == 2 and path[0] not in ("points", "bodies", *SINGLE)
    )


def _dotted_lines(outline: Outline, parent: Path) -> list[Item]:
    """Lines that write keys of `parent` from a table above it, as in `bars.link.ends = …`."""
    return [
        item
        for path, item in outline.items.items()
        if item.form == "value" and path[: len(parent)] == parent and len(item.base) < len(parent) < len(path)
    ]


def _new_section(text: str, outline: Outline, path: Path, value: dict[str, Any]) -> Splice:
    """A table under its own header, after the last of its kind."""
    header = "[" + ".".join(map(key_text, path)) + "]"
    lines = [header, *(f"{key_text(key)} = {value_text(one)}" for key, one in value.items())]
    ends = [
        item.value[1]
        for inside, item in outline.items.items()
        if inside[:1] == path[:1] and item.form != "member"
    ]
    newline = _newline(text)
    if not ends:
        at = len(text)
        gap = "" if not text.strip() else newline if text.endswith("\n") else newline * 2
        return at, at, gap + newline.join(lines) + newline
    at, before = _line_end(text, max(ends))
    return at, at, before + newline + newline.join(lines) + newline


def _new_line(text: str, outline: Outline, table: Path, line: str) -> Splice:
    """A line after the last one of a table."""
    ends = [item.value[1] for item in outline.items.values() if item.form == "value" and item.base == table]
    header = outline.items.get(table)
    if header is not None:
        ends.append(header.value[1])
    if not ends:
        return 0, 0, line + _newline(text)
    return _after_line(text, max(ends), line)


def _after_line(text: str, end: int, line: str) -> Splice:
    at, before = _line_end(text, end)
    return at, at, before + line + _newline(text)


def _line_end(text: str, end: int) -> tuple[int, str]:
    """The start of the line after the one in which `end` lies, and what to write first to get there."""
    found = text.find("\n", end)
    return (len(text), _newline(text)) if found < 0 else (found + 1, "")


def _newline(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _members(outline: Outline, table: Path) -> list[Item]:
    """Keys written between the braces of an inline table, in order."""
    inside = (item for item in outline.items.values() if item.form == "member" and item.base == table)
    return sorted(inside, key=lambda item: item.key)


def _new_member(outline: Outline, table: Path, member: str) -> Splice:
    members = _members(outline, table)
    if not members:
        start, end = outline.items[table].value
        return start, end, f"{{ {member} }}"
    at = members[-1].value[1]
    return at, at, f", {member}"


def _without_member(outline: Outline, item: Item) -> Splice:
    members = _members(outline, item.base)
    at = members.index(item)
    if at:
        return members[at - 1].value[1], item.value[1], ""
    if len(members) > 1:
        return item.key[0], members[1].key[0], ""
    start, end = outline.items[item.base].value
    return start, end, "{}"


def _line_of(text: str, item: Item) -> Splice:
    """The whole line, or lines, of a key."""
    start = text.rfind("\n", 0, item.key[0]) + 1
    end, _ = _line_end(text, item.value[1])
    return start, end, ""


def _sections(text: str, outline: Outline, path: Path) -> Iterable[Splice]:
    """Everything of a table: its headers with what follows them, and lines that write its keys from above."""
    spans = []
    for inside, item in outline.items.items():
        if inside[: len(path)] != path or item.form == "member":
            continue
        start, end, _ = _line_of(text, item)
        spans.append((start, end))
    for start, end in _joined(sorted(spans)):
        blank = text[end : end + 2].startswith(("\n", "\r\n")) and (
            start == 0 or text[:start].endswith(("\n\n", "\n\r\n"))
        )
        yield start, (text.index("\n", end) + 1 if blank else end), ""


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Neighbouring pieces as one."""
    joined: list[tuple[int, int]] = []
    for start, end in spans:
        if joined and start == joined[-1][1]:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return joined


def _keep_empty(values: dict[str, Any], path: Path, outline: Outline) -> None:
    """A table that only its keys made is gone with the last of them."""
    while path and path not in outline.items and not _get(values, path):
        del _get(values, path[:-1])[path[-1]]
        path = path[:-1]


def _get(values: dict[str, Any], path: Path) -> Any:  # noqa: ANN401
    """What stands at a path; None when nothing does."""
    here: Any = values
    for part in path:
        if not isinstance(here, dict) or part not in here:
            return None
        here = here[part]
    return here


def _put(values: dict[str, Any], path: Path, value: Any) -> None:  # noqa: ANN401
    here = values
    for part in path[:-1]:
        here = here.setdefault(part, {})
    here[path[-1]] = value
