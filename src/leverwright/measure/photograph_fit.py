"""The homography of a photographed plane, its lens and their covariance, by least squares.

Unknowns, all near 1 in size: eight of the homography from the plane to the picture; the place
and turn of every further figure in the plane; the scales of figures whose lengths have an
error; one lens coefficient. A straight edge lies where it fits its picks best. Started by the
normalised direct linear transformation, finished by Gauss-Newton on the errors in the picture.

Source: R. Hartley, A. Zisserman, Multiple View Geometry, 2nd ed., algorithms 4.2 and 4.3 and
result 5.10 (covariance), cited from memory. The lens is undone by one even term, from the
picture as seen to the picture that a lens without distortion would make.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.photograph_figures import Figure, PhotoError, Photograph

__all__ = ["LENS_RANGE", "Fit", "fit_plane", "ideal", "mapped", "slopes"]

# One standard deviation of a lens that nobody has measured, in the units of `ideal`: straight edges at the border of
# an unzoomed telephone picture bend by about a hundredth of its half diagonal. Common practice, from memory.
LENS_RANGE = 0.02
_ROUNDS = 15  # consistent picks take five
_GAIN = 1e-8  # of the square sum: figures that contradict each other settle no better
_SETTLED = 1e-8  # standard deviations: what the last step still changes of any miss; rounding makes 1e-12
_LEAST_SHARE = 1e-3  # of a step: below it rounding alone moves the misses
_STEP = 1e-6  # for slopes: the cube root of rounding, near enough
# Below it (of the largest) a direction of the unknowns is not measured at all.
_UNSEEN = 1e-10


@dataclass(frozen=True, slots=True)
class Fit:
    """The solved unknowns and what is needed to read with them.

    unknowns   (Q,)   see the module
    covariance (Q, Q)
    centre     (2,) px and `half` px: the picture's middle and half its diagonal, or those of the picks
    origin     (2,) m and `reach` m: the first figure's middle and size
    lens_at    index of the lens among the unknowns; None where it is not one of them
    lens       k, as fitted or as stated
    misfit     root of the weighted squares over the redundancy; about 1 where all is as stated. None: nothing to spare
    redundancy measured numbers less unknowns
    """

    unknowns: Array
    covariance: Array
    centre: Array
    half: float
    origin: Array
    reach: float
    lens_at: int | None
    lens: float
    misfit: float | None
    redundancy: int

    def lens_of(self, unknowns: Array) -> float:
        """The lens coefficient among `unknowns`, or the fixed one."""
        return self.lens if self.lens_at is None else float(unknowns[self.lens_at])

    def plane_of(self, picture: Array, unknowns: Array) -> tuple[Array, Array]:
        """Plane places (N, 2) m of picture places (N, 2) px, and (N,) 1 at the figure's middle, 0 at the horizon."""
        seen = ideal((picture - self.centre) / self.half, self.lens_of(unknowns))
        back = _inverse(_matrix(unknowns))
        flat, depth = mapped(back, seen)
        middle = ideal(_middle(unknowns), 0.0)
        return self.origin + self.reach * flat, depth / mapped(back, middle)[1]


def _middle(unknowns: Array) -> Array:
    """Where the first figure's middle is in the picture, (1, 2)."""
    return mapped(_matrix(unknowns), np.zeros((1, 2)))[0]


def ideal(places: Array, lens: float) -> Array:
    """What a lens without distortion would show; (…, 2), from the picture's middle in half diagonals.

    ideal = seen * (1 + lens * |seen|²): + where the lens draws straight edges like a barrel.
    """
    out: Array = places * (1.0 + lens * np.sum(places * places, axis=-1))[..., None]
    return out


def mapped(matrix: Array, places: Array) -> tuple[Array, Array]:
    """`places` (N, 2) through a homography (3, 3), and its divisor (N,)."""
    lifted = places @ matrix[:, :2].T + matrix[:, 2]
    return lifted[:, :2] / lifted[:, 2:], lifted[:, 2]


def slopes(function: Callable[[Array], Array], at: Array) -> Array:
    """Slopes (…, Q) of `function` at (Q,) unknowns near 1 in size, by central differences."""
    columns = []
    for index in range(len(at)):
        step = np.zeros(len(at))
        step[index] = _STEP * max(1.0, abs(at[index]))
        columns.append((function(at + step) - function(at - step)) / (2.0 * step[index]))
    return np.stack(columns, axis=-1)


