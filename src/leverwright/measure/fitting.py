"""Least squares: numbers that fit readings best, their covariance, and what is left over.

Source: any text on linear regression; JCGM 100:2008, H.3 (a line through readings). Solved by orthogonal
factors, not by normal equations, so that nothing is lost where the columns are nearly alike.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, check_shape

__all__ = ["Fit", "fit_curve", "fit_linear"]

_STEPS = 200  # Gauss-Newton steps; a curve that is not found by then is not found
_SETTLED = 1e-13  # relative change of the square sum and of every number, where rounding begins


@dataclass(frozen=True, slots=True)
class Fit:
    """What fits `observed` best.

    value       (K,) the numbers
    covariance  (K, K) of them: from the stated covariance of the readings, or from their scatter where none is stated
    residual    (M,) observed less fitted
    square_sum  of the residuals, each over its deviation where one is stated
    spare       readings more than numbers
    """

    value: Array
    covariance: Array
    residual: Array
    square_sum: float
    spare: int


def fit_linear(design: Array, observed: Array, covariance: Array | None = None) -> Fit:
    """Best `value` in design @ value = observed; `design` (M, K), `observed` (M,), their `covariance` (M, M).

    Without a covariance all readings count alike and their scatter gives the ±: NaN where no reading is spare.
    ValueError where the readings do not determine the numbers.
    """
    check_shape("design", design, "M K", M=len(observed))
    whitened, seen = _whiten(design, observed, covariance)
    spare = len(observed) - design.shape[1]
    # Columns of like size, or the rank test would compare metres with newtons.
    size = np.sqrt(np.einsum("mk,mk->k", whitened, whitened))
    if spare < 0 or np.any(size == 0.0):
        raise ValueError("there are fewer readings than numbers to be found")
    q, r = np.linalg.qr(whitened / size)
    if np.abs(np.diag(r)).min() < 1e-12 * np.abs(np.diag(r)).max():
        raise ValueError("the readings do not tell the numbers apart")
    value = np.linalg.solve(r, q.T @ seen) / size
    residual = seen - whitened @ value
    square_sum = float(residual @ residual)
    inverse = np.linalg.inv(r) / size[:, None]
    return Fit(
        value,
        inverse @ inverse.T * _variance(square_sum, spare, stated=covariance is not None),
        observed - design @ value,
        square_sum,
        spare,
    )


def fit_curve(
    curve: Callable[[Array], tuple[Array, Array]],
    start: Array,
    observed: Array,
    covariance: Array | None = None,
) -> Fit:
    """Best `value` of a curve that is not linear in its numbers.

    curve  value (K,) -> fitted (M,) and its slopes (M, K)

    Gauss-Newton steps, shortened by a growing diagonal where a whole one would not help (Levenberg, Marquardt).
    ValueError where it does not settle.
    """
    value = np.asarray(start, dtype=np.float64)
    damping = 1e-3
    fitted, slopes = curve(value)
    whitened, left = _whiten(slopes, observed - fitted, covariance)
    square_sum = float(left @ left)
    for _ in range(_STEPS):
        size = np.sqrt(np.einsum("mk,mk->k", whitened, whitened))
        stack = np.vstack([whitened, np.sqrt(damping) * np.diag(size)])
        step = np.linalg.lstsq(stack, np.concatenate([left, np.zeros(len(size))]), rcond=None)[0]
        new_fitted, new_slopes = curve(value + step)
        new_whitened, new_left = _whiten(new_slopes, observed - new_fitted, covariance)
        new_sum = float(new_left @ new_left)
        small = bool(np.all(np.abs(step) <= _SETTLED * np.abs(value)))
        if np.isfinite(new_sum) and new_sum <= square_sum:
            value, fitted, slopes = value + step, new_fitted, new_slopes
            settled = square_sum - new_sum <= _SETTLED * square_sum and damping < 1e-6
            whitened, left, square_sum, damping = new_whitened, new_left, new_sum, 0.1 * damping
            if settled or small:
                break
        elif small:
            break
        else:
            damping = max(damping, 1e-12) * 10.0
    else:
        raise ValueError("the curve does not settle on the readings: begin nearer, or take another curve")
    spare = len(observed) - len(value)
    inverse = np.linalg.inv(np.linalg.qr(whitened, mode="r"))
    return Fit(
        value,
        inverse @ inverse.T * _variance(square_sum, spare, stated=covariance is not None),
        observed - fitted,
        square_sum,
        spare,
    )


def _whiten(design: Array, observed: Array, covariance: Array | None) -> tuple[Array, Array]:
    """Rows turned and scaled so that every reading has deviation 1 and none knows of another."""
    if covariance is None:
        return design, observed
    factor = np.linalg.cholesky(covariance)
    return np.linalg.solve(factor, design), np.linalg.solve(factor, observed)


def _variance(square_sum: float, spare: int, *, stated: bool) -> float:
    if stated:
        return 1.0
    return square_sum / spare if spare > 0 else float("nan")
