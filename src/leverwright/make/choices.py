"""What the person may choose for the paper, its limits, and the one refusal of this package."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

__all__ = ["Choices", "Kind", "MakeError", "Paper", "check_kind", "check_paper"]

Paper = Literal["A4", "Letter"]
Kind = Literal["templates", "card", "trial", "setup", "measuring", "dxf", "svg"]

_MM = 1e-3
# Outside this a number is a slip of unit: no bolt of a small vehicle is thinner or thicker.
_HOLE_RANGE = (1 * _MM, 100 * _MM)  # m
# From hole centre to plate edge, in hole diameters. Under 1.2 the hole tears out of the edge
# (EN 1993-1-8 table 3.3, from memory); over 5 the template only grows.
_EDGE_RANGE = (1.2, 5.0)


class MakeError(ValueError):
    """A refusal to make a sheet, in three parts: what was found, what is allowed, what to do."""

    def __init__(self, found: str, allowed: str, do: str) -> None:
        super().__init__(f"{found}; allowed: {allowed}; {do}")
        self.found = found
        self.allowed = allowed
        self.do = do


@dataclass(frozen=True, slots=True)
class Choices:
    """Choices for one set of sheets. What is not stated stays a blank for the pencil.

    hole             m, diameter of every hole that has none of its own; None: blank on the sheet
    holes            m, diameter by point name
    edge_in_holes    outline's distance from a hole's centre, in hole diameters (common practice 1.5 to 2)
    measured_across  m, what the 200 mm bar across the page read on the last print; None: not read
    measured_up      m, the same for the bar up the page; None: as across
    stops            sentences of findings that say it cannot work; every page then says not to cut
    """

    hole: float | None = None
    holes: Mapping[str, float] = field(default_factory=dict)
    edge_in_holes: float = 2.0
    measured_across: float | None = None
    measured_up: float | None = None
    stops: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what no workshop can mean."""
        stated = [("hole", self.hole), *self.holes.items()]
        for name, diameter in stated:
            if diameter is not None and not _HOLE_RANGE[0] <= diameter <= _HOLE_RANGE[1]:
                raise MakeError(
                    found=f"hole diameter of {name!r} is {diameter * 1e3:g} mm",
                    allowed="1 to 100 mm",
                    do="give the drill's diameter with its unit",
                )
        if not _EDGE_RANGE[0] <= self.edge_in_holes <= _EDGE_RANGE[1]:
            raise MakeError(
                found=f"the outline stands {self.edge_in_holes:g} hole diameters from the hole centre",
                allowed="1.2 to 5",
                do="use 2 unless you know better",
            )

    def diameter_of(self, *points: str) -> float | None:
        """Diameter [m] stated for the first of `points` that has one, else the common one."""
        for point in points:
            if point in self.holes:
                return self.holes[point]
        return self.hole


def check_paper(paper: str) -> Paper:
    """`paper` as one of the known sizes, or a refusal."""
    for known in get_args(Paper):
        if paper == known:
            return known  # type: ignore[no-any-return]  # get_args is untyped
    raise MakeError(found=f"paper {paper!r}", allowed="A4 or Letter", do="choose one of the two")


def check_kind(kind: str) -> Kind:
    """`kind` as one of the known sheets, or a refusal."""
    for known in get_args(Kind):
        if kind == known:
            return known  # type: ignore[no-any-return]  # get_args is untyped
    raise MakeError(found=f"sheet {kind!r}", allowed=", ".join(get_args(Kind)), do="choose one of these")
