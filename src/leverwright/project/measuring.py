"""What a builder measured, as the file has it: tapes, weights, squashed shocks, photographs, in SI units.

Nothing here is computed; every value was read off a tape, a scale or a picture. A bare force is what the
scale said, before a plank's lever is taken out of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from leverwright.quantity import Quantity

__all__ = [
    "Bench",
    "Coupling",
    "LoadSet",
    "Mass",
    "Photo",
    "PileShock",
    "Plank",
    "Returned",
    "Scale",
    "Tape",
    "TapeKind",
    "Tilt",
    "Travelled",
    "TyreReadings",
    "Weighing",
    "Wire",
]

TapeKind = Literal["between", "height", "offset", "ahead", "plumb", "level", "along", "side"]
Pixel = tuple[float, float]
"""x right, y down, in the picture."""


@dataclass(frozen=True, slots=True)
class Tape:
    """One statement about places.

    kind    between: distance of two points · height: of one above the floor · offset: of one from the centre
            plane, + left · ahead: the second that far ahead of the first · plumb: one straight above the
            other · level: all at one height · along: the third on the line through the first two, read from
            the first · side: the first on one side of the others
    points  in the order above
    reads   m, each reading of it; () for plumb, level and side
    error   m, one standard deviation of a reading that carries no ± of its own; None when nothing states it
    side    "above", "below", "left", "right", "ahead" or "behind"; of kind side only
    """

    name: str
    kind: TapeKind
    points: tuple[str, ...]
    reads: tuple[Quantity, ...]
    error: float | None
    side: str | None
    line: int


@dataclass(frozen=True, slots=True)
class Mass:
    """Something that the vehicle carries.

    mass   kg
    at     m, centre of gravity in chassis axes of the set-up pose
    error  m, one standard deviation of each of its coordinates; None when not stated
    errors m, the same for each coordinate: its own ±, else `error`, else None
    """

    name: str
    mass: Quantity
    at: tuple[float, float, float]
    error: float | None
    errors: tuple[float | None, float | None, float | None]
    line: int


@dataclass(frozen=True, slots=True)
class LoadSet:
    """What is aboard together.

    carries  names of masses; () when only the scale speaks
    scale    wheel → kg that a scale under it reads; empty when only masses speak
    """

    name: str
    carries: tuple[str, ...]
    scale: Mapping[str, Quantity]
    line: int


@dataclass(frozen=True, slots=True)
class Coupling:
    """The point of a trailer that the towing vehicle carries.

    at      m, chassis axes of the set-up pose
    height  m above the floor; None: as in the set-up pose
    """

    at: tuple[float, float, float]
    height: Quantity | None
    line: int


@dataclass(frozen=True, slots=True)
class Scale:
    """The scale itself.

    error  kg, one standard deviation of one reading
    known  kg, a known mass and what the scale reads of it
    total  kg, the whole vehicle weighed in one go or by another scale
    """

    error: float | None
    known: tuple[Quantity, Quantity] | None
    total: Quantity | None
    line: int


@dataclass(frozen=True, slots=True)
class Plank:
    """A plank on a round bar, with the load at `load` [m] and the scale at `scale` [m] from that bar.

    alone  kg, what the scale reads under the plank alone
    """

    load: Quantity
    scale: Quantity
    alone: Quantity


@dataclass(frozen=True, slots=True)
class Weighing:
    """One wheel weighed.

    load_set  what was aboard; None: the usual load
    reads     kg, as the scale says
    raised    m that this wheel stood higher than the others; None: with blocks under the others
    """

    name: str
    wheel: str
    load_set: str | None
    reads: tuple[Quantity, ...]
    raised: Quantity | None
    plank: Plank | None
    line: int


@dataclass(frozen=True, slots=True)
class Tilt:
    """One end lifted, the scale under the other.

    lifted   "front" or "rear"
    by       m
    level    kg at the other end before lifting
    tilted   kg at the other end then
    blocked  were the springs blocked
    total    kg of the whole vehicle, when stated here
    """

    lifted: str
    by: Quantity
    level: Quantity
    tilted: Quantity
    load_set: str | None
    blocked: bool | None
    total: Quantity | None
    line: int


@dataclass(frozen=True, slots=True)
class TyreReadings:
    """Loads on a standing wheel and heights of its axle above the floor, read together, in any order.

    loads    kg on the scale under it
    heights  m, as many; lower under a larger load
    """

    loads: tuple[Quantity, ...]
    heights: tuple[Quantity, ...]


@dataclass(frozen=True, slots=True)
class Returned:
    """How a shock without its coil came back: `by` m of `of` m in `seconds`."""

    by: Quantity
    of: Quantity
    seconds: Quantity


@dataclass(frozen=True, slots=True)
class Bench:
    """A shock squashed on a scale.

    name        of the [shocks] or [pile] entry
    squash      m, squashed from fully open, rising
    going_in    N on the scale at each mark, before the plank's lever is taken out
    coming_out  N likewise, None where none was read; as many as marks
    rod         N, rod held at mid-stroke, coil off
    error       N, one standard deviation of a reading
    mark_error  m, one standard deviation of a mark
    """

    name: str
    squash: tuple[Quantity, ...]
    going_in: tuple[Quantity, ...]
    coming_out: tuple[Quantity | None, ...]
    plank: Plank | None
    rod: Quantity | None
    returned: Returned | None
    error: float | None
    mark_error: float | None
    line: int


@dataclass(frozen=True, slots=True)
class Wire:
    """A coil measured: `diameter` of its wire and `outside` or `mean` diameter of the coil [m].

    active   turns that move
    modulus  Pa, shear modulus of the wire; None when not stated
    """

    diameter: Quantity
    outside: Quantity | None
    mean: Quantity | None
    active: Quantity
    modulus: Quantity | None


@dataclass(frozen=True, slots=True)
class PileShock:
    """A shock that the builder owns; what was not measured is None.

    oil  "none", "film" or "running"; rod "straight", "pitted" or "bent"
    """

    name: str
    length_open: Quantity | None
    length_closed: Quantity | None
    rate: Quantity | None
    preload: Quantity | None
    gas: Quantity | None
    friction: Quantity | None
    wire: Wire | None
    oil: str | None
    rod: str | None
    line: int


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph of one plane of the vehicle, with a rectangle of known size in it.

    picture    file name in the folder beside the project file
    view       "side" or "front"
    depth      m, y (side) or x (front) of the plane of the rectangle and of the picks
    corners    pixels of the rectangle's (0, 0), (w, 0), (w, h), (0, h)
    rectangle  m, its w and h
    camera     m from the camera to the plane
    lens       radial distortion k1
    error      pixels, one standard deviation of a pick
    size       pixels, width and height of the picture
    second     corners and m of a second rectangle that lies anywhere in the same plane
    straight   pixels along each edge that is straight in truth
    picks      point → pixels
    """

    name: str
    picture: str
    view: str
    depth: float
    corners: tuple[Pixel, Pixel, Pixel, Pixel]
    rectangle: tuple[float, float]
    camera: float | None
    lens: float | None
    error: float | None
    size: tuple[float, float] | None
    second: tuple[tuple[Pixel, Pixel, Pixel, Pixel], tuple[float, float]] | None
    straight: tuple[tuple[Pixel, ...], ...]
    picks: Mapping[str, Pixel]
    line: int


@dataclass(frozen=True, slots=True)
class Travelled:
    """Travels of a wheel and a spring measured together by hand, both rising from a common start [m]."""

    name: str
    wheel: str
    spring: str
    wheel_moved: tuple[Quantity, ...]
    spring_moved: tuple[Quantity, ...]
    line: int
