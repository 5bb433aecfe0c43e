"""Twins by name: what ends in `-left` gains a `-right` twin, with y negated.

A written `-right` table replaces only the keys that it states; a written `-right` point or body stands as
it is written. A body without a side that carries `-left` points carries their twins too.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from leverwright.project.entries import Entry
from leverwright.project.keys import KEYS, MIRRORED
from leverwright.project.values import Along, At

__all__ = ["HAS_A_SIDE", "LEFT", "RIGHT", "other_side", "with_twins"]

LEFT = "-left"
RIGHT = "-right"
HAS_A_SIDE = 5e-3
"""m. A point further from the middle plane than this has a side; less may be a slip of the tape."""

Tables = dict[str, dict[str, Entry]]


def other_side(name: str, known: Collection[str] = ()) -> str:
    """The name on the other side; a name without a side is its own, and so is a `-right` one that is no twin."""
    if name.endswith(LEFT):
        return name.removesuffix(LEFT) + RIGHT
    if name.endswith(RIGHT):
        left = name.removesuffix(RIGHT) + LEFT
        return left if left in known else name
    return name


def with_twins(tables: Mapping[str, Mapping[str, Entry]]) -> Tables:
    """All tables with each twin directly after its original."""
    written = {table: set(things) for table, things in tables.items()}
    mirrored = {
        table: _table_with_twins(table, things, written) if table in MIRRORED else dict(things)
        for table, things in tables.items()
    }
    points = mirrored["points"]
    for name, body in mirrored["bodies"].items():
        if not name.endswith((LEFT, RIGHT)):
            mirrored["bodies"][name] = _carrying_twins(body, points)
    return mirrored


def _table_with_twins(
    table: str, things: Mapping[str, Entry], written: Mapping[str, set[str]]
) -> dict[str, Entry]:
    """One table with its twins."""
    result: dict[str, Entry] = {}
    for name, entry in things.items():
        if name.endswith(RIGHT) and other_side(name, things) in things and other_side(name, things) != name:
            continue  # put after its original
        result[name] = entry
        if name.endswith(LEFT):
            twin = other_side(name)
            result[twin] = _twin(table, entry, things.get(twin), written)
    return result


def _twin(table: str, entry: Entry, stated: Entry | None, written: Mapping[str, set[str]]) -> Entry:
    """The twin of one thing, with what its own table states."""
    if stated is not None and table in ("points", "bodies"):
        return stated
    fields = {key: _mirrored(table, key, value, written) for key, value in entry.fields.items()}
    places = {key: entry.place(key) for key in (*entry.fields, *entry.broken)}
    twin = replace(entry, name=other_side(entry.name), fields=fields, places=places, twin_of=entry.name)
    if stated is None:
        return twin
    inherited = {key: value for key, value in fields.items() if key not in stated.broken}
    return replace(
        twin,
        path=stated.path,
        fields={**inherited, **stated.fields},
        places={**places, **stated.places},
        broken=(entry.broken - frozenset(stated.fields)) | stated.broken,
    )


def _mirrored(table: str, key: str, value: object, written: Mapping[str, set[str]]) -> object:
    """What the twin says at a key."""
    if isinstance(value, At):
        x, y, z = value.at
        return value._replace(at=(x, 0.0 - y, z))
    if isinstance(value, Along):
        return value._replace(y=0.0 - value.y)
    known = KEYS[table].get(key)
    if known is None or known.of is None:
        return value
    names = written[known.of]
    if known.of == "shocks":  # they have no twins: a -right one is another only when it is written
        return other_side(str(value), names) if other_side(str(value)) in names else value
    if isinstance(value, tuple):
        return tuple(other_side(name, names) for name in value)
    return other_side(str(value), names)


def _carrying_twins(body: Entry, points: Mapping[str, Entry]) -> Entry:
    """A body without a side, with the twin of each of its `-left` points after it."""
    listed = body.fields.get("points")
    if not isinstance(listed, tuple):
        return body
    carried: list[str] = []
    for name in listed:
        carried.append(name)
        twin = other_side(name)
        if name.endswith(LEFT) and twin in points and twin not in listed:
            carried.append(twin)
    return replace(body, fields={**body.fields, "points": tuple(carried)})
