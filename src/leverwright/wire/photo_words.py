"""A file's photographs → what the page says of them."""

from __future__ import annotations

import numpy as np

from leverwright.assemble.pictures import Pictures, photograph_of, pictures_of, seen_from, view_of
from leverwright.geometry import Array
from leverwright.measure.photograph import PhotoPlaces, Rectified, rectify
from leverwright.measure.photograph_camera import reads_long
from leverwright.measure.photograph_figures import PhotoError
from leverwright.project import Sketch
from leverwright.project.measuring import Photo
from leverwright.quantity import in_inches, say, to_surface
from leverwright.wire.photo import PhotoReading, SaidDistance, SaidPhoto
from leverwright.wire.strict import number

__all__ = ["photo_reading"]

_SIGMAS = 2.0
# m. A lens that may shift a pick by less than this is not worth a sentence beside a tape.
_SHIFT = 0.001
# m. From nearer, what stands out of the plane reads long by more than a tape is off. Common practice.
_FAR_ENOUGH = 2.5
_NEARER = 0.05  # m, the case that the sentence reckons
# Standard errors; rectangles that miss each other by more were picked or measured wrongly.
_MISFIT = 3.0
# m. A place looser than this at 95 % checks no tape.
_LOOSE = 0.004
_AXES = {"side": (0, 2, 1), "front": (1, 2, 0)}


def photo_reading(sketch: Sketch) -> PhotoReading:
    """Every photograph of a draft, read or refused; none of its faults elsewhere matters."""
    pictures = pictures_of(sketch)
    photos = {}
    for name, photo in sketch.photos.items():
        refused = pictures.refused.get(name)
        photos[name] = _refused(refused) if refused else _said(sketch, photo, pictures)
    return PhotoReading(photos=photos)


def _refused(error: PhotoError) -> SaidPhoto:
    sentence = f"Nothing is taken from this photograph: {error.found}. Needed: {error.allowed}; {error.do}."
    return SaidPhoto(sentence, in_inches(sentence), True, [], [], [], {}, [])


def _said(sketch: Sketch, photo: Photo, pictures: Pictures) -> SaidPhoto:
    plane, left_out = pictures.read[photo.name], pictures.left_out[photo.name]
    distances = _distances(plane.places)
    sentence = _verdict(plane.places, distances)
    notes = [
        *_left_out_notes(left_out),
        *_fit_notes(plane),
        *_lens_notes(photo, plane),
        *_camera_notes(plane),
    ]
    return SaidPhoto(
        sentence=sentence,
        sentence_inch=in_inches(sentence),
        refused=False,
        notes=notes,
        notes_inch=[in_inches(note) for note in notes],
        distances=distances,
        rough=_rough(sketch, photo, rectify(photograph_of(sketch, photo))),
        sketched=[name for name in photo.picks if name in sketch.points and sketch.points[name].sketched],
    )


def _verdict(places: PhotoPlaces, distances: list[SaidDistance]) -> str:
    if not places.names:
        return "The rectangle is clear. Now pick points that lie in its plane."
    if not distances:
        return "One point is picked. Pick a second: the way between two can be checked with the tape."
    count = len(places.names)
    loose = _SIGMAS * float(np.sqrt(np.diag(places.covariance).max()))
    first = distances[-1]
    checked = f"{first.ends[0]} to {first.ends[1]} is {first.said}: check that with the tape."
    good = "good for a first place" if loose > _LOOSE else "good for a first place, and for a check of tapes"
    return f"{count} points are placed within {say(loose, 'length')} either way, {good}. {checked}"


def _distances(places: PhotoPlaces) -> list[SaidDistance]:
    """From the first point to the others, the nearest first."""
    found = []
    for k in range(1, len(places.names)):
        way = places.at[k] - places.at[0]
        length = float(np.hypot(*way))
        if length <= 0.0:
            continue
        towards = way / length
        slope = np.zeros(2 * len(places.names))
        slope[:2], slope[2 * k : 2 * k + 2] = -towards, towards
        error = float(np.sqrt(slope @ places.covariance @ slope))
        ends = places.names[0], places.names[k]
        metric, inch = (say(length, "length", error=error, system=system) for system in ("metric", "inch"))
        found.append((length, SaidDistance(ends, metric, inch)))
    return [said for _, said in sorted(found, key=lambda each: each[0])]


