"""A tyre's rate by scale and ruler: how far the axle sinks for more load on the wheel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, check_shape
from leverwright.measure.chances import widened
from leverwright.measure.fitting import fit_linear

__all__ = ["RULER_ERROR", "TyreRate", "tyre_rate"]

# m. An axle's height above the floor is read no better with a ruler, by eye over a round thing (common practice).
# Smaller: the ± of a rate over a few millimetres would be told too small.
RULER_ERROR = 1e-3
# m. Heights nearer than this are one: a bend needs three, and repeats of two tell none.
_SAME_HEIGHT = 1e-6


@dataclass(frozen=True, slots=True)
class TyreRate:
    """What the readings say.

    rate, error  N/m with one standard deviation, NaN where nothing tells it
    bend         N/m more at the last load than at the first; 0 where fewer than three heights differ
    """

    rate: float
    error: float
    bend: float


def tyre_rate(
    load: Array, height: Array, load_error: float | None = None, height_error: float | None = None
) -> TyreRate:
    """Rate from loads [N] on a standing wheel and heights [m] of its axle above the floor, both (N,), in any order.

    Errors of scale and ruler both count (effective variance); where either is not stated the scatter gives the ±.
    ValueError where fewer than two loads differ, or the axle does not sink.
    """
    check_shape("height", height, "N", N=len(load))
    order = np.argsort(load)
    load, sunk = load[order], height[order[0]] - height[order]
    if len(load) < 2 or load[-1] <= load[0] or sunk[-1] <= 0.0:
        raise ValueError("a tyre's rate needs two loads, and an axle that stands lower under the larger one")
    design = np.stack([np.ones_like(sunk), sunk], axis=1)
    rate = float(fit_linear(design, load).value[1])
    if load_error is None or height_error is None:
        fit = fit_linear(design, load)
        error = float(np.sqrt(fit.covariance[1, 1])) * (widened(fit.spare) if fit.spare else 1.0)
    else:
        one = load_error**2 + (rate * height_error) ** 2
        fit = fit_linear(design, load, np.diag(np.full(len(load), one)))
        error = float(np.sqrt(fit.covariance[1, 1]))
    bend = 0.0
    if np.count_nonzero(np.diff(np.sort(sunk)) > _SAME_HEIGHT) > 1:
        bent = fit_linear(np.column_stack([design, sunk**2]), load).value
        bend = float(2.0 * bent[2] * sunk[-1])
    return TyreRate(float(fit.value[1]), error, bend)
