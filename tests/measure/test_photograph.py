"""Photographs of a plane, taken by cameras that we know."""

import time
from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np
import pytest
from scipy.optimize import brentq, least_squares

from leverwright.measure.photograph import rectify
from leverwright.measure.photograph_camera import reads_long
from leverwright.measure.photograph_figures import Figure, PhotoError, Photograph, rectangle
from leverwright.measure.photograph_fit import LENS_RANGE

SIZE = (4000.0, 3000.0)
HALF = float(np.hypot(*SIZE)) / 2.0


@dataclass
class Camera:
    """A pinhole with a lens, `away` m from the plane, turned by (pan, tilt, roll) rad; it shares no line with ours."""

    away: float = 3.0
    pan: float = 0.25
    tilt: float = -0.15
    roll: float = 0.05
    focal: float = 1.3  # half diagonals
    lens: float = 0.0
    foot: tuple[float, float] = (0.3, 0.2)

    def sees(self, places, nearer=0.0):
        """Picture places (N, 2) px of plane places (N, 2) m, right and down, `nearer` m in front of the plane."""
        places = np.atleast_2d(np.asarray(places, dtype=float))
        to = np.column_stack([places - self.foot, self.away - nearer * np.ones(len(places))])
        to = to @ (self._about(1, self.pan) @ self._about(0, self.tilt) @ self._about(2, self.roll))
        pin = self.focal * to[:, :2] / to[:, 2:]
        return np.array([SIZE]) / 2.0 + HALF * np.array([self._bent(each) for each in pin])

    @staticmethod
    def _about(axis, angle):
        a, b = [i for i in range(3) if i != axis]
        out = np.eye(3)
        out[a, a] = out[b, b] = np.cos(angle)
        out[a, b], out[b, a] = -np.sin(angle), np.sin(angle)
        return out

    def _bent(self, pin):
        """The seen place whose radius times (1 + k r²) is that of the pinhole."""
        radius = float(np.hypot(*pin))
        seen = brentq(lambda r: r * (1.0 + self.lens * r * r) - radius, 0.0, 2.0 * radius + 1e-9, xtol=1e-15)
        return pin if radius == 0.0 else pin * (seen / radius)


BOARD = np.array([[0.0, 0.0], [0.6, 0.0], [0.6, 0.4], [0.0, 0.4]])
PLACES = np.array([[0.1, 0.1], [0.7, 0.35], [-0.2, 0.5], [0.45, -0.15]])
NAMES = ("hub", "pivot", "tab", "eye")


def photographed(by, more=(), places=PLACES, **stated):
    corners = by.sees(BOARD)
    picks = dict(zip(NAMES, map(tuple, by.sees(places)), strict=False))
    return Photograph((rectangle(corners, (0.6, 0.4)), *more), picks, 1.0, **{"size": SIZE, **stated})


def upright(places):
    return np.asarray(places) * [1.0, -1.0]


@pytest.mark.parametrize("pan", [-0.5, 0.0, 0.6])
@pytest.mark.parametrize("roll", [0.0, 3.0])
def test_a_camera_without_distortion_gives_the_places_back(pan, roll):
    camera = Camera(pan=pan, roll=roll)
    assert rectify(photographed(camera, lens=0.0)).places.at == pytest.approx(
        upright(PLACES), abs=1e-9
    )  # rounding


def test_a_stated_lens_is_undone():
    camera = Camera(lens=0.04, away=1.5)
    assert rectify(photographed(camera, lens=0.04)).places.at == pytest.approx(upright(PLACES), abs=1e-9)
    assert np.abs(rectify(photographed(camera, lens=0.0)).places.at - upright(PLACES)).max() > 1e-3


def square_elsewhere(camera, at=(0.9, 0.1), turn=0.3, side=0.3):
    own = np.array([[0.0, 0.0], [side, 0.0], [side, side], [0.0, side]])
    turned = own @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]]) + at
    return rectangle(camera.sees(turned), (side, side))


