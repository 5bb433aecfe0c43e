"""SI numbers → figures of the measuring document, with their words."""

from __future__ import annotations

import math

from leverwright.quantity import Kind, Quantity, say, to_surface
from leverwright.wire.measure import Figure, FigureUnit
from leverwright.wire.strict import number

__all__ = ["UNIT", "figure", "figure_of", "known", "surface"]

UNIT: dict[Kind, FigureUnit] = {
    "length": "mm",
    "mass": "kg",
    "force": "N",
    "stiffness": "N/mm",
    "ratio": "1",
    "percent": "%",
    "frequency": "Hz",
    "angle": "deg",
}


def figure(value: float, kind: Kind, error: float | None = None) -> Figure | None:
    """A figure with its words; None where it is not known. `error` NaN is not known either."""
    if not math.isfinite(value):
        return None
    spread = None if error is None or not math.isfinite(error) else error
    said = say(value, kind, error=spread)
    shown = None if spread is None else surface(spread, kind)
    return Figure(surface(value, kind), UNIT[kind], shown, said)


def figure_of(quantity: Quantity | None) -> Figure | None:
    """The same of a quantity."""
    return None if quantity is None else figure(quantity.value, quantity.kind, quantity.error)


def surface(value: float, kind: Kind) -> float:
    """A finite SI value in the file's unit."""
    return number(to_surface(value, kind))


def known(value: float | None, kind: Kind = "ratio") -> float | None:
    """The same, None where it is not finite."""
    return None if value is None or not math.isfinite(value) else surface(value, kind)
