"""Drawings of parts at true scale: outline, holes, datum, and every distance from it."""

from __future__ import annotations

from functools import cache
from math import atan2, cos, hypot, pi, sin

from leverwright.make.frame import HAIR
from leverwright.make.hole_names import (
    BALLOON,
    CROSS,
    EDGE_BAND,
    END_BAND,
    NAME,
    NUMBER,
    SMALL,
    Names,
    draw_names,
    place_names,
)
from leverwright.make.labels import Box, Taken, spread
from leverwright.make.lie import Lie, clear_of
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Spot
from leverwright.make.parts import Hole, Part, shrunk
from leverwright.make.pen import BLACK, GREY, WHITE, Pen, fitted, text_width
from leverwright.make.tiles import Figure, joins

__all__ = ["beside", "link_figure", "plate_figure", "plate_sketch"]

_MM = 1e-3
_CUT, _DATUM, _THIN = 0.5 * _MM, 1.1 * _MM, 0.18 * _MM
_DOT = 0.35 * _MM
_CLEAR = 3 * _MM  # on the far sides
_DASH = (3 * _MM, 2 * _MM)


def beside(figures: list[Figure], gap: float) -> Figure:
    """Figures in a row, their tops in line."""
    width = sum(figure.width for figure in figures) + gap * (len(figures) - 1)
    height = max(figure.height for figure in figures)

    def draw(pen: Pen, corner: Spot) -> None:
        x = corner[0]
        for figure in figures:
            figure.draw(pen, (x, corner[1] + height - figure.height))
            x += figure.width + gap

    whole, x = [], 0.0
    for figure in figures:
        whole += [(x + spot[0], spot[1] + height - figure.height) for spot in figure.whole]
        x += figure.width + gap
    return Figure(width, height, draw, tuple(whole))


# --- plates -----------------------------------------------------------------------------------------------


def plate_figure(part: Part, room: Spot, spare: Spot, *, turned: bool) -> Figure:
    """The plate with its blank, datum, holes, and ordinates from the datum.

    room   m, the window of a page: words keep off the joins of its tiles
    spare  m left free on the left and above
    """
    along_size, up_size = part.length, part.height
    if turned:  # datum edge on the left, datum end on top
        width, height = END_BAND + up_size + _CLEAR, EDGE_BAND + along_size + _CLEAR
        corner = (END_BAND + spare[0], _CLEAR + along_size)
    else:
        width, height = END_BAND + along_size + _CLEAR, EDGE_BAND + up_size + _CLEAR
        corner = (END_BAND + spare[0], EDGE_BAND)
    width, height = width + spare[0], height + spare[1]

    def draw(pen: Pen, at: Spot) -> None:
        lie = Lie((at[0] + corner[0], at[1] + corner[1]), turned)
        overlaps = joins((width, height), room, at)
        _draw_blank(pen, part, lie, overlaps)
        _draw_ordinates(pen, part, lie)
        pen.outline(lie.outline(part.outline), _CUT, _DASH if part.assumed_edge else ())
        _draw_arms(pen, part, lie, overlaps)
        for hole in part.holes:
            _draw_hole(pen, hole, lie)
        draw_names(pen, names(), at)

    lie_alone = Lie(corner, turned)

    @cache
    def names() -> Names:  # found when first drawn, the same on every tile
        overlaps = joins((width, height), room, (0.0, 0.0))
        return place_names(part, lie_alone, Taken(Box(0.0, 0.0, width, height), overlaps))

    return Figure(width, height, draw, tuple(lie_alone(hole.at) for hole in part.holes))


def _draw_blank(pen: Pen, part: Part, lie: Lie, overlaps: list[Box]) -> None:
    """Two strong datum lines with their words, two thin sides of the blank."""
    far = (part.length, part.height)
    pen.line(lie((far[0], 0)), lie(far), HAIR, GREY, (2 * _MM, 1.5 * _MM))
    pen.line(lie((0, far[1])), lie(far), HAIR, GREY, (2 * _MM, 1.5 * _MM))
    half = _DATUM / 2  # the stroke's inner side is the datum
    pen.line(lie((-_DATUM, -half)), lie((far[0], -half)), _DATUM)
    pen.line(lie((-half, -_DATUM)), lie((-half, far[1])), _DATUM)
    below, beside_it = -14.6 * _MM, -18.5 * _MM  # of the ordinates' figures
    edge_off, end_off = (beside_it, below) if lie.turned else (below, beside_it)
    turn = pi / 2 if lie.turned else 0.0
    place = clear_of(lie((0.0, edge_off)), lie((far[0], edge_off)), overlaps)
    pen.turned_text(place, "DATUM EDGE", SMALL, turn, "Bold")
    pen.turned_text(lie((end_off, far[1] / 2)), "DATUM END", SMALL, pi / 2 - turn, "Bold")


