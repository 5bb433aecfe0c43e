"""Camber, toe, caster and track of each wheel over its travel (ISO 8855 meanings, signs per side)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, unit
from leverwright.linkage import Posed, Track

__all__ = ["Alignment", "alignment_of"]


@dataclass(frozen=True, slots=True)
class Alignment:
    """Angles [rad] and places [m] at each pose, (P, W); NaN where the file gives no axis or no steering axis.

    camber  + top outward; toe  + front inward; caster  + top rearward
    track   outward movement of the lowest point of the wheel from the set-up pose
    """

    camber: Array
    toe: Array
    caster: Array
    track: Array


def alignment_of(track: Track, posed: Posed, radius: Array) -> Alignment:
    """Wheel angles and track change at the poses; `radius` (W,) m; all NaN in a flat drawing."""
    layout = track.basis.layout
    shape = (len(posed.travel), len(layout.wheels))
    nothing = Alignment(*(np.full(shape, np.nan) for _ in range(4)))
    if layout.mechanism.normal is not None:
        return nothing
    for column, index in enumerate(layout.wheels):
        wheel = layout.mechanism.wheels[index]
        carrier = layout.carriers.of_body[wheel.body]
        rotation = posed.state.rotation[:, carrier]
        places = layout.mechanism.points
        steering = _steering_axis(track, carrier)
        if steering is not None:
            up = np.einsum("pij,j->pi", rotation, steering)
            nothing.caster[:, column] = np.arctan2(-up[:, 0], up[:, 2])
        if wheel.axis is None:
            continue
        outward = np.einsum("pij,j->pi", rotation, unit(places[wheel.axis[1]] - places[wheel.axis[0]]))
        side = np.sign(outward[:, 1])
        nothing.camber[:, column] = np.arctan2(-outward[:, 2], np.hypot(outward[:, 0], outward[:, 1]))
        nothing.toe[:, column] = np.arctan2(outward[:, 0], side * outward[:, 1])
        lowest = _lowest(posed.pose.foot[:, layout.wheel_feet[column]], outward, float(radius[column]))
        start = unit(places[wheel.axis[1]] - places[wheel.axis[0]])
        first = _lowest(places[wheel.centre][None], start[None], float(radius[column]))
        nothing.track[:, column] = side * (lowest[:, 1] - first[:, 1])
    return nothing


def _lowest(centre: Array, outward: Array, radius: float) -> Array:
    """Lowest point (P, 3) of a thin wheel."""
    up = np.array([0.0, 0.0, 1.0])
    in_wheel = up - outward[:, 2, None] * outward
    return centre - radius * unit(in_wheel)


def _steering_axis(track: Track, carrier: int) -> Array | None:
    """Direction (3,) from the lower to the upper ball joint of an upright; None when it has not just two."""
    layout = track.basis.layout
    balls = [j.point for j in layout.joints if carrier in j.carriers]
    if len(balls) != 2:
        return None
    places = layout.mechanism.points[balls]
    low, high = (0, 1) if places[0, 2] < places[1, 2] else (1, 0)
    return unit(places[high] - places[low])
