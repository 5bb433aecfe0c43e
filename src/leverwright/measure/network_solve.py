"""Weighted least squares of a network from a rough sketch.

Damped Gauss-Newton (Levenberg and Marquardt) with the derivatives written out. First the sketch itself holds every
place loosely, which carries bad starts to the right basin and keeps what nothing measures near its sketch; then the
sketch lets go, and directions that the measurements do not hold take no part.
Source: Nocedal and Wright, Numerical Optimization, 2nd ed., 10.3 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.measure.network_rows import Rows

__all__ = [
    "NOT_PLACED",
    "Fit",
    "Split",
    "fit_from",
    "fit_near",
    "robust_misfit",
    "rough_from",
    "roughly",
    "split_of",
]

NOT_PLACED = 0.030  # m; a place known no better than this is known no better than from its sketch
_SKETCH = 0.30  # m, how loosely the sketch holds at first: ten times the worst that counts as placed
_NOTHING = 1e-9  # of the largest eigenvalue: below this a direction is not held at all, in double precision
_STEP_DONE = 1e-11  # m; thousands of times less than any reading, well above rounding of 10 m
_ROUGHLY, _FEW_STEPS = 1e-5, 8  # m: a hundredth of a tape's ± is close enough to see whether a start fits
_RESTS = 1e-8  # m; a step so short that gains nothing is rounding
_MOST_LOOKS = 3  # at which directions are held; a place on the border of that may come and go
_SAME_SPAN = 0.999  # cosine of the angle between the directions before and after
_MOST_STEPS = 30  # a start that needs more is a bad start: a good one needs under ten
_LEAST_SHARE = 0.02  # of a step: where less of it helps it is no way down
_MOST_DAMPED = 1e12  # no step is smaller: it stands as low as rounding lets it
_HARDLY = 1e-6  # of the misfit: what is gained by less is not worth a step from a sketch
_ENOUGH = 1e-12  # of the misfit: less gain than this is rounding


@dataclass(frozen=True, slots=True)
class Fit:
    """Where a network came to rest: unknowns (Q,), misfits over their ± (M,), their derivative (M, Q)."""

    unknowns: Array
    miss: Array
    slope: Array
    settled: bool

    @property
    def misfit(self) -> float:
        """Sum of squares of the misfits over their ±."""
        return float(self.miss @ self.miss)


@dataclass(frozen=True, slots=True)
class Split:
    """Directions of the unknowns: held by measurements (Q, H), with the variance of each, and free (Q, F)."""

    held: Array
    variance: Array
    free: Array

    @property
    def covariance(self) -> Array:
        """Covariance (Q, Q) in the directions held; nothing in the others (a pseudo-inverse)."""
        out: Array = (self.held * self.variance) @ self.held.T
        return out


def split_of(rows: Rows, slope: Array, use: Mask, loosest: float) -> Split:
    """Directions held and not held, by the eigenvalues of the normal equations.

    loosest  m: a direction that leaves a place looser than this is not held
    """
    part = slope[use]
    value, vector = np.linalg.eigh(part.T @ part)
    top = max(float(value[-1]), 1e-30) if len(value) else 1.0
    safe = np.maximum(value, _NOTHING * top)
    reach = np.abs(vector[: rows.count]).max(axis=0, initial=0.0) / np.sqrt(safe)
    held = (value > _NOTHING * top) & (reach < loosest)
    return Split(vector[:, held], 1.0 / value[held], vector[:, ~held])


def fit_from(rows: Rows, start: Array, use: Mask, loosest: float) -> Fit:
    """The network settled from a start (Q,), with the rows of `use` (M,) only."""
    return fit_near(rows, rough_from(rows, start, use), use, loosest)


def rough_from(rows: Rows, start: Array, use: Mask) -> Array:
    """Unknowns (Q,) near rest, the start itself holding every place loosely."""
    near = np.zeros(rows.size)
    near[: rows.count] = 1.0 / _SKETCH
    return _descend(rows, start, use, (start, near))


def robust_misfit(miss: Array, use: Mask) -> float:
    """Misfit in which one bad reading counts no more than 5 σ: by it starts are compared."""
    squares = miss[use] ** 2
    return float(np.minimum(squares, 25.0).sum())


def _descend(rows: Rows, start: Array, use: Mask, hold: tuple[Array, Array]) -> Array:
    """Levenberg and Marquardt; `hold` is a place (Q,) and how strongly each unknown is drawn to it, 1/m."""
    toward, pull = hold
    now, damp = start.copy(), 1e-3

    def cost_of(at: Array) -> tuple[float, Array, Array]:
        miss, slope = rows.evaluate(at)
        drawn = pull * (at - toward)
        return float(miss[use] @ miss[use] + drawn @ drawn), miss, slope

    cost, miss, slope = cost_of(now)
    for _ in range(_MOST_STEPS):
        part = slope[use]
        normal = part.T @ part + np.diag(pull**2)
        gradient = part.T @ miss[use] + pull**2 * (now - toward)
        scale = np.maximum(np.diag(normal), 1e-12 * max(float(np.diag(normal).max()), 1.0))
        step = np.linalg.solve(normal + damp * np.diag(scale), -gradient)
        there = cost_of(now + step)
        while there[0] > cost:
            damp *= 5.0
            if damp > _MOST_DAMPED:
                return now
            step = np.linalg.solve(normal + damp * np.diag(scale), -gradient)
            there = cost_of(now + step)
        gain, now = cost - there[0], now + step
        cost, miss, slope = there
        damp = max(damp / 10.0, 1e-12)
        if float(np.abs(step).max(initial=0.0)) < 1e-7 or gain < _HARDLY * cost:
            break
    return now


def fit_near(rows: Rows, start: Array, use: Mask, loosest: float) -> Fit:
    """Gauss-Newton in the directions that are held, halving a step that makes things worse.

    Which directions are held is looked at before and after; it is a matter of the places, which hardly move here.
    """
    now, settled = start, False
    miss, slope = rows.evaluate(now)
    free = split_of(rows, slope, use, loosest).free
    for _ in range(_MOST_LOOKS):
        now, miss, slope, settled = _newton(rows, (now, miss, slope), (use, _STEP_DONE, _MOST_STEPS), free)
        there = split_of(rows, slope, use, loosest).free
        if there.shape == free.shape and _same_span(there, free):
            break
        free = there
    return Fit(now, miss, slope, settled)


def roughly(rows: Rows, start: Array, use: Mask, free: Array) -> tuple[Array, Array]:
    """Unknowns and misfits close to rest, to judge a start by; `free` (Q, F) is taken for what nothing holds."""
    miss, slope = rows.evaluate(start)
    now, miss, _, _ = _newton(rows, (start, miss, slope), (use, _ROUGHLY, _FEW_STEPS), free)
    return now, miss


def _same_span(a: Array, b: Array) -> bool:
    return a.shape[1] == 0 or float(np.linalg.svd(a.T @ b, compute_uv=False)[-1]) > _SAME_SPAN


def _newton(
    rows: Rows, at: tuple[Array, Array, Array], how: tuple[Mask, float, int], free: Array
) -> tuple[Array, Array, Array, bool]:
    """Unknowns, misfits, derivative at rest, and whether they rest."""
    (now, miss, slope), (use, done, most) = at, how
    for _ in range(most):
        part = slope[use]
        normal = part.T @ part
        # Held fast where nothing is held: these directions take no part.
        firm = max(float(np.trace(normal)), 1.0) * (free @ free.T)
        gradient = part.T @ miss[use]
        step = -np.linalg.solve(normal + firm, gradient - free @ (free.T @ gradient))
        share, cost = 1.0, float(miss[use] @ miss[use])
        there = rows.evaluate(now + step)
        while (left := float(there[0][use] @ there[0][use])) > cost * (1.0 + _ENOUGH) + 1e-18:
            share *= 0.5
            if share < _LEAST_SHARE:
                return now, miss, slope, float(np.abs(step).max(initial=0.0)) < _RESTS
            there = rows.evaluate(now + share * step)
        now = now + share * step
        miss, slope = there
        size = float(np.abs(share * step).max(initial=0.0))
        if size < done or (size < _RESTS and cost - left <= _ENOUGH * cost):
            return now, miss, slope, True
    return now, miss, slope, False
