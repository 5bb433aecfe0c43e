"""Where words go on a drawing, so that none lies on a hole, a line or another word."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, hypot

from leverwright.make.outline import Spot

__all__ = ["Box", "Taken", "spread"]

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

    def holds(self, spot: Spot) -> bool:
        """Is the spot inside?"""
        return self.left <= spot[0] <= self.right and self.low <= spot[1] <= self.high

    @property
    def area(self) -> float:
        """m²."""
        return (self.right - self.left) * (self.high - self.low)


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
        """The candidate that covers least; earlier ones win a tie. It is taken from then on."""
        _, box = min(enumerate(candidates), key=lambda one: self._cost(one[1]) + one[0] * _FURTHER)
        self.boxes.append(box)
        return box

    def _cost(self, box: Box) -> float:
        covered = sum(box.overlap(other) for other in self.boxes)
        outside = box.area - box.overlap(self.room)
        crossed = sum(1 for probe in self.probes if box.holds(probe)) * _PROBE * 2 * _MM
        spoiled = sum(1 for probe in self.barred if box.holds(probe)) * _PROBE * 30 * _MM
        return covered * 10 + outside * 20 + crossed + spoiled


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
