"""The flat parts as SVG at real size: one user unit is one millimetre."""

from __future__ import annotations

from math import cos, sin

from leverwright.make.cautions import NOT_CHECKED
from leverwright.make.cutting import Placed, place_parts, words_for
from leverwright.make.outline import Arc, Line, Outline, Spot
from leverwright.make.parts import Part
from leverwright.make.plain_text import xml_attribute, xml_text
from leverwright.quantity import fixed, to_surface

__all__ = ["parts_svg"]

_MM = 1e-3
_CROSS = 5 * _MM
_LEADING = 5 * _MM
_HAIR = "0.1"  # mm; cutting programs follow the middle of the stroke


def parts_svg(parts: tuple[Part, ...], title: str) -> bytes:
    """All parts under one another; groups `cut`, `mark` and `text` as layers."""
    placed, size = place_parts(parts)
    height = size[1]
    cut = [piece for one in placed for piece in _cut(one, height)]
    mark = [piece for one in placed for piece in _mark(one, height)]
    text = [piece for one in placed for piece in _text(one, height)]
    text.append(_words((8 * _MM, height - 6 * _MM), NOT_CHECKED, height))
    page_width, page_height = _mm(size[0]), _mm(height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{page_width}mm" height="{page_height}mm" '
            f'viewBox="0 0 {page_width} {page_height}">'
        ),
        f"<title>{xml_text(title)}</title>",
        f"<desc>{xml_text(NOT_CHECKED)}</desc>",
        f'<g id="cut" fill="none" stroke="#000000" stroke-width="{_HAIR}">',
        *cut,
        "</g>",
        f'<g id="mark" fill="none" stroke="#0000ff" stroke-width="{_HAIR}">',
        *mark,
        "</g>",
        '<g id="text" fill="#444444" font-family="sans-serif" font-size="3.2">',
        *text,
        "</g>",
        "</svg>",
        "",
    ]
    return "\n".join(lines).encode("utf-8")


def _mm(length: float) -> str:
    """A bare number of mm, to a nanometre, without trailing zeros."""
    return fixed(to_surface(length, "length"), 6).rstrip("0").rstrip(".") or "0"


def _xy(spot: Spot, height: float) -> str:
    """A place in the SVG, whose y points down."""
    return f"{_mm(spot[0])} {_mm(height - spot[1])}"


def _cut(one: Placed, height: float) -> list[str]:
    """The outline, and each hole whose diameter is stated."""
    name = xml_attribute(" + ".join(one.part.names))
    pieces = [f'<path data-part={name} d="{_path(one.outline, height)}"/>']
    for hole in one.part.holes:
        if hole.diameter is not None:
            x, y = one.at(hole.at)
            pieces.append(
                f'<circle data-hole={xml_attribute(hole.name)} cx="{_mm(x)}" cy="{_mm(height - y)}" '
                f'r="{_mm(hole.diameter / 2)}"/>'
            )
    return pieces


def _path(outline: Outline, height: float) -> str:
    first = outline[0]
    start = first.start if isinstance(first, Line) else _on(first, first.start_angle)
    steps = [f"M {_xy(start, height)}"]
    for piece in outline:
        if isinstance(piece, Line):
            steps.append(f"L {_xy(piece.end, height)}")
        else:
            middle, end = piece.middle, _on(piece, piece.end_angle)
            radius = _mm(piece.radius)
            # Two halves: a whole circle cannot be said in one arc. Sweep 0 is counter-clockwise on paper.
            steps += [f"A {radius} {radius} 0 0 0 {_xy(spot, height)}" for spot in (middle, end)]
    return " ".join([*steps, "Z"])


def _on(arc: Arc, angle: float) -> Spot:
    return arc.centre[0] + arc.radius * cos(angle), arc.centre[1] + arc.radius * sin(angle)


def _mark(one: Placed, height: float) -> list[str]:
    """A cross at each hole's centre."""
    pieces = []
    for hole in one.part.holes:
        x, y = one.at(hole.at)
        across = f"M {_xy((x - _CROSS, y), height)} L {_xy((x + _CROSS, y), height)}"
        upright = f"M {_xy((x, y - _CROSS), height)} L {_xy((x, y + _CROSS), height)}"
        pieces.append(f'<path data-hole={xml_attribute(hole.name)} d="{across} {upright}"/>')
    return pieces


def _text(one: Placed, height: float) -> list[str]:
    x, y = one.words_at
    return [_words((x, y - k * _LEADING), line, height) for k, line in enumerate(words_for(one.part))]


def _words(at: Spot, words: str, height: float) -> str:
    return f'<text x="{_mm(at[0])}" y="{_mm(height - at[1])}">{xml_text(words)}</text>'
