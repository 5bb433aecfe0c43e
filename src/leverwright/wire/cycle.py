"""The document of `cycle --json`: pose by pose, every figure unrounded."""

from __future__ import annotations

from typing import Literal

from msgspec import UNSET, UnsetType

from leverwright.wire.strict import Document, Wire

__all__ = [
    "CycleAssembly",
    "CycleDocument",
    "CyclePose",
    "CycleSpring",
    "CycleStop",
    "CycleStops",
    "CycleWheel",
    "Loose",
    "StopWhy",
    "Tight",
]

StopWhy = Literal[
    "dead centre", "shock closed", "shock open", "strap taut", "link stretched", "joint bind", "asked"
]


class CycleStop(Wire, frozen=True):
    """Where the motion ends, as travel of the moving (left) wheel, and why."""

    travel_mm: float
    why: StopWhy


class CycleStops(Wire, frozen=True):
    """Both ends; null where the assembly cannot move."""

    bump: CycleStop | None
    droop: CycleStop | None


class Loose(Wire, frozen=True):
    """A motion that nothing holds."""

    bodies: list[str]
    sentence: str


class Tight(Wire, frozen=True):
    """A motion that is needed and that rigid parts cannot make."""

    bodies: list[str]
    sentence: str


class CycleSpring(Wire, frozen=True):
    """A spring at a pose; one on a hinge has null lengths, and its twist, moment and ratio in degrees instead."""

    length_mm: float | None
    compression_mm: float | None
    force_n: float | None
    ratio: dict[str, float | None]
    ratio_slope_per_mm: dict[str, dict[str, float | None]]
    twist_deg: float | UnsetType | None = UNSET
    moment_n_m: float | UnsetType | None = UNSET
    ratio_deg_per_mm: dict[str, float | None] | UnsetType = UNSET


class CycleWheel(Wire, frozen=True):
    """A wheel at a pose; `shared`: only the sum of the wheels' forces is determined."""

    rate_n_per_mm: float | None
    force_n: float | None
    camber_deg: float | None
    toe_deg: float | None
    shared: bool | UnsetType = UNSET


class CyclePose(Wire, frozen=True):
    """One pose; a point of a flat drawing has two numbers, in the plane's order.

    straps_n, links_n: pull of each strap, and of each body of two points that acts as a bar; where there are any.
    """

    travel_mm: dict[str, float]
    points_mm: dict[str, list[float]]
    springs: dict[str, CycleSpring]
    wheels: dict[str, CycleWheel]
    rate_matrix_n_per_mm: dict[str, dict[str, float | None]]
    bars_n: dict[str, float | None]
    joints_n: dict[str, list[float] | None]
    straps_n: dict[str, float] | UnsetType = UNSET
    links_n: dict[str, float | None] | UnsetType = UNSET


class CycleAssembly(Wire, frozen=True):
    """What moves together; `axial_at`: points that carry the whole force along their hinge line."""

    wheels: list[str]
    freedoms: int
    play: list[Loose]
    bind: list[Tight]
    stops: CycleStops
    poses: list[CyclePose]
    axial_at: list[str] | UnsetType = UNSET


class CycleDocument(Document, frozen=True, kw_only=True):
    """All assemblies; `left_out` says which have no such motion, and why."""

    assemblies: list[CycleAssembly]
    left_out: list[str] | UnsetType = UNSET
