"""What a photograph of a plane was picked for, and the picks that cannot be meant.

Picture places are in px, x to the right, y down, as every picture viewer counts. Plane
places are in m in the rectangle's own axes: the first to the right in the picture, the
second down.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from leverwright.geometry import Array

__all__ = ["Figure", "PhotoError", "Photograph", "View", "check_photograph", "rectangle"]

View = Literal["side", "front"]

# px. A side of a figure shorter than this has corners that no finger tells apart well enough.
_SHORTEST_SIDE = 20.0
# Share of a figure's own size by which a corner must stand off the line of its neighbours: below it three corners
# are in line, and the plane is seen edge on.
_OFF_LINE = 0.02
# px. No picture is larger; a number beyond it is a slip.
_FARTHEST = 100_000.0
# m. A rectangle between a matchbox and a house; beyond it a unit was mistaken.
_SIZES = (0.01, 30.0)


class PhotoError(ValueError):
    """A photograph that gives no places: what was found, what is allowed, what to do."""

    def __init__(self, key: str, found: str, allowed: str, do: str) -> None:
        super().__init__(f"{key}: {found}; allowed: {allowed}; {do}")
        self.key, self.found, self.allowed, self.do = key, found, allowed, do


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of known size, lying in the plane, as it was picked.

    picture  (K, 2) px
    plane    (K, 2) m, the same points in the figure's own axes: right, down
    error    m, one standard deviation of its lengths as taped; 0: exact
    """

    picture: Array
    plane: Array
    error: float = 0.0


@dataclass(frozen=True, slots=True)
class Photograph:
    """Everything that was picked in one picture; all of it lies in one plane of the vehicle.

    figures   the first sets the axes; where the others lie in the plane need not be known
    picks     px, by the name of the point
    error     px, one standard deviation of each coordinate of a pick or a corner
    size      px, width and height of the picture; None: neither lens nor the camera's place can be told
    camera    m, distance of the camera from the plane as taped; None: told from the picture where that can be
    lens      k of `undistort` where it is known; None: told from the picture, else unknown within its usual range
    straight  each (M, 2) px: picks along an edge that is straight in truth
    nearer    m, by name: so much nearer to the camera than the plane does this point lie
    off_plane m, one standard deviation of that for every point of which it is not known; 0: all lie in the plane
    """

    figures: tuple[Figure, ...]
    picks: Mapping[str, tuple[float, float]]
    error: float
    size: tuple[float, float] | None = None
    camera: float | None = None
    lens: float | None = None
    straight: tuple[Array, ...] = ()
    nearer: Mapping[str, float] = field(default_factory=dict)
    off_plane: float = 0.0


def rectangle(corners: Array, lengths: tuple[float, float], error: float = 0.0) -> Figure:
    """A rectangle of two `lengths` [m] by its four `corners` (4, 2) px: clockwise from its first one.

    The first length is that of the side from the first to the second corner.
    """
    wide, high = lengths
    plane = np.array([[0.0, 0.0], [wide, 0.0], [wide, high], [0.0, high]])
    return Figure(np.asarray(corners, dtype=float), plane, error)


def check_photograph(photo: Photograph) -> None:
    """Raise PhotoError for picks that cannot be meant: too few, in line, crossed, tiny, not finite."""
    if not photo.figures:
        raise PhotoError("corners", "no known rectangle", "four corners of one", "pick its corners")
    for figure in photo.figures:
        _check_figure(figure)
    for edge in photo.straight:
        if len(edge) < 3 or not _sane(edge):
            raise PhotoError(
                "straight", "an edge of fewer than three picks", "three or more", "pick more of it"
            )
    for name, pick in photo.picks.items():
        if not _sane(np.asarray(pick)):
            raise PhotoError(
                f"picks.{name}", "a pick outside any picture", "px of the picture", "pick it again"
            )
    if not 0.0 < photo.error <= 100.0:
        raise PhotoError("error", "an error of picking that is not over 0", "0.1 to 100 px", "give about 2")
    if photo.camera is not None and not 0.1 <= photo.camera <= 200.0:
        raise PhotoError(
            "camera", "an impossible distance", "0.1 to 200 m", "tape from the lens to the plane"
        )
    if photo.size is not None and not all(1.0 <= side <= _FARTHEST for side in photo.size):
        raise PhotoError("size", "an impossible size", "width and height in px", "take the picture's own")


def _sane(places: Array) -> bool:
    return bool(np.all(np.isfinite(places)) and np.all(np.abs(places) <= _FARTHEST))


def _check_figure(figure: Figure) -> None:
    if len(figure.picture) < 4 or figure.picture.shape != figure.plane.shape:
        raise PhotoError("corners", "fewer than four corners", "four of a known rectangle", "pick all four")
    if not (_sane(figure.picture) and np.all(np.isfinite(figure.plane))):
        raise PhotoError("corners", "a corner outside any picture", "px of the picture", "pick it again")
    spans = np.ptp(figure.plane, axis=0)
    if not all(_SIZES[0] <= span <= _SIZES[1] for span in spans):
        raise PhotoError("rectangle", "an impossible length", "10 mm to 30 m", "check the unit")
    if len(figure.picture) == 4:
        _check_corners(figure.picture)


def _check_corners(corners: Array) -> None:
    """The picture of a rectangle in front of a camera is convex and goes round as the rectangle does."""
    ahead = np.roll(corners, -1, axis=0) - corners
    sides = np.hypot(ahead[:, 0], ahead[:, 1])
    if sides.min() < _SHORTEST_SIDE:
        raise PhotoError(
            "corners",
            f"two corners {sides.min():.0f} px apart",
            f"{_SHORTEST_SIDE:.0f} px or more",
            "use a larger rectangle or a larger picture of it",
        )
    before = np.roll(ahead, 1, axis=0)
    turn = before[:, 0] * ahead[:, 1] - before[:, 1] * ahead[:, 0]  # + turns clockwise, y being down
    chord = np.roll(corners, -1, axis=0) - np.roll(corners, 1, axis=0)
    off = turn / np.hypot(chord[:, 0], chord[:, 1]).clip(
        min=1e-9
    )  # px of each corner from its neighbours' line
    if np.sum(turn > 0.0) == 2:
        raise PhotoError(
            "corners",
            "sides that cross each other",
            "corners in turn, clockwise",
            "pick them round the rectangle",
        )
    if np.abs(off).min() < _OFF_LINE * sides.max():
        raise PhotoError(
            "corners",
            "three corners in one line",
            "a rectangle seen from its front",
            "stand square to it, or pick the corners again",
        )
    if np.all(turn < 0.0):
        raise PhotoError(
            "corners",
            "corners that go round anticlockwise",
            "clockwise from the top left",
            "pick them in that order",
        )
    if np.any(turn < 0.0):
        raise PhotoError(
            "corners",
            "a corner inside the other three",
            "four corners of a rectangle",
            "pick that corner again",
        )
