"""Values that only measurements have: repeated readings, marks, what a scale says, pixels of a picture.

Each reader takes the value as TOML gives it and the plane of a flat drawing, as those of `values` do.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

from leverwright.project.limits import LIMITS
from leverwright.project.values import At, Reader, Unfit, name, number, place, quantity, shown
from leverwright.quantity import UNITS, Kind, Quantity, QuantityError, read_quantity

__all__ = [
    "corners",
    "lens",
    "marks",
    "pick_error",
    "picture",
    "picture_size",
    "pixel",
    "read_together",
    "readings",
    "rough_place",
    "scale_error",
    "scale_force",
    "scale_forces",
    "steps",
    "straight_edges",
    "width_and_height",
]

# Pixels; a picture has at most 24 million, and none is longer than that.
_MOST_PIXELS = 100_000.0
# 1. A lens that bends more is no lens that lines can be straightened behind.
_MOST_LENS = 2.0
_GAP = "-"
# m, kg. Readings nearer than this may well be repeats however small they are.
_REPEATS_APART: Mapping[str, float] = MappingProxyType({"length": 0.02, "mass": 2.0})
_ON_THE_SCALE = "kg as a bare number, or a text in kg, lb, N, kgf or lbf, from 0"
_PICTURE = "a file name of letters, digits, - and . that ends in .png or .jpg, in the folder NAME-photos"
# One class, so that nothing goes back; a point first would hide the file, and two would climb a folder.
_PLAIN = re.compile(r"[A-Za-z0-9-][A-Za-z0-9.-]*\.(?:png|jpg)")

_KGF = UNITS["force"]["kgf"]  # what a scale takes for a kilogram
_MASS_THEN_FORCE: tuple[Kind, ...] = ("mass", "force")
_mass = quantity("mass", "not negative")
_newtons = quantity("force", "not negative")


def readings(kind: Kind, sign: str = "any") -> Reader:
    """Reader of one reading, or of a list of repeats of it."""
    one = quantity(kind, sign)

    def read(value: object, plane: str | None) -> tuple[Quantity, ...]:
        if not isinstance(value, list):
            return (one(value, plane),)
        repeats = _listed(value, 1, LIMITS.readings, "one reading, or a list of repeats of it")
        read = tuple(one(each, plane) for each in repeats)
        _check_alike(value, [each.value for each in read], kind)
        return read

    return read


def _check_alike(written: list[object], values: list[float], kind: Kind) -> None:
    """Are they repeats of one reading? A comma for a decimal point makes two numbers of one."""
    apart = max(values) - min(values)
    if apart > max(_REPEATS_APART[kind], 0.5 * max(map(abs, values))):
        allowed = "repeats of one reading, which differ by little"
        do = "write decimals with a point: a comma starts the next number; take out what was read of something else"
        raise Unfit(f"{shown(written)} are no repeats", allowed, do)


def read_together(kind: Kind, sign: str) -> Reader:
    """Reader of readings of one kind that belong, one by one, to those of another list."""
    one = quantity(kind, sign)
    allowed = f"a list of 2 to {LIMITS.marks} readings"

    def read(value: object, plane: str | None) -> tuple[Quantity, ...]:
        return tuple(one(each, plane) for each in _listed(value, 2, LIMITS.marks, allowed))

    return read


def marks(sign: str, *, falling: bool = False) -> Reader:
    """Reader of the lengths at which a shock was read: rising, or falling when eye to eye."""
    one = quantity("length", sign)
    order = "falling" if falling else "rising"
    allowed = f"a list of 2 to {LIMITS.marks} lengths, {order} from one to the next"

    def read(value: object, plane: str | None) -> tuple[Quantity, ...]:
        written = _listed(value, 2, LIMITS.marks, allowed)
        lengths = [one(each, plane) for each in written]
        _check_order(written, [length.value * (-1 if falling else 1) for length in lengths], allowed)
        return tuple(lengths)

    return read


def steps(*, rising: bool = False) -> Reader:
    """Reader of how far something had moved at each of some steps."""
    one = quantity("length")
    order = ", rising from one to the next" if rising else ""
    allowed = f"a list of 2 to {LIMITS.marks} lengths{order}"

    def read(value: object, plane: str | None) -> tuple[Quantity, ...]:
        written = _listed(value, 2, LIMITS.marks, allowed)
        lengths = [one(each, plane) for each in written]
        if rising:
            _check_order(written, [length.value for length in lengths], allowed)
        return tuple(lengths)

    return read


def _check_order(written: list[object], values: list[float], allowed: str) -> None:
    """Does each value lie beyond the one before it?"""
    for at in range(1, len(values)):
        if values[at] <= values[at - 1]:
            found = f"{shown(written[at])} stands after {shown(written[at - 1])}"
            raise Unfit(found, allowed, "put them in order, each once")


def scale_force(value: object, _plane: str | None) -> Quantity:
    """What the scale reads, as a force [N]: kg when bare, else in any unit of mass or force."""
    if isinstance(value, str) and _is_force(value):
        return _newtons(value, None)
    try:
        mass = _mass(value, None)
    except Unfit as unfit:
        raise Unfit(unfit.found, _ON_THE_SCALE, unfit.do, limit=unfit.limit) from None
    error = None if mass.error is None else _KGF.to_si(mass.error)
    return Quantity(_KGF.to_si(mass.value), error, "force")


def _is_force(text: str) -> bool:
    """Does a text read as a force and not as a mass?"""
    for kind in _MASS_THEN_FORCE:
        try:
            return read_quantity(text, kind).kind == "force"
        except QuantityError:
            continue
    return False


def scale_forces(*, gaps: bool = False) -> Reader:
    """Reader of what the scale reads at each mark [N]; with `gaps` a "-" stands where nothing was read."""
    but = f', "{_GAP}" where nothing was read' if gaps else ""
    allowed = f"a list of readings, one a mark: {_ON_THE_SCALE}{but}"

    def read(value: object, plane: str | None) -> tuple[Quantity | None, ...]:
        written = _listed(value, 2, LIMITS.marks, allowed)
        return tuple(None if gaps and each == _GAP else scale_force(each, plane) for each in written)

    return read


def scale_error(value: object, plane: str | None) -> float:
    """One standard deviation of what the scale reads, as a force [N]."""
    read = scale_force(value, plane)
    if read.error is not None:
        raise Unfit(f"{shown(value)} carries ±", f"{_ON_THE_SCALE}, without ±", "take the ± away")
    return read.value


def rough_place(value: object, plane: str | None) -> At:
    """A point's rough coordinates, which carry no ±."""
    read = place(value, plane)
    if any(error is not None for error in read.errors):
        found = f"the rough place {shown(value)} carries ±"
        raise Unfit(
            found, "numbers without ±: a rough place is no measurement", "write it as at if it is measured"
        )
    return read


