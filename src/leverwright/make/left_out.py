"""What gets no template: said with its reason and the distances that it is made by."""

from __future__ import annotations

from leverwright.make.flow import Block, heading, lines
from leverwright.make.numbers import millimetres
from leverwright.make.parts import LeftOut

__all__ = ["left_out_blocks"]

_INDENT = 6e-3  # m


def left_out_blocks(left_out: tuple[LeftOut, ...], width: float) -> list[Block]:
    """One sentence for each body and bar, and its hole distances in a line."""
    if not left_out:
        return []
    blocks = [heading("Not cut from plate: hole to hole, measured straight", width)]
    for one in left_out:
        spans = [f"{span.first} to {span.last}: {millimetres(span.length)} mm" for span in one.spans]
        blocks.append(lines([one.sentence], width))
        if spans:
            blocks.append(lines([";  ".join(spans) + "."], width, _INDENT))
    return blocks
