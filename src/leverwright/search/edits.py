"""Edits of the project file that change one thing of a vehicle, as the page and the library apply them."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence

from leverwright.geometry import Array
from leverwright.project import Project
from leverwright.quantity import to_surface

__all__ = ["Ops", "applied", "move_point", "set_value", "written_name"]

Ops = tuple[Mapping[str, object], ...]


def written_name(project: Project, point: str) -> str:
    """The name under which the file itself states a point: a twin that is only mirrored is its original's."""
    twin = project.points[point].twin_of
    written = tomllib.loads(project.text).get("points", {})
    return point if point in written or twin is None else twin


def move_point(project: Project, point: str, place: Array) -> Mapping[str, object]:
    """Put a point at a place (3,) m; a mirrored twin moves its original. Rounded to a tenth of a millimetre."""
    name = written_name(project, point)
    side = -1.0 if name != point else 1.0
    at = [float(place[0]), side * float(place[1]), float(place[2])]
    if project.plane is not None:
        at = [at[0], at[2]] if project.plane == "xz" else [at[1], at[2]]
    value = [round(to_surface(x, "length"), 1) for x in at]
    stated = tomllib.loads(project.text)["points"][name]
    key: Sequence[str] = ["points", name, "at"] if isinstance(stated, dict) else ["points", name]
    return {"op": "set", "key": list(key), "value": value}


def set_value(key: Sequence[str], value: object) -> Mapping[str, object]:
    """Set one value of the file."""
    return {"op": "set", "key": list(key), "value": value}


def applied(project: Project, ops: Ops) -> Project:
    """The project with the edits done; ProjectError where the result is no vehicle."""
    from leverwright.project import edit

    return Project.from_text(edit.apply(project.text, list(ops)), name=project.name)
