"""Blocks of words and tables, set one under another over as many pages as they take."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leverwright.make.frame import Area, Head, Page
from leverwright.make.outline import Spot
from leverwright.make.pen import Pen, wrapped
from leverwright.make.reading import (
    LEADING,
    ROW,
    TABLE_HEAD,
    TEXT,
    Column,
    draw_heading,
    draw_lines,
    draw_list,
    draw_table,
    list_height,
)

__all__ = ["Block", "flow", "heading", "lines", "numbered", "points", "space", "table"]

_MM = 1e-3
_HEADING = 6.5 * _MM
_MOST_ROWS = 16


@dataclass(frozen=True, slots=True)
class Block:
    """Something of known height [m]; `draw` takes the place of its upper left corner.

    stays  it is no use at the foot of a page without the block after it
    """

    height: float
    draw: Callable[[Pen, Spot], None]
    stays: bool = False
    gap: float = 3.5 * _MM  # below it


def heading(words: str, width: float) -> Block:
    """A bold line with a rule under it, that stays with what follows."""
    return Block(
        _HEADING,
        lambda pen, at: _done(draw_heading(pen, words, (at[0], at[1] - 4 * _MM), width)),
        stays=True,
        gap=1.5 * _MM,
    )


def lines(paragraphs: Sequence[str], width: float, indent: float = 0.0) -> Block:
    """Paragraphs, kept together."""
    room = width - indent
    pieces = [piece for paragraph in paragraphs for piece in wrapped(paragraph, TEXT, room)]

    def draw(pen: Pen, at: Spot) -> None:
        draw_lines(pen, paragraphs, (at[0] + indent, at[1] - 3.6 * _MM), room)

    return Block(LEADING * len(pieces), draw, gap=0.8 * _MM)


def points(items: Sequence[str], width: float) -> Block:
    """A list by dots."""
    return _list(items, width, numbered=False)


def numbered(items: Sequence[str], width: float) -> Block:
    """Steps by number."""
    return _list(items, width, numbered=True)


def _list(items: Sequence[str], width: float, *, numbered: bool) -> Block:
    def draw(pen: Pen, at: Spot) -> None:
        draw_list(pen, items, (at[0], at[1] - 3.6 * _MM), width, numbered=numbered)

    return Block(list_height(items, width) + 0.5 * _MM, draw)


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]], *, stays: bool = False) -> list[Block]:
    """The table in blocks of so many rows as a page has room for, each with the head."""
    groups = [rows[k : k + _MOST_ROWS] for k in range(0, len(rows), _MOST_ROWS)]
    return [
        Block(
            TABLE_HEAD + ROW * len(group),
            lambda pen, at, group=group: _done(draw_table(pen, columns, group, at)),  # type: ignore[misc]  # bound now
            stays=stays,
        )
        for group in groups
    ]


def space(height: float) -> Block:
    """Nothing, so high [m]."""
    return Block(height, lambda _pen, _at: None, gap=0.0)


def flow(blocks: Sequence[Block], head: Head, area: Area) -> list[Page]:
    """The blocks on pages, in order, a heading never alone at a foot."""
    sheets: list[list[Block]] = [[]]
    used = 0.0
    for k, block in enumerate(blocks):
        follower = _held_height(blocks[k:]) - block.height
        if sheets[-1] and used + block.height + follower > area.size[1]:
            sheets.append([])
            used = 0.0
        sheets[-1].append(block)
        used += block.height + block.gap
    return [Page(head, true_scale=False, draw=_drawer(sheet, area)) for sheet in sheets if sheet]


def _held_height(blocks: Sequence[Block]) -> float:
    """Height of the first block and of all that must stand on one page with it."""
    height = 0.0
    for block in blocks:
        height += block.height
        if not block.stays:
            break
        height += block.gap
    return height


def _drawer(sheet: list[Block], area: Area) -> Callable[[Pen], None]:
    def draw(pen: Pen) -> None:
        y = area.top
        for block in sheet:
            block.draw(pen, (area.corner[0], y))
            y -= block.height + block.gap

    return draw


def _done(_lower_side: float) -> None:
    """What draws tells where it ended; a block knows its height already."""
