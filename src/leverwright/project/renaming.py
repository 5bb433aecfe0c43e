"""A point, body, bar and so on renamed wherever its name stands, its twin with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from leverwright.project.keys import KEYS, MIRRORED
from leverwright.project.limits import LIMITS
from leverwright.project.mirror import LEFT, RIGHT, other_side
from leverwright.project.outline import Path, said
from leverwright.project.splices import Change, NoChange, Splice
from leverwright.project.toml_text import Parsed
from leverwright.project.toml_words import key_text, value_text
from leverwright.quantity import quoted

__all__ = ["renamed"]

_RENAMED_TABLES = ("points", "bodies", "bars", "shocks", "springs", "straps", "held", "wheels")


def renamed(text: str, parsed: Parsed, table: str, old: str, new: str) -> Change:
    """Every place of a name changed, `-left` and `-right` together where the file mirrors."""
    if table not in _RENAMED_TABLES:
        raise NoChange(
            f"{quoted(table)} holds no names", ", ".join(_RENAMED_TABLES), "name one of these tables"
        )
    names = _new_names(parsed, table, old, new)
    splices = [*_keys(parsed, table, names), *_uses(text, parsed, table, names)]
    return Change(tuple(splices), _with_names(parsed.values, table, names))


def _new_names(parsed: Parsed, table: str, old: str, new: str) -> dict[str, str]:
    """Old name → new name, the twin's too; refused when a name is taken or would lose its twin."""
    things = _things(parsed, table)
    mirrored = parsed.values.get("mirror") is True and table in MIRRORED
    known = _with_twins(things) if mirrored else set(things)
    if old not in known:
        raise NoChange(f"there is no {quoted(old)}", f"a name from [{table}]", "check the name")
    if (table, old) == ("bodies", "chassis"):
        raise NoChange("'chassis' is the body that stays still", "another body", "leave its name")
    if not new.strip() or len(new) > LIMITS.name_characters:
        raise NoChange(
            "no fit name to change to", f"1 to {LIMITS.name_characters} characters", "choose another name"
        )
    names = {old: new}
    if (
        mirrored
        and old.endswith((LEFT, RIGHT))
        and other_side(old, things) in known
        and other_side(old, things) != old
    ):
        side = old[old.rindex("-") :]
        if new.endswith(side):
            names[other_side(old, things)] = new.removesuffix(side) + (RIGHT if side == LEFT else LEFT)
        elif old not in things or _is_used(parsed, table, other_side(old, things)):
            raise NoChange(
                f"{quoted(new)} has no side", f"a name that ends in {side}", "keep the end of the name"
            )
    elif mirrored and new.endswith((LEFT, RIGHT)) and other_side(new) in known - {old}:
        raise NoChange(
            f"{quoted(other_side(new))} is there already", "a name without a twin", "choose another name"
        )
    taken = (set(names.values()) & (known - set(names))) if new != old else set()
    if taken:
        raise NoChange(f"{quoted(min(taken))} is there already", "a name that is free", "choose another name")
    return names


def _things(parsed: Parsed, table: str) -> Mapping[str, object]:
    things = parsed.values.get(table)
    return things if isinstance(things, dict) else {}


def _with_twins(things: Mapping[str, object]) -> set[str]:
    """All names of a table, those of unwritten twins too."""
    return {*things, *(other_side(name) for name in things if name.endswith(LEFT))}


def _is_used(parsed: Parsed, table: str, name: str) -> bool:
    """Does a name stand in the file, as a key or in a list?"""
    if name in _things(parsed, table):
        return True
    probe = {name: name + "x"}
    return bool(_with_names(parsed.values, table, probe) != parsed.values)


def _keys(parsed: Parsed, table: str, names: Mapping[str, str]) -> list[Splice]:
    """The name where it is a key: in its table, in headers, in dotted keys."""
    splices: list[Splice] = []
    for path, item in parsed.outline.items.items():
        at = 1 - (len(path) - len(item.parts))
        if len(path) > 1 and path[0] == table and path[1] in names and at >= 0:
            splices.append((*item.parts[at], key_text(names[path[1]])))
    return splices


def _uses(text: str, parsed: Parsed, table: str, names: Mapping[str, str]) -> list[Splice]:
    """The name where others refer to it."""
    splices: list[Splice] = []
    for path, start, end in parsed.outline.strings:
        if _refers_to(path) == table:
            name = said(text[start:end])
            if name in names:
                splices.append((start, end, value_text(names[name])))
    return splices


def _refers_to(path: Path) -> str | None:
    """The table whose names the value at a path holds."""
    if len(path) == 2 and path[0] == "bodies":
        return "points"
    if len(path) == 3 and path[0] in KEYS and path[2] in KEYS[path[0]]:
        return KEYS[path[0]][path[2]].of
    return None


def _with_names(values: Any, table: str, names: Mapping[str, str], path: Path = ()) -> Any:  # noqa: ANN401
    """What the file says with the names changed."""
    if isinstance(values, dict):
        is_table = path == (table,)
        return {
            (names.get(key, key) if is_table else key): _with_names(value, table, names, (*path, key))
            for key, value in values.items()
        }
    if isinstance(values, list):
        return [_with_names(one, table, names, path) for one in values]
    if isinstance(values, str) and _refers_to(path) == table:
        return names.get(values, values)
    return values