def picture(value: object, plane: str | None) -> str:
    """The file name of a photograph: never a path."""
    written = name(value, plane)
    if not _PLAIN.fullmatch(written) or ".." in written:
        raise Unfit(
            f"{shown(value)} stands here", _PICTURE, "take the photograph up on the page, which names it"
        )
    return written


def pixel(value: object, _plane: str | None) -> tuple[float, float]:
    """A place in a picture: [x to the right, y down]."""
    allowed = f"[x, y] in pixels, from 0 to {_MOST_PIXELS:.0f}"
    if not isinstance(value, list) or len(value) != 2:
        raise Unfit(f"{shown(value)} stands here", allowed, "write [x, y]")
    x, y = (_between(one, 0.0, _MOST_PIXELS, allowed) for one in value)
    return x, y


def corners(value: object, plane: str | None) -> tuple[tuple[float, float], ...]:
    """Four places in a picture that go round a rectangle."""
    allowed = "four corners [x, y] in pixels, going round the rectangle from its origin"
    if not isinstance(value, list) or len(value) != 4:
        raise Unfit(f"{shown(value)} stands here", allowed, "write [[x, y], [x, y], [x, y], [x, y]]")
    four = [pixel(one, plane) for one in value]
    turns = [_turn(four[at - 2], four[at - 1], four[at]) for at in range(4)]
    if min(turns) <= 0.0 <= max(turns):
        found = f"the corners {shown(value)} make no rectangle seen from anywhere"
        raise Unfit(found, allowed, "pick them one after another, round the rectangle")
    return tuple(four)


def picture_size(value: object, _plane: str | None) -> tuple[float, float]:
    """Width and height of a picture in pixels."""
    allowed = f"[width, height] in pixels, from 16 to {_MOST_PIXELS:.0f}"
    if not isinstance(value, list) or len(value) != 2:
        raise Unfit(f"{shown(value)} stands here", allowed, "write [4000, 3000]")
    width, height = (_between(one, 16.0, _MOST_PIXELS, allowed) for one in value)
    return width, height


def straight_edges(value: object, plane: str | None) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Edges that are straight in truth, each by three or more places in the picture."""
    allowed = "edges of three to 20 places [x, y] each, at most 6 edges"
    edges = [_listed(edge, 3, 20, allowed) for edge in _listed(value, 1, 6, allowed)]
    return tuple(tuple(pixel(place, plane) for place in edge) for edge in edges)


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Twice the area of a triangle, with the sense in which it is gone round; 0 where it has none to speak of."""
    area = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    return (
        area if abs(area) >= 1.0 else 0.0
    )  # square pixels; less and a corner lies on the line of its neighbours


def width_and_height(value: object, plane: str | None) -> tuple[float, float]:
    """Two lengths over 0, in m."""
    if not isinstance(value, list) or len(value) != 2:
        raise Unfit(
            f"{shown(value)} stands here",
            "a list of two lengths, width and height, in mm",
            "write [400, 300]",
        )
    size = number("length", "positive")
    return size(value[0], plane), size(value[1], plane)


def lens(value: object, _plane: str | None) -> float:
    """How much a lens bends straight lines, k1."""
    return _between(value, -_MOST_LENS, _MOST_LENS, f"a number from -{_MOST_LENS:g} to {_MOST_LENS:g}")


def pick_error(value: object, _plane: str | None) -> float:
    """One standard deviation of a pick, in pixels."""
    return _between(value, 0.0, 1000.0, "pixels, from 0 to 1000")


def _between(value: object, least: float, most: float, allowed: str) -> float:
    """A plain number within bounds."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise Unfit(f"{shown(value)} stands here", allowed, "write one number without a unit")
    if not (math.isfinite(value) and least <= value <= most):
        raise Unfit(f"{shown(value)} is outside what is possible", allowed, "check the number")
    return float(value)


def _listed(value: object, least: int, most: int, allowed: str) -> list[object]:
    """The elements of a list of so many."""
    if not isinstance(value, list) or len(value) < least:
        raise Unfit(f"{shown(value)} stands here", allowed, "write it as [first, second]")
    if len(value) > most:
        raise Unfit(
            f"a list of {len(value)} stands here", f"at most {most}", "keep the best of them", limit=True
        )
    return value
