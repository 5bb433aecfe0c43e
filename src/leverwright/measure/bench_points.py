"""Readings of a bench test, in and out at marks, as points of the spring alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from leverwright.geometry import Array, Mask

__all__ = ["BenchReadings", "Points", "Way", "points_of", "turning_mark", "without"]

Way = Literal["in", "out"]
Whole: TypeAlias = npt.NDArray[np.intp]

# Smallest steps of scales, N: half-kilograms, pounds, newtons and their usual parts.
_KILOGRAM, _POUND = 9.80665, 4.4482216152605
_STEPS = tuple(
    sorted((unit * part for unit in (_KILOGRAM, _POUND, 1.0) for part in (1.0, 0.5, 0.2, 0.1)), reverse=True)
)
_ON_STEP = 1e-6  # of a step; readings typed as 10.5 kg are that in floats


@dataclass(frozen=True, slots=True)
class BenchReadings:
    """What was read, the plank's lever taken out.

    squash       (M,) m from fully open, rising
    going_in     (M,) N on the shock at each mark
    coming_out   (M,) N likewise; NaN where none was read
    force_error  N, one standard deviation of a reading; None when not stated
    mark_error   m, the same of a mark
    lever_error  share by which the plank's lever may be wrong, the same in every reading
    lever        by which scale readings were multiplied; 1 without a plank
    """

    squash: Array
    going_in: Array
    coming_out: Array
    force_error: float | None = None
    mark_error: float | None = None
    lever_error: float = 0.0
    lever: float = 1.0

    @property
    def step(self) -> float:
        """Smallest step of the scale [N] that all readings keep to; 0 where they keep to none."""
        read = np.concatenate([self.going_in, self.coming_out]) / self.lever
        read = read[np.isfinite(read)]
        for step in _STEPS:
            off = np.abs(read / step - np.round(read / step))
            if np.all(off < _ON_STEP * np.maximum(1.0, read / step)):
                return step * self.lever
        return 0.0


@dataclass(frozen=True, slots=True)
class Points:
    """Points of the spring alone, friction taken out where it is known.

    squash, push  (n,) m, N
    mark          (n,) which mark
    paired        (n,) read both ways
    friction      N, mean of half of in less out; NaN without a pair
    halves        (pairs,) N each half difference
    """

    squash: Array
    push: Array
    mark: Whole
    paired: Mask
    friction: float
    halves: Array


def turning_mark(readings: BenchReadings) -> int | None:
    """The mark at which the shock was turned round: one reading that stands for in and out, or only in.

    There the shock has not moved back yet: its friction still presses the other way, and the mean of the two
    columns is the way in, not the spring. None where nothing was read coming out, or the last out is a true one.
    """
    out = readings.coming_out
    last = len(out) - 1
    if last < 1 or not np.any(np.isfinite(out[:last])):
        return None
    same = bool(abs(out[last] - readings.going_in[last]) <= _ON_STEP * abs(readings.going_in[last]))
    return last if same or np.isnan(out[last]) else None


def without(readings: BenchReadings, mark: int, way: Way) -> BenchReadings:
    """The same readings with one of them not there."""
    going_in, coming_out = readings.going_in.copy(), readings.coming_out.copy()
    (going_in if way == "in" else coming_out)[mark] = np.nan
    return BenchReadings(
        readings.squash,
        going_in,
        coming_out,
        readings.force_error,
        readings.mark_error,
        readings.lever_error,
        readings.lever,
    )


def points_of(readings: BenchReadings, turning: int | None) -> Points:
    """Means of in and out; where only one of them is there, it less (or plus) the friction of the others."""
    going_in, coming_out = readings.going_in, readings.coming_out.copy()
    if turning is not None:
        coming_out[turning] = np.nan
    halves = 0.5 * (going_in - coming_out)
    paired = np.isfinite(halves)
    friction = float(halves[paired].mean()) if paired.any() else np.nan
    shift = friction if paired.any() else 0.0
    push = np.where(
        paired,
        0.5 * (going_in + coming_out),
        np.where(np.isfinite(going_in), going_in - shift, coming_out + shift),
    )
    there = np.isfinite(push)
    return Points(
        readings.squash[there],
        push[there],
        np.flatnonzero(there),
        paired[there],
        friction,
        halves[paired],
    )
