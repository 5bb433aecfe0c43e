"""Parts that can be cut from flat steel, laid against one datum edge and one datum end.

A part's own frame: `along` runs on the datum edge from the datum end, `up` square to it. Both are
chosen so that two holes share one distance from the edge: one fence setting drills them both.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil, dist, hypot
from typing import Literal

from leverwright.make.choices import Choices
from leverwright.make.numbers import in_millimetres
from leverwright.make.outline import Outline, Spot, hull_sides, rounded_hull

__all__ = [
    "ASSUMED_EDGE",
    "SAME_PART",
    "SAME_SETTING",
    "Blueprint",
    "Hole",
    "LeftOut",
    "Part",
    "RawHole",
    "Role",
    "Span",
    "lay_out",
    "shrunk",
]

_MM = 1e-3
# Outline when no hole size is stated: 2 x a 10 mm hole. Drawn as an assumption and said so.
ASSUMED_EDGE = 20 * _MM  # m
# Twins closer than this in every hole distance are one part; a scriber's line is wider.
SAME_PART = 0.02 * _MM  # m
# Two holes are drilled against one setting of fence or stop when they differ by less.
SAME_SETTING = 0.05 * _MM  # m
# Sides of the hull that differ by less are equally long; the earlier name then decides.
_SAME = 1e-9  # m

Role = Literal["pivot", "link", "spring", "strap", "hole"]


@dataclass(frozen=True, slots=True)
class RawHole:
    """A hole before a datum is chosen: where it stands in the plane, and what it carries."""

    points: tuple[str, ...]  # one, or the two of a pivot line
    role: Role
    at: Spot  # m, any frame of the plane


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole to drill, in drilling order: `number` 1 is the pivot.

    along, up  m from the datum end and the datum edge
    diameter   m; None: not stated, a blank on the sheet
    edge       m from the hole's centre to the outline
    """

    number: int
    points: tuple[str, ...]
    role: Role
    along: float
    up: float
    diameter: float | None
    edge: float

    @property
    def at(self) -> Spot:
        """Where its centre lies, m along and up."""
        return self.along, self.up

    @property
    def name(self) -> str:
        """Names of its points, as text."""
        return " / ".join(self.points)


@dataclass(frozen=True, slots=True)
class Span:
    """Straight distance [m] between two holes, centre to centre."""

    first: str
    last: str
    length: float


