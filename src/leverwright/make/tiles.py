"""A drawing larger than the page, cut into tiles that overlap and carry marks to join them by."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, pi

from leverwright.make.frame import HAIR, Area
from leverwright.make.labels import Box
from leverwright.make.outline import Spot
from leverwright.make.pen import BLACK, Pen

__all__ = ["OVERLAP", "Figure", "Tile", "draw_tile", "joins", "off_the_joins", "tile_count", "tiles_of"]

_MM = 1e-3
OVERLAP = 12 * _MM  # m, wide enough for glue and for a mark in its middle
_MARK = 4 * _MM  # radius of a joining mark
_SMALL = 2.8 * _MM
_STEP, _STEPS = 5 * _MM, 13  # how a figure is moved to keep its holes off the joins
_ROUND = 9 * _MM  # about a hole's centre: its cross and the hole itself
# Reaching the edge by less than rounding needs no second sheet.
_SLACK = 1e-9  # m


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing of known size; `draw` takes the page's place of its lower left corner.

    whole  m from that corner: places that no join should cut, the centres of holes
    """

    width: float
    height: float
    draw: Callable[[Pen, Spot], None]
    whole: tuple[Spot, ...] = ()


@dataclass(frozen=True, slots=True)
class Tile:
    """One page's window on a figure, by column from the left and row from the bottom."""

    column: int
    row: int
    columns: int
    rows: int
    window: Spot  # m, its lower left corner in the figure
    size: Spot  # m

    @property
    def index(self) -> int:
        """Place in reading order, from 0: top row first."""
        return (self.rows - 1 - self.row) * self.columns + self.column


def tile_count(size: Spot, room: Spot) -> int:
    """Pages that a figure of that size takes in windows of `room`."""
    return _along(size[0], room[0]) * _along(size[1], room[1])


def tiles_of(size: Spot, room: Spot) -> list[Tile]:
    """Windows in reading order, each overlapping its neighbours by `OVERLAP`."""
    columns, rows = _along(size[0], room[0]), _along(size[1], room[1])
    step = (room[0] - OVERLAP, room[1] - OVERLAP)
    # The top row is full, so that a figure starts at the top of its first page.
    lowest = size[1] - room[1] - (rows - 1) * step[1]
    tiles = [
        Tile(column, row, columns, rows, (column * step[0], lowest + row * step[1]), room)
        for row in range(rows)
        for column in range(columns)
    ]
    return sorted(tiles, key=lambda tile: tile.index)


def off_the_joins(make: Callable[[Spot], Figure], room: Spot) -> Figure:
    """The figure, moved right and down as little as keeps its holes whole and takes no more pages.

    make  draws the figure with room to spare on its left and above it, m
    """
    tried = []
    for step in range(_STEPS):
        figure = make((step * _STEP, step * _STEP))
        pages = tile_count((figure.width, figure.height), room)
        tried.append((pages, _cut_by_joins(figure, room), step, figure))
    return min(tried, key=lambda one: one[:3])[3]


def _cut_by_joins(figure: Figure, room: Spot) -> int:
    """How many of its holes lie on a join."""
    overlaps = joins((figure.width, figure.height), room, (0.0, 0.0))
    holes = [Box(x - _ROUND, y - _ROUND, x + _ROUND, y + _ROUND) for x, y in figure.whole]
    return sum(any(hole.overlap(join) > 0.0 for join in overlaps) for hole in holes)


def _along(length: float, room: float) -> int:
    if length <= room + _SLACK:
        return 1
    return ceil((length - OVERLAP) / (room - OVERLAP) - _SLACK)


def draw_tile(pen: Pen, figure: Figure, tile: Tile, area: Area, first_page: int) -> None:
    """The figure's part in this window, and the joining marks; `first_page` is that of tile 0."""
    origin = (area.corner[0] - tile.window[0], area.corner[1] - tile.window[1])
    with pen.inside(area.corner, area.size):
        figure.draw(pen, origin)
        if tile.columns * tile.rows > 1:
            _draw_joins(pen, tile, area, first_page)


def _draw_joins(pen: Pen, tile: Tile, area: Area, first_page: int) -> None:
    """A line in the middle of each overlap, two marks on it, and the page that goes over or under."""
    half = OVERLAP / 2

    def page(column: int, row: int) -> int:
        return first_page + (tile.rows - 1 - row) * tile.columns + column

    for side in (-1, 1):
        if 0 <= tile.column + side < tile.columns:
            x = area.corner[0] + half if side < 0 else area.right - half
            pen.line((x, area.corner[1]), (x, area.top), HAIR, BLACK, (3 * _MM, 2 * _MM))
            for share in (0.32, 0.92):
                _mark(pen, (x, area.corner[1] + share * area.size[1]))
            at = (x - 1.2 * _MM, area.corner[1] + 32 * _MM)
            _join_words(pen, at, page(tile.column + side, tile.row), upright=True)
        if 0 <= tile.row + side < tile.rows:
            y = area.corner[1] + half if side < 0 else area.top - half
            pen.line((area.corner[0], y), (area.right, y), HAIR, BLACK, (3 * _MM, 2 * _MM))
            for share in (0.04, 0.6):
                _mark(pen, (area.corner[0] + share * area.size[0], y))
            at = (area.corner[0] + 0.8 * area.size[0], y + 1.2 * _MM)
            _join_words(pen, at, page(tile.column, tile.row + side), upright=False)


def _mark(pen: Pen, at: Spot) -> None:
    """A cross in a circle: the two halves of it meet when two pages lie true."""
    pen.circle(at, _MARK * 0.6, HAIR)
    pen.line((at[0] - _MARK, at[1]), (at[0] + _MARK, at[1]), HAIR)
    pen.line((at[0], at[1] - _MARK), (at[0], at[1] + _MARK), HAIR)


def _join_words(pen: Pen, at: Spot, page: int, *, upright: bool) -> None:
    """On the line, at an end of it; nothing is blanked for them, for they must not hide what is cut."""
    words = f"joins page {page}: lay mark on mark"
    if upright:
        pen.turned_text(at, words, _SMALL, pi / 2, "Bold")
    else:
        pen.text(at, words, _SMALL, "Bold", "middle")


def joins(size: Spot, room: Spot, at: Spot) -> list[Box]:
    """Where the tiles of a figure overlap, as it lies on the page."""
    boxes = []
    for tile in tiles_of(size, room):
        left, low = at[0] + tile.window[0], at[1] + tile.window[1]
        if tile.column:
            boxes.append(Box(left, low, left + OVERLAP, low + room[1]))
        if tile.row:
            boxes.append(Box(left, low, left + room[0], low + OVERLAP))
    return boxes
