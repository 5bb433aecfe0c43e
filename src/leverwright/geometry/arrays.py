"""The array type, shapes checked by letter, and directions of length one."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

__all__ = ["Array", "Mask", "check_shape", "unit"]

Array: TypeAlias = npt.NDArray[np.float64]
Mask: TypeAlias = npt.NDArray[np.bool_]


def check_shape(name: str, array: npt.NDArray[Any], letters: str, **sizes: int) -> None:
    """Raise ValueError unless `array` has one axis a letter, each of the stated size.

    letters  "P Q 3"; a digit is its own size, a letter without a size may be anything.
    """
    axes = letters.split()
    wanted = [int(axis) if axis.isdigit() else sizes.get(axis) for axis in axes]
    fits = len(axes) == array.ndim and all(
        w is None or w == n for w, n in zip(wanted, array.shape, strict=False)
    )
    if not fits:
        raise ValueError(f"{name} has shape {array.shape}, not ({letters}) with {sizes}")


def unit(vector: Array) -> Array:
    """Directions of length 1 along the last axis, same shape; a zero vector raises ValueError."""
    length = np.sqrt(np.einsum("...i,...i->...", vector, vector))
    if np.any(length == 0.0):
        raise ValueError("a direction between two places that coincide")
    out: Array = vector / length[..., None]
    return out
