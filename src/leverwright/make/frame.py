"""What stands on every page around the drawing: title, print order, check bars, cautions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import pi

from leverwright.make.cautions import NOT_CHECKED, SHORT_CAUTIONS
from leverwright.make.choices import Paper
from leverwright.make.outline import Spot
from leverwright.make.pen import BLACK, GREY, WHITE, Pen, fitted, wrapped
from leverwright.make.scale import BAR, INCH_BAR, PrintScale

__all__ = ["HAIR", "MARGIN", "Area", "Head", "Page", "bind", "drawing_area", "reading_area"]

_MM = 1e-3
MARGIN = 12 * _MM
HAIR, _FINE, _STRONG = 0.13 * _MM, 0.25 * _MM, 0.5 * _MM

_TITLE, _TEXT, _SMALL = 6.2 * _MM, 3.5 * _MM, 2.9 * _MM
_BAND = 8 * _MM
_HEAD_HEIGHT = 23 * _MM
_LEADING = 1.28
# The ruler across starts 5 mm (A4) from the paper's edge: 200 mm do not fit between the margins.
_RULER_Y = 31.5 * _MM
_RULER_X = 22 * _MM
_RULER_START_Y = 39.5 * _MM
_TICK = 10 * _MM
_CAUTION_TOP = 23.5 * _MM


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of the page: lower left corner and size, m."""

    corner: Spot
    size: Spot

    @property
    def top(self) -> float:
        """Height of its upper side, m."""
        return self.corner[1] + self.size[1]

    @property
    def right(self) -> float:
        """Place of its right side, m."""
        return self.corner[0] + self.size[0]


