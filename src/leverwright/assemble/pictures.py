"""Photographs of a file → what their picks say of places, as a network of tapes takes it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.observations import Picked, Term, Weighted
from leverwright.measure.photograph import Rectified, rectify
from leverwright.measure.photograph_figures import PhotoError, Photograph, View, rectangle
from leverwright.project import Sketch
from leverwright.project.measuring import Photo

__all__ = [
    "OFF_PLANE",
    "PICK_ERROR",
    "Pictures",
    "photograph_of",
    "picture_rows",
    "pictures_of",
    "seen_from",
    "view_of",
]

# px. One standard deviation of a pick with the loupe where the file states none. Common practice.
PICK_ERROR = 2.0
# m. How far a hole's rim or a bolt's head lies off the plane that it is said to be in. Common practice.
OFF_PLANE = 0.005
# px. A pick that claims to be exact is still one of pixels.
_FINEST = 0.1
# Of the square sum of misfit: which way round the picture is seen is told when the other way fits this much worse.
_TOLD = 4.0
# Axes that a picture spans, and the one across it.
_AXES: Mapping[View, tuple[int, int, int]] = {"side": (0, 2, 1), "front": (1, 2, 0)}


@dataclass(frozen=True, slots=True)
class Pictures:
    """Every photograph of a file.

    read      what each gives
    refused   why nothing is taken from the others
    left_out  picks that lie off the plane by coordinates of their own, in pictures that do not tell where the
              camera stood: nothing says what that does to them
    """

    read: Mapping[str, Rectified]
    refused: Mapping[str, PhotoError]
    left_out: Mapping[str, tuple[str, ...]]


def view_of(photo: Photo) -> View:
    """The view as the numerics name it."""
    return "front" if photo.view == "front" else "side"


def pictures_of(project: Sketch) -> Pictures:
    """All photographs, solved one by one."""
    read: dict[str, Rectified] = {}
    refused: dict[str, PhotoError] = {}
    left_out: dict[str, tuple[str, ...]] = {}
    for name, photo in project.photos.items():
        try:
            read[name], left_out[name] = _read(project, photo)
        except PhotoError as error:
            refused[name] = error
    return Pictures(MappingProxyType(read), MappingProxyType(refused), MappingProxyType(left_out))


def photograph_of(project: Sketch, photo: Photo) -> Photograph:
    """A photograph of the file as the numerics take it; its rectangles were taped as well as everything else was."""
    taped = project.tape_error or 0.0
    figures = [rectangle(np.array(photo.corners), photo.rectangle, taped)]
    if photo.second is not None:
        corners, lengths = photo.second
        figures.append(rectangle(np.array(corners), lengths, taped))
    return Photograph(
        figures=tuple(figures),
        picks={name: photo.picks[name] for name in sorted(photo.picks)},
        error=max(PICK_ERROR if photo.error is None else photo.error, _FINEST),
        size=photo.size,
        camera=photo.camera,
        lens=photo.lens,
        straight=tuple(np.array(edge) for edge in photo.straight),
        off_plane=OFF_PLANE,
    )


def seen_from(project: Sketch, photo: Photo, plane: Rectified) -> float:
    """+1 or -1: whether the picture's right is forward (side) or left (front), by the places of what was picked.

    Where they do not tell: a side is seen from outside, a front from the front.
    """
    first, second, _ = _AXES[view_of(photo)]
    fallback = 1.0 if view_of(photo) == "front" else (-1.0 if photo.depth >= 0.0 else 1.0)
    known = [k for k, name in enumerate(plane.places.names) if name in project.points]
    if len(known) < 3:
        return fallback
    there = np.array([project.points[plane.places.names[k]].at for k in known])[:, [first, second]]
    at = plane.places.at[known]
    misfits = {facing: _misfit(there * [facing, 1.0], at) for facing in (1.0, -1.0)}
    if misfits[-fallback] * _TOLD < misfits[fallback]:
        return -fallback
    return fallback


def _misfit(here: Array, at: Array) -> float:
    """Square sum that is left after the best turn and shift, m²."""
    a, b = here - here.mean(axis=0), at - at.mean(axis=0)
    turned = np.hypot(np.sum(a * b), np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]))
    return float(max(np.sum(a * a) + np.sum(b * b) - 2.0 * turned, 0.0))


def _read(project: Sketch, photo: Photo) -> tuple[Rectified, tuple[str, ...]]:
    whole = photograph_of(project, photo)
    plain = rectify(whole)
    nearer = dict(_nearer(project, photo, seen_from(project, photo, plain)))
    if not nearer:
        return plain, ()
    if plain.eye is not None:
        return rectify(replace(whole, nearer=nearer)), ()
    inside = {name: pick for name, pick in whole.picks.items() if name not in nearer}
    return rectify(replace(whole, picks=inside)), tuple(sorted(nearer))


def _nearer(project: Sketch, photo: Photo, facing: float) -> Iterable[tuple[str, float]]:
    """By how much points of known place lie nearer to the camera than the plane."""
    across = _AXES[view_of(photo)][2]
    if project.plane is not None:
        return
    # The right of a side seen from the left is backward (-1); the right of a front seen from the front is left (+1).
    towards = -facing if view_of(photo) == "side" else facing
    for name in photo.picks:
        point = project.points.get(name)
        if point is None:  # a draft may name what is not there yet
            continue
        off = towards * (point.at[across] - photo.depth)
        if not point.sketched and abs(off) > OFF_PLANE:
            yield name, off


def picture_rows(
    project: Sketch, pictures: Pictures, at: Mapping[str, int]
) -> tuple[tuple[Picked, ...], tuple[Weighted, ...]]:
    """What the pictures say to a network whose points have indices `at`: places in the plane, and how deep it is."""
    picked, depths = [], []
    for name in sorted(pictures.read):
        photo, places = project.photos[name], pictures.read[name].places
        if not places.names:
            continue
        first, second, across = _AXES[view_of(photo)]
        points = tuple(at[point] for point in places.names)
        picked.append(Picked(name, points, places.at, places.covariance, (first, second)))
        if project.plane is not None:
            continue
        depths += [
            Weighted(name, "depth", (Term(at[point], across),), photo.depth, OFF_PLANE)
            for point in places.names
            if project.points[point].sketched
        ]
    return tuple(picked), tuple(depths)
