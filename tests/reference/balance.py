"""Newton's third law for every body, from forces alone: written against the answers' contract.

`joints` are the forces on the body that comes first in `[bodies]`; bars and springs that end at a
point act on that first body; the ground force acts at the wheel centre.
"""

from __future__ import annotations

import numpy as np

from tests.reference.vehicle import Array, Vehicle

Forces = dict[str, float]


def _moment(at: Array, force: Array) -> Array:
    if len(at) == 2:
        return np.array([at[0] * force[1] - at[1] * force[0]])
    return np.cross(at, force)


def _towards(points: dict[str, Array], ends: tuple[str, str], end: str) -> Array:
    """Unit vector from `end` to the other end."""
    other = ends[1] if end == ends[0] else ends[0]
    line = points[other] - points[end]
    return line / np.linalg.norm(line)


def leftovers(
    vehicle: Vehicle,
    points: dict[str, Array],
    pulls: Forces,
    joints: dict[str, Array],
    wheels: Forces,
) -> dict[str, tuple[Array, Array]]:
    """What is left of force [N] and moment [N·m, about the origin] on every moving body.

    pulls   bars and springs by name [N], + draws the ends together
    joints  point -> force [N] on the first body at that point
    wheels  wheel -> vertical ground force [N], + up
    """
    ends = vehicle.bars | vehicle.springs
    left: dict[str, tuple[Array, Array]] = {}
    for body, carried in vehicle.bodies.items():
        if body == "chassis":
            continue
        acting: list[tuple[Array, Array]] = []
        for point in carried:
            first = vehicle.bodies_at(point)[0] == body
            if point in joints:
                acting.append((points[point], joints[point] if first else -joints[point]))
            if first:
                acting += [
                    (points[point], pulls[n] * _towards(points, e, point))
                    for n, e in ends.items()
                    if point in e
                ]
        for wheel, (holder, centre) in vehicle.wheels.items():
            if holder == body:
                up = np.eye(len(points[centre]))[vehicle.up]
                acting.append((points[centre], wheels[wheel] * up))
        force = np.sum([f for _, f in acting], axis=0)
        moment = np.sum([_moment(at, f) for at, f in acting], axis=0)
        left[body] = (force, moment)
    return left
