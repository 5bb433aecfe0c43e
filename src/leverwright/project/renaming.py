"""A point, body, bar and so on renamed wherever its name stands, its twin with it.

A name stands as a key in its own table, as a value, as a key of a table of names (`picks`), and as the key of what is
named for it: a weighing for its wheel, bench readings for their shock.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from leverwright.project.keys import KEYS, MIRRORED, SINGLE
from leverwright.project.limits import LIMITS
from leverwright.project.mirror import LEFT, RIGHT, other_side
from leverwright.project.outline import Path, said
from leverwright.project.splices import Change, NoChange, Splice
from leverwright.project.toml_text import Parsed
from leverwright.project.toml_words import key_text, value_text
from leverwright.quantity import quoted

__all__ = ["renamed"]

_RENAMED_TABLES = (
    *("points", "bodies", "bars", "shocks", "springs", "straps", "held", "wheels"),
    *("tape", "masses", "loads", "pile", "photos", "travels"),
)
_NAMED_FOR = {"wheels": "weighed", "shocks": "bench", "pile": "bench"}


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
    taken |= _taken_beside(parsed, table, names)
    if taken:
        raise NoChange(f"{quoted(min(taken))} is there already", "a name that is free", "choose another name")
    return names


def _taken_beside(parsed: Parsed, table: str, names: Mapping[str, str]) -> set[str]:
    """New names that something else has where what is named for the old ones would go."""
    beside = _things(parsed, _NAMED_FOR.get(table, ""))
    return {
        new
        for old, new in names.items()
        if old != new and new in beside and _key_names(parsed.values, (_NAMED_FOR[table], old)) == table
    }


def _things(parsed: Parsed, table: str) -> Mapping[str, object]:
    return _dict(parsed.values, table)


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
    """The name where it is a key: in its table, in headers, in dotted keys, in what is named for it."""
    splices: list[Splice] = []
    for path, item in parsed.outline.items.items():
        above = len(path) - len(item.parts)
        splices += [
            (*item.parts[at - above], key_text(names[path[at]]))
            for at in range(above, len(path))
            if path[at] in names and _key_names(parsed.values, path[: at + 1]) == table
        ]
    return splices


def _key_names(values: Any, path: Path) -> str | None:  # noqa: ANN401  what a parser gives
    """The table of which the last part of a path is a name; None where it is a plain key."""
    if len(path) == 4 and path[0] in KEYS and path[2] in KEYS[path[0]] and KEYS[path[0]][path[2]].by_name:
        return KEYS[path[0]][path[2]].of
    if len(path) != 2:
        return None
    table, name = path
    if table == "weighed":
        here = values[table].get(name) if isinstance(values.get(table), dict) else None
        return None if isinstance(here, dict) and "wheel" in here else "wheels"
    if table == "bench":
        return next((owner for owner in ("shocks", "pile") if name in _dict(values, owner)), None)
    return table


def _dict(values: Any, table: str) -> Mapping[str, object]:  # noqa: ANN401
    there = values.get(table)
    return there if isinstance(there, dict) else {}


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
    if path == ("pose", "standing"):
        return "loads"
    if len(path) == 2 and path[0] == "bodies":
        return "points"
    if len(path) == 2 and path[0] in SINGLE:
        path = (path[0], "", path[1])
    if len(path) == 3 and path[0] in KEYS and path[2] in KEYS[path[0]]:
        key = KEYS[path[0]][path[2]]
        return None if key.by_name else key.of
    return None


def _with_names(values: dict[str, Any], table: str, names: Mapping[str, str]) -> dict[str, Any]:
    """What the file says with the names changed."""

    def renamed_in(here: Any, path: Path) -> Any:  # noqa: ANN401
        if isinstance(here, dict):
            return {
                (names.get(key, key) if _key_names(values, (*path, key)) == table else key): renamed_in(
                    value, (*path, key)
                )
                for key, value in here.items()
            }
        if isinstance(here, list):
            return [renamed_in(one, path) for one in here]
        if isinstance(here, str) and _refers_to(path) == table:
            return names.get(here, here)
        return here

    return {key: renamed_in(value, (key,)) for key, value in values.items()}
