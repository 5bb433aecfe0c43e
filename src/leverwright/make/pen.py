"""A pen for true-scale paper: draws in metres from the page's lower left corner, into a PDF.

Text is drawn as plain strings only. Same calls, same bytes: no date, no random mark.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache, lru_cache
from importlib.resources import files
from math import cos, degrees, sin
from typing import Literal

# This module is imported only when a sheet is made: the PDF library takes 0.2 s to load.
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from leverwright.make.choices import Paper
from leverwright.make.outline import Arc, Line, Outline, Spot
from leverwright.make.plain_text import shortened, shown

__all__ = [
    "BLACK",
    "GREY",
    "PAPER_SIZES",
    "POINT",
    "WHITE",
    "Align",
    "Face",
    "Pen",
    "fitted",
    "text_width",
    "wrapped",
]

_MM = 1e-3
_INCH = 0.0254
POINT = _INCH / 72  # m, unit of a PDF page
# m; A4 after ISO 216, Letter after ANSI/ASME Y14.1 size A (8.5 x 11 in).
PAPER_SIZES: dict[Paper, Spot] = {
    "A4": (210 * _MM, 297 * _MM),
    "Letter": (8.5 * _INCH, 11 * _INCH),
}
_REMEMBERED = 2048  # lines of text whose width is kept: those of a few sets of sheets
BLACK, GREY, WHITE = 0.0, 0.42, 1.0

Face = Literal["Regular", "Bold"]
Align = Literal["left", "middle", "right"]


class Pen:
    """Draws pages of one PDF. Lengths in m, angles in rad, grey 0 (black) to 1 (white)."""

    def __init__(self, paper: Paper, title: str, scale: Spot = (1.0, 1.0)) -> None:
        """`scale`: factors across and up that cure a printer which does not keep the scale."""
        self.width, self.height = PAPER_SIZES[paper]
        self._scale = scale
        self._buffer = io.BytesIO()
        self._canvas = Canvas(
            self._buffer,
            pagesize=(self.width / POINT, self.height / POINT),
            invariant=1,
            pageCompression=1,
            initialFontName=_font("Regular"),
        )
        self._canvas.setTitle(shown(title))
        self._canvas.setAuthor("Leverwright")
        self._canvas.setCreator("Leverwright")
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._begin()

    def _begin(self) -> None:
        """A fresh page, scaled about its middle so that what was centred stays on the paper."""
        across, up = self._scale
        middle = (self.width / 2 / POINT, self.height / 2 / POINT)
        if self._scale != (1.0, 1.0):
            self._canvas.transform(across, 0, 0, up, middle[0] * (1 - across), middle[1] * (1 - up))
        self._canvas.setLineCap(0)
        self._canvas.setLineJoin(1)

    def next_page(self) -> None:
        """End this page and start another."""
        self._canvas.showPage()
        self._begin()

    def finish(self) -> bytes:
        """End the last page: the whole PDF."""
        self._canvas.showPage()
        self._canvas.save()
        return self._buffer.getvalue()

    def line(
        self, start: Spot, end: Spot, weight: float, grey: float = BLACK, dash: tuple[float, ...] = ()
    ) -> None:
        """A straight stroke; weight and dash in m."""
        self._stroke(weight, grey, dash)
        self._canvas.line(start[0] / POINT, start[1] / POINT, end[0] / POINT, end[1] / POINT)

    def circle(self, centre: Spot, radius: float, weight: float, fill: float | None = None) -> None:
        """A black circle, filled with a grey or not."""
        self._stroke(weight, BLACK, ())
        if fill is not None:
            self._canvas.setFillGray(fill)
        at = (centre[0] / POINT, centre[1] / POINT)
        self._canvas.circle(*at, radius / POINT, stroke=int(weight > 0), fill=int(fill is not None))

    def box(self, corner: Spot, size: Spot, weight: float, fill: float | None = None) -> None:
        """A rectangle from its lower left corner."""
        self._stroke(weight, BLACK, ())
        if fill is not None:
            self._canvas.setFillGray(fill)
        where = (corner[0] / POINT, corner[1] / POINT, size[0] / POINT, size[1] / POINT)
        self._canvas.rect(*where, stroke=int(weight > 0), fill=int(fill is not None))

    def outline(self, outline: Outline, weight: float, dash: tuple[float, ...] = ()) -> None:
        """A closed outline."""
        self._stroke(weight, BLACK, dash)
        path = self._canvas.beginPath()
        started = False
        for piece in outline:
            start = piece.start if isinstance(piece, Line) else _on(piece, piece.start_angle)
            if not started:
                path.moveTo(start[0] / POINT, start[1] / POINT)
                started = True
            if isinstance(piece, Line):
                path.lineTo(piece.end[0] / POINT, piece.end[1] / POINT)
            else:
                _arc_to(path, piece)
        path.close()
        self._canvas.drawPath(path, stroke=1, fill=0)

    def strokes(
        self,
        ways: Sequence[Sequence[Spot]],
        weight: float,
        dash: tuple[float, ...] = (),
        fill: float | None = None,
    ) -> None:
        """Black strokes along each way, their ends round; filled with a grey or not."""
        self._canvas.saveState()
        self._canvas.setLineCap(1)
        self._stroke(weight, BLACK, dash)
        if fill is not None:
            self._canvas.setFillGray(fill)
        path = self._canvas.beginPath()
        for way in ways:
            path.moveTo(way[0][0] / POINT, way[0][1] / POINT)
            for spot in way[1:]:
                path.lineTo(spot[0] / POINT, spot[1] / POINT)
        self._canvas.drawPath(path, stroke=1, fill=int(fill is not None))
        self._canvas.restoreState()

    def text(self, at: Spot, text: str, size: float, face: Face = "Regular", align: Align = "left") -> None:
        """One line of black text on its base line; size is the em in m."""
        self._write(at, text, (size, face, align), BLACK, 0.0)

    def grey_text(self, at: Spot, text: str, size: float, grey: float, align: Align = "left") -> None:
        """The same in a grey, or white on a dark ground; white is bold."""
        self._write(at, text, (size, "Bold" if grey == WHITE else "Regular", align), grey, 0.0)

    def turned_text(self, at: Spot, text: str, size: float, turn: float, face: Face = "Regular") -> None:
        """One line turned counter-clockwise by `turn` [rad], its middle at `at`."""
        self._write(at, text, (size, face, "middle"), BLACK, turn)

    @contextmanager
    def inside(self, corner: Spot, size: Spot) -> Iterator[None]:
        """Whatever is drawn meanwhile is cut off at this rectangle."""
        self._canvas.saveState()
        path = self._canvas.beginPath()
        path.rect(corner[0] / POINT, corner[1] / POINT, size[0] / POINT, size[1] / POINT)
        self._canvas.clipPath(path, stroke=0, fill=0)
        yield
        self._canvas.restoreState()

    def _stroke(self, weight: float, grey: float, dash: tuple[float, ...]) -> None:
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(weight / POINT)
        self._canvas.setDash([length / POINT for length in dash] if dash else [])

    def _write(self, at: Spot, text: str, style: tuple[float, Face, Align], grey: float, turn: float) -> None:
        size, face, align = style
        drawable = _drawable(text, face)
        self._canvas.saveState()
        self._canvas.setFillGray(grey)
        self._canvas.setFont(_font(face), size / POINT)
        self._canvas.translate(at[0] / POINT, at[1] / POINT)
        if turn:
            self._canvas.rotate(degrees(turn))
        draw = {
            "left": self._canvas.drawString,
            "middle": self._canvas.drawCentredString,
            "right": self._canvas.drawRightString,
        }[align]
        draw(0, 0, drawable)
        self._canvas.restoreState()


@lru_cache(maxsize=_REMEMBERED)
def text_width(text: str, size: float, face: Face = "Regular") -> float:
    """Width [m] of a line as drawn."""
    return float(pdfmetrics.stringWidth(_drawable(text, face), _font(face), size / POINT)) * POINT


@lru_cache(maxsize=_REMEMBERED)
def _drawable(text: str, face: Face) -> str:
    return shown(text, _glyphs(face))


def fitted(text: str, size: float, room: float, face: Face = "Regular") -> str:
    """`text` as it can be drawn, its middle left out where it is wider than `room` [m]."""
    drawable = shown(text[:400], _glyphs(face))
    most = len(drawable)
    while most > 3 and text_width(shortened(drawable, most), size, face) > room:
        most = min(most - 1, int(most * room / text_width(shortened(drawable, most), size, face)) + 1)
    return shortened(drawable, most)


def wrapped(text: str, size: float, room: float, face: Face = "Regular") -> list[str]:
    """`text` in lines no wider than `room` [m]; a word too long for a line loses its middle."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, face) <= room:
            lines[-1] = longer
        else:
            lines.append(fitted(word, size, room, face))
    return lines


