"""One reading of a bench test that does not belong to the others: mistyped, or of a shock that lay on its end.

Each reading in turn is foretold from all the others (deleted residual); the one that is furthest off is named where
chance would hardly put any of them there (Bonferroni) and where the rest agree far better without it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.bench_points import BenchReadings, Points, Way, points_of, without
from leverwright.measure.bench_shapes import Shape, shape_of, straight
from leverwright.measure.chances import beyond_normal, beyond_t

__all__ = ["LeftOut", "left_out", "stated_sigma"]

_CHANCE = 0.01  # that any of the readings lies so far off by chance
_FLOORS = 4.0  # steps' deviations; nearer than this a reading is only rounded
_SIZE = 0.02  # of the largest reading; nearer than this it harms nobody
_BETTER = 4.0  # the others' variance must fall by this factor without it
_LEAST_PAIRS = 4  # read both ways, before one of them can be called odd
_LEAST = 5  # readings from which one can be told from the others


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A reading left out of the fit: which, what was read and what the others foretell [N]."""

    mark: int
    way: Way
    read: float
    expected: float
    chance: float


@dataclass(frozen=True, slots=True)
class _Rest:
    """All readings but one: their shape, how they scatter about it, what belongs to each."""

    points: Points
    shape: Shape
    which: tuple[tuple[int, Way], ...]
    design: Array
    off: Array
    variance: float
    spare: int

    @property
    def without_each(self) -> Array:
        """Variance about the same shape with each reading left out in turn: off² / (1 − leverage) less."""
        q = np.linalg.qr(self.design / np.abs(self.design).max(axis=0))[0]
        off = self.off - q @ (q.T @ self.off)
        leverage = np.minimum(np.einsum("mk,mk->m", q, q), 1.0 - 1e-9)
        left: Array = np.maximum(0.0, off @ off - off**2 / (1.0 - leverage))
        return left / max(1, self.spare - 1)


def stated_sigma(readings: BenchReadings, rate: float) -> float | None:
    """One standard deviation [N] of one reading, its mark's error included; None where not both are stated."""
    if readings.force_error is None or readings.mark_error is None:
        return None
    return math.hypot(readings.force_error, rate * readings.mark_error)


def left_out(readings: BenchReadings, turning: int | None) -> LeftOut | None:
    """The reading that does not belong, or None."""
    floor = readings.step / math.sqrt(12.0)
    every = _rest(readings, turning, floor)
    if every is None or len(every.design) < _LEAST:
        return None
    odd_pair = _odd_pair(readings, every.points, floor)
    if odd_pair is not None:
        return _worse_of_pair(readings, turning, odd_pair, floor)
    found: list[LeftOut] = []
    for mark, way in _suspects(readings, turning, every):
        rest = _rest(without(readings, mark, way), turning, floor)
        if rest is None or _BETTER * rest.variance > every.variance:
            continue
        odd = _foretold(readings, rest, (mark, way), len(every.design))
        touch = mark == turning and odd.read > odd.expected
        large = abs(odd.read - odd.expected) > max(
            _FLOORS * floor, _SIZE * float(np.nanmax(readings.going_in))
        )
        if large and odd.chance < _CHANCE and not touch:
            found.append(odd)
    return min(found, key=lambda odd: odd.chance, default=None)


def _is_large(readings: BenchReadings, off: float, floor: float) -> bool:
    return abs(off) > max(_FLOORS * floor, _SIZE * float(np.nanmax(readings.going_in)))


def _odd_pair(readings: BenchReadings, points: Points, floor: float) -> tuple[int, float] | None:
    """The mark whose in and out are not as far apart as at the others, with the chance of it.

    An error of a mark moves both alike: it hides nothing here.
    """
    halves, marks = points.halves, points.mark[points.paired]
    if len(halves) < _LEAST_PAIRS:
        return None
    found: list[tuple[int, float]] = []
    for k, half in enumerate(halves):
        others = np.delete(halves, k)
        scatter = max(float(others.std(ddof=1)), max(floor, readings.force_error or 0.0) / math.sqrt(2.0))
        off = float(half - others.mean())
        if scatter > 0.0 and _is_large(readings, 2.0 * off, floor):
            size = abs(off) / (scatter * math.sqrt(1.0 + 1.0 / len(others)))
            found.append((int(marks[k]), min(1.0, 2 * len(halves) * beyond_t(size, len(others) - 1))))
    best = min(found, key=lambda row: row[1], default=None)
    return best if best is not None and best[1] < _CHANCE else None


