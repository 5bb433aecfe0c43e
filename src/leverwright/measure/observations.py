"""What was measured between points, as numbers: the description of a network before it is solved.

Lengths in m, axes x forward, y left, z up. A `sigma` is one standard deviation of the reading as it stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leverwright.geometry import Array, Mask

__all__ = ["Along", "Distance", "Level", "Network", "Picked", "Side", "Term", "Weighted"]

Where = Literal["above", "below", "left", "right", "ahead", "behind"]


@dataclass(frozen=True, slots=True)
class Distance:
    """The straight distance between two points: |b - a| = reads."""

    name: str
    ends: tuple[int, int]
    reads: float
    sigma: float


@dataclass(frozen=True, slots=True)
class Term:
    """One coordinate of one point (axis 0, 1, 2), times a factor."""

    point: int
    axis: int
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Weighted:
    """A weighted sum of coordinates: Σ factor × coordinate - floor × level of the floor = reads.

    Coordinates, offsets, heights, "ahead" and the two statements of a plumb line are of this form.
    kind  "coordinate", "height", "offset", "ahead", "plumb", "depth" (of the plane of a picture)
    """

    name: str
    kind: str
    terms: tuple[Term, ...]
    reads: float
    sigma: float
    floor: float = 0.0


@dataclass(frozen=True, slots=True)
class Level:
    """Points at one height, whatever it is."""

    name: str
    points: tuple[int, ...]
    sigma: float


@dataclass(frozen=True, slots=True)
class Along:
    """A point on the line through two others, `reads` from the first; off the line by nothing but `sigma`."""

    name: str
    line: tuple[int, int]
    point: int
    reads: float
    sigma: float


@dataclass(frozen=True, slots=True)
class Picked:
    """Points K picked in a picture: places in the plane of two axes, up to where its origin is and how it is turned.

    at          (K, 2) m in the picture's plane
    covariance  (2 K, 2 K) m², order u v of the first, u v of the second, …
    axes        which coordinates the plane spans; the picture may show the first of them from behind
    """

    name: str
    points: tuple[int, ...]
    at: Array
    covariance: Array
    axes: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Side:
    """On which side of the plane through three points (of the line through two, in a flat drawing) a point lies."""

    name: str
    point: int
    of: tuple[int, ...]
    where: Where


@dataclass(frozen=True, slots=True)
class Network:
    """Points N and everything measured between them.

    sketch   (N, 3) m  where each point roughly is; exact for coordinates that are `known`
    known    (N, 3)    coordinates that are not asked for: exact, or the missing axis of a flat drawing
    twin_of  (N,)      index of the point that this one mirrors (y negated), else its own
    axes     which coordinates exist: all three, or the two of a flat drawing
    alone    no coordinate of the vehicle is measured outside this network, so that nothing else says where it lies
    """

    names: tuple[str, ...]
    sketch: Array
    known: Mask
    twin_of: tuple[int, ...]
    axes: tuple[int, ...]
    distances: tuple[Distance, ...] = ()
    weighted: tuple[Weighted, ...] = ()
    levels: tuple[Level, ...] = ()
    alongs: tuple[Along, ...] = ()
    pictures: tuple[Picked, ...] = ()
    sides: tuple[Side, ...] = ()
    alone: bool = True
