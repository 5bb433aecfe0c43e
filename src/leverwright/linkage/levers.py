"""Levers of an assembly: a body that a bar drives on a hinge and that works a spring, with its two arms."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, unit
from leverwright.linkage.layout import Layout
from leverwright.linkage.transmission import driven_ends

__all__ = ["Lever", "levers"]


_NO_ARM = 1e-3  # m; a hole on the pivot itself is no lever


@dataclass(frozen=True, slots=True)
class Lever:
    """One link hole and one spring hole on a lever; names of points, arms in m from the hinge line.

    link_foot, spring_foot  (3,) m the nearest place on the hinge line to each hole
    far_eye                 the spring's other end
    """

    body: str
    bar: str
    spring: str
    pivot: str
    link_hole: str
    spring_hole: str
    far_eye: str
    link_arm: float
    spring_arm: float
    link_foot: Array
    spring_foot: Array


def levers(layout: Layout) -> tuple[Lever, ...]:
    """Every lever of the assembly, each pair of link and spring on it once."""
    mechanism = layout.mechanism
    found: list[Lever] = []
    for end in driven_ends(layout):
        for pair in layout.lines:
            on = [f for f in pair.feet if layout.feet[f][0] == end.carrier]
            if len(on) != 1:
                continue
            hole = layout.feet[on[0]][1]
            eye = next(layout.feet[f][1] for f in pair.feet if f != on[0])
            link_foot, link_arm = _arm(layout, end.hinge, end.point)
            spring_foot, spring_arm = _arm(layout, end.hinge, hole)
            if min(link_arm, spring_arm) < _NO_ARM:
                continue
            body = next(
                b for b in layout.carriers.each[end.carrier].bodies if end.point in mechanism.body_points[b]
            )
            names = mechanism.point_names
            found.append(
                Lever(
                    mechanism.body_names[body],
                    end.name,
                    mechanism.lines[pair.item].name,
                    names[end.pivot],
                    names[end.point],
                    names[hole],
                    names[eye],
                    link_arm,
                    spring_arm,
                    link_foot,
                    spring_foot,
                )
            )
    return tuple(found)


def _arm(layout: Layout, hinge: tuple[int, ...], point: int) -> tuple[Array, float]:
    """Nearest place (3,) on the hinge line to a point, and the distance between them."""
    places = layout.mechanism.points
    start = places[hinge[0]]
    if len(hinge) == 1:
        normal = np.array(layout.mechanism.normal)
        foot = start + normal * float(normal @ (places[point] - start))
    else:
        axis = unit(places[hinge[1]] - start)
        foot = start + axis * float(axis @ (places[point] - start))
    return foot, float(np.linalg.norm(places[point] - foot))
