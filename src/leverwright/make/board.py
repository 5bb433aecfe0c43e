"""The trial board at true scale: pins for pivot and string, and three marks that the lever's link hole is laid on."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin

from leverwright.make.arrow import draw_arrow
from leverwright.make.frame import HAIR
from leverwright.make.labels import Box, Taken
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Spot
from leverwright.make.pen import BLACK, GREY, WHITE, Pen, fitted, text_width
from leverwright.make.tiles import Figure, joins, tile_count
from leverwright.make.trial_readings import Board

__all__ = ["board_figure"]

_MM = 1e-3
_PAD = 16 * _MM
_NAME, _SMALL = 3.6 * _MM, 2.8 * _MM
_PIN, _MARK = 2.2 * _MM, 1.4 * _MM
_CROWDED, _FINE_MARK = (
    5 * _MM,
    0.5 * _MM,
)  # marks nearer than this are drawn finer, and led to from their words
_LEADER = 7 * _MM  # words further off than this are led to their mark
_CROSS = 7 * _MM
_NAME_ROOM = 50 * _MM
_PLACES = ("BUMP", "RIDE", "DROOP")
_TURNS = 36  # positions of the board looked at, each 5 deg


@dataclass(frozen=True, slots=True)
class _Turned:
    """The board turned by an angle and moved so that all of it lies right of and above (0, 0)."""

    angle: float
    shift: Spot
    size: Spot

    def direction(self, spot: Spot) -> Spot:
        """A direction of the board on the page."""
        c, s = cos(self.angle), sin(self.angle)
        return c * spot[0] - s * spot[1], s * spot[0] + c * spot[1]

    def __call__(self, spot: Spot) -> Spot:
        x, y = self.direction(spot)
        return x + self.shift[0], y + self.shift[1]


def board_figure(board: Board, room: Spot) -> Figure:
    """The board, turned so that it takes the fewest sheets of `room` [m]."""
    turns = [_turned(board, k * pi / _TURNS) for k in range(_TURNS)]
    turned = min(turns, key=lambda turned: (tile_count(turned.size, room), turned.size[0] * turned.size[1]))

    def draw(pen: Pen, at: Spot) -> None:
        placed = _Turned(turned.angle, (turned.shift[0] + at[0], turned.shift[1] + at[1]), turned.size)
        whole = Box(at[0], at[1], at[0] + turned.size[0], at[1] + turned.size[1])
        taken = Taken(whole, joins(turned.size, room, at))
        _draw_lever(pen, board, placed, taken)
        _draw_marks(pen, board, placed, taken)
        _draw_pins(pen, board, placed, taken)
        _draw_up(pen, board, placed, taken)

    return Figure(*turned.size, draw)


def _turned(board: Board, angle: float) -> _Turned:
    plain = _Turned(angle, (0.0, 0.0), (0.0, 0.0))
    spots = [plain(spot) for spot in (*board.pivot_at, *board.eye_at, *board.link_at, *board.spring_at)]
    left, low = min(x for x, _ in spots) - _PAD, min(y for _, y in spots) - _PAD
    size = (max(x for x, _ in spots) + _PAD - left, max(y for _, y in spots) + _PAD - low)
    return _Turned(angle, (-left, -low), size)


def _draw_lever(pen: Pen, board: Board, placed: _Turned, taken: Taken) -> None:
    """Lever and string where it rides, thin, and the arc that the link hole runs on."""
    pivot, eye = placed(board.pivot_at[1]), placed(board.eye_at[1])
    link, hole = placed(board.link_at[1]), placed(board.spring_at[1])
    for start, end in ((pivot, link), (pivot, hole), (link, hole)):
        pen.line(start, end, HAIR, GREY)
        taken.add_line(start, end)
    pen.line(hole, eye, 0.35 * _MM, BLACK, (4 * _MM, 2 * _MM))
    taken.add_line(hole, eye, bar=True)
    if board.pivot_moves:
        return
    arc = [placed(spot) for spot in _arc(board.pivot_at[1], board.link_at[2], board.link_at[0])]
    for start, end in pairwise(arc):
        pen.line(start, end, HAIR)
        taken.add_line(start, end)


def _arc(centre: Spot, first: Spot, last: Spot) -> list[Spot]:
    """Spots on the shorter arc about `centre`."""
    start = atan2(first[1] - centre[1], first[0] - centre[0])
    sweep = (atan2(last[1] - centre[1], last[0] - centre[0]) - start + pi) % (2 * pi) - pi
    radius = hypot(first[0] - centre[0], first[1] - centre[1])
    angles = [start + sweep * k / 24 for k in range(25)]
    return [(centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)) for angle in angles]


def _draw_marks(pen: Pen, board: Board, placed: _Turned, taken: Taken) -> None:
    """The three marks for the link hole, with what the string must read there."""
    spots = [placed(spot) for spot in board.link_at]
    holes = [placed(spot) for spot in board.spring_at]
    for x, y in (*spots, *holes):
        taken.boxes.append(Box(x - 3 * _MM, y - 3 * _MM, x + 3 * _MM, y + 3 * _MM))
    for (x, y), place, read in zip(spots, _PLACES, board.reads, strict=True):
        near = any(hypot(x - u, y - v) < _CROWDED for u, v in spots if (u, v) != (x, y))
        arm = 1 * _MM if near else 3 * _MM
        pen.circle((x, y), _FINE_MARK if near else _MARK, 0.2 * _MM if near else 0.4 * _MM, WHITE)
        pen.line((x - arm, y), (x + arm, y), HAIR)
        pen.line((x, y - arm), (x, y + arm), HAIR)
        words = (
            f"{place}: string {millimetres(read)} mm",
            fitted(f"{board.link_hole} here", _SMALL, _NAME_ROOM),
        )
        _label(pen, (x, y), words, taken)
    for x, y in holes:
        pen.circle((x, y), 0.7 * _MM, 0.0, GREY)


def _draw_pins(pen: Pen, board: Board, placed: _Turned, taken: Taken) -> None:
    """Pins of pivot and string, strong: one place where it stays still, else one for each of the three."""
    pins = (
        *_pins(board.pivot_at, "pivot", board.part.holes[0].name, moves=board.pivot_moves),
        *_pins(board.eye_at, "string's far end", board.eye_name, moves=board.eye_moves),
    )
    for spot, _, _ in pins:
        x, y = placed(spot)
        taken.boxes.append(Box(x - 4 * _MM, y - 4 * _MM, x + 4 * _MM, y + 4 * _MM))
        pen.line((x - _CROSS, y), (x + _CROSS, y), 0.18 * _MM)
        pen.line((x, y - _CROSS), (x, y + _CROSS), 0.18 * _MM)
        pen.circle((x, y), _PIN, 0.5 * _MM)
        pen.circle((x, y), 0.5 * _MM, 0.0, BLACK)
    for spot, first, name in pins:
        _label(pen, placed(spot), (first, fitted(name, _SMALL, _NAME_ROOM)), taken)


def _pins(
    spots: tuple[Spot, Spot, Spot], what: str, name: str, *, moves: bool
) -> list[tuple[Spot, str, str]]:
    """Where each pin goes, with its words and the point's name."""
    if not moves:
        return [(spots[1], f"PIN: {what}", name)]
    return [(spot, f"PIN at {place}: {what}", name) for spot, place in zip(spots, _PLACES, strict=True)]


