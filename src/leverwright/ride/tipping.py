"""How much side pull a rigid vehicle stands before its inner wheels lift. All SI."""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["TipLimit", "rigid_tip_limit"]


@dataclass(frozen=True, slots=True)
class TipLimit:
    """Where a rigid vehicle tips.

    lateral  1, sideways acceleration as a share of gravity
    slope    rad, side slope on which it tips standing still
    """

    lateral: float
    slope: float


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
