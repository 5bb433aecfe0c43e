"""The words at each hole of a plate, and the arrow: placed once, off all lines, then drawn on every tile."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from leverwright.make.arrow import draw_arrow
from leverwright.make.labels import Box, Taken
from leverwright.make.lie import Lie, clear_of
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Line, Spot
from leverwright.make.parts import Hole, Part
from leverwright.make.pen import WHITE, Pen, fitted, text_width

__all__ = [
    "BALLOON",
    "CROSS",
    "EDGE_BAND",
    "END_BAND",
    "NAME",
    "NUMBER",
    "SMALL",
    "Names",
    "draw_names",
    "place_names",
]

_MM = 1e-3
NAME, NUMBER, SMALL = 3.4 * _MM, 3.6 * _MM, 2.8 * _MM
CROSS = 8 * _MM  # half length of a centre mark
BALLOON = 2.7 * _MM
END_BAND, EDGE_BAND = 21 * _MM, 17.5 * _MM  # beside and below the ordinates
_INDENT = 2 * BALLOON + 1.2 * _MM
_TALL = 9 * _MM
_NAME_ROOM = 44 * _MM
_RIM_SPOTS = 8  # on a round corner, for words to keep off it
_HALF = 6 * _MM  # of the length of an arm, as written on it
_RINGS = 9
# Sixteenths of a turn about the hole: right of it before left of it.
_WAYS = (1, 3, 15, 13, 5, 11, 2, 14, 4, 12, 6, 10, 0, 8, 7, 9)

_ROLE_WORDS = {"pivot": "PIVOT", "link": "LINK", "spring": "SPRING", "strap": "STRAP", "hole": "HOLE"}


@dataclass(frozen=True, slots=True)
class _Label:
    """Two lines of words and a number, in a box of the drawing."""

    number: int
    words: tuple[str, str]
    box: Box


@dataclass(frozen=True, slots=True)
class Names:
    """All words at holes, and the arrow: its middle, its direction and its word."""

    labels: tuple[_Label, ...]
    arrow: tuple[Spot, Spot, str] | None


def draw_names(pen: Pen, names: Names, at: Spot) -> None:
    """The words where they were placed, the drawing's corner at `at` on the page."""
    for label in names.labels:
        box = label.box
        left, low, high = box.left + at[0], box.low + at[1], box.high + at[1]
        pen.box((left - 0.5 * _MM, low), (box.right - box.left + 1 * _MM, _TALL), 0.0, WHITE)
        pen.circle((left + BALLOON, high - BALLOON - 0.6 * _MM), BALLOON, 0.3 * _MM, WHITE)
        pen.text((left + BALLOON, high - BALLOON - 1.85 * _MM), str(label.number), NUMBER, "Bold", "middle")
        pen.text((left + _INDENT, high - 4.4 * _MM), label.words[0], NAME, "Bold")
        pen.text((left + _INDENT, high - 8 * _MM), label.words[1], SMALL)
    if names.arrow:
        middle, direction, words = names.arrow
        draw_arrow(pen, (middle[0] + at[0], middle[1] + at[1]), direction, words)


def place_names(part: Part, lie: Lie, taken: Taken) -> Names:
    """Number, what the hole carries, its diameter or a blank, and its name, off all lines."""
    pivot = part.holes[0]
    overlaps = list(taken.boxes)
    for hole in part.holes:
        x, y = lie(hole.at)
        reach = max(4 * _MM, (hole.diameter or 0.0) / 2 + 1 * _MM)
        taken.boxes.append(Box(x - reach, y - reach, x + reach, y + reach))
        taken.add_line((x - CROSS, y), (x + CROSS, y), bar=True)
        taken.add_line((x, y - CROSS), (x, y + CROSS), bar=True)
        taken.add_line(lie(pivot.at), (x, y))
        taken.add_line((x, y), lie((hole.along, 0.0)))
        taken.add_line((x, y), lie((0.0, hole.up)))
        if hole is not pivot:
            mx, my = clear_of(lie(pivot.at), (x, y), overlaps)
            taken.boxes.append(Box(mx - _HALF, my - _HALF, mx + _HALF, my + _HALF))
    _keep_off_outline(part, lie, taken)
    labels = tuple(_label(hole, lie(hole.at), taken) for hole in part.holes)
    return Names(labels, _arrow(part, lie, taken))


def _keep_off_outline(part: Part, lie: Lie, taken: Taken) -> None:
    """No word on the outline, on the datum, or among the ordinates."""
    rim: list[Spot] = []
    for piece in lie.outline(part.outline):
        rim += [piece.start, piece.end] if isinstance(piece, Line) else piece.spots(_RIM_SPOTS)
    for start, end in zip(rim, rim[1:] + rim[:1], strict=True):
        taken.add_line(start, end, bar=True)
    for corner, far in (
        ((0.0, -EDGE_BAND), (part.length, 0.5 * _MM)),
        ((-END_BAND, -EDGE_BAND), (0.5 * _MM, part.height)),
    ):
        (x0, y0), (x1, y1) = lie(corner), lie(far)
        taken.boxes.append(Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))


def _arrow(part: Part, lie: Lie, taken: Taken) -> tuple[Spot, Spot, str] | None:
    """An arrow that points up (or to the front) in the set-up pose, in a free corner of the blank."""
    if part.up_dir is None:
        return None
    half = 8 * _MM
    candidates = []
    for share_along in (1.0, 0.0, 0.5, 0.75, 0.25):
        for share_up in (1.0, 0.5, 0.0):
            x, y = lie(
                (half + share_along * (part.length - 2 * half), half + share_up * (part.height - 2 * half))
            )
            candidates.append(Box(x - half, y - half, x + half, y + half))
    box = taken.best(candidates)
    middle = ((box.left + box.right) / 2, (box.low + box.high) / 2)
    return middle, lie.direction(part.up_dir), part.up_word


def _label(hole: Hole, at: Spot, taken: Taken) -> _Label:
    diameter = f"Ø {millimetres(hole.diameter)}" if hole.diameter is not None else "Ø ________"
    first = f"{_ROLE_WORDS[hole.role]}  {diameter}"
    second = fitted(hole.name, SMALL, _NAME_ROOM)
    wide = _INDENT + max(text_width(first, NAME, "Bold"), text_width(second, SMALL))
    off = max(5 * _MM, (hole.diameter or 0.0) / 2 + 2 * _MM)
    return _Label(hole.number, (first, second), taken.best(_around(at, (wide, _TALL), off)))


def _around(at: Spot, size: Spot, off: float) -> list[Box]:
    """Places for a box near a spot, the nearest first."""
    wide, tall = size
    boxes = []
    for ring in range(_RINGS):
        reach = off + ring * 3 * _MM
        for k in _WAYS:
            dx, dy = cos(k * pi / 8), sin(k * pi / 8)
            x = at[0] + dx * reach + (dx - 1) / 2 * wide
            y = at[1] + dy * reach + (dy - 1) / 2 * tall
            boxes.append(Box(x, y, x + wide, y + tall))
    return boxes