def fit_plane(photo: Photograph) -> Fit:
    """The plane of `photo`; PhotoError where its picks contradict each other or leave it open."""
    problem = _problem(photo)
    unknowns = _settle(problem, _start(problem))
    jacobian = slopes(problem.misses, unknowns)
    misses = problem.misses(unknowns)
    redundancy = len(misses) - len(unknowns) - 2 * len(problem.straight)  # each edge lies where it fits best
    square = float(misses @ misses)
    return Fit(
        unknowns=unknowns,
        covariance=_covariance(jacobian),
        centre=problem.centre,
        half=problem.half,
        origin=problem.origin,
        reach=problem.reach,
        lens_at=problem.lens_at,
        lens=problem.lens_in(unknowns),
        misfit=np.sqrt(square / redundancy) if redundancy - problem.beliefs > 0 else None,
        redundancy=redundancy,
    )


@dataclass(frozen=True, slots=True)
class _Problem:
    """The picks made dimensionless, and the misses of a guess of the unknowns."""

    figures: tuple[Figure, ...]
    straight: tuple[Array, ...]
    weight: float  # 1 / error of a pick
    centre: Array
    half: float
    origin: Array
    reach: float
    stated_lens: float | None
    lens_at: int | None
    scales: tuple[int, ...]  # figures whose lengths have an error

    @property
    def beliefs(self) -> int:
        """Misses that are not of a pick: the lens within its usual range. (Taped lengths are measured.)"""
        return 0 if self.lens_at is None else 1

    @property
    def first_corner(self) -> Array:
        """The origin of the first figure's axes: a length that was taped wrongly moves the rest, not it."""
        return -self.origin / self.reach

    @property
    def first_pose(self) -> int:
        return 8

    @property
    def first_scale(self) -> int:
        return 8 + 3 * (len(self.figures) - 1)

    def lens_in(self, unknowns: Array) -> float:
        return (self.stated_lens or 0.0) if self.lens_at is None else float(unknowns[self.lens_at])

    def misses(self, unknowns: Array) -> Array:
        """Everything measured less what the unknowns say, in standard deviations."""
        lens, matrix = self.lens_in(unknowns), _matrix(unknowns)
        found = []
        for number, figure in enumerate(self.figures):
            shown = mapped(matrix, self._in_plane(number, unknowns))[0]
            found.append((self.weight * (ideal(figure.picture, lens) - shown)).ravel())
        for place, number in enumerate(self.scales):
            at = self.first_scale + 2 * place
            spans = np.ptp(self.figures[number].plane, axis=0)
            found.append((unknowns[at : at + 2] - 1.0) * spans / self.figures[number].error)
        if self.lens_at is not None:
            found.append(unknowns[self.lens_at : self.lens_at + 1] / LENS_RANGE)
        found += [self.weight * _off_line(ideal(edge, lens)) for edge in self.straight]
        return np.concatenate(found)

    def _in_plane(self, number: int, unknowns: Array) -> Array:
        """Points of a figure in the plane's axes; the scale stretches its own axes, then it is turned and moved."""
        own = self.figures[number].plane
        if number in self.scales:
            at = self.first_scale + 2 * self.scales.index(number)
            corner = self.first_corner if number == 0 else np.zeros(2)
            own = corner + (own - corner) * unknowns[at : at + 2]
        if number == 0:
            return own
        turn, *move = unknowns[self.first_pose + 3 * (number - 1) :][:3]
        turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
        out: Array = own @ turned.T + np.array(move)
        return out


def _off_line(places: Array) -> Array:
    """How far (M,) each of the places (M, 2) lies off the straight line that fits them best."""
    from_middle = places - places.mean(axis=0)
    xx, xy, yy = (
        float(np.sum(a * b)) for a, b in ((from_middle.T[0],) * 2, from_middle.T, (from_middle.T[1],) * 2)
    )
    along = 0.5 * np.arctan2(2.0 * xy, xx - yy)
    out: Array = from_middle @ np.array([-np.sin(along), np.cos(along)])
    return out


