"""Lengths as a tape in inches shows them: whole inches and 32nds in lowest terms.

A figure that was computed is said to its mark. A hole to be marked and a stock size are said with what
is left beside the mark, in mm: there 0.4 mm count.
"""

from __future__ import annotations

import math

from leverwright.quantity.rounding import fixed

__all__ = ["FINEST_MARK", "say_inches", "say_inches_between", "say_inches_ends", "say_mark"]

_INCH = 0.0254  # m, exact; NIST SP 811 appendix B.8
_FINEST = 32  # marks an inch
FINEST_MARK = _MARK = _INCH / _FINEST  # m, 1/32 in
_SHOWN_RESIDUE = 0.00005  # m; below, 0.1 mm would be said as 0.0


def say_inches(length: float) -> str:
    """A computed length [m]: "12 19/32 in", the nearest mark; below one mark in thousandths: "0.02 in"."""
    if abs(length) < _MARK:
        return f"{fixed(length / _INCH, 3).rstrip('0').rstrip('.')} in"
    return f"{_signed(_nearest(length))} in"


def say_mark(length: float) -> str:
    """A length to be marked [m] at the nearest 1/32 in, with what is left in mm when 0.1 mm or more of it shows.

    "12 19/32 in (0.2 mm under)": the length is 0.2 mm under that mark (shorter; for a negative
    length, nearer to zero). "over": beyond it.
    """
    marks = _nearest(length)
    residue = abs(length) - abs(marks) * _MARK
    said = f"{_signed(marks)} in"
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
    """Two computed lengths [m], joined by a word: "15/16 to 1 5/32 in"."""
    return f"{say_inches(first).removesuffix(' in')} {joint} {say_inches(last)}"


def _nearest(length: float) -> int:
    """The nearest mark; halves away from zero."""
    marks = math.floor(abs(length) / _MARK + 0.5)
    return -marks if length < 0 else marks


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
