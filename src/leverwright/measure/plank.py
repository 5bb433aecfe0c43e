"""A load too heavy for the scale, over a plank: a round bar at one end, the scale under the other."""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["PLACE_ERROR", "PlankLever", "over_plank"]

# m; where a tyre or a shock really presses on a plank, and where the plank really lies on its bar, is seen no
# better with a tape (common practice). Smaller: the ± of a planked load would be told too small.
PLACE_ERROR = 0.005


@dataclass(frozen=True, slots=True)
class PlankLever:
    """Distances from the round bar [m] to the load and to the scale, each with its standard deviation.

    alone        what the scale reads under the plank alone, kg or N like the readings
    alone_error  its standard deviation
    """

    load: float
    scale: float
    alone: float
    alone_error: float = 0.0
    load_error: float = PLACE_ERROR
    scale_error: float = PLACE_ERROR

    @property
    def gain(self) -> float:
        """Load for each unit that the scale reads more than with the plank alone."""
        return self.scale / self.load


def over_plank(plank: PlankLever, reads: float, error: float) -> tuple[float, float]:
    """Load on the plank and its standard deviation, in the unit of `reads`: (reads - alone) × scale / load.

    Source: moments about the round bar; JCGM 100:2008, 5.1.2, for the deviation.
    """
    if not (plank.load > 0.0 and plank.scale > 0.0):
        raise ValueError("a plank's load and scale must lie beyond its round bar: measure both from it")
    value = (reads - plank.alone) * plank.gain
    read = plank.gain * math.hypot(error, plank.alone_error)
    places = value * math.hypot(plank.load_error / plank.load, plank.scale_error / plank.scale)
    return value, math.hypot(read, places)