def _left_out_notes(left_out: tuple[str, ...]) -> list[str]:
    if not left_out:
        return []
    names = ", ".join(left_out)
    note = (
        f"Not used: {names}. By coordinates of its own it lies off the plane of the rectangle, and the picture does "
        "not tell where the camera stood: tape that, or correct the plane."
    )
    return [note]


def _fit_notes(plane: Rectified) -> list[str]:
    if plane.misfit is None or plane.misfit <= _MISFIT:
        return []
    note = (
        f"The rectangles and edges miss each other by {plane.misfit:.0f} times what the picks allow: pick their "
        "corners again, check their lengths, and see that they lie in one plane."
    )
    return [note]


def _lens_notes(photo: Photo, plane: Rectified) -> list[str]:
    lens = plane.lens
    if lens.source == "stated":
        return []
    if lens.source == "told by the picture":
        return [
            f"The lens bends the picture by {100 * abs(lens.k):.1f} % at its corners, which is taken out."
        ]
    if lens.source != "unknown":
        return [
            "How the lens bends the picture is not known and not reckoned: the picture's size is not stated."
        ]
    shift = _SIGMAS * float(max(plane.lens_shift, default=0.0))
    if shift < _SHIFT:
        return []
    better = (
        "lay a second rectangle in the plane"
        if photo.second is None
        else "lay the second nearer to the border"
    )
    note = (
        "How much this lens bends the picture, most of all near its border, is not known: that alone may shift a pick "
        f"by {say(shift, 'length')}. Stand farther away, or {better}."
    )
    return [note]


def _camera_notes(plane: Rectified) -> list[str]:
    eye = plane.eye
    if eye is None:
        note = (
            "The picture does not tell how far away the camera stood: tape it from lens to rectangle. At 3 m, what "
            f"lies 50 mm nearer than the rectangle reads {100 * reads_long(_NEARER, 3.0):.1f} % long."
        )
        return [note]
    where = "" if eye.taped else " by the picture"
    stood = say(eye.distance, "length", error=None if eye.taped else eye.error)
    long = 100 * reads_long(_NEARER, max(eye.distance, 2 * _NEARER))
    near = " Three metres are better." if eye.distance < _FAR_ENOUGH else ""
    nearer = f"what lies 50 mm nearer than the rectangle reads {long:.1f} % long.{near}"
    return [f"The camera stood {stood} away{where}: {nearer}"]


def _rough(sketch: Sketch, photo: Photo, plane: Rectified) -> dict[str, list[float]]:
    """About where each picked point is, mm in the file's axes, laid on those whose places are known."""
    names, at = plane.places.names, plane.places.at
    if not names:
        return {}
    first, second, across = _AXES[view_of(photo)]
    facing = seen_from(sketch, photo, plane)
    own = at * [facing, 1.0]  # forward or left, and up
    known = [k for k, name in enumerate(names) if name in sketch.points and not sketch.points[name].sketched]
    there = np.array([sketch.points[names[k]].at for k in known]).reshape(-1, 3)[:, [first, second]]
    laid = _laid(own, own[known], there) if known else own + np.array([0.0, photo.rectangle[1]])
    rough = {}
    for k, name in enumerate(names):
        place = [0.0, 0.0, 0.0]
        place[first], place[second], place[across] = float(laid[k][0]), float(laid[k][1]), photo.depth
        kept = [place[axis] for axis in range(3) if sketch.plane is None or axis != across]
        rough[name] = [round(number(to_surface(value, "length")), 1) for value in kept]
    return rough


def _laid(everything: Array, own: Array, there: Array) -> Array:
    """`everything` turned and shifted so that `own` lies on `there` as well as it can; one point only shifts."""
    a, b = own - own.mean(axis=0), there - there.mean(axis=0)
    turn = np.arctan2(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]), np.sum(a * b)) if len(own) > 1 else 0.0
    c, s = np.cos(turn), np.sin(turn)
    out: Array = (everything - own.mean(axis=0)) @ np.array([[c, s], [-s, c]]) + there.mean(axis=0)
    return out
