"""What kind of spring the points of a bench test show: straight, progressive, two rates, or steep at one end.

Each shape is fitted by least squares; another than the straight line is taken only where chance alone would seldom
make the readings bend as much (F test on the readings' own scatter, chi squared on their stated errors).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.measure.chances import beyond_chi_squared, beyond_f
from leverwright.measure.fitting import fit_linear

__all__ = ["Kind", "Shape", "shape_of", "straight"]

Kind = Literal["straight", "progressive", "two rates"]

# A bend that chance makes less often than this is believed. Six shapes are tried, each by two tests: at a hundredth
# three straight springs in a hundred were called bent, at this less than one, and no bent one is missed for it.
_CHANCE = 0.002
_BEND = 0.10  # share that the rate must change over the marks before a bend matters (CP)
_STEEP = 1.6  # last rate by the one before: coils or a stop have touched, where one reading shows it (CP)
_TOUCHING = 2.5  # the same where two readings show it; springs wound with two rates stay below (CP)
_NEAR_END = 0.55  # share of the marks' span from which a touch is looked for
# A knee is put where it helps most, so chance alone fits it better than a curve: by so much dearer each is recognised
# three times in four where marks err by 0.8 mm (drawn tests).
_KNEE_PRICE = 1.2
_KNEES = 81  # places tried for a knee; the best is within 1/80 of the span
_LEAST = 3  # points that a line needs to be checked at all


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape that fits.

    keep    (n,) which points it is fitted to: not those where a stop or the coils touch, or the shock rests open
    knee    m, where the rate changes, for two rates
    spread  N², residual square sum by spare points (with the floor of what a reading can tell)
    chance  of a straight line's readings bending as much; 1 for the line itself
    """

    kind: Kind
    keep: Mask
    numbers: Array
    knee: float | None
    square_sum: float
    spare: int
    chance: float = 1.0

    def columns(self, squash: Array) -> Array:
        """What the numbers are multiplied by at squashes [m], one column a number."""
        return _columns(self.kind, squash, self.knee)

    def push(self, squash: Array) -> Array:
        """Force [N] at squashes [m], same shape."""
        return self.columns(squash) @ self.numbers

    def rate(self, squash: Array) -> Array:
        """Slope [N/m] at squashes [m], same shape; at a knee the second rate."""
        out = np.full(squash.shape, self.numbers[1])
        if self.kind == "progressive":
            out = out + 2.0 * self.numbers[2] * squash
        if self.kind == "two rates" and self.knee is not None:
            out = out + np.where(squash >= self.knee, self.numbers[2], 0.0)
        return out

    def rate_columns(self, squash: Array) -> Array:
        """What the numbers are multiplied by for the slope [1/m] at squashes [m], one column a number."""
        columns = [np.zeros_like(squash), np.ones_like(squash)]
        if self.kind == "progressive":
            columns.append(2.0 * squash)
        if self.kind == "two rates" and self.knee is not None:
            columns.append(np.where(squash >= self.knee, 1.0, 0.0))
        return np.stack(columns, axis=-1)


def straight(squash: Array, push: Array, keep: Mask | None = None) -> Shape:
    """The line through the points kept (all, when not said)."""
    keep = np.ones(len(squash), dtype=bool) if keep is None else keep
    return _fitted("straight", (squash, push), keep, None)


def shape_of(squash: Array, push: Array, sigma: Array | None, floor: float) -> Shape:
    """The plainest shape that explains the points.

    squash, push  (n,) m rising, N
    sigma         (n,) N one standard deviation of each point where it is stated
    floor         N that the scale's steps alone make unsure
    """
    line = straight(squash, push)
    if len(squash) <= _LEAST:
        return line
    points = squash, push
    found = [
        (shape, chance)
        for shape in _candidates(points)
        if (chance := _chance(line, shape, sigma, floor)) < _CHANCE and _matters(shape, points)
    ]
    if not found:
        return line
    best, chance = min(found, key=lambda row: _left(row[0], len(squash) * floor**2))
    return _touched(best, points, chance)


def _left(shape: Shape, rounding: float) -> float:
    """Square sum left for each spare point [N²], by which shapes are compared; a knee that was looked for is dear."""
    return (shape.square_sum + rounding) / shape.spare * (_KNEE_PRICE if shape.knee is not None else 1.0)


def _columns(kind: Kind, squash: Array, knee: float | None) -> Array:
    columns = [np.ones_like(squash), squash]
    if kind == "progressive":
        columns.append(squash**2)
    if kind == "two rates" and knee is not None:
        columns.append(np.maximum(0.0, squash - knee))
    return np.stack(columns, axis=-1)


