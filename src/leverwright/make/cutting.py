"""How parts lie in a cutting file, and the words beside each."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.make.numbers import millimetres
from leverwright.make.outline import Arc, Line, Outline, Spot
from leverwright.make.parts import ASSUMED_EDGE, Part
from leverwright.make.plain_text import shortened

__all__ = ["Placed", "place_parts", "words_for"]

_MM = 1e-3
_GAP = 8 * _MM
_WORDS = 190 * _MM  # room beside each part for its words
_LEADING = 5 * _MM
_LONGEST = 100  # characters of a line: what fits beside the part


@dataclass(frozen=True, slots=True)
class Placed:
    """A part in a cutting file: where its datum corner lies, and where its words start."""

    part: Part
    corner: Spot
    words_at: Spot

    def at(self, spot: Spot) -> Spot:
        """A place of the part in the file."""
        return self.corner[0] + spot[0], self.corner[1] + spot[1]

    @property
    def outline(self) -> Outline:
        """The part's outline in the file."""
        return tuple(
            Line(self.at(piece.start), self.at(piece.end))
            if isinstance(piece, Line)
            else Arc(self.at(piece.centre), piece.radius, piece.start_angle, piece.end_angle)
            for piece in self.part.outline
        )


def place_parts(parts: tuple[Part, ...]) -> tuple[tuple[Placed, ...], Spot]:
    """Parts under one another, the first on top, words to the right; and the size of the whole."""
    width = max((part.length for part in parts), default=0.0) + 2 * _GAP + _WORDS
    tall = [max(part.height, _LEADING * (len(words_for(part)) + 1)) for part in parts]
    height = sum(tall) + _GAP * (len(parts) + 1) + 2 * _LEADING
    placed = []
    top = height - 2 * _LEADING - _GAP
    for part, room in zip(parts, tall, strict=True):
        corner = (_GAP, top - part.height)
        placed.append(Placed(part, corner, (2 * _GAP + part.length, top - _LEADING)))
        top -= room + _GAP
    return tuple(placed), (width, height)


def words_for(part: Part) -> list[str]:
    """What the shop that cuts it must know."""
    words = [f"{' + '.join(part.names)}: cut {len(part.names)}"]
    if part.gauge:
        words[0] += " (setting gauge)"
    if part.assumed_edge:
        words.append(
            f"OUTLINE ASSUMED {millimetres(ASSUMED_EDGE, 0)} mm from hole centres; "
            "holes with no stated size are marked only"
        )
    for hole in part.holes:
        size = "size not stated" if hole.diameter is None else f"diameter {millimetres(hole.diameter, 2)} mm"
        words.append(f"{hole.number} {hole.role} {hole.name}: {size}")
    if part.kind == "plate":
        words.append("Hole 1 is a pivot: cut it undersize or leave the mark, then drill and ream it.")
    return [shortened(line, _LONGEST) for line in words]
