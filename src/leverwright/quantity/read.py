"""A quantity read from what a builder wrote: number, unit, and the uncertainty behind ± or +/-.

Read once, at the edge, into SI. What could be read in two ways is refused with what to write
instead: a decimal comma, a thousands mark, a fraction without its unit, a unit of another kind.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverwright.quantity.amount import Amount, scan_amount
from leverwright.quantity.faults import QuantityError, quoted
from leverwright.quantity.units import KINDS, SURFACE_UNIT, UNITS, Kind, Unit

__all__ = ["LONGEST_TEXT", "Quantity", "read_quantity"]

LONGEST_TEXT = 200
"""Characters of a quantity's text; a longer one is refused before it is looked at."""

# In the file's unit. Far over all that a workshop holds, far under what a square would overflow.
_LARGEST = 1e12

_EXAMPLES: dict[Kind, str] = {
    "length": '318, "12 1/2 in" or "312 ± 1 mm"',
    "mass": '62, "137 lb" or "62 ± 1 kg"',
    "force": '60, "13.5 lbf" or "60 ± 5 N"',
    "stiffness": '17.5, "95 lbf/in" or "17.5 N/mm ± 10 %"',
    "angle": '35, "0.6 rad" or "35 ± 1 deg"',
    "torsion": '12, "12 N·m/deg" or "9 lbf·ft/deg"',
    "moment": '40, "40 N·m" or "30 lbf·ft"',
    "frequency": '1.5 or "1.5 Hz"',
    "speed": '1, "1 m/s", "3.6 km/h" or "2 mph"',
    "ratio": '0.64 or "0.64 ± 0.02"',
    "percent": '30 or "30 %"',
    "pressure": '1.8, "26 psi" or "180 kPa"',
    "modulus": '78.5, "11.4 Mpsi" or "78.5 GPa ± 3.5 %"',
    "time": '10 or "10 s"',
}

_NAMES: dict[Kind, str] = {
    "angle": "an angle",
    "torsion": "a torsion stiffness",
    "percent": "a percentage",
}

# A unit that the trade says for another kind, and the unit to write.
_SAID_FOR: dict[tuple[Kind, str], str] = {
    ("force", "lb"): "lbf",
    ("force", "kg"): "kgf",
    ("force", "oz"): "lbf",
    ("mass", "lbf"): "lb",
    ("mass", "kgf"): "kg",
    ("torsion", "N·m"): "N·m/deg",
    ("torsion", "lbf·ft"): "lbf·ft/deg",
    ("torsion", "lbf·in"): "lbf·in/deg",
    ("moment", "N·m/deg"): "N·m",
    ("stiffness", "N"): "N/mm",
    ("stiffness", "lbf"): "lbf/in",
    ("stiffness", "lb"): "lbf/in",
    ("stiffness", "kg"): "kgf/mm",
    ("stiffness", "kgf"): "kgf/mm",
}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in SI with what is known of its error.

    A percentage is kept as a fraction (0.3 for 30 %), a ratio as it is.
    """

    value: float  # SI
    error: float | None  # SI, one standard deviation; None: not stated
    kind: Kind


def read_quantity(raw: str | float, kind: Kind) -> Quantity:
    """The quantity that `raw` says, in SI; QuantityError, a sentence in three parts, if none.

    A bare number, or text without a unit, is in the file's unit: mm, kg, N, N/mm, deg, N·m/deg,
    N·m, Hz, m/s, 1, %, bar, GPa, s. `±` is one standard deviation, absolute or in per cent of the value; a unit
    that stands only behind it holds for both numbers.
    """
    if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
        raise _refused(f"{_kind_of_thing(raw)} stands here", kind, f"write {_article(kind)}")
    if isinstance(raw, str):
        return _read_text(raw, kind)
    return Quantity(_bounded(_as_float(raw, kind), _surface(kind), kind, "the number"), None, kind)


def _read_text(text: str, kind: Kind) -> Quantity:
    """A quantity written as text."""
    _check_characters(text, kind)
    parts = text.replace("+/-", "±").split("±")
    if len(parts) > 2:
        raise _refused(f"{quoted(text)} has ± more than once", kind, "write ± once")
    amount = _amount(parts[0], text, kind)
    if len(parts) == 1:
        value = _bounded(amount.number, _unit_of(amount, text, kind), kind, quoted(text))
        return Quantity(value, None, kind)
    spread = _amount(parts[1], text, kind)
    if spread.number < 0:
        raise _refused(f"{quoted(text)} has a negative ±", kind, "write ± with a positive number")
    relative = spread.unit == "%" and kind != "percent"
    if not amount.unit and not relative:
        amount = Amount(amount.number, spread.unit, amount.fraction)
    unit = _unit_of(amount, text, kind)
    value = _bounded(amount.number, unit, kind, quoted(text))
    if relative:
        return Quantity(value, _relative_error(value, spread.number, text, kind), kind)
    if spread.unit or not amount.unit:
        unit = _unit_of(spread, text, kind)
    return Quantity(value, _bounded(spread.number, unit, kind, quoted(text)), kind)


def _amount(part: str, text: str, kind: Kind) -> Amount:
    """The amount on one side of the ±, told by the whole text where that side is empty."""
    if not part.strip():
        found = f"{quoted(text)} lacks a number" if text.strip() else "an empty text stands here"
        raise _refused(found, kind, f"write {_article(kind)}")
    return scan_amount(part)


def _check_characters(text: str, kind: Kind) -> None:
    """Refuse what is too long, and marks that people read in different ways."""
    if len(text) > LONGEST_TEXT:
        raise _refused(
            f"a text of {len(text)} characters stands here",
            kind,
            f"write it in {LONGEST_TEXT} characters or fewer",
        )
    strange = [c for c in text if c.isnumeric() and not c.isascii()]
    if strange:
        raise _refused(
            f"{quoted(text)} has the figure {quoted(strange[0])}",
            kind,
            "write it with the digits 0 to 9, and a fraction as 1/2",
        )
    if "," in text:
        raise _refused(f"{quoted(text)} has a comma", kind, _without_comma(text))
    if "_" in text:
        raise _refused(f"{quoted(text)} has the mark '_'", kind, "write the digits without it")
    if kind == "ratio" and ":" in text:
        raise _refused(
            f"{quoted(text)} can be read both ways round",
            kind,
            "write how far the spring moves for 1 of the wheel, such as 0.64",
        )


def _without_comma(text: str) -> str:
    """What to write instead of a decimal comma or a thousands mark."""
    before, _, behind = text.partition(",")
    three = len(behind[:3]) == 3 and behind[:3].isdecimal() and not behind[3:4].isdecimal()
    if three or "," in behind or "." in text:
        return "write a thousand as 1000, without a mark, and decimals with a point, as 12.5"
    return f"write the decimals with a point: {quoted((before + '.' + behind).strip())}"


def _unit_of(amount: Amount, text: str, kind: Kind) -> Unit:
    """The unit of an amount; a bare one has the file's."""
    if not amount.unit:
        if amount.fraction and kind == "length":
            raise _refused(
                f"{quoted(text)} is a fraction without a unit",
                kind,
                f"write {quoted(text.strip() + ' in')} if inches are meant",
            )
        return _surface(kind)
    unit = UNITS[kind].get(amount.unit)
    if unit is None:
        raise _wrong_unit(amount, text, kind)
    return unit


