"""A vehicle as its file describes it: points, bodies, bars, springs, wheels, in SI units.

Nothing here is computed; every value was written by the builder. A twin (mirror by name) stands
directly after its original and names it in `twin_of`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from leverwright.project.measuring import (
    Bench,
    Coupling,
    LoadSet,
    Mass,
    Photo,
    PileShock,
    Scale,
    Tape,
    Tilt,
    Travelled,
    TyreReadings,
    Weighing,
    Wire,
)
from leverwright.quantity import Quantity

__all__ = [
    "Bar",
    "Body",
    "BumpStop",
    "Goals",
    "Held",
    "Point",
    "Shock",
    "Sketch",
    "Spring",
    "Strap",
    "Wheel",
]


@dataclass(frozen=True, slots=True)
class Point:
    """A place measured on the vehicle in its set-up pose.

    at        m, chassis frame (x forward, y left, z up); in a flat drawing the missing axis is 0
    error     m, one standard deviation stated for the whole point; None when it states none
    errors    m, the same for each coordinate: its own ±, else `error`, else None
    alone     said to have no twin on the other side
    sketched  `at` is a rough place and no measurement: only where the tapes start from
    """

    name: str
    at: tuple[float, float, float]
    error: float | None
    errors: tuple[float | None, float | None, float | None]
    alone: bool
    line: int
    twin_of: str | None
    sketched: bool = False


@dataclass(frozen=True, slots=True)
class Body:
    """Anything rigid, given by the points that it carries; `chassis` stays still."""

    name: str
    points: tuple[str, ...]
    line: int
    twin_of: str | None


@dataclass(frozen=True, slots=True)
class Bar:
    """Two points at a fixed length.

    length  m, when set longer or shorter than in the set-up pose
    adjust  m, shortest and longest that its threads allow, relative to the set-up length
    pitch   m of length for one turn of its adjuster
    """

    name: str
    ends: tuple[str, str]
    length: Quantity | None
    adjust: tuple[float, float] | None
    pitch: float | None
    line: int
    twin_of: str | None


@dataclass(frozen=True, slots=True)
class BumpStop:
    """A stop that touches before the shock is closed.

    touches  m before fully closed
    rate     N/m; None when a table is given
    table    rows of (compression of the stop m, force N), first value rising
    """

    touches: Quantity
    rate: Quantity | None
    table: tuple[tuple[float, float], ...] | None


@dataclass(frozen=True, slots=True)
class Shock:
    """A kind of shock; lengths are eye to eye, m.

    rate      N/m; None when a table is given, or when wire or bench readings are to give it
    preload   m, compression of the coil when fully open; negative: loose by that much; None when bench
              readings are to give it
    gas       N, push when held still
    friction  N, half the difference between going in and coming out
    table     rows of (compression m, force going in N, force coming out N), first value rising
    coils_touch  m, eye to eye, where the coils touch one another
    wire      its coil measured
    pile      the shock of the pile from which it has what it does not state itself
    tilt      N/m, one standard deviation of the slope of a table that a bench test gave; a typed one has none
    """

    name: str
    rate: Quantity | None
    length_open: Quantity
    length_closed: Quantity
    preload: Quantity | None
    gas: Quantity | None
    friction: Quantity | None
    table: tuple[tuple[float, float, float], ...] | None
    stop: BumpStop | None
    coils_touch: Quantity | None
    line: int
    wire: Wire | None = None
    pile: str | None = None
    tilt: float = 0.0


@dataclass(frozen=True, slots=True)
class Spring:
    """A shock between two points, or torsion on a hinge of two bodies.

    rate   N·m/rad, torsion only
    twist  rad in the set-up pose, torsion only; + already resists bump
    """

    name: str
    ends: tuple[str, str] | None
    shock: str | None
    hinge: tuple[str, str] | None
    rate: Quantity | None
    twist: Quantity | None
    line: int
    twin_of: str | None


@dataclass(frozen=True, slots=True)
class Strap:
    """Slack below its length [m], pulls above it with `rate` [N/m]; rigid when that is None."""

    name: str
    ends: tuple[str, str]
    length: Quantity
    rate: Quantity | None
    line: int
    twin_of: str | None


@dataclass(frozen=True, slots=True)
class Held:
    """A point led along a line, or a hinge of two bodies held at an angle.

    along  unit vector, chassis frame; None for a hinge
    range  m along the line, or rad about the hinge; 0 is the set-up pose
    """

    name: str
    point: str | None
    along: tuple[float, float, float] | None
    bodies: tuple[str, str] | None
    range: tuple[float, float]
    line: int
    twin_of: str | None


@dataclass(frozen=True, slots=True)
class Wheel:
    """A wheel and what a scale under it reads.

    axis      two points of its body, the spin axis outward
    radius    m
    load      kg on a scale, vehicle standing, usual rider aboard; None when weighing or the usual load
              set is to give it
    unsprung  kg
    tyre      N/m; None where nothing says it, or when `tyre_readings` are to give it
    brake     body that the brake holds on to
    pressure  Pa, of its tyre
    tyre_readings  how far the tyre gives, by scale and ruler
    """

    name: str
    body: str
    centre: str
    axis: tuple[str, str] | None
    radius: Quantity
    load: Quantity | None
    unsprung: Quantity | None
    tyre: Quantity | None
    brake: str | None
    line: int
    twin_of: str | None
    pressure: Quantity | None = None
    tyre_readings: TyreReadings | None = None


@dataclass(frozen=True, slots=True)
class Goals:
    """What the builder wants; None where nothing was stated.

    sag          fractions of total travel, least and most
    frequency    Hz, least and most
    travel_bump, travel_droop   m
    excitation   Hz, least and most; a speed over a spacing gives the same twice
    """

    sag: tuple[float, float] | None = None
    frequency: tuple[float, float] | None = None
    travel_bump: float | None = None
    travel_droop: float | None = None
    excitation: tuple[float, float] | None = None
    excitation_stated: bool = False


def _none() -> Mapping[str, Any]:
    return MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What could be read of a vehicle, whole or half made; its names may lead nowhere yet.

    pose           "hanging", "on blocks", "standing" or None
    pose_load_set  the load set that it stands under, when stated
    error          m, standard deviation of a coordinate that states none; None when absent
    tape_error     m, the same of a tape reading
    plane          "xz", "yz" or None
    tape … travels what was measured by tape, scale and camera
    """

    title: str = ""
    pose: str | None = None
    pose_load_set: str | None = None
    error: float | None = None
    tape_error: float | None = None
    plane: str | None = None
    mirror: bool = False
    points: Mapping[str, Point] = field(default_factory=_none)
    bodies: Mapping[str, Body] = field(default_factory=_none)
    bars: Mapping[str, Bar] = field(default_factory=_none)
    shocks: Mapping[str, Shock] = field(default_factory=_none)
    springs: Mapping[str, Spring] = field(default_factory=_none)
    straps: Mapping[str, Strap] = field(default_factory=_none)
    held: Mapping[str, Held] = field(default_factory=_none)
    wheels: Mapping[str, Wheel] = field(default_factory=_none)
    goals: Goals = Goals()
    tape: Mapping[str, Tape] = field(default_factory=_none)
    masses: Mapping[str, Mass] = field(default_factory=_none)
    loads: Mapping[str, LoadSet] = field(default_factory=_none)
    coupling: Coupling | None = None
    scale: Scale | None = None
    weighed: Mapping[str, Weighing] = field(default_factory=_none)
    tilt: Tilt | None = None
    bench: Mapping[str, Bench] = field(default_factory=_none)
    pile: Mapping[str, PileShock] = field(default_factory=_none)
    photos: Mapping[str, Photo] = field(default_factory=_none)
    travels: Mapping[str, Travelled] = field(default_factory=_none)
