"""Lines, tables and tick boxes on paper that is read at arm's length."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leverwright.make.frame import HAIR
from leverwright.make.outline import Spot
from leverwright.make.pen import BLACK, GREY, Align, Face, Pen, fitted, wrapped

__all__ = [
    "LEADING",
    "ROW",
    "TABLE_HEAD",
    "TEXT",
    "Column",
    "draw_heading",
    "draw_lines",
    "draw_list",
    "draw_table",
    "list_height",
    "tick_box",
]

_MM = 1e-3
TEXT, LEADING = 3.3 * _MM, 4.5 * _MM
_SMALL = 2.8 * _MM
ROW = 8.8 * _MM
TABLE_HEAD = 8.4 * _MM
_FIGURE = 4.3 * _MM


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, width [m] and side; a `figure` is read from further off."""

    head: str
    width: float
    align: Align = "left"
    strong: bool = False
    figure: bool = False
    tick: bool = False
    small: bool = False


def draw_lines(pen: Pen, lines: Sequence[str], at: Spot, room: float) -> float:
    """Paragraphs from base line `at` down; the height of the next free base line."""
    y = at[1]
    for line in lines:
        for piece in wrapped(line, TEXT, room):
            pen.text((at[0], y), piece, TEXT)
            y -= LEADING
    return y


def draw_heading(pen: Pen, words: str, at: Spot, room: float) -> float:
    """A bold line with a rule under it; the next base line."""
    pen.text(at, fitted(words, 4 * _MM, room, "Bold"), 4 * _MM, "Bold")
    pen.line((at[0], at[1] - 1.6 * _MM), (at[0] + room, at[1] - 1.6 * _MM), 0.3 * _MM)
    return at[1] - 6.8 * _MM


def draw_table(pen: Pen, columns: Sequence[Column], rows: Sequence[Sequence[str]], top_left: Spot) -> float:
    """Head and rows with hair lines between; the height of its lower side. A cell may have two lines."""
    left, y = top_left
    width = sum(column.width for column in columns)
    _draw_row(pen, columns, [column.head for column in columns], (left, y), head=True)
    y -= TABLE_HEAD
    pen.line((left, y), (left + width, y), 0.4 * _MM)
    for row in rows:
        _draw_row(pen, columns, row, (left, y))
        y -= ROW
        pen.line((left, y), (left + width, y), HAIR, GREY)
    return y


def _draw_row(
    pen: Pen, columns: Sequence[Column], row: Sequence[str], at: Spot, *, head: bool = False
) -> None:
    x, y = at
    for column, words in zip(columns, row, strict=True):
        if column.tick and not head:
            tick_box(pen, (x + column.width / 2, y - ROW / 2))
        elif words:
            _draw_cell(pen, column, words, (x, y), head=head)
        x += column.width


def _draw_cell(pen: Pen, column: Column, words: str, at: Spot, *, head: bool) -> None:
    """One or two lines: the second is small, a head is grey."""
    first, _, second = words.partition("\n")
    face: Face = "Bold" if (column.strong or column.figure) and not head else "Regular"
    size = _SMALL if head or column.small else _FIGURE if column.figure else TEXT
    room = column.width - 1.5 * _MM
    x, y = at
    drop = 3.2 * _MM if head or second else (ROW + 0.72 * size) / 2
    if head:
        drop = drop if second else drop + 3.4 * _MM
        pen.grey_text(_inside(x, y - drop, column), first, size, GREY, column.align)
        pen.grey_text(_inside(x, y - drop - 3.4 * _MM, column), second, size, GREY, column.align)
        return
    drop = 3.6 * _MM if second else drop
    pen.text(_inside(x, y - drop, column), fitted(first, size, room, face), size, face, column.align)
    pen.text(
        _inside(x, y - drop - 3.4 * _MM, column),
        fitted(second, _SMALL, room),
        _SMALL,
        "Regular",
        column.align,
    )


def tick_box(pen: Pen, middle: Spot, size: float = 4 * _MM) -> None:
    """An empty square for a pencil."""
    pen.box((middle[0] - size / 2, middle[1] - size / 2), (size, size), 0.3 * _MM)


def draw_list(pen: Pen, lines: Sequence[str], at: Spot, room: float, *, numbered: bool) -> float:
    """Steps by number, or points by dot; the next free base line."""
    y = at[1]
    for number, line in enumerate(lines, start=1):
        if numbered:
            pen.text((at[0], y), str(number), TEXT, "Bold")
        else:
            pen.circle((at[0] + 1 * _MM, y + 1.1 * _MM), 0.6 * _MM, 0.0, BLACK)
        y = draw_lines(pen, [line], (at[0] + 5 * _MM, y), room - 5 * _MM) - 0.7 * _MM
    return y


def list_height(lines: Sequence[str], room: float) -> float:
    """Height that `draw_list` takes."""
    pieces = [len(wrapped(line, TEXT, room - 5 * _MM)) for line in lines]
    return LEADING * sum(pieces) + 0.7 * _MM * len(pieces)


def _inside(x: float, y: float, column: Column) -> Spot:
    inset = {"left": 1 * _MM, "middle": column.width / 2, "right": column.width - 1 * _MM}
    return x + inset[column.align], y
