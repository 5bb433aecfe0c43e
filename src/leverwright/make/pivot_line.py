"""The line that a body turns about, and the plane square to it that a plate lies in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leverwright.make.outline import Spot
from leverwright.project import Body, Project

__all__ = [
    "ONE_HOLE",
    "Hinge",
    "facing_of",
    "hinge_of",
    "off_line",
    "place_of",
    "plane_square_to",
    "station_of",
    "up_in_plane",
]

Array = NDArray[np.float64]

# Closer holes are one hole: a body's point on its own pivot line needs none of its own.
ONE_HOLE = 1e-3  # m
# A pivot line within 10 deg of an axis is seen "from the side"; further off it is only roughly so.
_SQUARE_TO_AXIS = 0.985  # cosine
_SIDES = {0: ("front", "rear"), 1: ("left side", "right side"), 2: ("top", "bottom")}


@dataclass(frozen=True, slots=True)
class Hinge:
    """The line that a body turns about: two places on it, its points, and the body on the other side."""

    points: tuple[str, ...]
    at: Array  # (3,) m, a point on the line
    dir: Array  # (3,) 1, unit
    other: str


def hinge_of(project: Project, body: Body) -> Hinge | None:
    """The body's pivot line: on the chassis first, else on a body that carries a wheel, else on any."""
    wheel_bodies = {wheel.body for wheel in project.wheels.values()}
    others = [other for other in project.bodies.values() if other.name != body.name]
    others.sort(key=lambda other: (other.name != "chassis", other.name not in wheel_bodies))
    if project.plane is not None:  # every pin of a flat drawing stands square to it
        others = [other for other in others if other.name == "chassis" or other.name in wheel_bodies]
    for other in others:
        theirs = set(other.points)
        shared = tuple(name for name in body.points if name in theirs)
        hinge = _line_through(project, shared, other.name)
        if hinge is not None:
            return hinge
    return None


def _line_through(project: Project, shared: tuple[str, ...], other: str) -> Hinge | None:
    if project.plane is not None:
        normal = np.array([0.0, 1.0, 0.0] if project.plane == "xz" else [1.0, 0.0, 0.0])
        return Hinge(shared, place_of(project, shared[0]), normal, other) if len(shared) == 1 else None
    if len(shared) < 2:
        return None
    first = place_of(project, shared[0])
    ends = max(
        (place_of(project, name) - first for name in shared), key=lambda step: float(np.linalg.norm(step))
    )
    apart = float(np.linalg.norm(ends))
    if apart <= ONE_HOLE:
        return None
    hinge = Hinge(shared, first, ends / apart, other)
    welded = any(off_line(project, hinge, name) > ONE_HOLE for name in shared)
    return None if welded else hinge


def place_of(project: Project, name: str) -> Array:
    """Where a point stands in the set-up pose, (3,) m."""
    return np.array(project.points[name].at, dtype=float)


def station_of(project: Project, hinge: Hinge, name: str) -> float:
    """How far along the pivot line a point stands, m."""
    return float((place_of(project, name) - hinge.at) @ hinge.dir)


def off_line(project: Project, hinge: Hinge, name: str) -> float:
    """How far off the pivot line a point stands, m."""
    from_line = place_of(project, name) - hinge.at
    return float(np.linalg.norm(from_line - (from_line @ hinge.dir) * hinge.dir))


def plane_square_to(direction: Array) -> tuple[Array, Array, Array]:
    """Unit vectors right and up of a viewer whom the third, the pivot line, points at."""
    main = int(np.argmax(np.abs(direction)))
    axis = direction if direction[main] > 0 else -direction
    upright = np.array([1.0, 0.0, 0.0]) if main == 2 else np.array([0.0, 0.0, 1.0])
    e2 = upright - (upright @ axis) * axis
    e2 = e2 / np.linalg.norm(e2)
    return np.cross(e2, axis), e2, axis


def up_in_plane(e2: Array) -> tuple[Spot, str]:
    """The direction that `plane_square_to` stood upright, and its word."""
    word = "up" if abs(e2[2]) > abs(e2[0]) else "front"
    return (0.0, 1.0), word


def facing_of(axis: Array) -> tuple[str, str]:
    """From where the plane is seen, and from where its other face is."""
    main = int(np.argmax(np.abs(axis)))
    square = abs(axis[main]) > _SQUARE_TO_AXIS
    near, far = _SIDES[main]
    words = "seen from the" if square else "seen square to its face, roughly from the"
    return f"{words} {near}", f"{words} {far}"
