"""Project → Mechanism: names become indices, the file's words become the solver's numbers."""

from __future__ import annotations

import numpy as np

from leverwright.linkage import Bar, Guide, Line, Mechanism, Turn, WheelPlace
from leverwright.project import Project

__all__ = ["mechanism_of"]

_NORMAL = {"xz": (0.0, 1.0, 0.0), "yz": (1.0, 0.0, 0.0)}


def mechanism_of(project: Project) -> Mechanism:
    """The linkage that a project describes; springs first, then straps, are its lines."""
    names = tuple(project.points)
    at = {name: index for index, name in enumerate(names)}
    listed = list(project.bodies.values())
    bodies = [body for body in listed if body.name == "chassis"] + [
        body for body in listed if body.name != "chassis"
    ]
    index = {body.name: k for k, body in enumerate(bodies)}

    def pair(ends: tuple[str, str]) -> tuple[int, int]:
        return at[ends[0]], at[ends[1]]

    lines = [Line(s.name, pair(s.ends)) for s in project.springs.values() if s.ends is not None]
    lines += [Line(s.name, pair(s.ends)) for s in project.straps.values()]
    return Mechanism(
        names,
        np.array([point.at for point in project.points.values()]),
        tuple(body.name for body in bodies),
        tuple(tuple(at[p] for p in body.points) for body in bodies),
        bars=tuple(
            Bar(bar.name, pair(bar.ends), None if bar.length is None else bar.length.value)
            for bar in project.bars.values()
        ),
        lines=tuple(lines),
        turns=tuple(
            Turn(s.name, (index[s.hinge[0]], index[s.hinge[1]]))
            for s in project.springs.values()
            if s.hinge is not None
        ),
        held_turns=tuple(
            Turn(h.name, (index[h.bodies[0]], index[h.bodies[1]]))
            for h in project.held.values()
            if h.bodies is not None
        ),
        guides=tuple(
            Guide(h.name, at[h.point], h.along)
            for h in project.held.values()
            if h.point is not None and h.along is not None
        ),
        wheels=tuple(
            WheelPlace(w.name, index[w.body], at[w.centre], None if w.axis is None else pair(w.axis))
            for w in project.wheels.values()
        ),
        normal=None if project.plane is None else _NORMAL[project.plane],
        file_order=tuple(index[body.name] for body in listed),
    )
