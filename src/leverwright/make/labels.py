"""Where words go on a drawing, so that none lies on a hole, a line or another word."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, hypot

import numpy as np
from numpy.typing import NDArray

from leverwright.make.outline import Spot

__all__ = ["Box", "Taken", "spread"]

Array = NDArray[np.float64]

_MM = 1e-3
_FURTHER = 0.3 * _MM * _MM  # m², what a word may cover rather than go one place further
_PROBE = 1.5 * _MM  # m, spacing of probes along a line that words should keep off


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in m."""

    left: float
    low: float
    right: float
    high: float

    def overlap(self, other: Box) -> float:
        """Common area, m²."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        tall = min(self.high, other.high) - max(self.low, other.low)
        return max(wide, 0.0) * max(tall, 0.0)


@dataclass(slots=True)
class Taken:
    """What a word must keep off: boxes wholly, lines if it can."""

    room: Box
    boxes: list[Box] = field(default_factory=list)
    probes: list[Spot] = field(default_factory=list)
    barred: list[Spot] = field(default_factory=list)

    def add_line(self, start: Spot, end: Spot, *, bar: bool = False) -> None:
        """A line that words should not cross; `bar`: one that they would spoil."""
        probes = self.barred if bar else self.probes
        steps = max(1, ceil(hypot(end[0] - start[0], end[1] - start[1]) / _PROBE))
        for k in range(steps + 1):
            share = k / steps
            spot = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
            probes.append(spot)

    def best(self, candidates: Sequence[Box]) -> Box:
        """The candidate that covers least; an earlier one unless a later is much better. It is taken from then on."""
        sides = _sides(candidates)
        crossed = _counts(sides, self.probes) * _PROBE * 2 * _MM
        spoiled = _counts(sides, self.barred) * _PROBE * 30 * _MM
        covered = _common_area(sides, _sides(self.boxes)).sum(axis=1) * 10
        outside = (_area(sides) - _common_area(sides, _sides([self.room]))[:, 0]) * 20
        further = np.arange(len(candidates)) * _FURTHER
        box = candidates[int(np.argmin(covered + outside + crossed + spoiled + further))]
        self.boxes.append(box)
        return box


def _sides(boxes: Sequence[Box]) -> Array:
    """Left, low, right, high of each box, (boxes, 4) m."""
    sides = [(box.left, box.low, box.right, box.high) for box in boxes]
    table: Array = np.array(sides, dtype=np.float64).reshape(-1, 4)
    return table


def _area(sides: Array) -> Array:
    """m², (boxes,)."""
    size: Array = sides[:, 2:] - sides[:, :2]
    area: Array = np.multiply(size[:, 0], size[:, 1])
    return area


def _common_area(sides: Array, others: Array) -> Array:
    """What each box shares with each other one, (boxes, others) m²."""
    low = np.maximum(sides[:, None, :2], others[None, :, :2])
    high = np.minimum(sides[:, None, 2:], others[None, :, 2:])
    shared = np.maximum(high - low, 0.0)
    area: Array = np.multiply(shared[:, :, 0], shared[:, :, 1])
    return area


def _counts(sides: Array, probes: Sequence[Spot]) -> Array:
    """How many probes each box holds, (boxes,)."""
    spots = np.array(probes, dtype=float).reshape(-1, 2)
    low, high = sides[:, :2].min(axis=0), sides[:, 2:].max(axis=0)
    spots = spots[((low <= spots) & (spots <= high)).all(axis=1)]  # most lines run elsewhere
    x, y = spots[None, :, 0], spots[None, :, 1]
    inside = (sides[:, 0:1] <= x) & (x <= sides[:, 2:3]) & (sides[:, 1:2] <= y) & (y <= sides[:, 3:4])
    return np.asarray(inside.sum(axis=1), dtype=np.float64)


def spread(places: Sequence[float], gap: float) -> list[float]:
    """`places` (rising) moved apart to at least `gap`, each cluster kept around its middle."""
    clusters: list[tuple[float, int]] = []  # (middle, members)
    for place in places:
        middle, members = place, 1
        while clusters and middle - clusters[-1][0] < gap * (members + clusters[-1][1]) / 2:
            other, others = clusters.pop()
            middle = (middle * members + other * others) / (members + others)
            members += others
        clusters.append((middle, members))
    return [middle + gap * (k - (members - 1) / 2) for middle, members in clusters for k in range(members)]
