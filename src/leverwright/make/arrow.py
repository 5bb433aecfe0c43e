"""An arrow that says which way is up on the vehicle."""

from __future__ import annotations

from leverwright.make.outline import Spot
from leverwright.make.pen import Pen

__all__ = ["draw_arrow"]

_MM = 1e-3
_HALF, _WEIGHT = 6 * _MM, 0.35 * _MM
_BARB_BACK, _BARB_SIDE = 2.6 * _MM, 1.2 * _MM
_SMALL = 2.8 * _MM


def draw_arrow(pen: Pen, middle: Spot, direction: Spot, words: str) -> None:
    """12 mm long, its word beside it; `direction` has length 1."""
    dx, dy = direction
    tail = (middle[0] - _HALF * dx, middle[1] - _HALF * dy)
    tip = (middle[0] + _HALF * dx, middle[1] + _HALF * dy)
    pen.line(tail, tip, _WEIGHT)
    for side in (-_BARB_SIDE, _BARB_SIDE):
        barb = (tip[0] - _BARB_BACK * dx + side * dy, tip[1] - _BARB_BACK * dy - side * dx)
        pen.line(barb, tip, _WEIGHT)
    at = (middle[0] + 2.3 * _MM * abs(dy), middle[1] + 2 * _MM * abs(dx) - 1 * _MM * abs(dy))
    pen.text(at, words, _SMALL, "Bold")
