"""One amount of text, such as `12-1/2"`, taken apart into a number and the unit as written.

A scanner that goes over the text once: no pattern that could backtrack, no eval. Only the ten ASCII
digits are digits, so that nothing is read which the eye reads otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverwright.quantity.faults import QuantityError, quoted
from leverwright.quantity.units import UNITS

__all__ = ["Amount", "scan_amount"]

_DIGITS = frozenset("0123456789")
_FEET = frozenset(spelling for spelling, unit in UNITS["length"].items() if unit.symbol == "ft")
_INCHES = frozenset(spelling for spelling, unit in UNITS["length"].items() if unit.symbol == "in")
_INCHES_IN_FOOT = 12
_NUMBER = "digits with a decimal point, or a fraction such as 12 1/2"
# One sign for every way that people join two units.
_JOINS = str.maketrans(dict.fromkeys("*⋅∙•\N{MULTIPLICATION SIGN}.-", "·"))


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with the unit as written (`""`: none). Feet and inches come as inches."""

    number: float
    unit: str
    fraction: bool  # written as a fraction: then a bare number would surely mean inches


def scan_amount(text: str) -> Amount:
    """The amount that `text` says; QuantityError where it says none."""
    sign, unsigned = _sign(text.strip())
    numbers, gaps = _split(unsigned, text)
    if gaps[0].rstrip("-") in _FEET and len(numbers) > 1:
        inches = _feet_and_inches(numbers, gaps, text)
        return Amount(sign * inches, "in", fraction=False)
    number = _number(numbers, gaps[:-1], text)
    return Amount(sign * number, _unit(gaps[-1]), fraction=len(numbers) > 1)


def _sign(text: str) -> tuple[float, str]:
    if text[:1] in ("-", "\N{MINUS SIGN}"):
        return -1.0, text[1:].lstrip()
    return 1.0, text.removeprefix("+").lstrip()


def _split(text: str, whole: str) -> tuple[list[str], list[str]]:
    """Numbers as written, and the text after each, spaces taken off: `12 1/2 in` → 12 1 2, '' / in.

    A space around a hyphen is kept as " - ", which nothing allows: 12 - 1/2 may be a subtraction.
    """
    numbers: list[str] = []
    gaps: list[str] = []
    at = 0
    while at < len(text):
        end = _end_of_number(text, at)
        if end == at:
            raise _no_number(whole)
        numbers.append(text[at:end])
        at = end
        while end < len(text) and not _starts_number(text, end):
            end += 1
        gaps.append(_gap(text[at:end]))
        at = end
    if not numbers:
        raise _no_number(whole)
    return numbers, gaps


def _gap(between: str) -> str:
    if between.strip() == "-" and between != "-":
        return " - "
    return "".join(between.split())


def _starts_number(text: str, at: int) -> bool:
    """Does a number begin here: a digit, or a point with a digit after it that follows no letter?"""
    if text[at] in _DIGITS:
        return True
    return text[at] == "." and text[at + 1 : at + 2] in _DIGITS


def _end_of_number(text: str, at: int) -> int:
    """Where the digits, points and exponent that start at `at` end."""
    end = at
    while end < len(text) and (text[end] in _DIGITS or text[end] == "."):
        end += 1
    if end > at and text[end : end + 1] in ("e", "E"):
        power = end + 1 + (text[end + 1 : end + 2] in ("+", "-"))
        if text[power : power + 1] in _DIGITS:
            while power < len(text) and text[power] in _DIGITS:
                power += 1
            return power
    return end


def _number(numbers: list[str], gaps: list[str], whole: str) -> float:
    """A decimal number, a fraction, or a whole number with a fraction."""
    if not gaps:
        return _decimal(numbers[0], whole)
    if gaps == ["/"]:
        return _fraction(numbers[0], numbers[1], whole)
    if len(gaps) == 2 and gaps[0] in ("", "-") and gaps[1] == "/":
        part = _fraction(numbers[1], numbers[2], whole)
        if part >= 1:
            raise QuantityError(
                f"{quoted(whole)} has a fraction of one or more beside a whole number",
                _NUMBER,
                "write the fraction with its top smaller than its bottom",
            )
        return _whole(numbers[0], whole) + part
    if gaps == [""]:
        raise QuantityError(
            f"{quoted(whole)} holds two numbers with a space between them",
            "one number, without a mark or a space between thousands",
            f"write {numbers[0]}{numbers[1]} if one number is meant",
        )
    raise QuantityError(
        f"{quoted(whole)} holds several numbers that do not make one",
        _NUMBER + ", then one unit",
        "write one number and one unit",
    )


def _feet_and_inches(numbers: list[str], gaps: list[str], whole: str) -> float:
    """Feet with inches behind them, in inches."""
    if gaps[-1] not in _INCHES and gaps[-1] != "":
        raise QuantityError(
            f"{quoted(whole)} goes on after the feet with something else than inches",
            "feet and inches, such as 1' 0 1/2\"",
            "write one unit only",
        )
    inches = _number(numbers[1:], gaps[1:-1], whole)
    # 1'000 is a thousand to some: never read it as one foot.
    if inches >= _INCHES_IN_FOOT or len(numbers[1].partition(".")[0]) > 2:
        raise QuantityError(
            f"{quoted(whole)} has {quoted(numbers[1])} where inches from 0 to 11 belong",
            "feet and inches, such as 1' 0 1/2\", and no thousands mark",
            "write the length in inches alone or in mm",
        )
    return _whole(numbers[0], whole) * _INCHES_IN_FOOT + inches


def _fraction(top: str, bottom: str, whole: str) -> float:
    below = _whole(bottom, whole)
    if below < 1:
        raise QuantityError(
            f"{quoted(whole)} divides by zero", _NUMBER, "write a fraction with a bottom of 1 or more"
        )
    return _whole(top, whole) / below


def _whole(digits: str, whole: str) -> float:
    if not digits.isdecimal():
        raise QuantityError(
            f"{quoted(whole)} has {quoted(digits)} where a whole number belongs",
            _NUMBER,
            "write a fraction of whole numbers, such as 12 1/2, or one decimal number",
        )
    return _decimal(digits, whole)


def _decimal(digits: str, whole: str) -> float:
    mantissa = digits.lower().partition("e")[0]
    if mantissa.count(".") > 1 or mantissa == ".":
        raise QuantityError(
            f"{quoted(whole)} has {quoted(digits)}, which is not a number",
            "digits with one decimal point, and no thousands mark",
            "write the number with one decimal point, such as 12.5",
        )
    number = float(digits)
    if not math.isfinite(number) or (number <= 0 and mantissa.strip("0.")):
        raise QuantityError(
            f"{quoted(whole)} is outside the numbers that can be kept",
            "a number of ordinary size",
            "check the exponent after the e",
        )
    return number


def _unit(written: str) -> str:
    """The unit with every sign that joins two units made one, a full stop behind it (`in.`) off."""
    return written.removesuffix(".").translate(_JOINS)


def _no_number(whole: str) -> QuantityError:
    return QuantityError(
        f"{quoted(whole)} does not begin with a number",
        _NUMBER + ", then a unit",
        "write a number first, such as 12.5 mm",
    )