@dataclass(frozen=True, slots=True)
class Part:
    """One shape to cut: a plate or a flat link, and every vehicle part that it serves.

    names     vehicle parts cut to this shape; more than one is cut as a stack
    length    m, of the blank along the datum edge
    height    m, of the blank square to it
    up_dir    where `up_word` (up, or front for a part that lies level) points in the set-up pose
    seen      from where on the vehicle the part looks as drawn
    notes     sentences for its sheet
    gauge     a setting gauge or dummy for a link that has threads
    """

    kind: Literal["plate", "link"]
    names: tuple[str, ...]
    holes: tuple[Hole, ...]
    outline: Outline
    length: float
    height: float
    up_dir: Spot | None
    up_word: str
    seen: str
    notes: tuple[str, ...]
    gauge: bool = False

    @property
    def assumed_edge(self) -> bool:
        """Is the outline drawn for a hole size that nobody stated?"""
        return any(hole.diameter is None for hole in self.holes)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A body or bar that gets no template, why, and the distances that it is made by."""

    name: str
    sentence: str
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Blueprint:
    """What `lay_out` needs of a part besides its holes."""

    kind: Literal["plate", "link"]
    names: tuple[str, ...]
    up_dir: Spot | None = None
    up_word: str = ""
    facing: tuple[str, str] = ("", "")  # seen from the side of + normal, and from the other
    notes: tuple[str, ...] = ()
    gauge: bool = False


def shrunk(part: Part, scale: float) -> Part:
    """The same part `scale` times as large, for a sketch."""
    holes = tuple(
        replace(hole, along=hole.along * scale, up=hole.up * scale, edge=hole.edge * scale)
        for hole in part.holes
    )
    outline = rounded_hull(tuple(hole.at for hole in holes), tuple(hole.edge for hole in holes))
    return replace(part, holes=holes, outline=outline, length=part.length * scale, height=part.height * scale)


def lay_out(blueprint: Blueprint, raw: tuple[RawHole, ...], choices: Choices) -> Part:
    """The part against its datum edge and end, its holes in drilling order."""
    diameters = tuple(choices.diameter_of(*hole.points) for hole in raw)
    edges = tuple(ASSUMED_EDGE if d is None else _rounded_up(choices.edge_in_holes * d) for d in diameters)
    if blueprint.kind == "link":  # a bar of one width
        edges = (max(edges),) * len(edges)
    side = _datum_side(tuple(hole.at for hole in raw))
    spots, mirrored = _along_side(tuple(hole.at for hole in raw), side)
    start, floor = _datum_corner(spots, edges)
    spots = tuple((u + start, v + floor) for u, v in spots)
    holes = tuple(
        Hole(number, raw[k].points, raw[k].role, *spots[k], diameters[k], edges[k])
        for number, k in enumerate(_drilling_order(raw, spots), start=1)
    )
    return Part(
        kind=blueprint.kind,
        names=blueprint.names,
        holes=holes,
        outline=rounded_hull(spots, edges),
        length=_rounded_up(max(u + edge for (u, _), edge in zip(spots, edges, strict=True))),
        height=_rounded_up(max(v + edge for (_, v), edge in zip(spots, edges, strict=True))),
        up_dir=_turned(blueprint.up_dir, tuple(hole.at for hole in raw), side, mirrored=mirrored),
        up_word=blueprint.up_word,
        seen=blueprint.facing[1 if mirrored else 0],
        notes=(*blueprint.notes, *_overlaps(holes)),
        gauge=blueprint.gauge,
    )


def _overlaps(holes: tuple[Hole, ...]) -> tuple[str, ...]:
    """A sentence for each pair of holes that run into each other."""
    return tuple(
        f"HOLES {a.number} AND {b.number} RUN INTO EACH OTHER: "
        f"their centres are {in_millimetres(dist(a.at, b.at))} apart."
        for a, b in combinations(holes, 2)
        if a.diameter is not None
        and b.diameter is not None
        and dist(a.at, b.at) <= (a.diameter + b.diameter) / 2
    )


def _rounded_up(length: float) -> float:
    """Up to the next whole millimetre, so that fence and stop are set to a mark of the rule."""
    return ceil(round(length / _MM, 6)) * _MM


def _datum_side(spots: tuple[Spot, ...]) -> tuple[int, int]:
    """The longest straight side of the hull: the part stands on it most steadily."""
    sides = hull_sides(spots)

    def length(side: tuple[int, int]) -> float:
        (u0, v0), (u1, v1) = spots[side[0]], spots[side[1]]
        return hypot(u1 - u0, v1 - v0)

    longest = max(length(side) for side in sides)
    return min(side for side in sides if length(side) > longest - _SAME)


def _unit(spots: tuple[Spot, ...], side: tuple[int, int]) -> Spot:
    (u0, v0), (u1, v1) = spots[side[0]], spots[side[1]]
    apart = hypot(u1 - u0, v1 - v0)
    return (u1 - u0) / apart, (v1 - v0) / apart


def _along_side(spots: tuple[Spot, ...], side: tuple[int, int]) -> tuple[tuple[Spot, ...], bool]:
    """Spots along and up from `side`, first hole to the left; and whether the face was turned over."""
    ex, ey = _unit(spots, side)
    u0, v0 = spots[side[0]]
    laid = tuple(((u - u0) * ex + (v - v0) * ey, (v - v0) * ex - (u - u0) * ey) for u, v in spots)
    middle = sum(u for u, _ in laid) / len(laid)
    if laid[0][0] <= middle + _SAME:
        return laid, False
    return tuple((-u, v) for u, v in laid), True


def _turned(
    direction: Spot | None, spots: tuple[Spot, ...], side: tuple[int, int], *, mirrored: bool
) -> Spot | None:
    """A direction of the plane in the frame of the part."""
    if direction is None:
        return None
    ex, ey = _unit(spots, side)
    along = direction[0] * ex + direction[1] * ey
    up = direction[1] * ex - direction[0] * ey
    return (-along if mirrored else along), up


def _datum_corner(spots: tuple[Spot, ...], edges: tuple[float, ...]) -> Spot:
    """How far end and edge stand off, so that the whole outline lies inside the blank."""
    start = max(edge - u for (u, _), edge in zip(spots, edges, strict=True))
    floor = max(edge - v for (_, v), edge in zip(spots, edges, strict=True))
    return _rounded_up(start), _rounded_up(floor)


def _drilling_order(raw: tuple[RawHole, ...], spots: tuple[Spot, ...]) -> list[int]:
    """The pivot first; then what shares its fence setting; then on, the nearest to the edge first."""
    pivot = min(range(len(raw)), key=lambda k: (raw[k].role != "pivot", k))

    def turn(k: int) -> tuple[bool, bool, float, float, int]:
        off_fence = abs(spots[k][1] - spots[pivot][1]) > SAME_SETTING
        return k != pivot, off_fence, round(spots[k][1], 9), round(spots[k][0], 9), k

    return sorted(range(len(raw)), key=turn)
