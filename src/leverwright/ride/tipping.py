"""How much side pull, slope, braking a vehicle stands before wheels lift. All SI.

Static: the resultant of weight and inertia must meet the ground inside the wheels; on three wheels as on four.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverwright.geometry import Array, check_shape

__all__ = [
    "Stance",
    "TipLimit",
    "pitch_limit",
    "rigid_tip_limit",
    "side_limit",
    "speed_in_bend",
    "stands_inside",
    "track_factor",
]

_INSIDE = 1e-9  # m; a place on the edge itself


@dataclass(frozen=True, slots=True)
class TipLimit:
    """Where a rigid vehicle tips.

    lateral  1, sideways acceleration as a share of gravity
    slope    rad, side slope on which it tips standing still
    """

    lateral: float
    slope: float


@dataclass(frozen=True, slots=True)
class Stance:
    """Wheels' places on the ground (W, 2) m, x forward, y left; the centre of gravity (2,) m, `height` m over it."""

    places: Array
    centre: Array
    height: float


def rigid_tip_limit(half_width: float, height: float) -> TipLimit:
    """Static tip limit of a rigid vehicle: a/g = half width / height, slope = its arc tangent.

    half_width  m, from the centre of gravity across to the line about which it tips; half the
                track on four wheels, less on three
    height      m, of the centre of gravity over the ground

    An upper bound: springs, tyres and a swinging load lower it. Source: static stability factor
    t / (2h), definition of the United States road safety administration (NHTSA).
    """
    if not (half_width > 0 and height > 0 and math.isfinite(half_width / height)):
        raise ValueError(
            f"a half width of {half_width} m and a height of {height} m; "
            "both must be above 0: measure them again"
        )
    return TipLimit(lateral=half_width / height, slope=math.atan2(half_width, height))


def side_limit(stance: Stance, ahead: float = 0.0, side: float | None = None) -> float:
    """Sideways acceleration [1, of gravity] at which the inner wheels lift, over the nearer side.

    ahead  1, acceleration forward (+) or braking (-) at the same time: it shifts the resultant by height × ahead
    side   +1 over the left side, -1 over the right one; None: whichever comes first

    0 or below where it has tipped forward or back already. The line about which it tips joins two wheels; along it
    only the part of the pull square to it counts, which comes to the distance measured straight across.
    """
    across = _across(stance, float(stance.centre[0]) - stance.height * ahead)
    if across is None:
        return 0.0
    left, right = across
    room = {1.0: left - float(stance.centre[1]), -1.0: float(stance.centre[1]) - right}
    return (min(room.values()) if side is None else room[side]) / stance.height


def pitch_limit(stance: Stance, way: float = 1.0) -> float:
    """Braking (way +1) or forward acceleration (-1), of gravity, at which it goes over its front or rear wheels."""
    swapped = Stance(stance.places[:, ::-1], stance.centre[::-1], stance.height)
    across = _across(swapped, float(stance.centre[1]))
    if across is None:
        return 0.0
    return (
        across[0] - float(stance.centre[0]) if way > 0 else float(stance.centre[0]) - across[1]
    ) / stance.height


def _across(stance: Stance, x: float) -> tuple[float, float] | None:
    """Where the line x = const leaves the wheels' polygon: its y on the left and on the right; None beyond it."""
    check_shape("places", stance.places, "W 2")
    places = stance.places
    found: list[float] = []
    for first in range(len(places)):
        for second in range(first, len(places)):
            low, high = sorted((first, second), key=lambda k: places[k, 0])
            start, end = places[low], places[high]
            if not start[0] - _INSIDE <= x <= end[0] + _INSIDE:
                continue
            if end[0] - start[0] < _INSIDE:
                found += [float(start[1]), float(end[1])]
            else:
                share = (x - start[0]) / (end[0] - start[0])
                found.append(float(start[1] + share * (end[1] - start[1])))
    return (max(found), min(found)) if found else None


def stands_inside(places: Array, centre: Array) -> bool:
    """Whether a centre of gravity (2,) m lies between the places (W, 2) m that carry it."""
    across = _across(Stance(places, centre, 1.0), float(centre[0]))
    return across is not None and across[1] - _INSIDE <= float(centre[1]) <= across[0] + _INSIDE


def track_factor(stance: Stance, wanted: float) -> float:
    """Factor on each wheel's distance from the middle so that it tips at `wanted` [of gravity]; inf where none does."""
    needed = wanted * stance.height
    across = _across(stance, float(stance.centre[0]))
    if across is None:
        return math.inf
    off = float(stance.centre[1])
    sides = ((across[0], needed + off), (-across[1], needed - off))
    return max(math.inf if room <= _INSIDE else wide / room for room, wide in sides)


def speed_in_bend(lateral: float, radius: float, gravity: float) -> float:
    """Speed [m/s] at which a bend of `radius` m asks for that share of gravity: v² = a·r."""
    return math.sqrt(max(0.0, lateral) * gravity * radius)