@dataclass(frozen=True, slots=True)
class Head:
    """Words at the top of a page; `band` on one that is only read or filled in."""

    sheet: str  # what sheet this is
    subject: str  # which part
    vehicle: str
    band: tuple[str, str] = ("NOT TO SCALE", "Read the figures; measure nothing on this sheet.")


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its head, whether it is true to scale, and what draws its inside."""

    head: Head
    true_scale: bool
    draw: Callable[[Pen], None]


def drawing_area(size: Spot) -> Area:
    """Room for the drawing on a true-scale page of that size."""
    corner = (31 * _MM, _RULER_START_Y)
    return Area(corner, (size[0] - MARGIN - corner[0], size[1] - MARGIN - _HEAD_HEIGHT - 2 * _MM - corner[1]))


def reading_area(size: Spot) -> Area:
    """Room for text on a page that is only read."""
    corner = (MARGIN, _CAUTION_TOP + 7 * _MM)
    return Area(corner, (size[0] - 2 * MARGIN, size[1] - MARGIN - _HEAD_HEIGHT - 2 * _MM - corner[1]))


def bind(
    pages: list[Page], paper: Paper, title: str, scale: PrintScale | None = None, stops: tuple[str, ...] = ()
) -> bytes:
    """The PDF of all pages, numbered; with `stops` each says in place of its vehicle that it must not be cut."""
    pen = Pen(paper, title, (scale.across, scale.up) if scale else (1.0, 1.0))
    for number, page in enumerate(pages, start=1):
        if number > 1:
            pen.next_page()
        _draw_head(pen, page, f"page {number} of {len(pages)}", stops)
        if page.true_scale:
            _draw_scale_band(pen, paper, scale)
            _draw_rulers(pen)
        else:
            _band(pen, *page.head.band)
        _draw_cautions(pen)
        page.draw(pen)
    return pen.finish()


def _draw_head(pen: Pen, page: Page, count: str, stops: tuple[str, ...]) -> None:
    top = pen.height - MARGIN
    right = pen.width - MARGIN
    room = right - MARGIN - 32 * _MM
    pen.text((MARGIN, top - 5 * _MM), fitted(page.head.subject, _TITLE, room, "Bold"), _TITLE, "Bold")
    pen.text((right, top - 5 * _MM), count, 4.2 * _MM, "Bold", "right")
    if stops:
        more = f" ({len(stops)} such findings)" if len(stops) > 1 else ""
        warning = f"STOP, do not cut{more}: {stops[0]}"
        pen.text((MARGIN, top - 11 * _MM), fitted(warning, _TEXT, right - MARGIN, "Bold"), _TEXT, "Bold")
        return
    line = f"{page.head.sheet}  ·  {page.head.vehicle}"
    pen.grey_text((MARGIN, top - 11 * _MM), fitted(line, _TEXT, right - MARGIN), _TEXT, GREY)


def _band(pen: Pen, strong: str, words: str) -> None:
    """White words on black: nobody overlooks them."""
    bottom = pen.height - MARGIN - _HEAD_HEIGHT + 1 * _MM
    pen.box((MARGIN, bottom), (pen.width - 2 * MARGIN, _BAND), 0.0, BLACK)
    pen.grey_text((MARGIN + 3 * _MM, bottom + 2.3 * _MM), strong, 5 * _MM, WHITE)
    pen.grey_text((pen.width - MARGIN - 3 * _MM, bottom + 2.6 * _MM), words, 3.4 * _MM, WHITE, "right")


def _draw_scale_band(pen: Pen, paper: Paper, scale: PrintScale | None) -> None:
    words = f"{paper}, actual size, no “fit to page”. Then measure both bars."
    if scale is not None:
        words = f"{paper}. Corrected × {scale.across:.4f} across, × {scale.up:.4f} up. Measure both bars."
    _band(pen, "PRINT AT 100 %", words)


def _draw_cautions(pen: Pen) -> None:
    """Not checked, in bold, then how people get hurt."""
    room = pen.width - 2 * MARGIN
    y = _CAUTION_TOP
    pen.line((MARGIN, y), (pen.width - MARGIN, y), HAIR)
    y -= 3.4 * _MM
    pen.text((MARGIN, y), fitted(NOT_CHECKED, 3.1 * _MM, room, "Bold"), 3.1 * _MM, "Bold")
    size = 2.55 * _MM
    for line in wrapped(SHORT_CAUTIONS, size, room):
        y -= size * _LEADING
        pen.text((MARGIN, y), line, size)


# --- check bars -------------------------------------------------------------------------------------------


def _draw_rulers(pen: Pen) -> None:
    """A ruler on each axis: millimetres on one side, inches on the other, both from the same zero."""
    start = (pen.width - BAR) / 2
    _ruler(pen, lambda along, off: (start + along, _RULER_Y + off), turn=0.0)
    _ruler(pen, lambda along, off: (_RULER_X - off, _RULER_START_Y + along), turn=pi / 2)
    blank = "reads ______ mm"
    pen.text((start + 157 * _MM, _RULER_Y - 3.7 * _MM), f"{blank} (200 ± 0.3)", _SMALL, "Bold")
    pen.turned_text(
        (_RULER_X + 3.7 * _MM, _RULER_START_Y + 177 * _MM), f"{blank} (200 ± 0.3)", _SMALL, pi / 2, "Bold"
    )


def _ruler(pen: Pen, place: Callable[[float, float], Spot], turn: float) -> None:
    """Marks off the line: + is the side of the millimetres."""
    pen.line(place(0, 0), place(BAR, 0), _FINE)
    for count in range(21):
        along = count * _TICK
        long_tick = count % 5 == 0
        pen.line(
            place(along, 0), place(along, (3.4 if long_tick else 2.0) * _MM), _FINE if long_tick else HAIR
        )
        if long_tick:
            end = count in {0, 20}
            inward = {0: 1.2, 20: -1.2}.get(count, 0.0) * _MM
            words = f"{count * 10} mm" if count == 20 else str(count * 10)
            nudge = inward * (4.2 if count == 20 else 1.0) if end else 0.0
            pen.turned_text(place(along + nudge, 4.1 * _MM), words, _SMALL, turn, "Bold")
    for half_inches in range(13):
        along = half_inches * 0.0127
        whole = half_inches % 2 == 0
        pen.line(place(along, 0), place(along, -(3.0 if whole else 1.8) * _MM), _FINE if whole else HAIR)
        if whole and half_inches:
            words = f"{half_inches // 2} in" if along > INCH_BAR - _MM else str(half_inches // 2)
            pen.turned_text(
                place(along - 3.6 * _MM if "in" in words else along - 1.6 * _MM, -3.3 * _MM),
                words,
                _SMALL,
                turn,
            )