def test_two_squares_laid_anywhere_tell_the_lens_and_check_each_other():
    camera = Camera(lens=0.03, away=1.2, foot=(0.5, 0.2))
    squares = (square_elsewhere(camera), square_elsewhere(camera, (-0.35, 0.3), -0.2))
    photo = replace(photographed(camera, squares), error=0.3)
    plane = rectify(photo)
    assert plane.lens.source == "told by the picture"
    assert plane.lens.k == pytest.approx(0.03, abs=2 * plane.lens.error)
    # What pulls the lens towards none is its usual range; the picture is exact otherwise.
    assert plane.places.at == pytest.approx(upright(PLACES), abs=1.5e-3)
    assert plane.misfit == pytest.approx(0.0, abs=0.6)
    spoilt = replace(squares[0], picture=squares[0].picture + 40.0 * np.eye(4, 2))
    misfit = rectify(replace(photo, figures=(photo.figures[0], spoilt))).misfit
    assert misfit is not None
    assert misfit > 5.0


def test_a_grid_of_known_points_is_solved_as_scipy_solves_it():
    camera, rng = Camera(), np.random.default_rng(5)
    grid = np.array([[x, y] for x in (0.0, 0.3, 0.6) for y in (0.0, 0.2, 0.4)])
    seen = camera.sees(grid) + rng.normal(0.0, 1.0, (9, 2))

    def misses(h):
        lifted = np.column_stack([grid, np.ones(9)]) @ np.append(h, 1.0).reshape(3, 3).T
        return (lifted[:, :2] / lifted[:, 2:] - seen).ravel()

    start = [4000.0, 0.0, 1000.0, 0.0, 4000.0, 1000.0, 0.0, 0.0]
    scale = [1e3, 1e3, 1e3, 1e3, 1e3, 1e3, 0.1, 0.1]
    theirs = least_squares(misses, start, x_scale=scale, xtol=1e-15, ftol=1e-15, gtol=1e-12)
    photo = Photograph(
        (Figure(seen, grid),), {"hub": tuple(camera.sees([[0.2, 0.1]])[0])}, 1.0, SIZE, lens=0.0
    )
    plane = rectify(photo)
    assert plane.homography == pytest.approx(np.append(theirs.x, 1.0).reshape(3, 3), rel=1e-5, abs=1e-6)
    assert plane.misfit == pytest.approx(np.sqrt(2.0 * theirs.cost / 10.0), rel=1e-6)


def test_straight_edges_tell_the_lens():
    camera = Camera(lens=0.03, away=2.0, foot=(0.3, 0.2))
    runs = np.linspace(0.0, 1.0, 9)[:, None]
    ends = [((-0.9, -0.6), (1.5, -0.62)), ((-0.9, 1.0), (1.5, 1.02)), ((-0.8, -0.6), (-0.82, 1.0))]
    edges = tuple(camera.sees(np.array(a) * (1 - runs) + np.array(b) * runs) for a, b in ends)
    plane = rectify(photographed(camera, straight=edges))
    assert plane.lens.source == "told by the picture"
    assert plane.lens.k == pytest.approx(0.03, abs=2 * plane.lens.error + 1e-3)


def test_a_lens_that_nothing_tells_is_said_to_be_unknown_and_widens_the_places():
    plane = rectify(photographed(Camera(away=1.0, foot=(0.3, 0.2))))
    sure = rectify(photographed(Camera(away=1.0, foot=(0.3, 0.2)), lens=0.0))
    assert plane.lens.source == "unknown"
    assert plane.lens.error == pytest.approx(LENS_RANGE, rel=1e-3)
    assert plane.lens_shift.max() > 1e-3  # the corners fill the frame
    assert np.all(np.diag(plane.places.covariance) >= np.diag(sure.places.covariance) - 1e-15)
    unsized = rectify(replace(photographed(Camera()), size=None))
    assert unsized.lens.source.startswith("unknown, as")


