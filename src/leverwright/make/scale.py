"""Did the printer keep the scale? What the 200 mm bar reads, and what cures a wrong reading."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from leverwright.make.choices import MakeError
from leverwright.make.numbers import in_millimetres
from leverwright.quantity import fixed

__all__ = ["BAR", "INCH_BAR", "READING_WITHIN", "PrintScale", "print_scale"]

_MM = 1e-3
BAR = 200 * _MM  # m, the check bar on both axes of every true-scale sheet
INCH_BAR = 6 * 0.0254  # m, its mark on the inch side
# A steel rule is read to 0.2 mm; over 200 mm this is 0.15 % (common practice).
READING_WITHIN = 0.3 * _MM  # m
_ROUNDING = 1e-9  # m, of a reading converted from mm
# Beyond a tenth the page was fitted to another paper or printed several to a sheet.
_MOST_OFF = 0.1


@dataclass(frozen=True, slots=True)
class PrintScale:
    """What the bars read and the factors that make a reprint true.

    across, up  1, drawn size over printed size: multiply the drawing by it
    true        both bars read within `READING_WITHIN`
    sentence    what was found and what to do
    """

    across: float
    up: float
    true: bool
    sentence: str


def print_scale(read_across: float, read_up: float | None = None) -> PrintScale:
    """From the readings [m] of the 200 mm bars; `read_up` None: the same as across.

    A sheet that was printed corrected is not corrected again: type what a sheet printed plain reads.
    """
    readings = (read_across, read_across if read_up is None else read_up)
    for reading in readings:
        if not abs(reading / BAR - 1) <= _MOST_OFF:  # also refuses what is no number
            raise MakeError(
                found=f"the 200 mm bar reads {in_millimetres(reading) if isfinite(reading) else 'no number'}",
                allowed="180 to 220 mm",
                do="choose the paper that is in the printer, print at 100 %, one page to a sheet, and read it again",
            )
    true = all(abs(reading - BAR) <= READING_WITHIN + _ROUNDING for reading in readings)
    return PrintScale(BAR / readings[0], BAR / readings[1], true, _sentence(readings, true=true))


def _sentence(readings: tuple[float, float], *, true: bool) -> str:
    said = f"The 200 mm bars read {in_millimetres(readings[0])} across and {in_millimetres(readings[1])} up"
    if true:
        return f"{said}: true within {in_millimetres(READING_WITHIN)}. Use the sheet."
    percent = [fixed(100 * (reading / BAR - 1), 1) for reading in readings]
    return (
        f"{said} ({percent[0]} % and {percent[1]} % off; {in_millimetres(READING_WITHIN)} is allowed). "
        "Do not cut from this sheet: print at 100 %, or print it again with these readings typed in."
    )
