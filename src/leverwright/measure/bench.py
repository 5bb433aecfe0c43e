"""A shock squashed on a scale: rate, start force and friction with their covariance, from readings in and out.

Going in the scale carries spring and friction, coming out spring less friction: their mean is the spring, half their
difference the friction. Marks and scale both err; an error of a mark counts with the rate (effective variance).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np

from leverwright.geometry import Array, Mask, check_shape
from leverwright.measure.bench_outlier import LeftOut, left_out
from leverwright.measure.bench_points import BenchReadings, Points, points_of, turning_mark, without
from leverwright.measure.bench_shapes import Kind, Shape, shape_of
from leverwright.measure.chances import beyond_chi_squared, widened
from leverwright.measure.fitting import Fit, fit_linear

__all__ = ["UNREAD_FRICTION", "BenchFit", "fit_bench"]

UNREAD_FRICTION = 0.10  # of the mean force: what friction may be where nothing was read coming out (CP)
_APART = 1e-4  # m; marks nearer to one another are one mark
_OPEN = 0.001  # m; a mark nearer to fully open is that
_SCATTER_CHANCE = 0.01  # readings that scatter more than stated by more than chance does make the ± larger


_NOT_KNOWN = np.full((3, 3), np.nan)
_NO_ROWS = np.zeros((0, 3))


@dataclass(frozen=True, slots=True)
class BenchFit:
    """What a bench test says of one shock. NaN where it does not say.

    kind        "straight", "progressive" or "two rates"; None where too little was read for a rate
    stroke      m between the first and the last mark
    rate        N/m; of a bent spring the mean over the marks
    start       N at fully open: the line carried back; preload and gas together
    friction    N, half of in less out; NaN where nothing was read coming out: then `start` holds friction too
    covariance  (3, 3) of rate, start, friction; NaN where nothing tells it
    rows        (n, 3) m, N in, N out of a bent spring; empty for a straight one
    rates       N/m at the first and at the last mark
    slope_error N/m, one standard deviation of the slope at a mark, root mean square over the marks
    knee        m, where the second rate begins
    touch       m, between which two marks the coils or a stop touched
    resting     at fully open the shock lay on its own end: what was read there is left out
    left_out    one reading that does not belong to the others
    turning     mark at which it was turned round: not used for the mean
    excess      by what the readings scatter more than stated, 1 where they do not
    chance      of a straight spring giving readings as bent as these; 1 for a straight line
    halves      N, each half difference of in and out
    """

    kind: Kind | None
    stroke: float
    rate: float = math.nan
    start: float = math.nan
    friction: float = math.nan
    covariance: Array = field(default_factory=lambda: _NOT_KNOWN)
    rows: Array = field(default_factory=lambda: _NO_ROWS)
    rates: tuple[float, float] = (math.nan, math.nan)
    slope_error: float = math.nan
    knee: float | None = None
    touch: tuple[float, float] | None = None
    resting: bool = False
    left_out: LeftOut | None = None
    turning: int | None = None
    excess: float = 1.0
    chance: float = 1.0
    halves: tuple[float, ...] = ()

    @property
    def error(self) -> Array:
        """One standard deviation of rate, start and friction, (3,)."""
        return np.sqrt(np.diag(self.covariance))


def fit_bench(readings: BenchReadings) -> BenchFit:
    """Rate, start force and friction from a bench test; a bent spring gets rows instead of one line.

    Without stated errors the readings' own scatter gives the ±, widened for how few they are.
    """
    count = len(readings.squash)
    check_shape("going_in", readings.going_in, "M", M=count)
    check_shape("coming_out", readings.coming_out, "M", M=count)
    if count == 0 or not np.all(np.diff(readings.squash) > _APART):
        return BenchFit(None, 0.0)
    turning = turning_mark(readings)
    odd = left_out(readings, turning)
    used = readings if odd is None else without(readings, odd.mark, odd.way)
    points = points_of(used, turning)
    stroke = float(np.ptp(readings.squash))
    if len(points.squash) < 2:
        return BenchFit(None, stroke, friction=points.friction, turning=turning, halves=tuple(points.halves))
    sigma = _sigmas(used, points)
    shape = shape_of(points.squash, points.push, sigma, _floor(used))
    taken = shape.keep & (_without_turning(points, shape, turning) if shape.kind == "straight" else True)
    fit = fit_linear(
        shape.columns(points.squash[taken]),
        points.push[taken],
        None if sigma is None else np.diag(sigma[taken] ** 2),
    )
    spread, excess = _spread(fit, stated=sigma is not None, floor=_floor(used))
    shape = replace(shape, numbers=fit.value)
    resting = not shape.keep[0] or (odd is not None and _is_resting(readings, odd))
    return BenchFit(
        shape.kind,
        stroke,
        *_numbers(points, shape),
        covariance=_covariance(used, points, shape, spread),
        rows=_rows(points, shape),
        rates=tuple(float(rate) for rate in shape.rate(points.squash[[0, -1]])),  # type: ignore[arg-type]
        slope_error=_slope_error(points, shape, spread),
        knee=shape.knee,
        touch=_touch(points, shape),
        resting=resting,
        left_out=None if resting else odd,
        turning=turning,
        excess=excess,
        chance=shape.chance,
        halves=tuple(points.halves),
    )


def _floor(readings: BenchReadings) -> float:
    """What rounding (and a scale's error, where only that is stated) leaves unsure of a mean of two readings [N]."""
    rounding = readings.step / math.sqrt(12.0)
    return max(rounding, readings.force_error or 0.0) / math.sqrt(2.0)


def _sigmas(readings: BenchReadings, points: Points) -> Array | None:
    """One standard deviation [N] of each point, where the errors of scale and mark are both stated."""
    if readings.force_error is None or readings.mark_error is None:
        return None
    slopes = np.diff(points.push) / np.diff(points.squash)
    share = np.where(points.paired, 0.5, 1.0 + 0.5 / max(1, len(points.halves)))
    by_scale = share * max(readings.force_error, readings.step / math.sqrt(12.0)) ** 2
    sigma = np.sqrt(by_scale + (float(np.median(slopes)) * readings.mark_error) ** 2)
    return sigma if np.all(sigma > 0.0) else None  # none at all is stated of no reading, and weighs nothing


def _without_turning(points: Points, shape: Shape, turning: int | None) -> Mask:
    """Every point but the turning one, where enough are left for a line that is checked."""
    others = points.mark != (-1 if turning is None else turning)
    left = int((shape.keep & others).sum())
    return others if left > 2 or (left == 2 and shape.keep.sum() == 2) else np.ones(len(others), dtype=bool)


def _spread(fit: Fit, *, stated: bool, floor: float) -> tuple[Array, float]:
    """Covariance of the fitted numbers, and by what the readings scatter more than stated."""
    if stated:
        odd = fit.spare > 0 and beyond_chi_squared(fit.square_sum, fit.spare) < _SCATTER_CHANCE
        excess = math.sqrt(fit.square_sum / fit.spare) if odd else 1.0
        return fit.covariance * excess**2, excess
    if fit.spare == 0:
        return np.full_like(fit.covariance, np.nan), 1.0
    # A perfect fit of rounded readings is luck: the steps of the scale stay unsure.
    variance = fit.square_sum / fit.spare
    share = max(1.0, floor**2 / variance) if variance > 0.0 else np.nan
    return fit.covariance * share * widened(fit.spare) ** 2, 1.0


def _ends(points: Points, shape: Shape) -> Array:
    """What the shape's numbers are multiplied by for the mean rate and for the force at fully open, (2, K)."""
    first, last = shape.columns(points.squash[shape.keep][[0, -1]])
    span = float(np.ptp(points.squash[shape.keep]))
    return np.stack([(last - first) / span, shape.columns(np.zeros(1))[0]])


def _numbers(points: Points, shape: Shape) -> tuple[float, float, float]:
    rate, start = _ends(points, shape) @ shape.numbers
    return float(rate), float(start), points.friction


def _covariance(readings: BenchReadings, points: Points, shape: Shape, spread: Array) -> Array:
    """Covariance of rate, start and friction, the plank's lever, common to all readings, included."""
    out = np.zeros((3, 3))
    ends = _ends(points, shape)
    out[:2, :2] = ends @ spread @ ends.T
    out[2, 2] = _friction_variance(readings, points)
    if not len(points.halves):
        # Friction that was not read is in the start force, anywhere up to the limit alike (JCGM 100:2008, 4.3.7).
        out[1, 1] += (UNREAD_FRICTION * float(points.push.mean())) ** 2 / 3.0
    numbers = np.array(_numbers(points, shape))
    known = np.where(np.isfinite(numbers), numbers, 0.0)
    return out + readings.lever_error**2 * np.outer(known, known)


def _slope_error(points: Points, shape: Shape, spread: Array) -> float:
    """A bent spring's slope is known worse towards its ends than its mean over the marks is."""
    columns = shape.rate_columns(points.squash[shape.keep])
    return float(np.sqrt(np.einsum("nk,kj,nj->n", columns, spread, columns).mean()))


def _friction_variance(readings: BenchReadings, points: Points) -> float:
    pairs = len(points.halves)
    if pairs == 0:
        return math.nan
    if readings.force_error is not None:
        return 0.5 * readings.force_error**2 / pairs
    if pairs == 1:
        return math.nan
    scatter = max(float(points.halves.std(ddof=1)), readings.step / math.sqrt(24.0))
    return (widened(pairs - 1) * scatter) ** 2 / pairs


def _rows(points: Points, shape: Shape) -> Array:
    """Squash, force in, force out of a bent spring, from fully open to the last mark."""
    if shape.kind == "straight":
        return _NO_ROWS
    places = np.unique(np.concatenate([[0.0], points.squash, [] if shape.knee is None else [shape.knee]]))
    mean = shape.push(places)
    friction = 0.0 if math.isnan(points.friction) else points.friction
    return np.stack([places, mean + friction, mean - friction], axis=1)


def _touch(points: Points, shape: Shape) -> tuple[float, float] | None:
    if shape.keep[-1]:
        return None
    last = int(np.flatnonzero(shape.keep)[-1])
    return float(points.squash[last]), float(points.squash[last + 1])


def _is_resting(readings: BenchReadings, odd: LeftOut) -> bool:
    """Was the odd one read at fully open, too low: the shock lay on its own end and had not begun to move?"""
    return bool(odd.mark == 0 and readings.squash[0] < _OPEN and odd.read < odd.expected)