def _problem(photo: Photograph) -> _Problem:
    everything = np.concatenate([figure.picture for figure in photo.figures])
    if photo.size is None:
        centre = everything.mean(axis=0)
        half = float(np.abs(everything - centre).max())
    else:
        centre = 0.5 * np.array(photo.size)
        half = float(np.hypot(*centre))
    origin = 0.5 * (photo.figures[0].plane.min(axis=0) + photo.figures[0].plane.max(axis=0))
    reach = float(np.ptp(photo.figures[0].plane, axis=0).max())
    scales = tuple(number for number, figure in enumerate(photo.figures) if figure.error > 0.0)
    looks = photo.size is not None and photo.lens is None
    figures = tuple(
        Figure(
            (figure.picture - centre) / half,
            (figure.plane - (origin if number == 0 else figure.plane.mean(axis=0))) / reach,
            figure.error / reach,
        )
        for number, figure in enumerate(photo.figures)
    )
    return _Problem(
        figures=figures,
        straight=tuple((np.asarray(edge) - centre) / half for edge in photo.straight) if looks else (),
        weight=half / photo.error,
        centre=centre,
        half=half,
        origin=origin,
        reach=reach,
        stated_lens=photo.lens,
        lens_at=8 + 3 * (len(figures) - 1) + 2 * len(scales) if looks else None,
        scales=scales,
    )


def _matrix(unknowns: Array) -> Array:
    """The homography; its last entry is 1, for the first figure's middle lies in front of the camera."""
    return np.append(unknowns[:8], 1.0).reshape(3, 3)


def _direct(plane: Array, picture: Array) -> Array:
    """A homography (3, 3) by the direct linear transformation; both sides are normalised already."""
    rows = []
    for (x, y), (u, v) in zip(plane, picture, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y, -u], [0, 0, 0, x, y, 1, -v * x, -v * y, -v]]
    _, sizes, turned = np.linalg.svd(np.array(rows, dtype=float))
    if sizes[7] < _UNSEEN * sizes[0] or abs(turned[-1, 8]) < _UNSEEN:
        raise _unclear()
    out: Array = (turned[-1] / turned[-1, 8]).reshape(3, 3)
    return out


def _start(problem: _Problem) -> Array:
    lens = problem.stated_lens or 0.0
    first = problem.figures[0]
    matrix = _direct(first.plane, ideal(first.picture, lens))
    back = _inverse(matrix)
    poses: list[float] = []
    for figure in problem.figures[1:]:
        seen, depth = mapped(back, ideal(figure.picture, lens))
        if np.any(depth * back[2, 2] <= 0.0):
            raise _unclear()
        middle = seen.mean(axis=0)
        own, there = figure.plane - figure.plane.mean(axis=0), seen - middle
        turn = np.arctan2(np.sum(own[:, 0] * there[:, 1] - own[:, 1] * there[:, 0]), np.sum(own * there))
        poses += [float(turn), *middle]
    between = [1.0] * (2 * len(problem.scales)) + [0.0] * problem.beliefs
    return np.array([*matrix.ravel()[:8], *poses, *between])


def _settle(problem: _Problem, unknowns: Array) -> Array:
    """Gauss-Newton; a step that makes it worse is halved."""
    misses = problem.misses(unknowns)
    for _ in range(_ROUNDS):
        jacobian = slopes(problem.misses, unknowns)
        step = -np.linalg.lstsq(jacobian, misses, rcond=None)[0]
        share, tried = 1.0, problem.misses(unknowns + step)
        while tried @ tried > misses @ misses * (1.0 + 1e-12) + 1e-20 and share > _LEAST_SHARE:
            share *= 0.5
            tried = problem.misses(unknowns + share * step)
        gained = misses @ misses - tried @ tried
        unknowns, misses = unknowns + share * step, tried
        still = np.abs(jacobian @ step).max() < _SETTLED
        if still or share <= _LEAST_SHARE or gained < _GAIN * (1.0 + misses @ misses):
            return unknowns
    raise _unclear()


def _covariance(jacobian: Array) -> Array:
    sizes = np.linalg.svd(jacobian, compute_uv=False)
    if sizes[-1] < _UNSEEN * sizes[0]:
        raise _unclear()
    out: Array = _inverse(jacobian.T @ jacobian)
    return out


def _inverse(matrix: Array) -> Array:
    return np.linalg.inv(matrix).astype(np.float64)


def _unclear() -> PhotoError:
    return PhotoError(
        "corners",
        "corners that fit no flat rectangle",
        "the four corners of one, clockwise",
        "pick them again",
    )
