"""Which reading is bad: how far each is checked by the others, and how far it is from what they say.

Redundancy numbers and standardized residuals: Baarda, A Testing Procedure for Use in Geodetic Networks, 1968; the
global test's quantile by Wilson and Hilferty, 1931 (both from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.measure.network_solve import Split

__all__ = [
    "LIMIT",
    "UNCHECKED",
    "Checks",
    "checks_from",
    "checks_of",
    "cover_of",
    "global_limit",
    "reweighted",
    "suspects_of",
]

LIMIT = 3.0  # standardized residuals beyond this are named
UNCHECKED = 0.02  # a reading of less redundancy hides any blunder of 27 σ from the test
_NOTHING = 1e-6  # of redundancy: rounding of a row that nothing checks
_DETECTED = LIMIT + 0.84  # with a power of 80 % (normal quantile of 0.8)
_ALIKE = 0.98  # correlation of two standardized residuals beyond which no reading tells one from the other
_TENTH_OF_PERCENT = 3.09  # normal quantile of 0.999


@dataclass(frozen=True, slots=True)
class Checks:
    """Of each row (M,): redundancy 0 to 1, standardized residual, gap to what the others say and least blunder seen.

    The last two are in units of the row's own ±; nothing checks a row of redundancy 0: NaN there.
    alike  (M, M) correlation of the residuals
    """

    redundancy: Array
    standardized: Array
    gap: Array
    detectable: Array
    alike: Array


def checks_of(miss: Array, slope: Array, split: Split, use: Mask) -> Checks:
    """Checks of each row; a row that is not used is compared with what the others predict."""
    return checks_from(miss, cover_of(slope, split), use)


def cover_of(slope: Array, split: Split) -> Array:
    """How far each row is fixed by each, (M, M): derivative × covariance × derivative."""
    half = (slope @ split.held) * np.sqrt(split.variance)
    out: Array = half @ half.T
    return out


def reweighted(miss: Array, cover: Array, at: int, share: float) -> tuple[Array, Array]:
    """Misfits and cover when row `at` counts only by `share` of its weight; 0 leaves it out.

    Sherman and Morrison's formula: x' = x + (1 - s) Q a v / (1 - (1 - s) aᵀQa). A row that still counts is then
    scaled to variance 1 again.
    """
    lost = 1.0 - share
    column = cover[:, at]
    less = lost / max(1.0 - lost * float(cover[at, at]), _NOTHING)
    miss = miss + less * miss[at] * column
    cover = cover + less * np.outer(column, column)
    if share > 0.0:
        root = np.sqrt(share)
        miss[at] *= root
        cover[at] *= root
        cover[:, at] *= root
    return miss, cover


def checks_from(miss: Array, cover: Array, use: Mask) -> Checks:
    """The same checks from misfits and cover."""
    own = np.maximum(np.diag(cover), 0.0)
    spare = np.where(use, 1.0 - own, 1.0)
    spare = np.clip(spare, 0.0, 1.0)
    checked = spare > 1e-9
    root = np.sqrt(np.where(checked, spare, 1.0))
    standardized = np.where(use, np.where(checked, miss / root, np.nan), miss / np.sqrt(1.0 + own))
    gap = np.where(use, np.where(checked, miss / np.where(checked, spare, 1.0), np.nan), miss)
    seen = np.where(use, np.where(checked, _DETECTED / root, np.nan), _DETECTED * np.sqrt(1.0 + own))
    both = -cover + np.eye(len(own))
    alike = both / (root[:, None] * root[None, :])
    return Checks(
        np.where(use, spare, 0.0), standardized, gap, seen, np.where(checked[:, None] & checked, alike, 0.0)
    )


def suspects_of(checks: Checks, use: Mask) -> tuple[int, ...]:
    """The worst reading beyond the limit, first, and those that cannot be told from it; none if all agree."""
    size = np.where(use & (checks.redundancy > UNCHECKED), np.abs(np.nan_to_num(checks.standardized)), 0.0)
    worst = int(np.argmax(size)) if len(size) else 0
    if len(size) == 0 or size[worst] <= LIMIT:
        return ()
    alike = np.abs(checks.alike[worst]) > _ALIKE
    alike[worst] = False
    return (worst, *(int(k) for k in np.flatnonzero(alike & use)))


def global_limit(spare: int) -> float:
    """The sum of squares that agreeing readings with `spare` redundancy pass once in a thousand times."""
    if spare <= 0:
        return 0.0
    part = 2.0 / (9.0 * spare)
    return float(spare * (1.0 - part + _TENTH_OF_PERCENT * np.sqrt(part)) ** 3)
