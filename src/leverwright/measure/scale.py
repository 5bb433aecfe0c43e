"""Wheels weighed one by one with one scale: loads with their covariance, and whether the scale closes.

Source: JCGM 100:2008 (GUM): 4.2 repeats, 4.3.7 rounding, F.1.2.3 errors that readings of one instrument share.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, check_shape
from leverwright.measure.chances import widened
from leverwright.measure.plank import PlankLever, over_plank

__all__ = [
    "CLOSES",
    "CLOSES_SHARE",
    "Closure",
    "ScaleFacts",
    "Weighed",
    "WheelReads",
    "balance_point",
    "cross_weight",
    "pooled_error",
    "raised_shift",
    "weigh",
]

CLOSES, CLOSES_SHARE = 1.0, 0.02  # kg, or share of the load if that is more, within which it closes (CP)
_SIGMAS = 2.0  # a known mass read closer than this says nothing against the scale
_STEPS = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)  # kg, what scales round to; the coarsest that fits
_FITS = 1e-6  # kg, rounding of a decimal fraction


@dataclass(frozen=True, slots=True)
class WheelReads:
    """Readings [kg] under one wheel; `error` is their own standard deviation where they state one."""

    reads: tuple[float, ...]
    error: float | None = None
    plank: PlankLever | None = None


@dataclass(frozen=True, slots=True)
class ScaleFacts:
    """What is known of the scale, kg.

    error  standard deviation of one reading
    known  (mass, what the scale reads of it)
    total  the whole vehicle, in one go or by another scale
    """

    error: float | None = None
    known: tuple[float, float] | None = None
    total: float | None = None


@dataclass(frozen=True, slots=True)
class Closure:
    """One check of the scale: off by `off` kg of `of` kg where `allowed` kg are; wheel -1 where it is of no wheel.

    kind  "known" mass, "repeats" of one wheel (largest less smallest), sum of the wheels against the "total"
    """

    kind: str
    off: float
    of: float
    allowed: float
    wheel: int = -1

    @property
    def closes(self) -> bool:
        """Whether it is as good as common practice asks."""
        return abs(self.off) <= self.allowed + 1e-9


@dataclass(frozen=True, slots=True)
class Weighed:
    """Loads (W,) kg with their covariance (W, W) kg²; NaN there where nothing states an error.

    reading_error  kg, standard deviation of one reading that states none itself; NaN where nothing tells
    """

    load: Array
    covariance: Array
    reading_error: float
    closures: tuple[Closure, ...]

    @property
    def total(self) -> float:
        """Sum of the wheels, kg."""
        return float(self.load.sum())


def weigh(wheels: Sequence[WheelReads], scale: ScaleFacts) -> Weighed:
    """Load of each wheel: mean of its readings, the plank taken out.

    A known mass read wrongly is not taken off: one mass cannot tell a wrong zero from a wrong gain. It enters
    every wheel alike, in proportion to the load where that is heavier, as a rectangular band.
    """
    common = pooled_error(wheels, scale)
    step = _step([r for wheel in wheels for r in wheel.reads])
    rows = [_one(wheel, common, step) for wheel in wheels]
    load, sigma = np.array([row[0] for row in rows]), np.array([row[1] for row in rows])
    covariance = np.diag(sigma**2)
    if scale.known is not None and not abs(scale.known[1] - scale.known[0]) <= _SIGMAS * common:
        mass, off = scale.known[0], scale.known[1] - scale.known[0]
        shared = np.array([_shared(wheel, off, mass) for wheel in wheels])
        covariance = covariance + np.outer(shared, shared)
    return Weighed(load, covariance, common, tuple(_closures(wheels, load, scale)))


def pooled_error(wheels: Sequence[WheelReads], scale: ScaleFacts) -> float:
    """Standard deviation [kg] of one reading: the stated one, else from all repeats together; NaN without either.

    Few repeats know their scatter badly: it is widened as Student's t asks (GUM G.3).
    """
    if scale.error is not None:
        return scale.error
    squares, spare = 0.0, 0
    for wheel in wheels:
        mean = sum(wheel.reads) / len(wheel.reads)
        squares += sum((read - mean) ** 2 for read in wheel.reads)
        spare += len(wheel.reads) - 1
    if spare == 0:
        return math.nan
    step = _step([read for wheel in wheels for read in wheel.reads])
    return max(math.sqrt(squares / spare) * widened(spare), step / math.sqrt(12.0))


def _step(reads: Sequence[float]) -> float:
    """What the scale seems to round to [kg]."""
    return next(
        (
            step
            for step in _STEPS
            if all(abs(read / step - round(read / step)) * step < _FITS for read in reads)
        ),
        0.0,
    )


def _one(wheel: WheelReads, common: float, step: float) -> tuple[float, float]:
    """Load and standard deviation of one wheel; rounding is no smaller for being repeated."""
    reads = np.array(wheel.reads)
    each = common if wheel.error is None else wheel.error
    sigma = each / math.sqrt(len(reads))
    if len(reads) > 1:
        sigma = max(sigma, min(each, step / math.sqrt(12.0)))
    mean = float(reads.mean())
    if wheel.plank is None:
        return mean, sigma
    return over_plank(wheel.plank, mean, sigma)


def _shared(wheel: WheelReads, off: float, mass: float) -> float:
    read = sum(wheel.reads) / len(wheel.reads)
    gain = 1.0 if wheel.plank is None else wheel.plank.gain
    return off * max(1.0, read / mass) * gain / math.sqrt(3.0)


def _closures(wheels: Sequence[WheelReads], load: Array, scale: ScaleFacts) -> list[Closure]:
    def closure(kind: str, off: float, of: float, wheel: int = -1) -> Closure:
        return Closure(kind, off, of, max(CLOSES, CLOSES_SHARE * abs(of)), wheel)

    found = []
    if scale.known is not None:
        mass, read = scale.known
        found.append(closure("known", read - mass, mass))
    for index, wheel in enumerate(wheels):
        if len(wheel.reads) > 1:
            low, high = min(wheel.reads), max(wheel.reads)
            found.append(closure("repeats", high - low, 0.5 * (low + high), index))
    if scale.total is not None and len(wheels):
        found.append(closure("total", float(load.sum()) - scale.total, scale.total))
    return found


def cross_weight(weighed: Weighed, diagonal: tuple[int, int]) -> tuple[float, float]:
    """Share of the total on two wheels across from each other (left front and right rear), and its deviation."""
    share = np.isin(np.arange(len(weighed.load)), diagonal).astype(float)
    value = float(share @ weighed.load) / weighed.total
    slope = (share - value) / weighed.total
    return value, math.sqrt(float(slope @ weighed.covariance @ slope))


def balance_point(weighed: Weighed, places: Array, place_error: float = 0.0) -> tuple[Array, Array]:
    """Centre of gravity (2,) m over the ground from loads at `places` (W, 2) m, and its covariance (2, 2).

    place_error  m, standard deviation of each coordinate of each place
    """
    check_shape("places", places, "W 2", W=len(weighed.load))
    share = weighed.load / weighed.total
    at = share @ places
    slope = (places - at) / weighed.total  # (W, 2) m/kg
    spread = np.eye(2) * place_error**2 * float(share @ share)
    return at, np.einsum("wi,wv,vj->ij", slope, weighed.covariance, slope) + spread


def raised_shift(places: Array, rates: Array, wheel: int, height: float) -> Array:
    """Loads [N] (W,) that come on the wheels when one of them stands `height` m higher than the others.

    places  (W, 2) m   where the wheels stand
    rates   (W,) N/m   of each wheel with its tyre in series; inf: neither gives

    On a rigid frame only such loads can shift as leave sum and both moments alone. For four equal rates k at the
    corners of a rectangle that is k × height / 4 on each, + on the raised wheel and its diagonal. NaN where nothing
    gives; zeros on three wheels, which stand on any ground.
    Source: statics, least work (Castigliano).
    """
    check_shape("places", places, "W 2", W=len(rates))
    left = np.linalg.svd(np.column_stack([np.ones(len(rates)), places - places.mean(axis=0)]))[0]
    rank = np.linalg.matrix_rank(np.column_stack([np.ones(len(rates)), places - places.mean(axis=0)]))
    free = left[:, rank:]  # (W, W - 3)
    if not free.shape[1]:
        return np.zeros(len(rates))
    gives = np.where(np.isinf(rates), 0.0, 1.0 / np.where(np.isinf(rates), 1.0, rates))
    soft = np.einsum("wa,w,wb->ab", free, gives, free)
    if np.linalg.matrix_rank(soft) != len(soft):
        return np.full(len(rates), np.nan)
    shift: Array = free @ np.linalg.solve(soft, free[wheel] * height)
    return shift
