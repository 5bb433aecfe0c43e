"""Was the template printed true to scale? Judged from a reading of its check bar, not from the file."""

from __future__ import annotations

from leverwright.findings.finding import COMMON_PRACTICE, Finding
from leverwright.quantity import System, say

__all__ = ["print_scaled"]

_ALLOWED = 0.0015  # share of the bar: 0.3 mm on 200 mm, half a hole's clearance on the longest lever (CP)


def print_scaled(nominal: float, measured: float, units: System = "metric") -> Finding | None:
    """A finding when a check bar of `nominal` [m] reads `measured` [m] on paper; ValueError when not above 0."""
    if not (nominal > 0.0 and measured > 0.0):
        raise ValueError("a bar's length must be above 0")
    share = measured / nominal
    if abs(share - 1.0) <= _ALLOWED * (1.0 + 1e-9):  # a reading of exactly the limit passes
        return None
    return Finding(
        "print-scaled",
        "stop",
        "Can it be made?",
        f"The check bar should be {say(nominal, 'length', system=units)} and reads "
        f"{say(measured, 'length', system=units)}: the sheet "
        f"was printed at {100.0 * share:.1f} %. Do not drill from it. Print it again at "
        f"{100.0 / share:.1f} %, or type the reading and "
        "print the corrected sheet; check both bars, one along and one across.",
        "Scale = reading over nominal length; 0.3 mm on 200 mm is allowed.",
        COMMON_PRACTICE,
        share - 1.0,
    )