def _wrong_unit(amount: Amount, text: str, kind: Kind) -> QuantityError:
    """A unit of another kind, one in other letters, or none at all."""
    for other in KINDS:
        known = UNITS[other].get(amount.unit)
        if known is not None:
            meant = _SAID_FOR.get((kind, known.symbol))
            do = f"write the unit {meant} if that is meant" if meant else _one_unit_of(kind)
            return _refused(f"{quoted(text)} is {_article(other)}, not {_article(kind)}", kind, do)
    for spelling, unit in UNITS[kind].items():
        if spelling.lower() == amount.unit.lower():
            return _refused(
                f"{quoted(text)} has the unit {quoted(amount.unit)}", kind, f"write it {unit.symbol}"
            )
    return _refused(
        f"{quoted(text)} has {quoted(amount.unit)} where its unit belongs", kind, _one_unit_of(kind)
    )


def _one_unit_of(kind: Kind) -> str:
    *others, last = dict.fromkeys(unit.symbol for unit in UNITS[kind].values())
    if not last:
        return "write the number alone"
    return f"write {_article(kind)} in {', '.join(others)} or {last}" if others else f"write {last}"


def _relative_error(value: float, percent: float, text: str, kind: Kind) -> float:
    """Standard deviation in SI of a `value` with ± so many per cent of it."""
    if value == 0 and percent > 0:
        raise _refused(
            f"{quoted(text)} has ± in per cent of zero",
            kind,
            f"write ± {'as a number' if kind == 'ratio' else 'in ' + SURFACE_UNIT[kind]}",
        )
    return abs(value) * percent / 100


def _as_float(number: float, kind: Kind) -> float:
    """A Python number as a float; a huge whole one, NaN and infinity are refused."""
    try:
        converted = float(number)
    except OverflowError:
        converted = math.inf
    if not math.isfinite(converted):
        raise _refused(
            "a number that is not finite or far too large stands here", kind, "write its true value"
        )
    return converted


def _bounded(number: float, unit: Unit, kind: Kind, said: str) -> float:
    """The SI value of `number` of `unit`; -0 becomes 0, what no workshop holds is refused."""
    value = unit.to_si(number) + 0.0
    if abs(value) > _surface(kind).to_si(_LARGEST):
        raise _refused(
            f"{said} is larger than anything that can be meant", kind, "check the digits and the unit"
        )
    return value


def _surface(kind: Kind) -> Unit:
    return UNITS[kind][SURFACE_UNIT[kind]]


def _article(kind: Kind) -> str:
    return _NAMES.get(kind, f"a {kind}")


def _kind_of_thing(raw: object) -> str:
    if isinstance(raw, bool):
        return "true or false"
    if isinstance(raw, (list, tuple)):
        return "a list"
    if isinstance(raw, dict):
        return "a table"
    return "something that is no number and no text"


def _refused(found: str, kind: Kind, do: str) -> QuantityError:
    bare = f" (a bare number is {SURFACE_UNIT[kind]})" if SURFACE_UNIT[kind] else ""
    return QuantityError(found, f"{_article(kind)} such as {_EXAMPLES[kind]}{bare}", do)
