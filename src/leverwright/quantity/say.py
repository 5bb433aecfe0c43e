"""How a quantity is said in a sentence, in metric or in inch and pound units.

A figure is never said beyond its uncertainty: with an error, the two ends of value ± 2 standard
deviations (95 %) are said in plain words, rounded outward to the first figure of that deviation.
Without one, in the figures that a workshop can use.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from leverwright.quantity.inches import FINEST_MARK, say_inches, say_inches_between
from leverwright.quantity.rounding import fixed
from leverwright.quantity.units import SURFACE_UNIT, UNITS, Kind, System, Unit

__all__ = [
    "say",
    "say_between",
    "say_ratio",
    "say_travel",
    "say_twist_ratio",
    "shown_unit",
]

_INCH_UNIT: Mapping[Kind, str] = MappingProxyType(
    {
        "length": "in",
        "mass": "lb",
        "force": "lbf",
        "stiffness": "lbf/in",
        "angle": "deg",
        "torsion": "lbf·ft/deg",
        "moment": "lbf·ft",
        "frequency": "Hz",
        "speed": "mph",
        "ratio": "",
        "percent": "%",
        "pressure": "psi",
        "modulus": "Mpsi",
        "time": "s",
    }
)
# 95 % of a normal spread lies within this many standard deviations (1.96, said as 2).
_SIGMAS = 2.0
_FINEST_INCH = 0.0000254  # m; what is under a mark of the tape is said to a thousandth of an inch
_NOT_A_NUMBER = "not a number"


@dataclass(frozen=True, slots=True)
class _Figures:
    """How many decimals a value without a stated error gets: by size, from large to small."""

    steps: tuple[tuple[float, int], ...]  # (from this size on, decimals)
    last: int  # decimals below the last step
    keep_zeros: bool = False

    def decimals(self, size: float) -> int:
        return next((decimals for least, decimals in self.steps if size >= least), self.last)


_THREE = _Figures(((99.95, 0), (9.995, 1)), 2)
_FIGURES: Mapping[Kind, _Figures] = MappingProxyType(
    {
        "length": _Figures(((9.95, 0), (0.095, 1)), 2),
        "mass": _Figures(((99.95, 0),), 1),
        "force": _Figures(((9.95, 0),), 1),
        "stiffness": _THREE,
        "angle": _Figures(((99.95, 0),), 1),
        "torsion": _THREE,
        "moment": _THREE,
        "frequency": _Figures(((9.995, 1),), 2, keep_zeros=True),
        "speed": _THREE,
        "ratio": _Figures(((0.0995, 2),), 3, keep_zeros=True),
        "percent": _Figures(((9.95, 0),), 1),
        "pressure": _Figures(((9.95, 0), (0.0995, 1)), 2),
        "modulus": _Figures(((9.95, 1),), 2),
        "time": _Figures(((9.95, 0), (0.095, 1)), 2),
    }
)


def shown_unit(kind: Kind, system: System = "metric") -> Unit:
    """The unit in which `system` says a quantity of that kind."""
    symbols = SURFACE_UNIT if system == "metric" else _INCH_UNIT
    return UNITS[kind][symbols[kind]]


def say(value: float, kind: Kind, *, system: System = "metric", error: float | None = None) -> str:
    """The SI `value` in words: "43 mm", or with an SI `error` (one standard deviation) "between 24 and 29 mm".

    A length in inches is said to 1/32, what is less to a thousandth. What is left beside a mark is said
    only of lengths to be marked: see `say_mark`.
    """
    if not _finite(value, error):
        return _NOT_A_NUMBER
    if error is not None and _is_wide(value, error, kind, system):
        spread = _SIGMAS * error
        return say_between(value - spread, value + spread, kind, system=system)
    if kind == "length" and system == "inch":
        return say_inches(value)
    unit = shown_unit(kind, system)
    return _with_unit(_figures(unit.from_si(value), kind), unit)


def say_between(low: float, high: float, kind: Kind, *, system: System = "metric") -> str:
    """Where a value lies at 95 %, from its SI ends: "between 24 and 29 mm", rounded outward."""
    if not (math.isfinite(low) and math.isfinite(high)):
        return _NOT_A_NUMBER
    low, high = min(low, high), max(low, high)
    if kind == "length" and system == "inch":
        return say_inches_between(low, high)
    unit = shown_unit(kind, system)
    first, last = _outward(unit.from_si(low), unit.from_si(high), kind)
    return f"between {first} and {_with_unit(last, unit)}"


def say_travel(travel: float, *, system: System = "metric", error: float | None = None) -> str:
    """A wheel travel with its sign: "+43 mm" is bump, "-30 mm" droop, "0 mm" the set-up pose."""
    said = say(travel, "length", system=system, error=error)
    signed = travel > 0 and not said.startswith(("between", "0 "))
    return f"+{said}" if signed else said


def say_ratio(ratio: float, *, system: System = "metric", error: float | None = None) -> str:
    """A motion ratio in both readings: "0.64 (spring moves 6.4 mm for 10 mm of wheel; 1 : 1.56)".

    Negative: the spring gets longer when the wheel goes up, and the words say so. Zero: it does not
    move. With an `error` (one standard deviation) both ends are said.
    """
    if not _finite(ratio, error):
        return _NOT_A_NUMBER
    if error is not None and _is_wide(ratio, error, "ratio", "metric"):
        return _ratio_between(ratio - _SIGMAS * error, ratio + _SIGMAS * error, system)
    said = _figures(ratio, "ratio")
    if float(said) == 0:  # what is said, so an exact comparison
        return f"{said} (spring does not move with the wheel)"
    return f"{said} ({_spring_moves(ratio, said, system)}; 1 : {_inverse(ratio)})"


def say_twist_ratio(twist: float, *, system: System = "metric", error: float | None = None) -> str:
    """How far a spring on a hinge twists [rad per m of wheel]: "twists 4.3 deg for 10 mm of wheel".

    Positive when bump winds it up; negative is said to be the wrong way.
    """
    if not _finite(twist, error):
        return _NOT_A_NUMBER
    wheel, words = (0.01, "10 mm") if system == "metric" else (0.0254, "1 in")
    turn = say(abs(twist) * wheel, "angle", error=None if error is None else error * wheel)
    if twist < 0 and not turn.startswith("0 "):
        return f"unwinds {turn} for {words} of bump, the wrong way"
    return f"twists {turn} for {words} of wheel"


def _spring_moves(ratio: float, said: str, system: System) -> str:
    """How far the spring goes for a handy travel of the wheel."""
    size = abs(ratio)
    if system == "metric":
        far = f"{fixed(10 * size, len(said.partition('.')[2]) - 1)} mm for 10 mm of "
    else:
        far = f"{said.removeprefix('-')} in for 1 in of "
    if ratio > 0:
        return f"spring moves {far}wheel"
    return f"spring gets longer, the wrong way, by {far}bump"


def _ratio_between(low: float, high: float, system: System) -> str:
    """Both ends of a ratio, and both readings where one sign is sure."""
    first, last = _outward(low, high, "ratio")
    if float(first) <= 0 <= float(last):
        return f"between {first} and {last} (not sure which way the spring moves)"
    decimals = max(len(first.partition(".")[2]) - 1, 0)
    ends = sorted((abs(float(first)), abs(float(last))))
    if system == "metric":
        near, far = (fixed(10 * end, decimals) for end in ends)
        moves = f"{near} to {far} mm for 10 mm of "
    else:
        near, far = (fixed(end, decimals + 1) for end in ends)
        moves = f"{near} to {far} in for 1 in of "
    way = "spring moves" if low > 0 else "spring gets longer, the wrong way, by"
    wheel = "wheel" if low > 0 else "bump"
    inverse = f"1 : {_inverse(ends[1])} to 1 : {_inverse(ends[0])}"
    return f"between {first} and {last} ({way} {moves}{wheel}; {inverse})"


def _inverse(ratio: float) -> str:
    """Wheel travel for one of the spring, three figures."""
    inverse = 1 / abs(ratio)
    return fixed(inverse, 2 if inverse < 9.995 else 1 if inverse < 99.95 else 0)


def _is_wide(value: float, error: float, kind: Kind, system: System) -> bool:
    """Is the spread at least half a step of the last figure that would be said anyway?"""
    unit = shown_unit(kind, system)
    step = 10.0 ** -_FIGURES[kind].decimals(abs(unit.from_si(value)))
    if kind == "length" and system == "inch":
        step = unit.from_si(FINEST_MARK if abs(value) >= FINEST_MARK else _FINEST_INCH)
    return _SIGMAS * abs(unit.from_si(error)) >= step / 2


def _finite(value: float, error: float | None) -> bool:
    return math.isfinite(value) and (error is None or math.isfinite(error))


def _figures(number: float, kind: Kind) -> str:
    """A number in the unit it is shown in, with the figures that its kind gets."""
    figures = _FIGURES[kind]
    said = fixed(number, figures.decimals(abs(number)))
    return said if figures.keep_zeros or "." not in said else said.rstrip("0").rstrip(".")


def _outward(low: float, high: float, kind: Kind) -> tuple[str, str]:
    """Both ends, rounded outward to the first figure of the deviation that they span."""
    sigma = (high - low) / (2 * _SIGMAS)
    finest = -_FIGURES[kind].last
    # A deviation of 0.01, in floats a hair less, is of the hundredths all the same.
    power = max(finest, math.floor(math.log10(sigma * (1 + 1e-9)))) if sigma > 0 else finest
    step = Decimal(1).scaleb(power)
    first = math.floor(_nudged(low, step, 1)) * step
    last = math.ceil(_nudged(high, step, -1)) * step
    return f"{first + 0:f}", f"{last + 0:f}"


def _nudged(end: float, step: Decimal, inward: int) -> Decimal:
    """`end` in steps, drawn in by a billionth of one, so that 24.000000001 is not rounded to 25."""
    return Decimal(end) / step + inward * Decimal("1e-9")


def _with_unit(number: str, unit: Unit) -> str:
    return f"{number} {unit.symbol}" if unit.symbol else number