def _fitted(kind: Kind, points: tuple[Array, Array], keep: Mask, knee: float | None) -> Shape:
    squash, push = points
    fit = fit_linear(_columns(kind, squash[keep], knee), push[keep])
    # A knee is a number too, found by trying.
    spare = fit.spare - (knee is not None)
    return Shape(kind, keep, fit.value, knee, float(fit.residual @ fit.residual), spare)


def _candidates(points: tuple[Array, Array]) -> list[Shape]:
    """Every bent shape that leaves at least one point to check it by."""
    squash, _ = points
    count = len(squash)
    every = np.ones(count, dtype=bool)
    wanted: list[tuple[Kind, Mask, float | None]] = [("progressive", every, None)]
    if count > _LEAST + 1:
        knee = _best_knee(points)
        wanted += [] if knee is None else [("two rates", every, knee)]
    for first, last in ((0, 1), (0, 2), (1, 0), (1, 1)):
        if count - first - last >= _LEAST:
            keep = every.copy()
            keep[:first] = False
            keep[count - last :] = False
            wanted.append(("straight", keep, None))
    shapes = [_told(kind, points, keep, knee) for kind, keep, knee in wanted]
    return [shape for shape in shapes if shape is not None and shape.spare > 0]


def _told(kind: Kind, points: tuple[Array, Array], keep: Mask, knee: float | None) -> Shape | None:
    """The shape fitted, None where the marks lie so that its numbers cannot be told apart."""
    try:
        return _fitted(kind, points, keep, knee)
    except ValueError:
        return None


def _best_knee(points: tuple[Array, Array]) -> float | None:
    """Where [m] a second rate would explain most, with two points at least on either side."""
    squash, push = points
    knees = np.linspace(squash[1], squash[-2], _KNEES)
    sides = np.stack([squash <= knees[:, None], squash >= knees[:, None]]).sum(axis=2)
    knees = knees[sides.min(axis=0) >= 2]
    # What a hinge at each knee gains over the line: its part square to the line, along what the line leaves.
    q = np.linalg.qr(_columns("straight", squash, None))[0]
    hinges = np.maximum(0.0, squash - knees[:, None])
    square = hinges - hinges @ q @ q.T
    size = np.einsum("kn,kn->k", square, square)
    usable = size > 1e-12 * np.einsum("kn,kn->k", hinges, hinges)
    if not usable.any():
        return None
    gain = np.where(usable, (square @ (push - q @ (q.T @ push))) ** 2 / np.where(usable, size, 1.0), -1.0)
    return float(knees[int(gain.argmax())])


def _chance(line: Shape, bent: Shape, sigma: Array | None, floor: float) -> float:
    """How often a straight spring's readings would bend as much."""
    more = line.spare - bent.spare
    gained = max(0.0, line.square_sum - bent.square_sum)
    left = max(bent.square_sum / bent.spare, floor**2, 1e-18 * line.square_sum)
    by_scatter = beyond_f(gained / more / left, more, bent.spare) if gained > 0.0 else 1.0
    if sigma is None:
        return by_scatter
    return min(by_scatter, beyond_chi_squared(gained / float(np.mean(sigma**2)), more))


def _matters(shape: Shape, points: tuple[Array, Array]) -> bool:
    """Does the bend change the rate enough, and the way that coils and stops do where points are left out?"""
    squash, push = points
    rates = shape.rate(squash[[0, -1]])
    if shape.kind != "straight":
        return bool(rates.min() > 0.0 and abs(rates[1] - rates[0]) > _BEND * rates.mean())
    out = ~shape.keep
    off = push - shape.push(squash)
    last = (push[-1] - push[-2]) / (squash[-1] - squash[-2])
    first = (push[1] - push[0]) / (squash[1] - squash[0])
    fits_end = not out[-1] or (last > _STEEP * rates[0] and np.all(off[out & (squash > squash[0])] > 0.0))
    fits_start = not out[0] or (off[0] < 0.0 and first > _STEEP * rates[0])
    return bool(rates[0] > 0.0 and fits_end and fits_start)


def _touched(shape: Shape, points: tuple[Array, Array], chance: float) -> Shape:
    """Two rates of which the second is far too stiff are a spring whose coils, or whose stop, have touched."""
    squash, _ = points
    if shape.kind == "two rates" and shape.knee is not None:
        early, late = shape.rate(squash[[0, -1]])
        near_end = shape.knee - squash[0] >= _NEAR_END * (squash[-1] - squash[0])
        keep = squash <= shape.knee
        if late > _TOUCHING * early and near_end and keep.sum() >= _LEAST:
            shape = _fitted("straight", points, keep, None)
    return Shape(shape.kind, shape.keep, shape.numbers, shape.knee, shape.square_sum, shape.spare, chance)
