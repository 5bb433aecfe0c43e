"""The flat parts as DXF at real size in millimetres: layers CUT, MARK and TEXT."""

from __future__ import annotations

import io
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from math import cos, pi, sin, tan

# This module is imported only when a DXF is made: the library takes 0.4 s to load.
from ezdxf import (  # type: ignore[attr-defined]  # options: public by its documentation
    options,
    units,
)
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from leverwright.make.cautions import NOT_CHECKED
from leverwright.make.cutting import Placed, place_parts, words_for
from leverwright.make.outline import Line, Spot
from leverwright.make.parts import Part
from leverwright.make.plain_text import dxf_text, shortened
from leverwright.quantity import to_surface

__all__ = ["parts_dxf"]

_MM = 1e-3
_CROSS = 5 * _MM
_LEADING = 5 * _MM
_TEXT_HEIGHT = 3 * _MM
_LONGEST_TEXT = 200  # characters; older readers stop at 255
# One drawing at a time: the library's switch for fixed marks is shared by the whole program.
_one_at_a_time = threading.Lock()


def parts_dxf(parts: tuple[Part, ...], title: str) -> bytes:
    """All parts under one another, the same bytes for the same parts."""
    placed, _ = place_parts(parts)
    with _fixed_marks():
        drawing = new("R2000", units=units.MM)
        drawing.header["$MEASUREMENT"] = 1
        drawing.layers.add("CUT", color=7)
        drawing.layers.add("MARK", color=5)
        drawing.layers.add("TEXT", color=8)
        space = drawing.modelspace()
        for one in placed:
            _draw_part(space, one)
        _write(space, (0.0, -1 * _LEADING), title)
        _write(space, (0.0, -2 * _LEADING), NOT_CHECKED)
        stream = io.StringIO()
        drawing.write(stream)
        return stream.getvalue().encode(drawing.output_encoding, errors="dxfreplace")


@contextmanager
def _fixed_marks() -> Iterator[None]:
    """No date and no random mark in what is written meanwhile."""
    with _one_at_a_time:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def _draw_part(space: Modelspace, one: Placed) -> None:
    space.add_lwpolyline(_vertices(one), format="xyb", close=True, dxfattribs={"layer": "CUT"})
    for hole in one.part.holes:
        x, y = one.at(hole.at)
        if hole.diameter is not None:
            space.add_circle(
                _mm((x, y)), to_surface(hole.diameter / 2, "length"), dxfattribs={"layer": "CUT"}
            )
        space.add_point(_mm((x, y)), dxfattribs={"layer": "MARK"})
        for dx, dy in ((_CROSS, 0.0), (0.0, _CROSS)):
            ends = _mm((x - dx, y - dy)), _mm((x + dx, y + dy))
            space.add_line(*ends, dxfattribs={"layer": "MARK"})
    x, y = one.words_at
    for k, words in enumerate(words_for(one.part)):
        _write(space, (x, y - k * _LEADING), words)


def _vertices(one: Placed) -> list[tuple[float, float, float]]:
    """Corners with the bulge of the piece that starts there: tan of a quarter of the arc's angle."""
    corners = []
    for piece in one.outline:
        if isinstance(piece, Line):
            corners.append((*_mm(piece.start), 0.0))
            continue
        # In two halves, so that a whole circle has two corners.
        half = (piece.end_angle - piece.start_angle) / 2
        for angle in (piece.start_angle, piece.start_angle + half):
            x = piece.centre[0] + piece.radius * cos(angle)
            y = piece.centre[1] + piece.radius * sin(angle)
            corners.append((*_mm((x, y)), tan(min(half, pi) / 4)))
    return corners


def _mm(spot: Spot) -> Spot:
    return to_surface(spot[0], "length"), to_surface(spot[1], "length")


def _write(space: Modelspace, at: Spot, words: str) -> None:
    line = shortened(dxf_text(words), _LONGEST_TEXT)
    height = to_surface(_TEXT_HEIGHT, "length")
    space.add_text(line, height=height, dxfattribs={"layer": "TEXT", "insert": _mm(at)})
