"""A wheel's tyre by scale and ruler: readings that a tyre can give, or a fault that says which it cannot."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from leverwright.project.checks import Checks
from leverwright.project.entries import Entry
from leverwright.project.measuring import TyreReadings
from leverwright.quantity import say

__all__ = ["tyre_readings_of"]

# kg and m. Loads or heights nearer than this are the same to any scale or ruler; less would give a rate without bounds.
_SAME_LOAD = 0.1
_SAME_HEIGHT = 1e-4
_FALL = "heights that fall as loads rise"


def tyre_readings_of(checks: Checks, wheel: Entry, tyre: Entry) -> TyreReadings | None:
    """The readings of a wheel's `tyre`; None, with a fault, where no tyre gives them."""
    if tyre.path[:2] == ("wheels", wheel.twin_of):  # had from the wheel that it mirrors, and reported there
        tyre = replace(tyre, twin_of=wheel.twin_of)
    if not checks.require(tyre, ("loads", "heights")):
        return None
    fields: Any = tyre.fields
    readings = TyreReadings(fields["loads"], fields["heights"])
    wrong = _wrong(readings)
    if wrong is None:
        return readings
    checks.report(tyre, *wrong)
    return None


def _wrong(readings: TyreReadings) -> tuple[str, tuple[str, str, str]] | None:
    """The key at fault, with found, allowed, do; None where a tyre can give these readings."""
    loads, heights = readings.loads, readings.heights
    if len(heights) != len(loads):
        found = f"{len(heights)} heights stand for {len(loads)} loads"
        return "heights", (found, "as many as loads", "read the height of the axle under each load")
    pairs = sorted((load.value, height.value) for load, height in zip(loads, heights, strict=True))
    if pairs[-1][0] - pairs[0][0] < _SAME_LOAD:
        found = f"every load is {say(pairs[0][0], 'mass')}"
        return "loads", (
            found,
            "at least two loads that differ",
            "put more on the wheel, and read both again",
        )
    for light, high in pairs:
        for heavy, low in pairs:
            if heavy - light >= _SAME_LOAD and high - low < _SAME_HEIGHT:
                over, under = say(low, "length"), say(high, "length")
                more, less = say(heavy, "mass"), say(light, "mass")
                found = f"the axle stands {over} high under {more}, and {under} under {less}"
                do = "check which height belongs to which load, or read both again"
                return "heights", (found, _FALL, do)
    middle = sum(load for load, _ in pairs) / len(pairs), sum(height for _, height in pairs) / len(pairs)
    if sum((load - middle[0]) * (height - middle[1]) for load, height in pairs) >= 0.0:
        return "heights", ("loads that are nearly alike have heights that are not", _FALL, "read them again")
    return None
