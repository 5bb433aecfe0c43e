"""Places from a photograph of one plane, each with its ±, as a tape network can take them.

    plane = rectify(photograph)
    plane.places.at, plane.places.covariance

What the corners are off by is shared by all picks, so the covariance is one whole matrix.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.photograph_camera import Eye, eye_of
from leverwright.measure.photograph_figures import PhotoError, Photograph, check_photograph
from leverwright.measure.photograph_fit import LENS_RANGE, Fit, fit_plane, slopes

__all__ = ["Lens", "LensSource", "PhotoPlaces", "Rectified", "rectify"]

LensSource = Literal["stated", "told by the picture", "unknown", "unknown, as is the picture's size"]

# The lens counts as told when the picture leaves at most this share of its usual range.
_TOLD = 0.5
# Half diagonals: a picture bent by more than this at its corner is a fisheye, for which one term is too few.
_FISHEYE = 0.25
# Of the depth at the rectangle's middle: nearer to the horizon a pixel is worth too much of the plane.
_HORIZON = 0.15
_STEP = 1e-3  # px, for slopes: places are far larger, rounding far smaller


@dataclass(frozen=True, slots=True)
class PhotoPlaces:
    """Picked points in one plane of the vehicle, known up to two shifts, a turn and which side they are seen from.

    names       (N,)
    at          (N, 2) m, in the rectangle's axes: right in the picture, and up
    covariance  (2N, 2N) m², in the order n0 right, n0 up, n1 right, …
    """

    names: tuple[str, ...]
    at: Array
    covariance: Array


@dataclass(frozen=True, slots=True)
class Lens:
    """The one lens coefficient (see `ideal`), its standard deviation, and where they come from."""

    k: float
    error: float
    source: LensSource


@dataclass(frozen=True, slots=True)
class Rectified:
    """A photograph turned into a plan.

    places      the picks
    homography  (3, 3) from the plane [m: right, down] to the undistorted picture [px]
    lens        how the lens bends the picture
    lens_shift  (N,) m, how far a lens at one standard deviation from `lens` would move each pick
    eye         where the camera stood; None where the picture does not tell it and nobody taped it
    misfit      about 1 where figures and edges fit as stated; None where nothing was picked twice over
    """

    places: PhotoPlaces
    homography: Array
    lens: Lens
    lens_shift: Array
    eye: Eye | None
    misfit: float | None


def rectify(photo: Photograph) -> Rectified:
    """The places of all picks; PhotoError says in one sentence why there are none."""
    check_photograph(photo)
    fit = fit_plane(photo)
    lens = _lens(photo, fit)
    eye = eye_of(fit, photo.camera, photo.size is not None)
    if eye is None and any(photo.nearer.get(name, 0.0) for name in photo.picks):
        raise PhotoError(
            "camera",
            "a point off the plane in a picture that does not tell how far the camera stood",
            "the distance from the lens to the plane",
            "tape it and state it as camera",
        )
    return Rectified(
        places=_places(photo, fit, eye),
        homography=_whole(fit),
        lens=lens,
        lens_shift=_lens_shift(photo, fit, lens),
        eye=eye,
        misfit=fit.misfit,
    )


def _lens(photo: Photograph, fit: Fit) -> Lens:
    if photo.lens is not None:
        return Lens(photo.lens, 0.0, "stated")
    if fit.lens_at is None:
        return Lens(0.0, LENS_RANGE, "unknown, as is the picture's size")
    error = float(np.sqrt(fit.covariance[fit.lens_at, fit.lens_at]))
    if abs(fit.lens) > _FISHEYE:
        raise PhotoError(
            "lens",
            "a picture that is bent like a fisheye's",
            "the main lens of a camera, 3 m away",
            "stand back and photograph it again without the wide-angle lens",
        )
    return Lens(fit.lens, error, "told by the picture" if error <= _TOLD * LENS_RANGE else "unknown")


def _picks(photo: Photograph) -> Array:
    return np.array(list(photo.picks.values()), dtype=float).reshape(-1, 2)


def _read(photo: Photograph, fit: Fit, eye: Eye | None, at: tuple[Array, Array]) -> Array:
    """Places (N, 2) m, right and down, of picks (N, 2) px by unknowns (Q,); points off the plane are put right."""
    picks, unknowns = at
    flat, near_horizon = fit.plane_of(picks, unknowns)
    if np.any(near_horizon < _HORIZON):
        name = list(photo.picks)[int(np.argmin(near_horizon))]
        raise PhotoError(
            f"picks.{name}",
            "a pick near or beyond the horizon of the rectangle's plane",
            "points of the plane around the rectangle",
            "pick it again, or photograph the plane from its front",
        )
    if eye is None:
        return flat
    nearer = np.array([photo.nearer.get(name, 0.0) for name in photo.picks])
    out: Array = eye.foot + (flat - eye.foot) * (1.0 - nearer / eye.distance)[:, None]
    return out


def _places(photo: Photograph, fit: Fit, eye: Eye | None) -> PhotoPlaces:
    picks, count = _picks(photo), len(photo.picks)
    at = _read(photo, fit, eye, (picks, fit.unknowns))
    shared = slopes(lambda unknowns: _read(photo, fit, eye, (picks, unknowns)), fit.unknowns)
    own = np.zeros((count, 2, count, 2))
    for axis in range(2):
        step = np.zeros(2)
        step[axis] = _STEP
        there = _read(photo, fit, eye, (picks + step, fit.unknowns))
        back = _read(photo, fit, eye, (picks - step, fit.unknowns))
        own[np.arange(count), :, np.arange(count), axis] = (there - back) / (2.0 * _STEP)
    shared, mine = shared.reshape(2 * count, len(fit.unknowns)), own.reshape(2 * count, 2 * count)
    covariance = shared @ fit.covariance @ shared.T + photo.error**2 * (mine @ mine.T)
    covariance += _off_plane(photo, eye, at)
    up = np.tile([1.0, -1.0], count)  # the picture's y is down
    return PhotoPlaces(tuple(photo.picks), at * [1.0, -1.0], covariance * np.outer(up, up))


def _off_plane(photo: Photograph, eye: Eye | None, at: Array) -> Array:
    """What is added (2N, 2N) m² by not knowing how near each point lies, and how far the camera stood."""
    count = len(at)
    out = np.zeros((2 * count, 2 * count))
    if eye is None:
        return out
    reach = (at - eye.foot) / eye.distance
    for number, name in enumerate(photo.picks):
        each = slice(2 * number, 2 * number + 2)
        loose = 0.0 if name in photo.nearer else photo.off_plane
        out[each, each] = loose**2 * np.outer(reach[number], reach[number])
    nearer = np.array([photo.nearer.get(name, 0.0) for name in photo.picks])
    stood = (reach * (nearer / eye.distance)[:, None]).ravel() * eye.error
    return out + np.outer(stood, stood)


def _lens_shift(photo: Photograph, fit: Fit, lens: Lens) -> Array:
    """How far each pick would move, the corners held where they are, if the lens were off by its error."""
    count = len(photo.picks)
    if fit.lens_at is None or not count:
        return np.zeros(count)
    # The part of the unknowns that goes with the lens, by their covariance.
    moved = fit.covariance[:, fit.lens_at] / max(lens.error, 1e-30)
    picks = _picks(photo)
    ahead, behind = (fit.plane_of(picks, fit.unknowns + side * moved)[0] for side in (1.0, -1.0))
    out: Array = 0.5 * np.hypot(*(ahead - behind).T)
    return out


def _whole(fit: Fit) -> Array:
    """The homography without the dimensionless coordinates that it was fitted in."""
    picture = np.array([[fit.half, 0.0, fit.centre[0]], [0.0, fit.half, fit.centre[1]], [0.0, 0.0, 1.0]])
    plane = np.array([[1.0, 0.0, -fit.origin[0]], [0.0, 1.0, -fit.origin[1]], [0.0, 0.0, fit.reach]])
    whole = picture @ np.append(fit.unknowns[:8], 1.0).reshape(3, 3) @ plane
    out: Array = whole / whole[2, 2]
    return out
