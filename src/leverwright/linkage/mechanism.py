"""What a linkage is made of: points, bodies, bars, lines, turns, guides and wheels, as numbers and names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, unit

__all__ = ["Bar", "Geometry", "Guide", "Line", "Mechanism", "Turn", "WheelPlace", "geometry_of"]

CHASSIS = 0  # index of the body that stays still


@dataclass(frozen=True, slots=True)
class Bar:
    """Two points held at a distance; `length` [m] or None for the distance as measured."""

    name: str
    ends: tuple[int, int]
    length: float | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """Two points whose distance is watched and may carry a force: a spring or a strap."""

    name: str
    ends: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Turn:
    """The hinge between two bodies whose angle is watched (torsion spring) or held."""

    name: str
    bodies: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Guide:
    """A point on no body, led along a line by a stated distance."""

    name: str
    point: int
    along: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class WheelPlace:
    """Where a wheel sits: its body, its centre and, when given, two points of its spin axis, outward."""

    name: str
    body: int
    centre: int
    axis: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Mechanism:
    """A linkage in its set-up pose; body 0 is the chassis.

    points      (N, 3) m, chassis frame; normal (3,) of the plane of a flat drawing, else None
    file_order  bodies as the file lists them: what acts at a shared point acts on the first of them; empty: as here
    """

    point_names: tuple[str, ...]
    points: Array
    body_names: tuple[str, ...]
    body_points: tuple[tuple[int, ...], ...]
    bars: tuple[Bar, ...] = ()
    lines: tuple[Line, ...] = ()
    turns: tuple[Turn, ...] = ()
    held_turns: tuple[Turn, ...] = ()
    guides: tuple[Guide, ...] = ()
    wheels: tuple[WheelPlace, ...] = ()
    normal: tuple[float, float, float] | None = None
    file_order: tuple[int, ...] = ()

    def first_bodies(self, point: int) -> tuple[int, ...]:
        """Bodies that carry a point, in the order of the file."""
        order = self.file_order or range(len(self.body_names))
        return tuple(body for body in order if point in self.body_points[body])

    @property
    def held_names(self) -> tuple[str, ...]:
        """Names of what can be held, guides first: the order of `Geometry.hold`."""
        return tuple(g.name for g in self.guides) + tuple(t.name for t in self.held_turns)


@dataclass(frozen=True, slots=True)
class Geometry:
    """The numbers that a pose is solved with; G is 1 or one a pose.

    points      (G, N, 3) m   places in the set-up pose
    bar_length  (G, L) m
    hold        (G, H)        m for a guide, rad for a held hinge, 0 = set-up pose
    """

    points: Array
    bar_length: Array
    hold: Array


def geometry_of(
    mechanism: Mechanism, hold: Mapping[str, float] | None = None, points: Array | None = None
) -> Geometry:
    """The mechanism's numbers with stated bar lengths and held values; `points` (G, N, 3) replaces the places."""
    places = mechanism.points[None] if points is None else points
    measured = measured_bar_length(mechanism, places)
    for column, bar in enumerate(mechanism.bars):
        if bar.length is not None:
            measured[:, column] = bar.length
    held = np.array([[(hold or {}).get(name, 0.0) for name in mechanism.held_names]])
    return Geometry(places, measured, np.broadcast_to(held, (places.shape[0], held.shape[1])))


def joined_geometries(parts: Sequence[Geometry]) -> Geometry:
    """The numbers of each in turn."""
    if len(parts) == 1:
        return parts[0]
    return Geometry(
        np.concatenate([p.points for p in parts]),
        np.concatenate([p.bar_length for p in parts]),
        np.concatenate([p.hold for p in parts]),
    )


def measured_bar_length(mechanism: Mechanism, places: Array) -> Array:
    """Length [m] of every bar between the places (G, N, 3) as measured, (G, L)."""
    if not mechanism.bars:
        return np.zeros((places.shape[0], 0))
    first = [bar.ends[0] for bar in mechanism.bars]
    second = [bar.ends[1] for bar in mechanism.bars]
    span = places[:, first] - places[:, second]
    out: Array = np.sqrt(np.einsum("gli,gli->gl", span, span))
    return out


def hinge_dir(places: Array, first: int, second: int) -> Array:
    """Direction (G, 3) from one point of a hinge to the other."""
    return unit(places[:, second] - places[:, first])
