"""A cycle as columns: the table that the page moves the vehicle with."""

from __future__ import annotations

from leverwright.wire.cycle import StopWhy, Tight
from leverwright.wire.strict import Wire

__all__ = [
    "Column",
    "ShownPlay",
    "ShownStop",
    "ShownStops",
    "Sweep",
    "SweepAssembly",
    "SweepSpring",
    "SweepWheel",
]

# One entry a pose; null where it cannot be said.
Column = list[float | None]


class ShownStop(Wire, frozen=True):
    """Where the motion ends, and the sentence for it."""

    travel_mm: float
    why: StopWhy
    sentence: str
    sentence_inch: str


class ShownStops(Wire, frozen=True):
    """Both ends; null where the assembly cannot move."""

    bump: ShownStop | None
    droop: ShownStop | None


class ShownPlay(Wire, frozen=True):
    """A motion that nothing holds; `motion_mm` a small step of it, by point, to draw."""

    bodies: list[str]
    sentence: str
    motion_mm: dict[str, list[float]]


class SweepSpring(Wire, frozen=True):
    """Columns of a spring; on a `hinge` it has no length, its compression is in deg and its force in N m."""

    length_mm: Column
    compression_mm: Column
    force_n: Column
    ratio: dict[str, Column]
    hinge: bool


class SweepWheel(Wire, frozen=True):
    """Columns of a wheel; null angles in a flat drawing."""

    rate_n_per_mm: Column
    force_n: Column
    shared: bool
    camber_deg: Column | None
    toe_deg: Column | None


class SweepAssembly(Wire, frozen=True):
    """What moves together.

    drive_mm     ascending: travel of the moving (left) wheel at each pose
    standing_mm  where it stands, on the scale of `drive_mm`; heave only
    bars_n       pull of bars, and of bodies of two points that act as one
    points_mm    points that move, x y z of pose 0, x y z of pose 1, ...
    """

    wheels: list[str]
    freedoms: int
    play: list[ShownPlay]
    bind: list[Tight]
    stops: ShownStops
    drive_mm: list[float]
    standing_mm: float | None
    travel_mm: dict[str, list[float]]
    points_mm: dict[str, list[float]]
    springs: dict[str, SweepSpring]
    wheels_at: dict[str, SweepWheel]
    bars_n: dict[str, Column]


class Sweep(Wire, frozen=True):
    """One mode of motion: `heave`, `roll` or `wheel:NAME`."""

    mode: str
    left_out: list[str]
    assemblies: list[SweepAssembly]
