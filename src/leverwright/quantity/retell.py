"""A sentence that says quantities in metric units, said again in inches and pounds.

Sentences are made once, in metric units; this turns every number that stands before one of our units.
What is said in per cent, degrees or hertz, and every name, stays.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from leverwright.quantity.inches import say_inches, say_inches_ends
from leverwright.quantity.say import say, shown_unit
from leverwright.quantity.units import SURFACE_UNIT, Kind, from_surface

__all__ = ["in_inches"]

_KINDS: tuple[Kind, ...] = ("length", "mass", "force", "stiffness", "torsion", "moment", "speed")
_KIND_OF: Mapping[str, Kind] = MappingProxyType({SURFACE_UNIT[kind]: kind for kind in _KINDS})
_NUMBER = r"[+-]?[0-9]+(?:\.[0-9]+)?"
# Not inside a word or a name such as link-12.
_BEGIN = r"(?<![\w.\-+'/])"
_UNIT = "|".join(re.escape(unit) for unit in sorted(_KIND_OF, key=len, reverse=True))
_END = r"(?![\w/·'\-])"
_RATIO = re.compile(rf"{_BEGIN}({_NUMBER})(?: (to) ({_NUMBER}))? mm for 10 mm of ")
_QUANTITY = re.compile(rf"{_BEGIN}({_NUMBER})(?: (and|to|of) ({_NUMBER}))? ({_UNIT}){_END}")


def in_inches(sentence: str) -> str:
    """`sentence` with its millimetres, kilograms, newtons and so on as inches, pounds and pounds-force."""
    return _QUANTITY.sub(_quantity, _RATIO.sub(_ratio, sentence))


def _ratio(found: re.Match[str]) -> str:
    """6.4 mm for 10 mm of wheel: 0.64 in for 1 in of it."""
    ends = [f"{Decimal(number).scaleb(-1):f}" for number in (found[1], found[3]) if number]
    return f"{' to '.join(ends)} in for 1 in of "


def _quantity(found: re.Match[str]) -> str:
    first, joint, last, unit = found.groups()
    kind = _KIND_OF[unit]
    values = [from_surface(float(number), kind) for number in (first, last) if number]
    if kind == "length":
        return _marks(values, joint, first)
    words = [say(value, kind, system="inch") for value in values]
    symbol = shown_unit(kind, "inch").symbol
    return f" {joint} ".join([*(word.removesuffix(f" {symbol}") for word in words[:-1]), words[-1]])


def _marks(values: list[float], joint: str | None, first: str) -> str:
    if joint is not None:
        return say_inches_ends(*values, joint=joint)
    sign = "+" if first.startswith("+") else ""
    return sign + say_inches(values[0])