def _draw_ordinates(pen: Pen, part: Part, lie: Lie, enlarge: float = 1.0) -> None:
    """Each hole's distance from the datum end, below the edge; from the edge, beside the end.

    enlarge  1, from a sketch to the part
    """
    alongs = _levels([hole.along for hole in part.holes])
    ups = _levels([hole.up for hole in part.holes])
    tall, wide = 4.6 * _MM, 12.5 * _MM
    along_gap, up_gap = (tall, wide) if lie.turned else (wide, tall)
    for value, place in zip(alongs, spread(alongs, along_gap), strict=True):
        top = max(hole.up for hole in part.holes if abs(hole.along - value) < _SAME_LEVEL)
        pen.line(lie((value, top)), lie((value, -3 * _MM)), HAIR, GREY)
        pen.line(lie((value, -3 * _MM)), lie((place, -6.5 * _MM)), HAIR, GREY)
        _write_ordinate(pen, lie((place, -7 * _MM)), value * enlarge, below=not lie.turned)
    for value, place in zip(ups, spread(ups, up_gap), strict=True):
        right = max(hole.along for hole in part.holes if abs(hole.up - value) < _SAME_LEVEL)
        pen.line(lie((right, value)), lie((-3 * _MM, value)), HAIR, GREY)
        pen.line(lie((-3 * _MM, value)), lie((-6.5 * _MM, place)), HAIR, GREY)
        _write_ordinate(pen, lie((-7 * _MM, place)), value * enlarge, below=lie.turned)


# Holes nearer than this in one direction share an ordinate: the figure printed is the same.
_SAME_LEVEL = 0.05 * _MM


