"""One value of a file, read into SI: a quantity, a pair, a table of numbers, a name, a place.

Each reader takes the value as TOML gives it and the plane of a flat drawing (None: in space), and
returns what it says or raises Unfit with found, allowed, do.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from leverwright.project.limits import LIMITS
from leverwright.quantity import (
    SURFACE_UNIT,
    Kind,
    Quantity,
    QuantityError,
    from_surface,
    quoted,
    read_quantity,
)

__all__ = [
    "Along",
    "At",
    "Reader",
    "Unfit",
    "direction",
    "flag",
    "name",
    "names",
    "number",
    "one_of",
    "pair_of_names",
    "place",
    "quantity",
    "rising",
    "rows",
    "shown",
    "title",
    "version",
]

# Largest magnitude of each kind in the file's unit: a thousand times what a workshop meets, and small enough
# that no square or product of a few overflows. A slip of a decimal point below it is a finding's to see.
_LARGEST: Mapping[Kind, float] = MappingProxyType(
    {
        "length": 1e6,
        "mass": 1e6,
        "force": 1e8,
        "stiffness": 1e7,
        "angle": 360.0,
        "torsion": 1e7,
        "moment": 1e8,
        "frequency": 1e4,
        "speed": 1e4,
        "ratio": 1e4,
        "percent": 100.0,
        "pressure": 1e5,
        "modulus": 1e4,
        "time": 1e5,
    }
)
# Smallest value, in the file's unit, of what must be greater than zero: a nanometre or a milligram is a slip,
# and one over it must stay finite.
_SMALLEST = 1e-6
# Shortest direction that still says one, as a part of its own largest number.
_LEAST_DIRECTION = 1e-6


class Unfit(Exception):
    """A value that is refused: found, allowed, what to do; `limit` when it is too long or too large to read."""

    def __init__(self, found: str, allowed: str, do: str, *, limit: bool = False) -> None:
        super().__init__(found)
        self.found = found
        self.allowed = allowed
        self.do = do
        self.limit = limit


class At(NamedTuple):
    """A place [m] with each coordinate's own ± [m], None where it states none."""

    at: tuple[float, float, float]
    errors: tuple[float | None, float | None, float | None]

    def errors_or(self, error: float | None) -> tuple[float | None, float | None, float | None]:
        """Standard deviation of each coordinate: its own, else `error`."""
        x, y, z = (error if own is None else own for own in self.errors)
        return x, y, z


class Along(NamedTuple):
    """A direction of length 1."""

    x: float
    y: float
    z: float


Reader = Callable[[object, str | None], object]
QuantityReader = Callable[[object, str | None], Quantity]
NumberReader = Callable[[object, str | None], float]