@pytest.mark.parametrize("case", ["corners", "lens", "lengths", "two", "tilted"])
def test_the_stated_errors_hold_the_truth(case):
    """Mahalanobis distances of 200 spoilt photographs: their mean is the number of coordinates, 8 ± 4 σ."""
    rng = np.random.default_rng(17)
    distances = []
    for _ in range(200):
        lens = rng.normal(0.0, LENS_RANGE) if case in ("lens", "two") else 0.0
        camera = Camera(lens=lens, away=2.0, pan=0.6 if case == "tilted" else 0.2)
        more = (square_elsewhere(camera),) if case == "two" else ()
        photo = photographed(camera, more, lens=None if case in ("lens", "two") else 0.0)
        lengths = rng.normal([0.6, 0.4], 0.002) if case == "lengths" else np.array([0.6, 0.4])
        first = rectangle(photo.figures[0].picture, tuple(lengths), 0.002 if case == "lengths" else 0.0)
        figures = tuple(
            replace(each, picture=each.picture + rng.normal(0.0, 1.0, (4, 2)))
            for each in (first, *photo.figures[1:])
        )
        picks = {name: tuple(np.array(at) + rng.normal(0.0, 1.0, 2)) for name, at in photo.picks.items()}
        places = rectify(replace(photo, figures=figures, picks=picks)).places
        # The truth is held in the axes of the rectangle as it really lies.
        off = (places.at - upright(PLACES)).ravel()
        distances.append(off @ np.linalg.solve(places.covariance, off))
    expected, spread = 8.0, np.sqrt(2.0 * 8.0 / 200)
    assert np.mean(distances) == pytest.approx(expected, abs=4.0 * spread)


def test_corner_errors_are_shared_between_picks_that_lie_side_by_side():
    close = np.array([[0.30, 0.20], [0.31, 0.20]])
    cov = rectify(photographed(Camera(), places=close, lens=0.0)).places.covariance
    alone = np.sqrt(cov[0, 0] * cov[2, 2])
    assert 0.1 < cov[0, 2] / alone < 0.9


@pytest.mark.parametrize("pan", [0.3, 0.6])
def test_a_slanting_picture_tells_where_the_camera_stood(pan):
    camera = Camera(pan=pan, tilt=-0.25, away=2.5)
    eye = rectify(replace(photographed(camera, lens=0.0), error=0.5)).eye
    assert not eye.taped
    assert eye.distance == pytest.approx(2.5, abs=1e-6)
    assert eye.foot == pytest.approx(camera.foot, abs=1e-6)
    assert 0.0 < eye.error < 0.5


def test_a_picture_from_square_on_does_not_tell_it_and_a_tape_does():
    camera = Camera(pan=0.0, tilt=0.0, roll=0.0)
    assert rectify(photographed(camera, lens=0.0)).eye is None
    eye = rectify(photographed(camera, lens=0.0, camera=3.0)).eye
    assert eye.taped
    assert eye.foot == pytest.approx(camera.foot, abs=1e-6)


def test_fifty_millimetres_nearer_at_three_metres_reads_1_7_per_cent_long():
    assert reads_long(0.05, 3.0) == pytest.approx(0.017, abs=5e-4)  # JOURNEY 35: similar triangles
    camera = Camera(pan=0.0, tilt=0.0, roll=0.0)
    bar = np.array([[0.1, 0.1], [0.5, 0.1]])
    picks = dict(zip(NAMES, map(tuple, camera.sees(bar, nearer=0.05)), strict=False))
    at = rectify(replace(photographed(camera, lens=0.0), picks=picks)).places.at
    assert np.hypot(*(at[1] - at[0])) / 0.4 - 1.0 == pytest.approx(reads_long(0.05, 3.0), rel=1e-6)


def test_a_point_known_to_lie_nearer_is_put_where_it_is():
    camera = Camera(pan=0.5, tilt=-0.3)
    picks = {"hub": tuple(camera.sees([[0.7, 0.35]], nearer=0.12)[0])}
    plane = rectify(replace(photographed(camera, lens=0.0), picks=picks, nearer={"hub": 0.12}))
    assert plane.places.at == pytest.approx(upright([[0.7, 0.35]]), abs=1e-6)
    wrong = rectify(replace(photographed(camera, lens=0.0), picks=picks))
    assert np.abs(wrong.places.at - upright([[0.7, 0.35]])).max() > 0.01
    loose = rectify(replace(photographed(camera, lens=0.0), picks=picks, off_plane=0.12))
    off = (loose.places.at - upright([[0.7, 0.35]])).ravel()
    assert off @ np.linalg.solve(loose.places.covariance, off) < 4.0


