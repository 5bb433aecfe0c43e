"""Lengths as a tape in inches shows them: whole inches, 32nds in lowest terms, and what is left."""

from __future__ import annotations

import math

from leverwright.quantity.rounding import fixed

__all__ = ["say_inches", "say_inches_between", "say_inches_ends"]

_INCH = 0.0254  # m, exact; NIST SP 811 appendix B.8
_FINEST = 32  # marks an inch
_MARK = _INCH / _FINEST  # m
_SHOWN_RESIDUE = 0.00005  # m; below, 0.1 mm would be said as 0.0


def say_inches(length: float) -> str:
    """A length [m] at the nearest 1/32 in, with what is left in mm when 0.1 mm or more of it shows.

    "12 19/32 in (0.2 mm under)": the length is 0.2 mm under that mark (shorter; for a negative
    length, nearer to zero). "over": beyond it.
    """
    marks = math.floor(abs(length) / _MARK + 0.5)
    residue = abs(length) - marks * _MARK
    sign = "-" if length < 0 and marks else ""
    said = f"{sign}{_on_tape(marks)} in"
    if abs(residue) < _SHOWN_RESIDUE:
        return said
    side = "under" if residue < 0 else "over"
    return f"{said} ({fixed(abs(residue) * 1000, 1)} mm {side})"


def say_inches_between(low: float, high: float) -> str:
    """Both ends [m] of an interval on the tape, rounded outward: "between 15/16 and 1 5/32 in".

    The marks get coarser, 1/32 to 1 in, with the spread that the interval shows.
    """
    step = 1
    while step < _FINEST and 2 * step * _MARK <= (high - low) / 4:
        step *= 2
    first = math.floor(low / _MARK / step + 1e-9) * step
    last = math.ceil(high / _MARK / step - 1e-9) * step
    return f"between {_signed(first)} and {_signed(last)} in"


def say_inches_ends(first: float, last: float, *, joint: str) -> str:
    """Two lengths [m] at their nearest 1/32 in, joined by a word: "15/16 to 1 5/32 in"."""
    ends = [_signed(math.floor(length / _MARK + 0.5)) for length in (first, last)]
    return f"{ends[0]} {joint} {ends[1]} in"


def _signed(marks: int) -> str:
    return f"-{_on_tape(-marks)}" if marks < 0 else _on_tape(marks)


def _on_tape(marks: int) -> str:
    """A count of 32nds, not negative, as whole inches and a fraction in lowest terms."""
    whole, part = divmod(marks, _FINEST)
    if not part:
        return str(whole)
    shared = math.gcd(part, _FINEST)
    fraction = f"{part // shared}/{_FINEST // shared}"
    return f"{whole} {fraction}" if whole else fraction