def shown(value: object) -> str:
    """A value as a sentence repeats it: short, on one line, nothing hidden."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list" if len(value) > 6 else "[" + ", ".join(shown(one) for one in value) + "]"
    text = str(value)
    return text if len(text) <= 40 else text[:40] + "..."


def quantity(kind: Kind, sign: str = "any") -> QuantityReader:
    """Reader of one Quantity; `sign` "positive", "not negative" or "any"."""

    def read(value: object, _plane: str | None) -> Quantity:
        return _quantity(value, kind, sign)

    return read


def number(kind: Kind, sign: str = "any") -> NumberReader:
    """Reader of one number in SI that takes no ±."""

    def read(value: object, _plane: str | None) -> float:
        return _plain(value, kind, sign)

    return read


def rising(kind: Kind, sign: str = "any", *, zero_inside: bool = False, equal: bool = False) -> Reader:
    """Reader of `[least, most]`; with `zero_inside` 0 must lie in it, with `equal` both may be the same."""
    rule = "a list of two, the smaller first" + (", with 0 between them" if zero_inside else "")

    def read(value: object, _plane: str | None) -> tuple[float, float]:
        if not isinstance(value, list) or len(value) != 2:
            raise Unfit(_instead(value), f"{rule}, in {SURFACE_UNIT[kind]}", "write [least, most]")
        low, high = (_plain(one, kind, sign) for one in value)
        if high < low or (high == low and not equal):
            raise Unfit(f"the range {shown(value)} has nothing in it", rule, "write the smaller number first")
        if zero_inside and not low <= 0.0 <= high:
            raise Unfit(
                f"the range {shown(value)} leaves 0 out", rule, "count from the set-up pose, which is 0"
            )
        return low, high

    return read


def rows(*kinds: Kind) -> Reader:
    """Reader of a table: rows of one number a kind, the first rising, none negative."""
    row = f"rows of {len(kinds)} numbers ({', '.join(SURFACE_UNIT[kind] for kind in kinds)})"
    allowed = f"at least two {row}, the first number rising from row to row, none below 0"

    def read(value: object, _plane: str | None) -> tuple[tuple[float, ...], ...]:
        if not isinstance(value, list) or len(value) < 2:
            raise Unfit(_instead(value), allowed, "write the readings as [[…], […]]")
        table: list[tuple[float, ...]] = []
        for one in value:
            if not isinstance(one, list) or len(one) != len(kinds):
                raise Unfit(
                    f"the row {shown(one)} does not fit", allowed, f"give each row {len(kinds)} numbers"
                )
            table.append(tuple(_plain(x, kind, "not negative") for x, kind in zip(one, kinds, strict=True)))
            if len(table) > 1 and table[-1][0] <= table[-2][0]:
                raise Unfit(f"the row {shown(one)} does not rise", allowed, "sort the rows, each value once")
        return tuple(table)

    return read


def place(value: object, plane: str | None) -> At:
    """A point's coordinates; two numbers in a flat drawing."""
    written = _coordinates(value, plane, "the point")
    read = [_quantity(one, "length", "any") for one in written]
    values = _in_space([one.value for one in read], plane, 0.0)
    errors = _in_space([one.error for one in read], plane, None)
    return At((values[0], values[1], values[2]), (errors[0], errors[1], errors[2]))


def direction(value: object, plane: str | None) -> Along:
    """A direction, made of length 1."""
    written = _coordinates(value, plane, "the direction")
    numbers = [_plain(one, "ratio", "any") for one in written]
    length = math.hypot(*numbers)
    if length < _LEAST_DIRECTION:
        raise Unfit(
            f"the direction {shown(value)} leads nowhere", "a direction such as [0, 1, 0]", "give it a length"
        )
    x, y, z = _in_space([one / length for one in numbers], plane, 0.0)
    return Along(x, y, z)


def version(value: object, _plane: str | None) -> int:
    """The version of the file format: 1."""
    if isinstance(value, bool) or value != 1 or not isinstance(value, int):
        raise Unfit(
            _instead(value), "leverwright = 1, the version of the file format", "write leverwright = 1"
        )
    return value


def flag(value: object, _plane: str | None) -> bool:
    """True or False, as the file has it."""
    if not isinstance(value, bool):
        raise Unfit(_instead(value), "true or false", "write true or false, without quotes")
    return value


def title(value: object, _plane: str | None) -> str:
    """A text of one line's length."""
    if not isinstance(value, str):
        raise Unfit(_instead(value), "a text in quotes", "put it in quotes")
    _check_length(value)
    return value


def one_of(*allowed: str) -> Reader:
    """Reader of one of a few words."""
    choice = " or ".join(f'"{word}"' for word in allowed)

    def read(value: object, _plane: str | None) -> str:
        if not isinstance(value, str) or value not in allowed:
            raise Unfit(_instead(value), choice, "write one of these words")
        return value

    return read


def name(value: object, _plane: str | None) -> str:
    """The name of something in the file."""
    if not isinstance(value, str):
        raise Unfit(_instead(value), "a name in quotes", "write the name in quotes")
    _check_length(value)
    return value


def names(value: object, plane: str | None) -> tuple[str, ...]:
    """A list of names, each once, at least one."""
    if not isinstance(value, list) or not value:
        raise Unfit(_instead(value), "a list of at least one name", 'write it as ["first", "second"]')
    read = tuple(name(one, plane) for one in value)
    if len(set(read)) < len(read):
        twice = next(one for at, one in enumerate(read) if one in read[:at])
        raise Unfit(f"{quoted(twice)} stands in it twice", "each name once", "take one of them out")
    return read


