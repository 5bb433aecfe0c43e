"""Readings taken several times over: their mean, its covariance, and what follows from it.

Source: JCGM 100:2008 (GUM), 4.2, 5.2 and its example H.2: quantities read together may hang together.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, check_shape

__all__ = ["Known", "carried", "mean_of_repeats"]

_STEP = 1e-6  # of a number, for the slope of what follows from it: half of the digits of a float


@dataclass(frozen=True, slots=True)
class Known:
    """Numbers (K,) with their covariance (K, K)."""

    value: Array
    covariance: Array

    @property
    def error(self) -> Array:
        """One standard deviation of each, (K,)."""
        return np.sqrt(np.diag(self.covariance))

    @property
    def correlation(self) -> Array:
        """How they hang together, (K, K), 1 on the diagonal."""
        return self.covariance / np.outer(self.error, self.error)


def mean_of_repeats(readings: Array) -> Known:
    """Mean of `readings` (R, K), R rounds of K quantities read together, and its covariance (GUM 5.2.3)."""
    check_shape("readings", readings, "R K")
    rounds = len(readings)
    if rounds < 2:
        raise ValueError("one round of readings says nothing of its own scatter: read once more")
    apart = readings - readings.mean(axis=0)
    return Known(readings.mean(axis=0), np.einsum("rk,rm->km", apart, apart) / (rounds * (rounds - 1)))


def carried(known: Known, follows: Callable[[Array], Array]) -> Known:
    """What `follows`, (K,) -> (J,), from known numbers, to first order (GUM 5.2.2)."""
    step = _STEP * np.maximum(np.abs(known.value), known.error)
    step = np.where(step > 0.0, step, _STEP)
    slopes = np.stack(
        [
            (follows(known.value + move) - follows(known.value - move)) / (2.0 * size)
            for move, size in zip(np.diag(step), step, strict=True)
        ],
        axis=1,
    )
    return Known(follows(known.value), slopes @ known.covariance @ slopes.T)
