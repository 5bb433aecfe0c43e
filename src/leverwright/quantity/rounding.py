"""Numbers rounded for a sentence, as a browser rounds them, so that the page words them alike."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

__all__ = ["fixed"]


def fixed(number: float, decimals: int) -> str:
    """`number` with so many decimals, halves away from zero on its binary value, never "-0".

    Source of the rule: Number.prototype.toFixed of ECMAScript takes the larger of two equally near.
    """
    step = Decimal(1).scaleb(-decimals)
    rounded = Decimal(number).quantize(step, rounding=ROUND_HALF_UP)
    return f"{abs(rounded) if rounded.is_zero() else rounded:f}"