def _label(pen: Pen, at: Spot, words: tuple[str, str], taken: Taken) -> None:
    wide = max(text_width(words[0], _NAME, "Bold"), text_width(words[1], _SMALL))
    tall = 8.4 * _MM
    box = taken.best(_around(at, (wide, tall)))
    edge = (min(max(at[0], box.left), box.right), min(max(at[1], box.low), box.high))
    if hypot(at[0] - edge[0], at[1] - edge[1]) > _LEADER:
        pen.line(at, edge, HAIR)
        taken.add_line(at, edge)
    pen.box((box.left - 0.5 * _MM, box.low), (wide + 1 * _MM, tall), 0.0, WHITE)
    pen.text((box.left, box.high - 3.8 * _MM), words[0], _NAME, "Bold")
    pen.text((box.left, box.high - 7.5 * _MM), words[1], _SMALL)


def _around(at: Spot, size: Spot) -> list[Box]:
    boxes = []
    for ring in range(10):
        reach = 5 * _MM + ring * 3 * _MM
        for k in (0, 1, 15, 2, 14, 8, 7, 9, 6, 10, 3, 13, 5, 11, 4, 12):
            dx, dy = cos(k * pi / 8), sin(k * pi / 8)
            x = at[0] + dx * reach + (dx - 1) / 2 * size[0]
            y = at[1] + dy * reach + (dy - 1) / 2 * size[1]
            boxes.append(Box(x, y, x + size[0], y + size[1]))
    return boxes


def _draw_up(pen: Pen, board: Board, placed: _Turned, taken: Taken) -> None:
    """Which way is up on the vehicle, in a free corner."""
    half = 8 * _MM
    left, low, right, high = taken.room.left, taken.room.low, taken.room.right, taken.room.high
    corners = [
        Box(x - half, y - half, x + half, y + half)
        for y in (high - half, low + half, (low + high) / 2)
        for x in (right - half, left + half)
    ]
    box = taken.best(corners)
    middle = ((box.left + box.right) / 2, (box.low + box.high) / 2)
    draw_arrow(pen, middle, placed.direction(board.up_dir), board.up_word)
