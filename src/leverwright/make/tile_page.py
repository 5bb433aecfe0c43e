"""One page of a true-scale drawing: a few lines of words, the drawing or its tile, and what fits below."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from leverwright.make.frame import Area, Head, Page
from leverwright.make.outline import Spot
from leverwright.make.pen import Pen
from leverwright.make.reading import draw_lines
from leverwright.make.tiles import Figure, Tile, draw_tile

__all__ = ["TileContent", "tile_page", "tile_room"]

_MM = 1e-3
_WORDS = 14.5 * _MM  # three lines above the drawing


@dataclass(frozen=True, slots=True)
class TileContent:
    """What the page shows; `below` draws what fits between the drawing and the foot, from a height down."""

    head: Head
    words: list[str]
    figure: Figure
    tile: Tile
    below: Callable[[Pen, float], None] | None = None


def tile_room(area: Area) -> Spot:
    """Room of one tile on a page of that area, m."""
    return area.size[0], area.size[1] - _WORDS


def tile_page(content: TileContent, area: Area, first: int) -> Page:
    """The page; `first` is the number of the page with the drawing's first tile."""
    figure, tile = content.figure, content.tile
    count = tile.columns * tile.rows

    def draw(pen: Pen) -> None:
        draw_lines(pen, content.words, (area.corner[0], area.top - 3.5 * _MM), area.size[0])
        if count > 1:
            draw_tile(pen, figure, tile, Area(area.corner, tile.size), first)
            return
        left = area.corner[0] + (area.size[0] - figure.width) / 2
        low = area.top - _WORDS - figure.height
        figure.draw(pen, (left, low))
        if content.below:
            content.below(pen, low)

    sheet = content.head.sheet if count == 1 else f"{content.head.sheet}, tile {tile.index + 1} of {count}"
    return Page(replace(content.head, sheet=sheet), true_scale=True, draw=draw)
