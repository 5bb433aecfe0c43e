"""Where the camera stood, told from the picture of a plane, and what it does to points that lie off the plane.

A pinhole of focal length f behind the picture's middle with square pixels: the plane's two axes, seen through it,
must be square to each other and equally long. That gives f twice over, unless the picture is taken square on,
where it gives nothing and the distance must be taped.

Source: Z. Zhang, A flexible new technique for camera calibration, IEEE PAMI 22(11), 2000, section 2.3, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.photograph_fit import Fit, slopes

__all__ = ["Eye", "eye_of", "reads_long"]

# Of the distance: told more loosely than this it is not used, and the builder is asked to tape it.
_LOOSEST = 0.2
# Focal lengths that cameras have, in half diagonals of the picture.
_FOCAL = (0.3, 20.0)


@dataclass(frozen=True, slots=True)
class Eye:
    """The camera's place over the plane.

    foot      (2,) m, the place of the plane that it looks at squarely
    distance  m, from the plane
    error     m, one standard deviation of the distance; 0 where it was taped
    taped     whether the distance was taped
    """

    foot: Array
    distance: float
    error: float
    taped: bool


def reads_long(nearer: float, distance: float) -> float:
    """By which share too long a length reads that lies `nearer` [m] to a camera `distance` [m] from the plane.

    50 mm at 3 m: 0.017. Similar triangles.
    """
    return nearer / (distance - nearer)


def eye_of(fit: Fit, camera: float | None, has_size: bool) -> Eye | None:
    """The camera's place; None where the picture does not tell it well enough and nobody has taped it."""
    if not has_size:
        return None
    if camera is not None:
        focal = _focal_for(fit, camera)
        return None if focal is None else Eye(_place(fit, fit.unknowns, focal)[:2], camera, 0.0, taped=True)
    square = _inverse_square(fit.unknowns)
    if square <= 0.0:
        return None
    slope = slopes(lambda unknowns: np.array(_inverse_square(unknowns)), fit.unknowns)
    loose = float(np.sqrt(slope @ fit.covariance @ slope)) / (2.0 * square)  # share of f
    focal = 1.0 / np.sqrt(square)
    if loose > _LOOSEST or not _FOCAL[0] <= focal <= _FOCAL[1]:
        return None
    place = _place(fit, fit.unknowns, focal)
    return Eye(place[:2], abs(float(place[2])), _distance_error(fit), taped=False)


def _distance_error(fit: Fit) -> float:
    def distance(unknowns: Array) -> Array:
        return np.array(_place(fit, unknowns, 1.0 / np.sqrt(_inverse_square(unknowns)))[2])

    slope = slopes(distance, fit.unknowns)
    return float(np.sqrt(slope @ fit.covariance @ slope))


def _inverse_square(unknowns: Array) -> float:
    """1/f² by least squares of the two conditions; f in half diagonals."""
    a, b = np.append(unknowns[:8], 1.0).reshape(3, 3)[:, :2].T
    known = np.array([a[0] * b[0] + a[1] * b[1], (a[0] ** 2 + a[1] ** 2 - b[0] ** 2 - b[1] ** 2)])
    rest = np.array([a[2] * b[2], a[2] ** 2 - b[2] ** 2])
    size = float(known @ known)
    return 0.0 if size < 1e-24 else -float(known @ rest) / size


def _place(fit: Fit, unknowns: Array, focal: float) -> Array:
    """The camera (3,) m: its foot in the plane and its signed distance."""
    seen = np.diag([1.0 / focal, 1.0 / focal, 1.0]) @ np.append(unknowns[:8], 1.0).reshape(3, 3)
    size = 0.5 * (np.linalg.norm(seen[:, 0]) + np.linalg.norm(seen[:, 1]))
    along, down, place = (seen / size).T
    out = np.linalg.cross(along, down)
    own = -np.stack([along, down, out]) @ place
    place_over: Array = np.append(fit.origin, 0.0) + fit.reach * own
    return place_over


def _focal_for(fit: Fit, camera: float) -> float | None:
    """The focal length at which the camera is `camera` [m] from the plane, by halving."""
    low, high = _FOCAL
    if not (abs(_place(fit, fit.unknowns, low)[2]) < camera < abs(_place(fit, fit.unknowns, high)[2])):
        return None
    for _ in range(60):
        middle = np.sqrt(low * high)
        if abs(_place(fit, fit.unknowns, middle)[2]) < camera:
            low = middle
        else:
            high = middle
    return float(np.sqrt(low * high))
