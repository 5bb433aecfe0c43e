"""Drawings of parts at true scale: outline, holes, datum, and every distance from it."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin

from leverwright.make.arrow import draw_arrow
from leverwright.make.frame import HAIR
from leverwright.make.labels import Box, Taken, spread
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Arc, Line, Outline, Spot
from leverwright.make.parts import Hole, Part, shrunk
from leverwright.make.pen import BLACK, GREY, WHITE, Pen, fitted, text_width
from leverwright.make.tiles import Figure, joins

__all__ = ["beside", "link_figure", "plate_figure", "plate_sketch"]

_MM = 1e-3
_CUT, _DATUM, _THIN = 0.5 * _MM, 1.1 * _MM, 0.18 * _MM
_NAME, _NUMBER, _SMALL = 3.4 * _MM, 3.6 * _MM, 2.8 * _MM
_CROSS = 8 * _MM  # half length of a centre mark
_DOT = 0.35 * _MM
_END_BAND, _EDGE_BAND, _CLEAR = 21 * _MM, 17.5 * _MM, 3 * _MM  # beside and below the ordinates; the far sides
_BALLOON = 2.7 * _MM
_DASH = (3 * _MM, 2 * _MM)
_NAME_ROOM = 44 * _MM
_RIM_SPOTS = 8  # on a round corner, for words to keep off it
_HALF = 6 * _MM  # of the length of an arm, as written on it

_ROLE_WORDS = {"pivot": "PIVOT", "link": "LINK", "spring": "SPRING", "strap": "STRAP", "hole": "HOLE"}


@dataclass(frozen=True, slots=True)
class _Lie:
    """How a part lies in its figure: its corner there, and whether it stands on its end.

    Upright: along to the right, up upward. Turned: along downward, up to the right, so that the
    datum edge is on the left and the datum end on top.
    """

    corner: Spot
    turned: bool

    def __call__(self, spot: Spot) -> Spot:
        along, up = spot
        if self.turned:
            return self.corner[0] + up, self.corner[1] - along
        return self.corner[0] + along, self.corner[1] + up

    def direction(self, spot: Spot) -> Spot:
        """The same for a direction."""
        return (spot[1], -spot[0]) if self.turned else spot

    def outline(self, outline: Outline) -> Outline:
        """The same for an outline."""
        quarter = -pi / 2 if self.turned else 0.0
        return tuple(
            Line(self(piece.start), self(piece.end))
            if isinstance(piece, Line)
            else Arc(self(piece.centre), piece.radius, piece.start_angle + quarter, piece.end_angle + quarter)
            for piece in outline
        )


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
        width, height = _END_BAND + up_size + _CLEAR, _EDGE_BAND + along_size + _CLEAR
        corner = (_END_BAND + spare[0], _CLEAR + along_size)
    else:
        width, height = _END_BAND + along_size + _CLEAR, _EDGE_BAND + up_size + _CLEAR
        corner = (_END_BAND + spare[0], _EDGE_BAND)
    width, height = width + spare[0], height + spare[1]

    def draw(pen: Pen, at: Spot) -> None:
        lie = _Lie((at[0] + corner[0], at[1] + corner[1]), turned)
        overlaps = joins((width, height), room, at)
        _draw_blank(pen, part, lie, overlaps)
        _draw_ordinates(pen, part, lie)
        pen.outline(lie.outline(part.outline), _CUT, _DASH if part.assumed_edge else ())
        _draw_arms(pen, part, lie, overlaps)
        for hole in part.holes:
            _draw_hole(pen, hole, lie)
        _draw_names(pen, part, lie, Taken(Box(at[0], at[1], at[0] + width, at[1] + height), overlaps))

    lie_alone = _Lie(corner, turned)
    return Figure(width, height, draw, tuple(lie_alone(hole.at) for hole in part.holes))


def _draw_blank(pen: Pen, part: Part, lie: _Lie, overlaps: list[Box]) -> None:
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
    place = _clear_of(lie((0.0, edge_off)), lie((far[0], edge_off)), overlaps)
    pen.turned_text(place, "DATUM EDGE", _SMALL, turn, "Bold")
    pen.turned_text(lie((end_off, far[1] / 2)), "DATUM END", _SMALL, pi / 2 - turn, "Bold")


def _draw_ordinates(pen: Pen, part: Part, lie: _Lie, enlarge: float = 1.0) -> None:
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
        pen.text((at[0], at[1] - 2.8 * _MM), millimetres(value), _NUMBER, "Bold", "middle")
    else:
        pen.text((at[0], at[1] - 1.25 * _MM), millimetres(value), _NUMBER, "Bold", "right")


def _draw_arms(pen: Pen, part: Part, lie: _Lie, overlaps: list[Box]) -> None:
    """Centre lines from the pivot to each other hole, with their lengths where no join cuts them."""
    pivot = lie(part.holes[0].at)
    for hole in part.holes[1:]:
        spot = lie(hole.at)
        pen.line(pivot, spot, HAIR, BLACK, (6 * _MM, 1 * _MM, 1 * _MM, 1 * _MM))
        length = hypot(spot[0] - pivot[0], spot[1] - pivot[1])
        turn = atan2(spot[1] - pivot[1], spot[0] - pivot[0])
        if turn > pi / 2 + 1e-9 or turn <= -pi / 2 + 1e-9:
            turn += pi
        _write_over(pen, _clear_of(pivot, spot, overlaps), millimetres(length), turn)


def _clear_of(start: Spot, end: Spot, overlaps: list[Box]) -> Spot:
    """The middle of a line, or a place on it near there that no join runs through."""
    places = [
        (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        for share in (0.5, 0.4, 0.6, 0.3, 0.7)
    ]
    for x, y in places:
        words = Box(x - _HALF, y - _HALF, x + _HALF, y + _HALF)
        if all(words.overlap(join) <= 0.0 for join in overlaps):
            return x, y
    return places[0]


def _write_over(pen: Pen, middle: Spot, words: str, turn: float) -> None:
    """Words on a line that they interrupt."""
    wide = text_width(words, _NUMBER, "Bold") + 2 * _MM
    step = (wide / 2 * cos(turn), wide / 2 * sin(turn))
    start = (middle[0] - step[0], middle[1] - step[1])
    pen.line(start, (middle[0] + step[0], middle[1] + step[1]), _NUMBER * 1.1, WHITE)
    drop = 0.36 * _NUMBER
    pen.turned_text(
        (middle[0] + drop * sin(turn), middle[1] - drop * cos(turn)), words, _NUMBER, turn, "Bold"
    )


def _draw_hole(pen: Pen, hole: Hole, lie: _Lie) -> None:
    """Centre mark to punch through, and the circle when its diameter is stated."""
    x, y = lie(hole.at)
    reach = max(_CROSS, (hole.diameter or 0.0) / 2 + 3 * _MM)
    for dx, dy in ((1, 0), (0, 1)):
        pen.line((x - reach * dx, y - reach * dy), (x + reach * dx, y + reach * dy), _THIN)
    pen.circle((x, y), _DOT, 0.0, BLACK)
    if hole.diameter is not None:
        pen.circle((x, y), hole.diameter / 2, 0.35 * _MM)


def _draw_names(pen: Pen, part: Part, lie: _Lie, taken: Taken) -> None:
    """Number, what the hole carries, its diameter or a blank, and its name, off all lines."""
    pivot = part.holes[0]
    overlaps = list(taken.boxes)
    for hole in part.holes:
        x, y = lie(hole.at)
        reach = max(4 * _MM, (hole.diameter or 0.0) / 2 + 1 * _MM)
        taken.boxes.append(Box(x - reach, y - reach, x + reach, y + reach))
        taken.add_line((x - _CROSS, y), (x + _CROSS, y), bar=True)
        taken.add_line((x, y - _CROSS), (x, y + _CROSS), bar=True)
        taken.add_line(lie(pivot.at), (x, y))
        taken.add_line((x, y), lie((hole.along, 0.0)))
        taken.add_line((x, y), lie((0.0, hole.up)))
        if hole is not pivot:
            mx, my = _clear_of(lie(pivot.at), (x, y), overlaps)
            taken.boxes.append(Box(mx - _HALF, my - _HALF, mx + _HALF, my + _HALF))
    _keep_off_outline(part, lie, taken)
    for hole in part.holes:
        _draw_name(pen, hole, lie(hole.at), taken)
    if part.up_dir is not None:
        _draw_up(pen, part, lie, taken)


def _keep_off_outline(part: Part, lie: _Lie, taken: Taken) -> None:
    """No word on the outline, on the datum, or among the ordinates."""
    rim: list[Spot] = []
    for piece in lie.outline(part.outline):
        rim += [piece.start, piece.end] if isinstance(piece, Line) else piece.spots(_RIM_SPOTS)
    for start, end in zip(rim, rim[1:] + rim[:1], strict=True):
        taken.add_line(start, end, bar=True)
    for corner, far in (
        ((0.0, -_EDGE_BAND), (part.length, 0.5 * _MM)),
        ((-_END_BAND, -_EDGE_BAND), (0.5 * _MM, part.height)),
    ):
        (x0, y0), (x1, y1) = lie(corner), lie(far)
        taken.boxes.append(Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))


def _draw_up(pen: Pen, part: Part, lie: _Lie, taken: Taken) -> None:
    """An arrow that points up (or to the front) in the set-up pose, in a free corner of the blank."""
    assert part.up_dir is not None
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
    draw_arrow(pen, middle, lie.direction(part.up_dir), part.up_word)


def _draw_name(pen: Pen, hole: Hole, at: Spot, taken: Taken) -> None:
    diameter = f"Ø {millimetres(hole.diameter)}" if hole.diameter is not None else "Ø ________"
    first = f"{_ROLE_WORDS[hole.role]}  {diameter}"
    second = fitted(hole.name, _SMALL, _NAME_ROOM)
    indent = 2 * _BALLOON + 1.2 * _MM
    wide = indent + max(text_width(first, _NAME, "Bold"), text_width(second, _SMALL))
    box = taken.best(_around(at, (wide, 9 * _MM), max(5 * _MM, (hole.diameter or 0.0) / 2 + 2 * _MM)))
    pen.box((box.left - 0.5 * _MM, box.low), (wide + 1 * _MM, 9 * _MM), 0.0, WHITE)
    pen.circle((box.left + _BALLOON, box.high - _BALLOON - 0.6 * _MM), _BALLOON, 0.3 * _MM, WHITE)
    number = (box.left + _BALLOON, box.high - _BALLOON - 1.85 * _MM)
    pen.text(number, str(hole.number), _NUMBER, "Bold", "middle")
    pen.text((box.left + indent, box.high - 4.4 * _MM), first, _NAME, "Bold")
    pen.text((box.left + indent, box.high - 8 * _MM), second, _SMALL)


def _around(at: Spot, size: Spot, off: float) -> list[Box]:
    """Places for a box near a spot, the nearest first."""
    wide, tall = size
    boxes = []
    for ring in range(9):
        reach = off + ring * 3 * _MM
        for k in (
            1,
            3,
            15,
            13,
            5,
            11,
            2,
            14,
            4,
            12,
            6,
            10,
            0,
            8,
            7,
            9,
        ):  # right of the hole before left of it
            dx, dy = cos(k * pi / 8), sin(k * pi / 8)
            x = at[0] + dx * reach + (dx - 1) / 2 * wide
            y = at[1] + dy * reach + (dy - 1) / 2 * tall
            boxes.append(Box(x, y, x + wide, y + tall))
    return boxes


def plate_sketch(part: Part, size: Spot) -> Figure:
    """The plate small, not to scale: hole numbers, datum and ordinates only."""
    room = (size[0] - _END_BAND - _CLEAR, size[1] - _EDGE_BAND - _CLEAR)
    scale = min(room[0] / part.length, room[1] / part.height, 1.0)
    small = shrunk(part, scale)
    width = _END_BAND + small.length + _CLEAR
    height = _EDGE_BAND + small.height + _CLEAR

    def draw(pen: Pen, at: Spot) -> None:
        lie = _Lie((at[0] + _END_BAND, at[1] + _EDGE_BAND), turned=False)
        _draw_blank(pen, small, lie, [])
        _draw_ordinates(pen, small, lie, 1 / scale)
        pen.outline(lie.outline(small.outline), _CUT, _DASH if part.assumed_edge else ())
        for hole in small.holes:
            x, y = lie(hole.at)
            pen.circle((x, y), _BALLOON, 0.4 * _MM, WHITE)
            pen.text((x, y - 1.25 * _MM), str(hole.number), _NUMBER, "Bold", "middle")

    return Figure(width, height, draw)


# --- links ------------------------------------------------------------------------------------------------


def link_figure(part: Part, spare: float = 0.0) -> Figure:
    """The link as a strip on its end, its words along it; `spare` m are left free above."""
    width, height = part.height + 2 * _CLEAR, part.length + 2 * _CLEAR + spare

    def draw(pen: Pen, at: Spot) -> None:
        lie = _Lie((at[0] + _CLEAR, at[1] + _CLEAR + part.length), turned=True)
        half = _DATUM / 2
        pen.line(lie((0, -half)), lie((part.length, -half)), _DATUM)
        pen.line(lie((-half, -_DATUM)), lie((-half, part.height)), _DATUM)
        pen.outline(lie.outline(part.outline), _CUT, _DASH if part.assumed_edge else ())
        first, last = part.holes
        pen.line(lie(first.at), lie(last.at), HAIR, BLACK, (6 * _MM, 1 * _MM, 1 * _MM, 1 * _MM))
        for hole in part.holes:
            _draw_hole(pen, hole, lie)
        _draw_strip_words(pen, part, lie)

    lie_alone = _Lie((_CLEAR, _CLEAR + part.length), turned=True)
    return Figure(width, height, draw, tuple(lie_alone(hole.at) for hole in part.holes))


def _draw_strip_words(pen: Pen, part: Part, lie: _Lie) -> None:
    """Along the strip, near its first hole: hole to hole, name; at each end the hole's number and size."""
    first, last = part.holes
    length = last.along - first.along
    room = min(max(length - 44 * _MM, 10 * _MM), 90 * _MM)
    middle = min((first.along + last.along) / 2, first.along + 22 * _MM + room / 2)
    name = fitted(" + ".join(part.names), _NAME, room, "Bold")
    _write_over(pen, lie((middle, first.up)), f"{millimetres(length)} mm", pi / 2)
    pen.turned_text(lie((middle, first.up - 5 * _MM)), name, _NAME, pi / 2, "Bold")
    kind = "setting gauge" if part.gauge else "link"
    small = fitted(f"{kind}, holes {millimetres(first.up)} from the datum edge", _SMALL, room)
    pen.turned_text(lie((middle, first.up + 6.5 * _MM)), small, _SMALL, pi / 2)
    for hole in part.holes:
        inward = 1 if hole is first else -1
        beyond = max(_CROSS, (hole.diameter or 0.0) / 2 + 3 * _MM) + _BALLOON + 0.6 * _MM
        x, y = lie((hole.along + inward * beyond, hole.up))
        words = f"Ø {millimetres(hole.diameter)}" if hole.diameter is not None else "Ø ______"
        pen.circle((x, y), _BALLOON, 0.3 * _MM, WHITE)
        pen.text((x, y - 1.25 * _MM), str(hole.number), _NUMBER, "Bold", "middle")
        low = y - inward * 6.2 * _MM - 1.2 * _MM
        wide = text_width(words, _NAME, "Bold") + 1 * _MM
        pen.box((x - wide / 2, low - 0.6 * _MM), (wide, 3.8 * _MM), 0.0, WHITE)
        pen.text((x, low), words, _NAME, "Bold", "middle")