def _on(arc: Arc, angle: float) -> Spot:
    return arc.centre[0] + arc.radius * cos(angle), arc.centre[1] + arc.radius * sin(angle)


def _arc_to(path: object, arc: Arc) -> None:
    """Bezier pieces of at most a sixteenth turn: within 1e-7 of the radius."""
    pieces = max(1, round((arc.end_angle - arc.start_angle) / (0.125 * 3.141592653589793) + 0.5))
    step = (arc.end_angle - arc.start_angle) / pieces
    reach = 4 / 3 * sin(step / 4) / cos(step / 4) * arc.radius
    for k in range(pieces):
        a0 = arc.start_angle + k * step
        a1 = a0 + step
        (x0, y0), (x1, y1) = _on(arc, a0), _on(arc, a1)
        path.curveTo(  # type: ignore[attr-defined]  # the library's path has no types
            (x0 - reach * sin(a0)) / POINT,
            (y0 + reach * cos(a0)) / POINT,
            (x1 + reach * sin(a1)) / POINT,
            (y1 - reach * cos(a1)) / POINT,
            x1 / POINT,
            y1 / POINT,
        )


@cache
def _font(face: Face) -> str:
    """Registers the font (Roboto, Apache 2.0: Latin, Greek, Cyrillic) once; its name in the PDF library."""
    name = f"leverwright-{face}"
    pdfmetrics.registerFont(TTFont(name, str(files("font_roboto") / "files" / f"Roboto-{face}.ttf")))
    return name


@cache
def _glyphs(face: Face) -> frozenset[int]:
    """Code points that the font can draw."""
    return frozenset(pdfmetrics.getFont(_font(face)).face.charToGlyph)