def pair_of_names(value: object, plane: str | None) -> tuple[str, str]:
    """Two names."""
    if not isinstance(value, list) or len(value) != 2:
        raise Unfit(_instead(value), "a list of two names", 'write it as ["first", "second"]')
    return name(value[0], plane), name(value[1], plane)


def _quantity(value: object, kind: Kind, sign: str) -> Quantity:
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise Unfit(_instead(value), _allowed(kind, sign), "write one number, or a text with number and unit")
    if isinstance(value, str):
        _check_length(value)
    try:
        read = read_quantity(value, kind)
    except QuantityError as unread:
        raise Unfit(unread.found, unread.allowed, unread.do) from None
    _check_bounds(read.value, value, kind, sign)
    if read.error is not None and read.error > from_surface(_LARGEST[kind], kind):
        raise Unfit(
            f"{shown(value)} has an impossible ±", _allowed(kind, sign), "check number and unit behind ±"
        )
    return read


def _plain(value: object, kind: Kind, sign: str) -> float:
    read = _quantity(value, kind, sign)
    if read.error is not None:
        raise Unfit(f"{shown(value)} carries ±", f"{_allowed(kind, sign)} without ±", "take the ± away")
    return read.value


def _check_bounds(value: float, written: object, kind: Kind, sign: str) -> None:
    largest = from_surface(_LARGEST[kind], kind)
    if abs(value) > largest * (1 + 1e-12):
        raise Unfit(
            f"{shown(written)} is too large", _allowed(kind, sign), "check the decimal point and the unit"
        )
    if sign == "positive" and value < from_surface(_SMALLEST, kind):
        said = "is not greater than 0" if value <= 0 else "is too small to be meant"
        raise Unfit(
            f"{shown(written)} {said}", _allowed(kind, sign), "check the sign, the decimal point and the unit"
        )
    if sign == "not negative" and value < 0:
        raise Unfit(f"{shown(written)} is below 0", _allowed(kind, sign), "check the sign")


def _allowed(kind: Kind, sign: str) -> str:
    unit = SURFACE_UNIT[kind]
    largest = f"{_LARGEST[kind]:,.0f}".replace(",", " ")
    least = {"positive": "over 0", "not negative": "from 0"}.get(sign, f"from -{largest}")
    return f"{least} to {largest}{' ' if unit else ''}{unit}"


def _check_length(text: str) -> None:
    if len(text) > LIMITS.text_characters:
        most = f"at most {LIMITS.text_characters} characters"
        raise Unfit(f"a text of {len(text)} characters stands here", most, "write it shorter", limit=True)


def _coordinates(value: object, plane: str | None, what: str) -> list[object]:
    """The two or three values of a place or direction; their number must fit the plane."""
    count = 2 if plane else 3
    axes = f"{plane[0]} and {plane[1]}" if plane else "x, y and z"
    allowed = f"a list of {count} numbers: {axes}"
    if not isinstance(value, list):
        raise Unfit(_instead(value), allowed, "write the numbers in [ ]")
    if len(value) != count:
        found = f"{what} has {len(value)} number{'' if len(value) == 1 else 's'}"
        raise Unfit(found, allowed, _count_hint(len(value), plane))
    return value


def _count_hint(count: int, plane: str | None) -> str:
    if plane and count > 2:
        return "leave out the axis that the plane does not have"
    if plane or count < 2:
        return "add what is missing"
    if count == 2:
        return 'add the missing number, or write plane = "xz" or "yz" at the top for a flat drawing'
    return "write decimals with a point: a comma starts the next number"


def _in_space(flat: list, plane: str | None, missing: object) -> list:  # type: ignore[type-arg]
    """Coordinates of a flat drawing with the missing axis filled in."""
    if plane is None:
        return flat
    return [flat[0], missing, flat[1]] if plane == "xz" else [missing, flat[0], flat[1]]


def _instead(value: object) -> str:
    return f"{shown(value)} stands here"
