"""Arrays of places, directions and rotations; no file, no unit but SI, no vehicle."""

from leverwright.geometry.arrays import Array, Mask, check_shape, unit
from leverwright.geometry.motion import cross, rigid_motion, skew, square_dirs, turn_angle

__all__ = [
    "Array",
    "Mask",
    "check_shape",
    "cross",
    "rigid_motion",
    "skew",
    "square_dirs",
    "turn_angle",
    "unit",
]
