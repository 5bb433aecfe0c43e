"""Height of the centre of gravity: one end lifted, the other weighed again."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

__all__ = ["TiltErrors", "TiltReads", "height_by_tilt", "lift_for"]

_STEP = 1e-6  # of a metre or a kilogram, for the slope by each input
_ROUND = 0.05  # m; lifts are advised in steps that a stack of blocks can be built to
_LIFT = 0.2  # of the wheelbase: about as far as one dares to lift an end by hand (common practice)


@dataclass(frozen=True, slots=True)
class TiltReads:
    """What is read when one end is lifted straight up by `lift`, wheels rolling freely, springs blocked.

    level, tilted  kg at the other end, before and then
    total          kg of the whole vehicle
    wheelbase      m, along the ground when level
    radius, lifted_radius   m of the wheels that stay down, and of those that are lifted
    """

    level: float
    tilted: float
    total: float
    lift: float
    wheelbase: float
    radius: float
    lifted_radius: float


@dataclass(frozen=True, slots=True)
class TiltErrors:
    """One standard deviation of each reading, same names and units."""

    level: float = 0.0
    tilted: float = 0.0
    total: float = 0.0
    lift: float = 0.0
    wheelbase: float = 0.0
    radius: float = 0.0
    lifted_radius: float = 0.0


def height_by_tilt(reads: TiltReads, errors: TiltErrors) -> tuple[float, float]:
    """Height [m] of the centre of gravity over the ground, and its standard deviation.

    For equal radii h = r + ΔW·L / (W·tan θ) with sin θ = lift / L. Unequal radii turn the line of the axles before
    anything is lifted; here the moments about the axle that stays down are taken with both lines as they are,
    which is exact for any radii. Source: statics; JCGM 100:2008, 5.1.2, for the deviation.
    """
    value = _height(reads)
    variance = 0.0
    for name in TiltErrors.__dataclass_fields__:
        sigma = getattr(errors, name)
        if sigma:
            there = getattr(reads, name)
            above, below = (_height(replace(reads, **{name: there + way * _STEP})) for way in (1.0, -1.0))
            variance += (sigma * (above - below) / (2.0 * _STEP)) ** 2
    return value, math.sqrt(variance)


def _height(reads: TiltReads) -> float:
    apart = math.hypot(reads.wheelbase, reads.lifted_radius - reads.radius)
    rise = reads.lifted_radius - reads.radius + reads.lift
    if not (reads.lift > 0.0 and rise < apart and reads.total > 0.0):
        raise ValueError(
            f"a lift of {reads.lift} m at a wheelbase of {reads.wheelbase} m and {reads.total} kg in all; "
            "the lift must be above 0 and below the wheelbase: measure again"
        )
    angle = math.asin(rise / apart) - math.asin((reads.lifted_radius - reads.radius) / apart)
    ahead = (reads.total - reads.level) * reads.wheelbase / reads.total  # of the axle that stays down
    tilted = (reads.total - reads.tilted) * math.sqrt(apart**2 - rise**2) / reads.total
    return reads.radius + (ahead * math.cos(angle) - tilted) / math.sin(angle)


def lift_for(reads: TiltReads, errors: TiltErrors) -> tuple[float, float]:
    """A better lift [m] and the deviation [m] of the height that it would give: a fifth of the wheelbase, or more.

    The readings that it would give follow from the height found now.
    """
    lift = _ROUND * math.ceil(max(_LIFT * reads.wheelbase, reads.lift) / _ROUND - 1e-9)
    if lift <= reads.lift + 1e-9:
        lift += 2 * _ROUND
    if not lift < 0.7 * reads.wheelbase:
        return reads.lift, height_by_tilt(reads, errors)[1]
    there = replace(reads, lift=lift)
    wanted = _height(reads)
    heavier = _solved(lambda tilted: _height(replace(there, tilted=tilted)) - wanted, reads.level)
    return lift, height_by_tilt(replace(there, tilted=heavier), errors)[1]


def _solved(miss: Callable[[float], float], start: float) -> float:
    """Root of a function that is linear: one secant step."""
    at, next_at = miss(start), miss(start + 1.0)
    return start - at / (next_at - at)
