"""Edits of places in a file that was taped: the readings as they will be once it is built so."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import cast

from leverwright.project import Point, Project
from leverwright.project.measuring import Tape
from leverwright.quantity import to_surface
from leverwright.search.edits import Ops, set_value, tried
from leverwright.study import Study

__all__ = ["as_taped"]

_STILL = 1e-3  # m; a plumb or level statement that is off by less still holds to a builder's eye


def as_taped(study: Study, ops: Ops) -> Ops:
    """The same edits for the file: a taped place moves by what its tapes will read, its sketch with it.

    A file without tapes has them unchanged.
    """
    if study.measured.tapes is None or not any(_key(op)[0] == "points" for op in ops):
        return ops
    changed = tried(study.project, ops)
    moved = {n for n, point in changed.points.items() if point.at != study.project.points[n].at}
    network = study.measured.tapes.network.network
    held = moved & set(network.names)
    floor = study.measured.tapes.network.floor or 0.0
    out = [op for op in ops if _key(op)[0] != "points" or _key(op)[1] not in held]
    for name in sorted(held):
        point = study.file.points[name]
        if point.twin_of is None:
            key = ["points", name, "sketch" if point.sketched else "at"]
            out.append(set_value(key, _said(changed, changed.points[name])))
    for tape in study.file.tape.values():
        if moved & set(tape.points):
            out += _read(changed, tape, floor)
    for photo in study.file.photos.values():
        out += [
            {"op": "delete", "key": ["photos", photo.name, "picks", n]} for n in photo.picks if n in moved
        ]
    return tuple(out)


def _key(op: Mapping[str, object]) -> list[str]:
    return cast("list[str]", op["key"])


def _said(project: Project, point: Point) -> list[float]:
    """A place in the file's unit and form."""
    x, y, z = (round(to_surface(c, "length"), 1) for c in point.at)
    return {None: [x, y, z], "xz": [x, z], "yz": [y, z]}[project.plane]


def _read(project: Project, tape: Tape, floor: float) -> Iterator[Mapping[str, object]]:
    """What a tape will read, or its end where the statement holds no more."""
    at = [project.points[name].at for name in tape.points]
    if tape.kind == "between":
        yield _reads(tape, math.dist(at[0], at[1]))
    elif tape.kind == "height":
        yield _reads(tape, at[0][2] - floor)
    elif tape.kind == "offset":
        yield _reads(tape, at[0][1])
    elif tape.kind == "ahead":
        yield _reads(tape, at[1][0] - at[0][0])
    elif tape.kind == "along" or not _holds(tape, at):
        yield {"op": "delete", "key": ["tape", tape.name]}


def _reads(tape: Tape, value: float) -> Mapping[str, object]:
    return set_value(["tape", tape.name, "reads"], round(to_surface(value, "length"), 1))


def _holds(tape: Tape, at: list[tuple[float, float, float]]) -> bool:
    """Whether a plumb or level statement is still true; a side is looked at when the file is read."""
    if tape.kind == "plumb":
        return math.dist(at[0][:2], at[1][:2]) < _STILL
    if tape.kind == "level":
        heights = [place[2] for place in at]
        return max(heights) - min(heights) < _STILL
    return True