CORNERS = Camera().sees(BOARD)
BAD = {
    "three in line": (
        CORNERS[[0, 1, 2, 3]] * [1, 1]
        + (CORNERS[0] * 0.5 + CORNERS[2] * 0.5 - CORNERS[1]) * [[0], [1], [0], [0]],
        "one line",
    ),
    "crossed": (CORNERS[[0, 2, 1, 3]], "cross"),
    "anticlockwise": (CORNERS[[0, 3, 2, 1]], "anticlockwise"),
    "tiny": (CORNERS[0] + (CORNERS - CORNERS[0]) * 0.01, "px apart"),
    "one inside": (np.array([[0, 0], [400, 0], [120, 100], [0, 400.0]]), "inside"),
    "the same twice": (CORNERS[[0, 0, 2, 3]], "px apart"),
    "not finite": (CORNERS * [[np.nan], [1], [1], [1]], "outside any picture"),
    "three only": (CORNERS[:3], "fewer than four"),
}


@pytest.mark.parametrize("name", BAD)
def test_corners_that_cannot_be_meant_are_refused_in_one_sentence(name):
    corners, word = BAD[name]
    figure = Figure(np.array(corners), BOARD[: len(corners)])
    with pytest.raises(PhotoError, match=word) as refused:
        rectify(Photograph((figure,), {"hub": (300.0, 200.0)}, 1.0))
    assert "\n" not in str(refused.value)


REFUSED = [
    ({"error": 0.0}, "error of picking"),
    ({"camera": 0.0}, "distance"),
    ({"size": (0.0, 3000.0)}, "size"),
    ({"figures": ()}, "no known rectangle"),
    ({"figures": (rectangle(CORNERS, (600.0, 400.0)),)}, "length"),
    ({"picks": {"hub": (np.inf, 0.0)}}, "picks.hub"),
    ({"straight": (CORNERS[:2],)}, "fewer than three"),
    ({"picks": {"hub": (-9000.0, 2000.0)}}, "horizon"),
]


@pytest.mark.parametrize(("change", "word"), REFUSED)
def test_what_else_cannot_be_meant_is_refused(change, word):
    with pytest.raises(PhotoError, match=word):
        rectify(replace(photographed(Camera(pan=0.6), lens=0.0), **change))


def test_a_point_off_the_plane_needs_to_know_where_the_camera_stood():
    square_on = photographed(Camera(pan=0.0, tilt=0.0, roll=0.0), lens=0.0)
    with pytest.raises(PhotoError, match="tape it"):
        rectify(replace(square_on, nearer={"hub": 0.05}))


def test_a_fisheye_is_refused():
    camera = Camera(lens=0.4, away=0.8, foot=(0.5, 0.2))
    squares = (square_elsewhere(camera), square_elsewhere(camera, (-0.35, 0.3), -0.2))
    with pytest.raises(PhotoError, match="fisheye"):
        rectify(replace(photographed(camera, squares), error=0.05))


def test_picks_that_make_no_sense_are_done_with_soon():
    """Everything that a file may state, and none of it fits: an answer or a refusal, ten of them within 5 s."""
    rng, camera = np.random.default_rng(1), Camera(lens=0.03, away=1.2, foot=(0.5, 0.2))
    edges = tuple(rng.uniform(0.0, 4000.0, (20, 2)) for _ in range(6))
    photo = photographed(camera, (square_elsewhere(camera),), straight=edges)
    spoilt = tuple(
        replace(f, picture=f.picture + rng.normal(0.0, 60.0, (4, 2)), error=0.002) for f in photo.figures
    )
    picks = {f"p{k}": tuple(rng.uniform(500.0, 3000.0, 2)) for k in range(200)}
    begin = time.process_time()
    with suppress(PhotoError):
        rectify(replace(photo, figures=spoilt, picks=picks, error=0.1))
    assert time.process_time() - begin < 0.5
