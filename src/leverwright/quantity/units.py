"""Units that a builder may write, their size in SI, and the unit of a bare number.

Exact by definition: inch 25.4 mm, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s2, and so
pound-force 4.448 221 615 260 5 N. Source: NIST Special Publication 811 (2008), appendix B.8 and its
footnotes; gravity: 3rd CGPM (1901), as cited there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, get_args

__all__ = [
    "KINDS",
    "SURFACE_UNIT",
    "UNITS",
    "Kind",
    "System",
    "Unit",
    "from_surface",
    "to_surface",
]

Kind = Literal[
    "length",
    "mass",
    "force",
    "stiffness",
    "angle",
    "torsion",
    "moment",
    "frequency",
    "speed",
    "ratio",
    "percent",
    "pressure",
    "modulus",
    "time",
]
System = Literal["metric", "inch"]
KINDS: tuple[Kind, ...] = get_args(Kind)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = written number * times / over.

    Two factors, because 43 / 1000 is the float nearest to 0.043 and 43 * 0.001 is not always.
    """

    symbol: str
    times: float
    over: float = 1.0

    def to_si(self, number: float) -> float:
        """SI value of `number` of this unit."""
        return number * self.times / self.over

    def from_si(self, value: float) -> float:
        """How many of this unit the SI `value` is."""
        return value * self.over / self.times


_LBF = 44_482_216_152_605  # of 1e-13 N
_LBF_OVER = 10**13

_MM = Unit("mm", 1, 1000)
_CM = Unit("cm", 1, 100)
_M = Unit("m", 1)
_INCH = Unit("in", 254, 10_000)
_FOOT = Unit("ft", 3048, 10_000)

_GRAM = Unit("g", 1, 1000)
_KG = Unit("kg", 1)
_LB = Unit("lb", 45_359_237, 10**8)
_OZ = Unit("oz", 45_359_237, 16 * 10**8)

_N = Unit("N", 1)
_KN = Unit("kN", 1000)
_LBF_UNIT = Unit("lbf", _LBF, _LBF_OVER)
_KGF = Unit("kgf", 980_665, 10**5)

_N_MM = Unit("N/mm", 1000)
_N_M = Unit("N/m", 1)
_N_CM = Unit("N/cm", 100)
_KN_M = Unit("kN/m", 1000)
_LBF_IN = Unit("lbf/in", _LBF, 254 * 10**9)
_KGF_MM = Unit("kgf/mm", 980_665, 100)
_KGF_CM = Unit("kgf/cm", 980_665, 1000)

_DEG = Unit("deg", math.pi, 180)
_RAD = Unit("rad", 1)

_NM = Unit("N·m", 1)
_NMM = Unit("N·mm", 1, 1000)
_KNM = Unit("kN·m", 1000)
_KGFM = Unit("kgf·m", 980_665, 10**5)
_LBF_FT = Unit("lbf·ft", _LBF * 3048, _LBF_OVER * 10**4)
_LBF_INCH = Unit("lbf·in", _LBF * 254, _LBF_OVER * 10**4)

_PERCENT = Unit("%", 1, 100)

_KPA = Unit("kPa", 1000)
_MPA = Unit("MPa", 10**6)
_GPA = Unit("GPa", 10**9)
_BAR = Unit("bar", 10**5)
# A pound-force on a square inch; thousands and millions of it are said of steel.
_PSI = Unit("psi", _LBF, 254**2 * 10**5)
_KSI = Unit("ksi", _LBF, 254**2 * 10**2)
_MPSI = Unit("Mpsi", _LBF * 10, 254**2)


def _per_degree(moment: Unit) -> Unit:
    """The torsion unit: that moment for each degree, SI newton metre per radian."""
    return Unit(f"{moment.symbol}/deg", moment.times * 180, moment.over * math.pi)


def _spelled(*rows: tuple[Unit, str]) -> dict[str, Unit]:
    """Every spelling of each unit: its symbol, and the others, which stand apart by a space."""
    table: dict[str, Unit] = {}
    for unit, others in rows:
        for spelling in (unit.symbol, *others.split()):
            table[spelling] = unit
    return table


# Marks for feet and inches: typed straight, as a prime, or curled by a telephone.
_FOOT_MARKS = ("'", "\N{PRIME}", "\N{RIGHT SINGLE QUOTATION MARK}")
_INCH_MARKS = (
    '"',
    "\N{DOUBLE PRIME}",
    "\N{RIGHT DOUBLE QUOTATION MARK}",
    "\N{LEFT DOUBLE QUOTATION MARK}",
    *(mark * 2 for mark in _FOOT_MARKS),
)

