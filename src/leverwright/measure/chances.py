"""How likely chance alone does as much: tails of Student's t, Fisher's F and chi squared.

Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.4, 26.5 and 26.7; continued fractions 6.5.31
and 26.5.8, evaluated by Lentz's method.
"""

from __future__ import annotations

import math
from collections.abc import Callable

__all__ = ["beyond_chi_squared", "beyond_f", "beyond_normal", "beyond_t", "widened"]

_ROUNDING = 1e-15  # a term this small against the sum changes nothing any more
_SMALLEST = 1e-300  # stands in for a zero that a continued fraction would divide by
_TERMS = 10_000  # far more than any of these fractions takes
_NINETY_FIVE = 0.05  # what lies outside the interval that two standard deviations stand for


def beyond_normal(size: float) -> float:
    """Chance that a normal deviation is larger than `size` standard deviations, either way."""
    return math.erfc(abs(size) / math.sqrt(2.0))


def beyond_t(size: float, spare: int) -> float:
    """Chance that Student's t of `spare` degrees of freedom is larger than `size`, either way."""
    return _beta_share(spare / (spare + size * size), 0.5 * spare, 0.5)


def beyond_f(size: float, above: int, below: int) -> float:
    """Chance that Fisher's F of `above` and `below` degrees of freedom is larger than `size`."""
    return _beta_share(below / (below + above * size), 0.5 * below, 0.5 * above) if size > 0.0 else 1.0


def beyond_chi_squared(size: float, spare: int) -> float:
    """Chance that chi squared of `spare` degrees of freedom is larger than `size`."""
    if size <= 0.0:
        return 1.0
    shape, at = 0.5 * spare, 0.5 * size
    front = math.exp(shape * math.log(at) - at - math.lgamma(shape))
    if at >= shape + 1.0:
        return front * _continued(lambda k: k * (shape - k), lambda k: at + 2 * k + 1.0 - shape)
    term = total = 1.0 / shape
    k = 0
    while abs(term) > _ROUNDING * total:
        k += 1
        term *= at / (shape + k)
        total += term
    return 1.0 - front * total


def widened(spare: int) -> float:
    """Factor [1] on a deviation taken from `spare` spare readings, so that twice it still covers 95 %.

    Half of the two-sided 95 % point of Student's t: few readings know their own scatter badly (JCGM 100:2008, G.3).
    """
    low, high = 0.0, 1e4
    while high - low > 1e-12 * high:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if beyond_t(middle, spare) > _NINETY_FIVE else (low, middle)
    return 0.25 * (low + high)


def _beta_share(at: float, a: float, b: float) -> float:
    """Regularised incomplete beta function I_at(a, b), by its continued fraction."""
    if at <= 0.0 or at >= 1.0:
        return min(max(at, 0.0), 1.0)
    if at > (a + 1.0) / (a + b + 2.0):
        return 1.0 - _beta_share(1.0 - at, b, a)
    scale = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    front = math.exp(scale + a * math.log(at) + b * math.log1p(-at)) / a

    def over(k: int) -> float:
        m = k // 2
        if k % 2:
            return -(a + m) * (a + b + m) * at / ((a + 2 * m) * (a + 2 * m + 1))
        return m * (b - m) * at / ((a + 2 * m - 1) * (a + 2 * m))

    return front * _continued(over, lambda _: 1.0)


def _continued(over: Callable[[int], float], under: Callable[[int], float]) -> float:
    """1 / (u₀ + o₁ / (u₁ + o₂ / (u₂ + …))), by Lentz's method."""
    value = under(0) or _SMALLEST
    c, d = value, 0.0
    for k in range(1, _TERMS):
        d = under(k) + over(k) * d or _SMALLEST
        c = under(k) + over(k) / c or _SMALLEST
        d = 1.0 / d
        value *= c * d
        if abs(c * d - 1.0) < _ROUNDING:
            break
    return 1.0 / value
