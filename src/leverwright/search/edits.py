"""Edits of the project file that change one thing of a vehicle, as the page and the library apply them."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import cast

from leverwright.geometry import Array
from leverwright.project import Point, Project, edit
from leverwright.quantity import from_surface, read_quantity, to_surface

__all__ = ["Ops", "applied", "move_point", "set_value", "tried", "written_name"]

Ops = tuple[Mapping[str, object], ...]


def written_name(project: Project, point: str) -> str:
    """The name under which the file itself states a point: a twin that is only mirrored is its original's."""
    twin = project.points[point].twin_of
    written = _written_points(project)
    return point if point in written or twin is None else twin


def _written_points(project: Project) -> Mapping[str, object]:
    return _points_in(project.text)


@lru_cache(maxsize=8)
def _points_in(text: str) -> Mapping[str, object]:
    """The points that a file's text states; read once for all changes tried on it."""
    points = tomllib.loads(text.removeprefix("\ufeff")).get("points")
    return MappingProxyType(points if isinstance(points, dict) else {})


def move_point(project: Project, point: str, place: Array) -> Mapping[str, object]:
    """Put a point at a place (3,) m; a mirrored twin moves its original. Rounded to a tenth of a millimetre."""
    name = written_name(project, point)
    side = -1.0 if name != point else 1.0
    at = [float(place[0]), side * float(place[1]), float(place[2])]
    if project.plane is not None:
        at = [at[0], at[2]] if project.plane == "xz" else [at[1], at[2]]
    value = [round(to_surface(x, "length"), 1) for x in at]
    stated = _written_points(project)[name]
    key: Sequence[str] = ["points", name, "at"] if isinstance(stated, dict) else ["points", name]
    return {"op": "set", "key": list(key), "value": value}


def set_value(key: Sequence[str], value: object) -> Mapping[str, object]:
    """Set one value of the file."""
    return {"op": "set", "key": list(key), "value": value}


def applied(project: Project, ops: Ops) -> Project:
    """The project with the edits done in its text; ProjectError where the result is no vehicle."""
    return Project.from_text(edit.apply(project.text, list(ops)), name=project.name)


def tried(project: Project, ops: Ops) -> Project:
    """The same vehicle as `applied`, made without writing and reading the text again: its `text` stays the old one.

    For trying many changes; knows points, lengths of bars and preloads. ProjectError as `applied`.
    """
    points, bars, shocks = dict(project.points), dict(project.bars), dict(project.shocks)
    written = _written_points(project)
    for op in ops:
        key, value = list(cast("Sequence[str]", op["key"])), op["value"]
        if key[0] == "points":
            _move(points, key[1], cast("Sequence[float]", value), (project.plane, frozenset(written)))
        elif key[0] == "bars" and key[2:] == ["length"]:
            length = read_quantity(cast("float", value), "length")
            for bar in [b for b in bars.values() if key[1] in (b.name, b.twin_of)]:
                bars[bar.name] = replace(bar, length=length)
        elif key[0] == "shocks" and key[2:] == ["preload"]:
            shocks[key[1]] = replace(shocks[key[1]], preload=read_quantity(cast("float", value), "length"))
        else:
            return applied(project, ops)
    return replace(project, points=points, bars=bars, shocks=shocks)


def _move(
    points: dict[str, Point], name: str, value: Sequence[float], form: tuple[str | None, frozenset[str]]
) -> None:
    """Move a point and the twin that only mirrors it; `form` is the drawing's plane and the points written out."""
    plane, written = form
    numbers = [from_surface(v, "length") for v in value]
    if plane is not None:
        numbers = [numbers[0], 0.0, numbers[1]] if plane == "xz" else [0.0, *numbers]
    points[name] = replace(points[name], at=(numbers[0], numbers[1], numbers[2]))
    for twin in [p for p in points.values() if p.twin_of == name and p.name not in written]:
        points[twin.name] = replace(twin, at=(numbers[0], -numbers[1], numbers[2]))