# Spellings of moments; a torsion adds what it is for: "/deg", "/°" or "/rad".
_MOMENTS: tuple[tuple[Unit, str], ...] = (
    (_NM, "Nm"),
    (_NMM, "Nmm"),
    (_KNM, "kNm"),
    (_KGFM, "kgfm kg·m kgm"),
    (_LBF_FT, "lbfft lb·ft lbft ft·lbf ftlbf ft·lb ftlb lbs·ft ft·lbs"),
    (_LBF_INCH, "lbfin lb·in lbin in·lbf inlbf in·lb inlb lbs·in in·lbs"),
)


def _torsions() -> dict[str, Unit]:
    """Spellings of torsion units, from those of the moments."""
    table: dict[str, Unit] = {}
    for moment, others in _MOMENTS:
        per_degree = _per_degree(moment)
        per_radian = Unit(f"{moment.symbol}/rad", moment.times, moment.over)
        for spelling in (moment.symbol, *others.split()):
            table[f"{spelling}/deg"] = per_degree
            table[f"{spelling}/°"] = per_degree
            table[f"{spelling}/rad"] = per_radian
    return table


UNITS: Mapping[Kind, Mapping[str, Unit]] = MappingProxyType(
    {
        "length": _spelled(
            (_MM, "millimetre millimetres millimeter millimeters"),
            (_CM, "centimetre centimetres centimeter centimeters"),
            (_M, "metre metres meter meters"),
            (_INCH, f"inch inches {' '.join(_INCH_MARKS)}"),
            (_FOOT, f"foot feet {' '.join(_FOOT_MARKS)}"),
        ),
        "mass": _spelled(
            (_KG, "kilogram kilograms kgs"),
            (_GRAM, "gram grams"),
            (_LB, "lbs pound pounds"),
            (_OZ, "ounce ounces"),
        ),
        "force": _spelled((_N, "newton newtons"), (_KN, ""), (_LBF_UNIT, "lbsf"), (_KGF, "")),
        "stiffness": _spelled(
            (_N_MM, ""),
            (_N_M, ""),
            (_N_CM, ""),
            (_KN_M, ""),
            (_LBF_IN, 'lb/in lbs/in lbf/inch lb/inch lbs/inch lbf/" lb/"'),
            (_KGF_MM, "kg/mm"),
            (_KGF_CM, "kg/cm"),
        ),
        "angle": _spelled((_DEG, "° degree degrees"), (_RAD, "radian radians")),
        "torsion": _torsions(),
        "moment": _spelled(*_MOMENTS),
        "frequency": _spelled((Unit("Hz", 1), "hertz")),
        "speed": _spelled(
            (Unit("m/s", 1), ""),
            (Unit("km/h", 10, 36), "kph"),
            (Unit("mph", 1_609_344, 3_600_000), ""),
            (Unit("ft/s", 3048, 10_000), ""),
        ),
        "ratio": {"": Unit("", 1)},
        "percent": _spelled((_PERCENT, "percent")),
        "pressure": _spelled((_BAR, "bars"), (_KPA, ""), (_PSI, "PSI")),
        "modulus": _spelled((_GPA, ""), (_MPA, ""), (_MPSI, ""), (_KSI, "")),
        "time": _spelled((Unit("s", 1), "sec second seconds"), (Unit("min", 60), "minute minutes")),
    }
)
"""Spelling → unit, for each kind."""

SURFACE_UNIT: Mapping[Kind, str] = MappingProxyType(
    {
        "length": "mm",
        "mass": "kg",
        "force": "N",
        "stiffness": "N/mm",
        "angle": "deg",
        "torsion": "N·m/deg",
        "moment": "N·m",
        "frequency": "Hz",
        "speed": "m/s",
        "ratio": "",
        "percent": "%",
        "pressure": "bar",
        "modulus": "GPa",
        "time": "s",
    }
)
"""The unit of a bare number in a project file, and of metric sentences."""


def to_surface(value: float, kind: Kind) -> float:
    """The SI `value` as a number of the file's unit: 0.043 m → 43 (mm)."""
    return UNITS[kind][SURFACE_UNIT[kind]].from_si(value)


def from_surface(number: float, kind: Kind) -> float:
    """The SI value of a `number` of the file's unit: 43 (mm) → 0.043 m."""
    return UNITS[kind][SURFACE_UNIT[kind]].to_si(number)
