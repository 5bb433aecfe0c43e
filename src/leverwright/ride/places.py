"""Where every point of an assembly is at each pose of a cycle."""

from __future__ import annotations

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed, Track
from leverwright.linkage.kinematics import place_of

__all__ = ["points_of"]


def points_of(track: Track, posed: Posed) -> dict[str, Array]:
    """Places (P, 3) m by point name: points of what moves, led points, and chassis points that this assembly uses."""
    layout = track.basis.layout
    mechanism = layout.mechanism
    carrier_of: dict[int, int] = {}
    for carrier in layout.moving:
        for point in layout.carriers.each[carrier].points:
            carrier_of.setdefault(point, carrier)
    for carrier, point in layout.feet:
        carrier_of.setdefault(point, carrier)
    fixed = set(layout.carriers.each[0].points)
    places: dict[str, Array] = {}
    for point in sorted(carrier_of):
        if point in fixed:
            still = mechanism.points[point]
            places[mechanism.point_names[point]] = np.broadcast_to(still, (len(posed.travel), 3))
        else:
            places[mechanism.point_names[point]] = place_of(
                track.basis, posed.state, carrier_of[point], point
            )
    return places
