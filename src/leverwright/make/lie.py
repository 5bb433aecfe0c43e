"""How a part lies in its drawing: upright, or turned on its end."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from leverwright.make.labels import Box
from leverwright.make.outline import Arc, Line, Outline, Spot

__all__ = ["Lie", "clear_of"]

_MM = 1e-3
_HALF = 6 * _MM  # of the length of an arm, as written on it


@dataclass(frozen=True, slots=True)
class Lie:
    """How a part lies in its figure: its corner there, and whether it stands on its end.

    Upright: along to the right, up upward. Turned: along downward, up to the right, so that the
    datum edge is on the left and the datum end on top.
    """

    corner: Spot
    turned: bool

    def __call__(self, spot: Spot) -> Spot:
        """A place of the part in the drawing."""
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


def clear_of(start: Spot, end: Spot, overlaps: list[Box]) -> Spot:
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
