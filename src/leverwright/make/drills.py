"""The drill that a rack has nearest to a wanted hole, and what marking in inches does to the lever."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from leverwright.make.parts import Hole, Part
from leverwright.quantity import fixed, to_surface

__all__ = ["Drill", "LeverShift", "lever_shift", "nearest_inch", "nearest_metric", "say_shift"]

_MM = 1e-3
_INCH = 0.0254  # m, exact
# Jobber drills are sold by 0.1 mm up to 13 mm, then by 0.5 mm; in inches by 1/64 (common practice).
_FINE_UP_TO = 13.0 * _MM
_FINE, _COARSE = 0.1 * _MM, 0.5 * _MM
_MARK = _INCH / 32  # what a tape in inches shows
_ON_SIZE = 0.005 * _MM  # no drill cuts truer


@dataclass(frozen=True, slots=True)
class Drill:
    """A stock drill: its name on the rack, its diameter [m], and how much larger than wanted [m]."""

    name: str
    diameter: float
    over: float


@dataclass(frozen=True, slots=True)
class LeverShift:
    """What rounding the marks does to a lever: spring arm over link arm, exact and as marked."""

    exact: float
    marked: float

    @property
    def change(self) -> float:
        """Relative change, 1."""
        return self.marked / self.exact - 1


def nearest_metric(diameter: float) -> Drill:
    """The stock drill in mm nearest to `diameter` [m]."""
    step = _FINE if diameter <= _FINE_UP_TO + _FINE / 2 else _COARSE
    size = round(diameter / step) * step
    return Drill(f"{fixed(to_surface(size, 'length'), 1)} mm", size, size - diameter)


def nearest_inch(diameter: float) -> Drill:
    """The stock drill in inches nearest to `diameter` [m], by 1/64 in."""
    size = Fraction(round(diameter / _INCH * 64), 64)
    whole, part = divmod(size, 1)
    name = " ".join(text for text in (str(whole) if whole else "", str(part) if part else "") if text)
    metres = float(size) * _INCH
    return Drill(f"{name or '0'} in", metres, metres - diameter)


def say_shift(drill: Drill) -> str:
    """The drill against the wanted hole: "on size", "0.08 mm over"."""
    if abs(drill.over) < _ON_SIZE:
        return "on size"
    size = fixed(abs(to_surface(drill.over, "length")), 2)
    return f"{size} mm {'over' if drill.over > 0 else 'under'}"


def lever_shift(part: Part) -> LeverShift | None:
    """The lever's arms when every hole is marked to the nearest 1/32 in; None without both arms."""
    pivot = part.holes[0]
    link = next((hole for hole in part.holes if hole.role == "link"), None)
    spring = next((hole for hole in part.holes if hole.role == "spring"), None)
    if pivot.role != "pivot" or link is None or spring is None:
        return None
    exact = _arm(pivot, spring, 0.0) / _arm(pivot, link, 0.0)
    return LeverShift(exact, _arm(pivot, spring, _MARK) / _arm(pivot, link, _MARK))


def _arm(pivot: Hole, hole: Hole, step: float) -> float:
    """Distance between two holes, each marked to the nearest `step` (0: as drawn)."""

    def marked(value: float) -> float:
        return round(value / step) * step if step else value

    along = marked(hole.along) - marked(pivot.along)
    return hypot(along, marked(hole.up) - marked(pivot.up))