def _worse_of_pair(
    readings: BenchReadings, turning: int | None, odd: tuple[int, float], floor: float
) -> LeftOut | None:
    """Which of the two readings at that mark the others do without better."""
    mark, chance = odd
    ways: tuple[Way, ...] = ("in", "out")
    tried = [(way, _rest(without(readings, mark, way), turning, floor)) for way in ways]
    there = [(way, rest) for way, rest in tried if rest is not None]
    if not there:
        return None
    way, rest = min(there, key=lambda row: row[1].variance)
    found = _foretold(readings, rest, (mark, way), 1)
    return LeftOut(mark, way, found.read, found.expected, chance)


def _which(readings: BenchReadings, turning: int | None) -> list[tuple[int, Way]]:
    marks = range(len(readings.squash))
    out: list[tuple[int, Way]] = [(m, "in") for m in marks if np.isfinite(readings.going_in[m])]
    out += [(m, "out") for m in marks if np.isfinite(readings.coming_out[m]) and m != turning]
    return out


def _suspects(readings: BenchReadings, turning: int | None, every: _Rest) -> list[tuple[int, Way]]:
    """Readings without which the others could agree far better, about the same shape or about a line."""
    points = every.points
    line = _scatter(readings, turning, points, straight(points.squash, points.push))
    found = {
        reading
        for rest in (every, line)
        if rest is not None
        for reading, left in zip(rest.which, rest.without_each, strict=True)
        if _BETTER * left < max(every.variance, rest.variance)
    }
    return [reading for reading in _which(readings, turning) if reading in found]


def _rest(readings: BenchReadings, turning: int | None, floor: float) -> _Rest | None:
    """The readings as points with their shape, None where too few are left to scatter."""
    points = points_of(readings, turning)
    if len(points.squash) < 3:
        return None
    shape = shape_of(points.squash, points.push, None, floor / math.sqrt(2.0))
    return _scatter(readings, turning, points, shape)


def _scatter(readings: BenchReadings, turning: int | None, points: Points, shape: Shape) -> _Rest | None:
    friction = 0.0 if math.isnan(points.friction) else points.friction
    off: list[float] = []
    rows: list[Array] = []
    which: list[tuple[int, Way]] = []
    for mark, way in _which(readings, turning):
        at = int(np.flatnonzero(points.mark == mark)[0])
        if not shape.keep[at]:
            continue
        sign = 1.0 if way == "in" else -1.0
        read = readings.going_in if way == "in" else readings.coming_out
        columns = shape.columns(points.squash[at : at + 1])[0]
        rows.append(columns if math.isnan(points.friction) else np.append(columns, sign))
        which.append((mark, way))
        off.append(float(read[mark]) - float(columns @ shape.numbers) - sign * friction)
    design = np.stack(rows)
    spare = len(off) - design.shape[1] - (shape.knee is not None)
    if spare < 1:
        return None
    rounding = readings.step / math.sqrt(12.0)
    variance = max(
        float(np.sum(np.square(off))) / spare, rounding**2, (1e-9 * float(np.nanmax(readings.going_in))) ** 2
    )
    return _Rest(points, shape, tuple(which), design, np.array(off), variance, spare)


def _foretold(readings: BenchReadings, rest: _Rest, which: tuple[int, Way], count: int) -> LeftOut:
    """The reading beside what the others foretell, and how often chance puts any of `count` so far off."""
    mark, way = which
    sign = 1.0 if way == "in" else -1.0
    known = not math.isnan(rest.points.friction)
    columns = rest.shape.columns(readings.squash[mark : mark + 1])[0]
    expected = float(columns @ rest.shape.numbers) + (sign * rest.points.friction if known else 0.0)
    read = float((readings.going_in if way == "in" else readings.coming_out)[mark])
    own = np.append(columns, sign) if known else columns
    leverage = float(own @ np.linalg.lstsq(rest.design.T @ rest.design, own, rcond=None)[0])
    rate = float(rest.shape.rate(readings.squash[mark : mark + 1])[0])
    stated = stated_sigma(readings, rate)
    far = abs(read - expected) / math.sqrt(1.0 + leverage)
    by_scatter, by_statement = far / math.sqrt(rest.variance), far / (stated or math.inf)
    chance = beyond_t(by_scatter, rest.spare) if stated is None else beyond_normal(by_statement)
    return LeftOut(mark, way, read, expected, min(1.0, count * chance))
