"""Outline of a plate: the tight band around a circle at each hole, as lines and arcs."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, atan2, cos, hypot, pi, sin

__all__ = ["Arc", "Line", "Outline", "Spot", "hull_sides", "rounded_hull"]

Spot = tuple[float, float]  # m, in the plane of the plate

# Rounding of sums of coordinates of a metre, a thousand times over; nobody cuts to a nanometre.
_SAME = 1e-9  # m


@dataclass(frozen=True, slots=True)
class Line:
    """Straight edge."""

    start: Spot
    end: Spot


@dataclass(frozen=True, slots=True)
class Arc:
    """Round corner, counter-clockwise from `start_angle` to `end_angle` [rad], start < end."""

    centre: Spot
    radius: float
    start_angle: float
    end_angle: float

    @property
    def middle(self) -> Spot:
        """The spot halfway along it."""
        return _on_circle(self.centre, self.radius, (self.start_angle + self.end_angle) / 2)

    def spots(self, count: int) -> list[Spot]:
        """So many spots along it, its ends among them."""
        step = (self.end_angle - self.start_angle) / (count - 1)
        return [_on_circle(self.centre, self.radius, self.start_angle + k * step) for k in range(count)]


Outline = tuple[Line | Arc, ...]


@dataclass(frozen=True, slots=True)
class _Tangent:
    """Line that touches circles `first` and `last` and leaves all others on its left."""

    first: int
    last: int
    normal_angle: float  # rad, 0 to 2 pi, outward


def rounded_hull(centres: tuple[Spot, ...], radii: tuple[float, ...]) -> Outline:
    """Convex outline around circles, counter-clockwise, closed, every piece joined to the next.

    centres  m      radii  m, > 0
    """
    tangents = _outer_tangents(centres, radii)
    if not tangents:  # one circle holds all others
        widest = max(range(len(radii)), key=lambda k: radii[k])
        return (Arc(centres[widest], radii[widest], 0.0, 2 * pi),)
    pieces: list[Line | Arc] = []
    for before, after in zip(tangents, tangents[1:] + tangents[:1], strict=True):
        normal = before.normal_angle
        pieces.append(
            Line(
                _on_circle(centres[before.first], radii[before.first], normal),
                _on_circle(centres[before.last], radii[before.last], normal),
            )
        )
        turn = (after.normal_angle - normal) % (2 * pi)
        pieces.append(Arc(centres[before.last], radii[before.last], normal, normal + turn))
    return tuple(pieces)


def hull_sides(centres: tuple[Spot, ...]) -> tuple[tuple[int, int], ...]:
    """Pairs of points between which the convex hull has a straight side, counter-clockwise."""
    return tuple((t.first, t.last) for t in _outer_tangents(centres, (0.0,) * len(centres)))


def _on_circle(centre: Spot, radius: float, angle: float) -> Spot:
    return centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)


def _outer_tangents(centres: tuple[Spot, ...], radii: tuple[float, ...]) -> list[_Tangent]:
    """All outer tangents, by the direction of their outward normal; the plate lies on the left."""
    found = []
    for i, centre in enumerate(centres):
        for j, other in enumerate(centres):
            apart = hypot(other[0] - centre[0], other[1] - centre[1])
            if i == j or apart <= abs(radii[i] - radii[j]) + _SAME:
                continue
            along = atan2(other[1] - centre[1], other[0] - centre[0])
            normal = along - acos((radii[i] - radii[j]) / apart)
            if _is_outermost(normal, (i, j), centres, radii):
                found.append(_Tangent(i, j, normal % (2 * pi)))
    return sorted(found, key=lambda tangent: tangent.normal_angle)


def _is_outermost(
    normal: float, ends: tuple[int, int], centres: tuple[Spot, ...], radii: tuple[float, ...]
) -> bool:
    """Do all circles lie behind the tangent, and do its two ends lie furthest apart on it?"""
    out = (cos(normal), sin(normal))
    ahead = (-out[1], out[0])  # direction of travel, plate on the left

    def height(k: int) -> float:
        return out[0] * centres[k][0] + out[1] * centres[k][1] + radii[k]

    def progress(k: int) -> float:
        return ahead[0] * centres[k][0] + ahead[1] * centres[k][1]

    first, last = ends
    level = height(first)
    for k in range(len(centres)):
        if height(k) > level + _SAME:
            return False
        touches = height(k) > level - _SAME
        if touches and not progress(first) - _SAME <= progress(k) <= progress(last) + _SAME:
            return False
    return True