def _levels(values: list[float]) -> list[float]:
    """Rising, without those that repeat."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] >= _SAME_LEVEL:
            kept.append(value)
    return kept


def _write_ordinate(pen: Pen, at: Spot, value: float, *, below: bool) -> None:
    """The figure under its leader, or to the left of it."""
    if below:
        pen.text((at[0], at[1] - 2.8 * _MM), millimetres(value), NUMBER, "Bold", "middle")
    else:
        pen.text((at[0], at[1] - 1.25 * _MM), millimetres(value), NUMBER, "Bold", "right")


def _draw_arms(pen: Pen, part: Part, lie: Lie, overlaps: list[Box]) -> None:
    """Centre lines from the pivot to each other hole, with their lengths where no join cuts them."""
    pivot = lie(part.holes[0].at)
    for hole in part.holes[1:]:
        spot = lie(hole.at)
        pen.line(pivot, spot, HAIR, BLACK, (6 * _MM, 1 * _MM, 1 * _MM, 1 * _MM))
        length = hypot(spot[0] - pivot[0], spot[1] - pivot[1])
        turn = atan2(spot[1] - pivot[1], spot[0] - pivot[0])
        if turn > pi / 2 + 1e-9 or turn <= -pi / 2 + 1e-9:
            turn += pi
        _write_over(pen, clear_of(pivot, spot, overlaps), millimetres(length), turn)


def _write_over(pen: Pen, middle: Spot, words: str, turn: float) -> None:
    """Words on a line that they interrupt."""
    wide = text_width(words, NUMBER, "Bold") + 2 * _MM
    step = (wide / 2 * cos(turn), wide / 2 * sin(turn))
    start = (middle[0] - step[0], middle[1] - step[1])
    pen.line(start, (middle[0] + step[0], middle[1] + step[1]), NUMBER * 1.1, WHITE)
    drop = 0.36 * NUMBER
    pen.turned_text((middle[0] + drop * sin(turn), middle[1] - drop * cos(turn)), words, NUMBER, turn, "Bold")


def _draw_hole(pen: Pen, hole: Hole, lie: Lie) -> None:
    """Centre mark to punch through, and the circle when its diameter is stated."""
    x, y = lie(hole.at)
    reach = max(CROSS, (hole.diameter or 0.0) / 2 + 3 * _MM)
    for dx, dy in ((1, 0), (0, 1)):
        pen.line((x - reach * dx, y - reach * dy), (x + reach * dx, y + reach * dy), _THIN)
    pen.circle((x, y), _DOT, 0.0, BLACK)
    if hole.diameter is not None:
        pen.circle((x, y), hole.diameter / 2, 0.35 * _MM)


def plate_sketch(part: Part, size: Spot) -> Figure:
    """The plate small, not to scale: hole numbers, datum and ordinates only."""
    room = (size[0] - END_BAND - _CLEAR, size[1] - EDGE_BAND - _CLEAR)
    scale = min(room[0] / part.length, room[1] / part.height, 1.0)
    small = shrunk(part, scale)
    width = END_BAND + small.length + _CLEAR
    height = EDGE_BAND + small.height + _CLEAR

    def draw(pen: Pen, at: Spot) -> None:
        lie = Lie((at[0] + END_BAND, at[1] + EDGE_BAND), turned=False)
        _draw_blank(pen, small, lie, [])
        _draw_ordinates(pen, small, lie, 1 / scale)
        pen.outline(lie.outline(small.outline), _CUT, _DASH if part.assumed_edge else ())
        for hole in small.holes:
            x, y = lie(hole.at)
            pen.circle((x, y), BALLOON, 0.4 * _MM, WHITE)
            pen.text((x, y - 1.25 * _MM), str(hole.number), NUMBER, "Bold", "middle")

    return Figure(width, height, draw)


# --- links ------------------------------------------------------------------------------------------------


def link_figure(part: Part, spare: float = 0.0) -> Figure:
    """The link as a strip on its end, its words along it; `spare` m are left free above."""
    width, height = part.height + 2 * _CLEAR, part.length + 2 * _CLEAR + spare

    def draw(pen: Pen, at: Spot) -> None:
        lie = Lie((at[0] + _CLEAR, at[1] + _CLEAR + part.length), turned=True)
        half = _DATUM / 2
        pen.line(lie((0, -half)), lie((part.length, -half)), _DATUM)
        pen.line(lie((-half, -_DATUM)), lie((-half, part.height)), _DATUM)
        pen.outline(lie.outline(part.outline), _CUT, _DASH if part.assumed_edge else ())
        first, last = part.holes
        pen.line(lie(first.at), lie(last.at), HAIR, BLACK, (6 * _MM, 1 * _MM, 1 * _MM, 1 * _MM))
        for hole in part.holes:
            _draw_hole(pen, hole, lie)
        _draw_strip_words(pen, part, lie)

    lie_alone = Lie((_CLEAR, _CLEAR + part.length), turned=True)
    return Figure(width, height, draw, tuple(lie_alone(hole.at) for hole in part.holes))


def _draw_strip_words(pen: Pen, part: Part, lie: Lie) -> None:
    """Along the strip, near its first hole: hole to hole, name; at each end the hole's number and size."""
    first, last = part.holes
    length = last.along - first.along
    room = min(max(length - 44 * _MM, 10 * _MM), 90 * _MM)
    middle = min((first.along + last.along) / 2, first.along + 22 * _MM + room / 2)
    name = fitted(" + ".join(part.names), NAME, room, "Bold")
    _write_over(pen, lie((middle, first.up)), f"{millimetres(length)} mm", pi / 2)
    pen.turned_text(lie((middle, first.up - 5 * _MM)), name, NAME, pi / 2, "Bold")
    kind = "setting gauge" if part.gauge else "link"
    small = fitted(f"{kind}, holes {millimetres(first.up)} from the datum edge", SMALL, room)
    pen.turned_text(lie((middle, first.up + 6.5 * _MM)), small, SMALL, pi / 2)
    for hole in part.holes:
        inward = 1 if hole is first else -1
        beyond = max(CROSS, (hole.diameter or 0.0) / 2 + 3 * _MM) + BALLOON + 0.6 * _MM
        x, y = lie((hole.along + inward * beyond, hole.up))
        words = f"Ø {millimetres(hole.diameter)}" if hole.diameter is not None else "Ø ______"
        pen.circle((x, y), BALLOON, 0.3 * _MM, WHITE)
        pen.text((x, y - 1.25 * _MM), str(hole.number), NUMBER, "Bold", "middle")
        low = y - inward * 6.2 * _MM - 1.2 * _MM
        wide = text_width(words, NAME, "Bold") + 1 * _MM
        pen.box((x - wide / 2, low - 0.6 * _MM), (wide, 3.8 * _MM), 0.0, WHITE)
        pen.text((x, low), words, NAME, "Bold", "middle")
